"""What many runs of a positioning test would show, told from the few that were made."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from wormwright.core.positioning import Positioning, figures_of

Array = NDArray[np.float64]

MOST_DRAWS = 4000
FEWEST_DRAWS = 200


def figure_intervals(
    test: Positioning, *, u_target: float, seed: int, p: float = 0.95
) -> dict[str, tuple[float, float, float]]:
    """Standard uncertainty and interval of each figure for the axis itself.

    The largest of many scattered means reads high: the interval takes that off again and may lie
    below the figure as defined.
    Source: parametric bootstrap, basic interval (common practice in statistics).
    Formula: draws of means N(mean, s²/n + u_target²) and of s from chi-square, s pooled over
        targets and directions; interval = figure - quantiles of (drawn figure - figure of the
        drawn from), so that truth and draw change places.
    Inputs: test; u_target, standard uncertainty of the means of measuring at one target, the same
        for all runs [unit of the test]; seed; p, coverage.
    Outputs: name -> (u, low, high), in that unit.
    Valid for: scatter alike at all targets, u_target >= 0. Raises: ValueError below zero.

    >>> from wormwright.core.positioning import positioning
    >>> test = positioning([[0, 2], [4, 6]], [[-3, -1], [1, 3]])
    >>> u, low, high = figure_intervals(test, u_target=0.0, seed=1)["reversal_mean"]
    >>> low < 3.0 < high
    True
    """
    if not u_target >= 0:
        raise ValueError(f"figure intervals: expected u_target of zero or more, got {u_target}")
    means = np.stack([test.mean_up, test.mean_down])
    targets, n = means.shape[1], test.runs
    s = math.sqrt(float(np.mean([test.s_up**2, test.s_down**2])))
    draws = max(FEWEST_DRAWS, min(MOST_DRAWS, MOST_DRAWS * 8 // targets))
    pick = np.random.default_rng(seed)
    drawn = means + s / math.sqrt(n) * pick.standard_normal((draws, 2, targets))
    drawn += u_target * pick.standard_normal((draws, 1, targets))
    spread = s * np.sqrt(pick.standard_gamma((n - 1) / 2, (draws, 2, targets)) * 2 / (n - 1))
    of_draws = figures_of(drawn, spread)
    of_these = figures_of(means, np.full_like(means, s))
    tail = (1 - p) / 2
    result = {}
    for name, figures in of_draws.items():
        off = figures - of_these[name]
        low, high = getattr(test, name) - np.quantile(off, [1 - tail, tail])
        floor = low if name == "reversal_mean" else max(0.0, float(low))
        result[name] = (float(off.std()), float(floor), max(float(floor), float(high)))
    return result
