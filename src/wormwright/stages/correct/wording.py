"""Lengths and estimates in the words of the bench: the job's unit first, the other in brackets."""

from __future__ import annotations

import math

from wormwright.job.result import Estimate
from wormwright.job.rotary import Units
from wormwright.quantities import shown, shown_both

MICRON = 0.001


def length(value: float, units: Units, *, to: float = MICRON) -> str:
    """A length in both units, to a stated step."""
    return shown_both(value, resolution=to, units=units)


def turn(value: float) -> str:
    """An angle of a bushing in whole or half degrees, as a mark can be set."""
    return f"{round(math.degrees(value) * 2) / 2:g}°"


def percent(p: float) -> str:
    """A probability to whole per cent, never rounded to certainty."""
    if p > 0.99:
        return "over 99 %"
    return "under 1 %" if p < 0.01 else f"{p * 100:.0f} %"


def small_percent(p: float) -> str:
    """A small probability to a tenth of a per cent."""
    return "under 0.1 %" if p < 0.001 else f"{p * 100:.1f} %"


def arc(value: float) -> str:
    """An angle at the table to the tenth of an arc minute."""
    return shown(value, "angle", resolution=math.radians(0.1 / 60))


def sized(value: float, u: float, method: str) -> Estimate:
    """A length with a normal doubt."""
    return Estimate.normal(value, u, "length", method)


def made_to(value: float, tolerance: float, method: str) -> Estimate:
    """A length to make, with half of its tolerance."""
    low, high = value - tolerance, value + tolerance
    return Estimate(value, tolerance / math.sqrt(3), low, high, "length", method)


def with_tolerance(value: float, tolerance: float, units: Units) -> str:
    """A length to make and half of its tolerance, said once: `0.474 mm ± 5 µm (...)`."""
    other: Units = "in" if units == "mm" else "mm"
    first, second = (
        f"{shown(value, 'length', resolution=MICRON, units=system)} ± "
        f"{shown(tolerance, 'length', resolution=MICRON, units=system)}"
        for system in (units, other)
    )
    return f"{first} ({second})"


def hours(minutes: float) -> str:
    """Bench time to the half hour: nobody plans it closer."""
    return f"{round(minutes / 30) / 2:g}"


def money(cost: float | None) -> str:
    """A cost in whole units of the machinist's own currency."""
    return "" if cost is None else f"{cost:.0f}"
