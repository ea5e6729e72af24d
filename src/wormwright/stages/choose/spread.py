"""A formula over figures that lie between two ends: its value, and the ends of what it can give."""

from __future__ import annotations

from collections.abc import Callable
from itertools import product

from wormwright.job.given import Given


def spread(formula: Callable[..., float], *inputs: Given) -> Given:
    """The formula at the entered figures and at every corner of their ranges.

    The ends are right for formulas that rise or fall steadily with each input, as all here do.
    """
    value = formula(*(x.value for x in inputs))
    ends = [(x.low,) if x.is_plain else (x.low, x.high) for x in inputs]
    corners = [value, *(formula(*corner) for corner in product(*ends))]
    return Given(value, min(corners), max(corners))


def within(figure: Given, share: float) -> Given:
    """A plain figure taken to be out by as much as a share of it; a range is left as entered."""
    if not figure.is_plain:
        return figure
    return Given(figure.value, figure.value * (1 - share), figure.value * (1 + share))


def loss_within(efficiency: Given, share: float) -> Given:
    """The same for an efficiency, whose loss is what is not known well."""
    if not efficiency.is_plain:
        return efficiency
    loss = 1 - efficiency.value
    low, high = 1 - loss * (1 + share), 1 - loss * (1 - share)
    return Given(efficiency.value, max(low, efficiency.value / 2), high)
