"""A column of figures in one unit: the unit once in the heading, the figures bare below it."""

from __future__ import annotations

from collections.abc import Sequence

from wormwright.quantities.show import EstimateLike, scale_for, shown_at
from wormwright.quantities.typed import Dimension, System

Entry = EstimateLike | float | None


def shown_column(
    entries: Sequence[Entry],
    dimension: Dimension,
    *,
    resolution: float | None = None,
    units: System = "mm",
    like: float = 0.0,
) -> tuple[str, tuple[str, ...]]:
    """The unit of a column, and each of its figures without it (None: empty).

    The unit is the one that the largest figure would get alone. An estimate keeps the digits of
    its own interval, a bare number those of `resolution` (core unit). `like` is a size that other
    columns hold, so that columns that are compared share a unit.

    Example:
        >>> shown_column([0.077, -0.211, None], "length", resolution=0.001)
        ('mm', ('0.077', '-0.211', ''))
        >>> shown_column([0.077, -0.211, None], "length", resolution=0.01, units="in")
        ('thou', ('3.0', '-8.3', ''))
    """
    sizes = [abs(_value(e)) for e in entries if e is not None]
    scale = scale_for(max((*sizes, like), default=0.0), dimension, units)
    texts = tuple("" if e is None else shown_at(e, scale, resolution=resolution) for e in entries)
    return scale.unit.strip(), texts


def _value(entry: EstimateLike | float) -> float:
    return entry if isinstance(entry, float | int) else entry.value
