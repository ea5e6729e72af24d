"""Text to numbers with units, and back: the only place where units live."""

from wormwright.quantities.column import shown_column
from wormwright.quantities.parse import read, read_pair
from wormwright.quantities.show import shown, shown_both, shown_estimate, shown_in_both
from wormwright.quantities.typed import Dimension, QuantityError, System, Typed

__all__ = [
    "Dimension",
    "QuantityError",
    "System",
    "Typed",
    "read",
    "read_pair",
    "shown",
    "shown_both",
    "shown_column",
    "shown_estimate",
    "shown_in_both",
]
