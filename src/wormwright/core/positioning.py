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
    means = np.stack([up.mean(axis=1), down.mean(axis=1)])
    spreads = np.stack([up.std(axis=1, ddof=1), down.std(axis=1, ddof=1)])
    figures = {name: float(value) for name, value in figures_of(means, spreads, sigmas).items()}
    return Positioning(
        runs=up.shape[1],
        mean_up=means[0],
        mean_down=means[1],
        s_up=spreads[0],
        s_down=spreads[1],
        reversal_at=means[0] - means[1],
        **figures,
    )


def figures_of(means: Array, spreads: Array, sigmas: float = 2.0) -> dict[str, Array]:
    """The figures of many tests at once, by the name that `Positioning` gives them.

    Source, formula: see `positioning`.
    Inputs: means, spreads: mean and standard deviation at each target, shape (..., 2, targets),
        forward first, any one unit; sigmas k [1].
    Outputs: name -> figures, shape (...), in that unit.
    Valid for: any. Raises: nothing.

    >>> two = figures_of(np.array([[1.0, 5.0], [-2.0, 2.0]]), np.ones((2, 2)))
    >>> float(two["reversal"]), float(two["systematic"]), float(two["repeatability"])
    (3.0, 7.0, 7.0)
    """
    k = sigmas
    up, down = means[..., 0, :], means[..., 1, :]
    at = up - down
    across = k * (spreads[..., 0, :] + spreads[..., 1, :]) + np.abs(at)
    one_way = 2 * k * spreads.max(axis=-1)
    high, low = (means + k * spreads).max(axis=-1), (means - k * spreads).min(axis=-1)
    most, least = means.max(axis=-1), means.min(axis=-1)
    middle = (up + down) / 2
    return {
        "reversal": np.abs(at).max(axis=-1),
        "reversal_mean": at.mean(axis=-1),
        "repeatability_up": one_way[..., 0],
        "repeatability_down": one_way[..., 1],
        "repeatability": np.maximum(across.max(axis=-1), one_way.max(axis=-1)),
        "systematic_up": most[..., 0] - least[..., 0],
        "systematic_down": most[..., 1] - least[..., 1],
        "systematic": most.max(axis=-1) - least.min(axis=-1),
        "mean_bidirectional": middle.max(axis=-1) - middle.min(axis=-1),
        "accuracy_up": high[..., 0] - low[..., 0],
        "accuracy_down": high[..., 1] - low[..., 1],
        "accuracy": high.max(axis=-1) - low.min(axis=-1),
    }


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
