"""Positioning test of an axis: the figures of ISO 230-2, their spread, and older conventions."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

FEWEST_RUNS = 2
FEWEST_TARGETS = {90.0: 3, 180.0: 5, 360.0: 8}
"""Least number of targets for a travel up to that many degrees (ISO 230-2, rotary axes)."""


@dataclass(frozen=True, slots=True)
class Positioning:
    """The figures of one test, in the unit of the deviations; arrays hold one value a target.

    `reversal_at`, `mean_up`, `mean_down`, `s_up`, `s_down` are B_i, the means and standard
    deviations of both directions. `reversal` is B, `reversal_mean` the signed mean of B_i,
    `repeatability` R, `systematic` E, `mean_bidirectional` M, `accuracy` A; with `_up` and `_down`
    the figures of one direction alone.
    """

    runs: int
    mean_up: Array
    mean_down: Array
    s_up: Array
    s_down: Array
    reversal_at: Array
    reversal: float
    reversal_mean: float
    repeatability_up: float
    repeatability_down: float
    repeatability: float
    systematic_up: float
    systematic_down: float
    systematic: float
    mean_bidirectional: float
    accuracy_up: float
    accuracy_down: float
    accuracy: float

    @property
    def mean(self) -> Array:
        """Mean of both directions at each target."""
        result: Array = (self.mean_up + self.mean_down) / 2
        return result


def _runs(forward: ArrayLike, backward: ArrayLike) -> tuple[Array, Array]:
    up, down = np.asarray(forward, float), np.asarray(backward, float)
    if up.ndim != 2 or up.shape != down.shape:
        raise ValueError(
            f"positioning: expected both directions as targets x runs of one size, got {up.shape} "
            f"and {down.shape}; a target that was missed in one direction must be left out of both"
        )
    if up.shape[0] < 2 or up.shape[1] < FEWEST_RUNS:
        raise ValueError(f"positioning: expected 2 targets and 2 runs or more, got {up.shape}")
    if not (np.isfinite(up).all() and np.isfinite(down).all()):
        raise ValueError("positioning: a deviation is not a finite number; read it again")
    return up, down


def positioning(forward: ArrayLike, backward: ArrayLike, *, sigmas: float = 2.0) -> Positioning:
    """Reversal, repeatability, systematic error and accuracy of a bidirectional test.

    Source: ISO 230-2:2014, definitions of clause 3 (recalled); older editions take three sigmas.
    Formula: B_i = mean_up - mean_down; R_i = max[k s_up + k s_down + |B_i|, 2k s_up, 2k s_down];
        E = range of all means; M = range of (mean_up + mean_down)/2;
        A = max(mean + k s) - min(mean - k s) over both directions; k = 2.
    Inputs: forward, backward: deviations actual less target, shape (targets, runs), any one unit;
        sigmas k [1].
    Outputs: the figures, in that unit.
    Valid for: two or more targets and runs, as many in both directions.
    Raises: ValueError for unlike shapes, too few or non-finite deviations.

    >>> test = positioning([[0, 2], [4, 6]], [[-3, -1], [1, 3]])
    >>> test.reversal, test.systematic, round(test.accuracy, 3)
    (3.0, 7.0, 12.657)
    """
    up, down = _runs(forward, backward)
    mean_up, mean_down = up.mean(axis=1), down.mean(axis=1)
    s_up, s_down = up.std(axis=1, ddof=1), down.std(axis=1, ddof=1)
    k = sigmas
    at = mean_up - mean_down
    both = (k * (s_up + s_down) + np.abs(at), 2 * k * s_up, 2 * k * s_down)
    high_up, low_up = mean_up + k * s_up, mean_up - k * s_up
    high_down, low_down = mean_down + k * s_down, mean_down - k * s_down
    return Positioning(
        runs=up.shape[1],
        mean_up=mean_up,
        mean_down=mean_down,
        s_up=s_up,
        s_down=s_down,
        reversal_at=at,
        reversal=float(np.abs(at).max()),
        reversal_mean=float(at.mean()),
        repeatability_up=float(2 * k * s_up.max()),
        repeatability_down=float(2 * k * s_down.max()),
        repeatability=float(np.max(both)),
        systematic_up=float(np.ptp(mean_up)),
        systematic_down=float(np.ptp(mean_down)),
        systematic=float(np.ptp([mean_up, mean_down])),
        mean_bidirectional=float(np.ptp((mean_up + mean_down) / 2)),
        accuracy_up=float(high_up.max() - low_up.min()),
        accuracy_down=float(high_down.max() - low_down.min()),
        accuracy=float(max(high_up.max(), high_down.max()) - min(low_up.min(), low_down.min())),
    )


@dataclass(frozen=True, slots=True)
class OlderFigures:
    """The same data by VDI/DGQ 3441: P, P_a, P_s and U with their largest and mean."""

    uncertainty: float
    deviation: float
    scatter_most: float
    scatter_mean: float
    reversal_most: float
    reversal_mean: float


def vdi_figures(test: Positioning) -> OlderFigures:
    """The figures of the withdrawn VDI/DGQ 3441, for comparing brochures.

    Source: VDI/DGQ 3441:1977 (recalled).
    Formula: s = (s_up + s_down)/2, P_s = 6 s, U = |B|, P_a = range of means of both directions,
        P = max[mean + (U + P_s)/2] - min[mean - (U + P_s)/2].
    Inputs: test, from `positioning`. Outputs: the figures in its unit.
    Valid for: any test. Raises: nothing.

    >>> vdi_figures(positioning([[0, 2], [4, 6]], [[-3, -1], [1, 3]])).deviation
    4.0
    """
    scatter = 3 * (test.s_up + test.s_down)
    turn = np.abs(test.reversal_at)
    half = (turn + scatter) / 2
    return OlderFigures(
        uncertainty=float((test.mean + half).max() - (test.mean - half).min()),
        deviation=float(np.ptp(test.mean)),
        scatter_most=float(scatter.max()),
        scatter_mean=float(scatter.mean()),
        reversal_most=float(turn.max()),
        reversal_mean=float(turn.mean()),
    )


def sigma_interval(*, runs: int, p: float = 0.95) -> tuple[float, float]:
    """Between which multiples of s the true standard deviation lies.

    Source: chi-square distribution of (n - 1) s² / sigma².
    Formula: sqrt((n-1)/chi2_(1+p)/2) to sqrt((n-1)/chi2_(1-p)/2).
    Inputs: runs n; p, coverage. Outputs: two factors.
    Valid for: normal scatter, n >= 2, 0 < p < 1. Raises: ValueError outside.

    >>> low, high = sigma_interval(runs=5)
    >>> round(low, 3), round(high, 3)
    (0.599, 2.874)
    """
    if runs < FEWEST_RUNS or not 0 < p < 1:
        raise ValueError(f"sigma interval: expected 2 runs or more and 0 < p < 1, got {runs}, {p}")
    from scipy.special import chdtri  # noqa: PLC0415  (late: costs start-up)

    nu = runs - 1
    high, low = chdtri(nu, (1 - p) / 2), chdtri(nu, (1 + p) / 2)
    return math.sqrt(nu / high), math.sqrt(nu / low)


def share_within_two_s(*, runs: int) -> float:
    """Share of new readings that lie within mean ± 2 s of so few runs.

    Source: t distribution; a new reading less the mean has variance sigma² (1 + 1/n).
    Formula: P(|t_(n-1)| <= 2 / sqrt(1 + 1/n)).
    Inputs: runs n. Outputs: share [1]. Valid for: normal scatter, n >= 2. Raises: ValueError.

    >>> round(share_within_two_s(runs=5), 3)
    0.858
    """
    if runs < FEWEST_RUNS:
        raise ValueError(f"share within 2 s: expected 2 runs or more, got {runs}")
    from scipy.special import stdtr  # noqa: PLC0415  (late: costs start-up)

    t = 2 / math.sqrt(1 + 1 / runs)
    return float(2 * stdtr(runs - 1, t) - 1)


def fewest_targets(*, travel_deg: float) -> int:
    """Least number of target positions of a rotary axis for its travel.

    Source: ISO 230-2:2014, test of rotary axes up to 360 degrees (recalled).
    Formula: 3 up to 90, 5 up to 180, 8 up to 360 degrees.
    Inputs: travel [degrees]. Outputs: a count. Valid for: 0 < travel <= 360. Raises: ValueError.

    >>> fewest_targets(travel_deg=360)
    8
    """
    if not 0 < travel_deg <= 360:
        raise ValueError(f"targets: expected a travel up to 360 degrees, got {travel_deg}")
    return next(n for most, n in FEWEST_TARGETS.items() if travel_deg <= most)
