"""Figures in the words of a finding."""

from __future__ import annotations

from wormwright.bench import Figure
from wormwright.job.result import Estimate
from wormwright.quantities import Dimension, shown, shown_estimate


def estimate_from(value: float, u: float, dimension: Dimension, method: str) -> Estimate:
    """An estimate with the normal 95 % interval of a value and its standard uncertainty."""
    return Estimate.normal(value, u, dimension, method)


def never_negative(value: float, u: float, dimension: Dimension, method: str) -> Estimate:
    """The same for a figure that cannot be below zero, such as a play or a friction."""
    low, high = max(0.0, value - 1.96 * u), max(0.0, value + 1.96 * u)
    return Estimate(max(0.0, value), u, low, high, dimension, method)


def estimate_of_figure(figure: Figure, dimension: Dimension, factor: float = 1.0) -> Estimate:
    """The pooled figure of a kind as an estimate, times a factor."""
    return estimate_from(figure.value * factor, figure.u * factor, dimension, "mean of readings")


def arc(angle: float, u: float | None = None) -> str:
    """An angle at the table in words; two figures when no doubt is given."""
    return shown(angle, "angle", u=abs(angle) / 10 or None if u is None else u)


def words_of(estimate: Estimate) -> str:
    """Value and interval of an estimate in words."""
    return shown_estimate(estimate)
