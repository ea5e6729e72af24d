"""A difference of temperatures has no zero point: 20 K, 20 °C and 36 °F are the same rise."""

from __future__ import annotations

from wormwright.quantities import read


def read_rise(text: str, *, field: str) -> float:
    """The rise written in `text`, in K.

    Raises:
        QuantityError: it is not a temperature with its unit.

    Example:
        >>> read_rise("36 °F", field="rise")
        20.0
    """
    typed = read(text, "temperature", field=field)
    zero = read(f"0 {typed.unit}", "temperature", field=field).value
    return round(typed.value - zero, 9)  # the rest is rounding of the two floats
