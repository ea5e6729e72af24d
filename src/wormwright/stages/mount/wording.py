"""Figures and words of the mount stage."""

from __future__ import annotations

import math

from wormwright.job.result import Estimate
from wormwright.job.rotary import Units
from wormwright.quantities import Dimension, shown_both

K95 = 1.96


def about(value: float, u: float, method: str, dimension: Dimension = "length") -> Estimate:
    """A figure with a normal doubt."""
    return Estimate(value, u, value - K95 * u, value + K95 * u, dimension, method)


def size_about(value: float, u: float, method: str) -> Estimate:
    """The size of a figure whose sign does not matter: none of it lies below zero."""
    size = abs(value)
    return Estimate(size, u, max(size - K95 * u, 0.0), size + K95 * u, "length", method)


def length(value: float, units: Units, *, to: float = 0.001) -> str:
    """A length in both units, to a stated step."""
    return shown_both(value, resolution=to, units=units)


def chance_within(value: float, u: float, allowed: float) -> float:
    """Chance that the true figure lies within plus and minus what is allowed."""
    if u <= 0:
        return float(abs(value) <= allowed)
    high, low = ((side * allowed - value) / (u * math.sqrt(2)) for side in (1, -1))
    return (math.erf(high) - math.erf(low)) / 2
