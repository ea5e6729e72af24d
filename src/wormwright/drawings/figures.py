"""Sizes as written on a drawing: the job's own unit first, the other unit beside it.

Limits are rounded inward in both units: a part good to the printed limits is good.
"""

from __future__ import annotations

import math
import re
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_EVEN, Decimal
from typing import NamedTuple

from wormwright.job.parts import Limits
from wormwright.job.rotary import Units
from wormwright.quantities.units import INCH

_MM_PER_INCH = Decimal(INCH.numerator) / Decimal(INCH.denominator)
_LIMIT_PLACES: dict[Units, int] = {"mm": 3, "in": 4}
_PLAIN_PLACES: dict[Units, int] = {"mm": 2, "in": 3}
_MOST_PLACES = 8
_KEPT: dict[Units, Decimal] = {"mm": Decimal("0.9"), "in": Decimal("0.5")}
"""Share of an even tolerance that must be left after rounding inward; else one digit more."""
_MOST_LEFT = Decimal("0.75")
_NOISE = Decimal("1e-9")
"""Binary floats carry noise far below this [mm]; it must not push a limit to the next digit."""


class Written(NamedTuple):
    """One size in the leading unit and in the other one, without unit names."""

    first: str
    other: str
    fit: str = ""

    def before(self, prefix: str) -> Written:
        """The same with a symbol in front of both (Ø)."""
        return Written(prefix + self.first, prefix + self.other, self.fit)

    def fitted(self, fit: str) -> Written:
        """The same with the fit letters that `fit` begins with, if it does."""
        letters = re.match(r"[A-Za-z]{1,2}\d{1,2}\b", fit)
        return Written(self.first, self.other, letters.group() if letters else "")

    @property
    def first_stacked(self) -> tuple[str, ...]:
        """The leading figure on as many lines as it has limits, largest first."""
        return _stacked(self.first)

    @property
    def other_line(self) -> str:
        """The other figure in brackets, behind the fit letters."""
        return " ".join(self.other_stacked)

    @property
    def other_stacked(self) -> tuple[str, ...]:
        """The same on as many lines as it has limits."""
        lead = f"{self.fit}  " if self.fit else ""
        if not self.other:
            return (self.fit,)
        most, *least = self.other.split(" / ")
        if not least:
            return (f"{lead}[{most}]",)
        return (f"{lead}[{most} /", f"{least[0]}]")

    @property
    def inline(self) -> str:
        """Both on one line: `34.991 [1.3776]`."""
        return f"{self.first} [{self.other}]" if self.other else self.first


def _stacked(figure: str) -> tuple[str, ...]:
    sign = "Ø" if figure.startswith("Ø") else ""
    most, *least = figure.split(" / ")
    return (most, *(sign + each for each in least))


def _other(units: Units) -> Units:
    return "in" if units == "mm" else "mm"


def _in_units(length: float, units: Units) -> Decimal:
    exact = Decimal(repr(length))
    return exact if units == "mm" else exact / _MM_PER_INCH


def _placed(number: Decimal, places: int, rounding: str) -> Decimal:
    return number.quantize(Decimal(1).scaleb(-places), rounding=rounding)


def _plain(length: float, units: Units, places: int | None) -> str:
    wanted = _PLAIN_PLACES[units] if places is None else places
    text = str(_placed(_in_units(length, units), wanted, ROUND_HALF_EVEN))
    return text.rstrip("0").rstrip(".") if units == "mm" and "." in text else text


def plain(length: float, units: Units) -> Written:
    """A size under the general tolerance.

    Example:
        >>> plain(12.7, "mm").inline, plain(12.7, "in").first
        ('12.7 [0.500]', '0.500')
    """
    return Written(_plain(length, units, None), _plain(length, _other(units), None))


def _limit_pair(low: float, high: float, units: Units) -> tuple[Decimal, Decimal]:
    for places in range(_LIMIT_PLACES[units], _MOST_PLACES):
        least = _placed(_in_units(low, units) - _NOISE, places, ROUND_CEILING)
        most = _placed(_in_units(high, units) + _NOISE, places, ROUND_FLOOR)
        if least < most:
            return least, most
    raise ValueError(
        f"limits {low} .. {high} mm leave no room for a tool or a gauge; widen the tolerance"
    )


def limits(size: Limits, units: Units) -> Written:
    """The two limits of a size, largest first, rounded inward.

    Example:
        >>> limits(Limits(35.0, -0.009, -0.025), "mm").inline
        '34.991 / 34.975 [1.3775 / 1.3770]'
    """
    low, high = size.size + size.lower, size.size + size.upper
    return Written(
        _limits_text(low, high, units),
        _limits_text(low, high, _other(units)),
    )


def _limits_text(low: float, high: float, units: Units) -> str:
    least, most = _limit_pair(low, high, units)
    return f"{most} / {least}"


def plus_minus(length: float, tolerance: float, units: Units) -> Written:
    """A size with an even tolerance; in either unit the band printed lies inside the true one.

    Example:
        >>> plus_minus(0.4, 0.01, "mm").inline
        '0.40 ±0.01 [0.0157 ±0.0003]'
    """
    return Written(
        _plus_minus(length, tolerance, units), _plus_minus(length, tolerance, _other(units))
    )


def _plus_minus(length: float, tolerance: float, units: Units) -> str:
    low, high = _in_units(length - tolerance, units), _in_units(length + tolerance, units)
    for places in range(_LIMIT_PLACES[units] - 1, _MOST_PLACES):
        middle = _placed(_in_units(length, units), places, ROUND_HALF_EVEN)
        half = _placed(min(high - middle, middle - low) + _NOISE, places, ROUND_FLOOR)
        if half >= _KEPT[units] * (high - low) / 2:
            return f"{middle} ±{half}"
    raise ValueError(f"tolerance of {tolerance} mm on {length} mm cannot be made or checked")


def at_most(length: float, units: Units) -> Written:
    """A largest permitted value (runout, squareness), rounded down.

    One digit more if rounding would take away more than a quarter of it.

    Example:
        >>> at_most(0.02, "mm").inline, at_most(0.005, "mm").inline
        ('0.020 [0.0007]', '0.005 [0.00019]')
    """
    return Written(_at_most(length, units), _at_most(length, _other(units)))


def _at_most(length: float, units: Units) -> str:
    number = _in_units(length, units) + _NOISE
    text = _placed(number, _LIMIT_PLACES[units], ROUND_FLOOR)
    if text < _MOST_LEFT * number:
        text = _placed(number, _LIMIT_PLACES[units] + 1, ROUND_FLOOR)
    return str(text)


def fine(length: float, units: Units) -> Written:
    """A size to the last digit a micrometer reads: 0.001 mm, 0.0001 in."""
    other = _other(units)
    return Written(
        str(_placed(_in_units(length, units), _LIMIT_PLACES[units], ROUND_HALF_EVEN)),
        str(_placed(_in_units(length, other), _LIMIT_PLACES[other], ROUND_HALF_EVEN)),
    )


def degrees(angle: float) -> str:
    """An angle in degrees to a tenth.

    Example:
        >>> degrees(0.7853981633974483)
        '45°'
    """
    text = f"{math.degrees(angle):.1f}".removesuffix(".0")
    return f"{'0' if text == '-0' else text}°"
