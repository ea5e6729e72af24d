"""What reading a piece of text hands back, and the one error it raises."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Dimension = Literal[
    "length",
    "angle",
    "torque",
    "force",
    "temperature",
    "rise",
    "speed",
    "mass",
    "ratio",
    "count",
    "stiffness",
    "inertia",
    "feed",
    "time",
    "frequency",
    "power",
    "voltage",
    "current",
    "resistance",
    "inductance",
    "none",
]
"""What kind of quantity a number is; core units are mm, rad, N·mm, N, °C, K, rpm, kg, 1, 1; of the
drive N·mm/rad (stiffness against turning), kg·mm², mm/min, s, Hz, W, V, A, ohm, H.

A rise is a difference of two temperatures: it has no zero point, 10 K, 10 °C and 18 °F are one.
"""

System = Literal["mm", "in"]
"""The two unit systems of the trade."""


class QuantityError(ValueError):
    """A text that is not the wanted quantity: the field, what was expected, what came, what to do.

    Example:
        >>> str(QuantityError("pin radius", got="80", expected="a length with its unit",
        ...                   do="write 80 mm or 80 in"))
        "pin radius: expected a length with its unit, got '80'; write 80 mm or 80 in"
    """

    def __init__(self, field: str, *, got: str, expected: str, do: str) -> None:
        self.field = field
        self.got = got if len(got) <= 60 else got[:57] + "..."
        self.expected = expected
        self.do = do
        super().__init__(f"{field}: expected {expected}, got {self.got!r}; {do}")


@dataclass(frozen=True, slots=True)
class Typed:
    """A quantity as typed: the raw text, its value in the core unit, the unit it was typed in.

    `flags` are among "approximate" (written with ~), "range" (3-4), "off scale" (>10: keep the
    text, use the value for nothing), "signed zero" (-0.000) and "TIR" (written as the whole swing
    of the needle, which the value is; the eccentricity is half of it). `factor` multiplies the
    usual uncertainty of such a reading (2 when approximate). `u_extra` is a standard uncertainty in
    the core unit to add to it: a range is a rectangle, half-width / √3 (JCGM 100:2008, 4.3.7).
    """

    raw: str
    value: float
    unit: str
    flags: tuple[str, ...] = ()
    factor: float = 1.0
    u_extra: float = 0.0

    @property
    def usable(self) -> bool:
        """False when the value may not enter any fit."""
        return "off scale" not in self.flags
