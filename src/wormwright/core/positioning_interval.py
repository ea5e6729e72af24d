"""What many runs of a positioning test would show, told from the few that were made."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from wormwright.core.positioning import Positioning, figures_of

Array = NDArray[np.float64]

MOST_DRAWS = 2000
FEWEST_DRAWS = 120
LEAST = 2.5
WIDER = 1.12
"""Ranges of scattered means are no normal figures: by so much a drawn interval is too narrow, as
closed loops on axes of known error show."""


def figure_intervals(
    test: Positioning, *, u_target: float, seed: int, p: float = 0.95
) -> dict[str, tuple[float, float, float]]:
    """Standard uncertainty and interval of each figure for the axis itself.

    The largest of many scattered means reads high: the interval takes that off again and may lie
    below the figure as defined.
    Source: parametric bootstrap, basic interval (common practice in statistics).
    Formula: draws of means N(mean, s²/n + u_target²) and of s from chi-square, s pooled over
        targets and directions; interval = figure - quantiles of (drawn figure - figure of the
        drawn from), so that truth and draw change places. Scattered means spread wider than the
        axis does: the same is done from means drawn in about their average to the least spread
        that may well lie beneath (LEAST standard deviations of a variance below the one seen),
        and the wider end of the two is taken, WIDER times as far from the middle.
    Inputs: test; u_target, standard uncertainty of the means of measuring at one target, the same
        for all runs [unit of the test]; seed; p, coverage.
    Outputs: name -> (u, low, high), in that unit.
    Valid for: scatter alike at all targets, u_target >= 0; where the scatter of a mean is as large
        as what the axis shows the interval holds nine times in ten instead of 95 in 100.
    Raises: ValueError for u_target below zero.

    >>> from wormwright.core.positioning import positioning
    >>> test = positioning([[0, 2], [4, 6]], [[-3, -1], [1, 3]])
    >>> u, low, high = figure_intervals(test, u_target=0.0, seed=1)["reversal_mean"]
    >>> low < 3.0 < high
    True
    """
    if not u_target >= 0:
        raise ValueError(f"figure intervals: expected u_target of zero or more, got {u_target}")
    means = np.stack([test.mean_up, test.mean_down])
    s = math.sqrt(float(np.mean([test.s_up**2, test.s_down**2])))
    scatter = _scatter(test, s, u_target=u_target, seed=seed)
    tail = (1 - p) / 2
    offs = [_off(axis, scatter, s) for axis in _axes(means, s / math.sqrt(test.runs), u_target)]
    result = {}
    for name in offs[0]:
        u = max(float(off[name].std()) for off in offs)
        ends = [_ends(off[name], tail) for off in offs]
        low = getattr(test, name) - max(most for _, most in ends)
        high = getattr(test, name) - min(least for least, _ in ends)
        floor = low if name == "reversal_mean" else max(0.0, low)
        result[name] = (u, float(floor), float(max(floor, high)))
    return result


def _ends(draws: Array, tail: float) -> tuple[float, float]:
    """Draws at both tails, by their rank, WIDER times as far from the middle."""
    rank = round(tail * (len(draws) - 1))
    ordered = np.sort(draws)
    middle = float(ordered[len(draws) // 2])
    least, most = float(ordered[rank]), float(ordered[-1 - rank])
    return middle + WIDER * (least - middle), middle + WIDER * (most - middle)


def _scatter(test: Positioning, s: float, *, u_target: float, seed: int) -> tuple[Array, Array]:
    """Drawn errors of the means and drawn standard deviations, (draws, 2, targets)."""
    targets, n = len(test.mean_up), test.runs
    draws = max(FEWEST_DRAWS, min(MOST_DRAWS, MOST_DRAWS * 8 // targets))
    pick = np.random.default_rng(seed)
    errors = s / math.sqrt(n) * pick.standard_normal((draws, 2, targets))
    errors += u_target * pick.standard_normal((draws, 1, targets))
    spread = s * np.sqrt(pick.standard_gamma((n - 1) / 2, (draws, 2, targets)) * 2 / (n - 1))
    return errors, spread


def _off(axis: Array, scatter: tuple[Array, Array], s: float) -> dict[str, Array]:
    """By how much the figures of tests on an axis of known means miss those of the axis."""
    errors, spread = scatter
    true = figures_of(axis, np.full_like(axis, s))
    return {name: f - true[name] for name, f in figures_of(axis + errors, spread).items()}


def _axes(means: Array, u_mean: float, u_target: float) -> tuple[Array, Array]:
    """The axis with the spread of its means as found, and with as little as may well be true."""
    u_half = u_mean / math.sqrt(2)
    middle = _drawn_in(means.mean(axis=0), math.hypot(u_half, u_target))
    half = _drawn_in((means[0] - means[1]) / 2, u_half)
    return means, np.stack([middle + half, middle - half])


def _drawn_in(x: Array, u: float) -> Array:
    """Values of so much scatter each, drawn in to the least spread that may well lie beneath."""
    spread = float(x.var(ddof=1)) / (1 + LEAST * math.sqrt(2 / (len(x) - 1)))
    share = math.sqrt(max(0.0, 1 - u * u / spread)) if spread > 0 else 0.0
    result: Array = x.mean() + share * (x - x.mean())
    return result
