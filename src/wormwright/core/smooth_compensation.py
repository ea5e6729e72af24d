"""A smooth error table from a positioning test, judged at targets and in runs left out."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

FEWEST_RUNS = 3
FEWEST_TARGETS = 6
MOST_ORDERS = 6


@dataclass(frozen=True, slots=True)
class SmoothCompensation:
    """Waves that a control would add, and the trial of them.

    `cosines` and `sines` are those of the error, orders 1 upward; `reversal` what to take up when
    the direction turns. `rms_before` and `rms_after` are of deviations about their mean, each
    judged by a table made without its run and without its target; `gain` is the ratio of their
    mean squares, `gain_low` its lower one-sided 95 % bound.
    """

    cosines: Array
    sines: Array
    reversal: float
    rms_before: float
    rms_after: float
    gain: float
    gain_low: float

    @property
    def orders(self) -> int:
        """Waves in the table: once a turn up to so many times."""
        return len(self.cosines)

    @property
    def helps(self) -> bool:
        """Whether what was left out got surely better."""
        return self.gain_low > 1.0

    def add(self, angles: ArrayLike) -> Array:
        """What to add to the commanded angle there."""
        phi = np.asarray(angles, float)
        k = np.arange(1, self.orders + 1)
        turned = phi[..., None] * k
        result: Array = -(np.cos(turned) @ self.cosines + np.sin(turned) @ self.sines)
        return result


def smooth_compensation(
    angles: ArrayLike, forward: ArrayLike, backward: ArrayLike, *, smallest_play: float
) -> SmoothCompensation:
    """Error table of as many waves as the targets bear out, and the reversal value.

    A table that follows every target would carry the error of the worm at that target into its
    neighbourhood; few waves do not, and can be judged where nothing was read.
    Source: least squares; number of waves by the prediction sum of squares (Allen 1974, from
        memory); trial by leaving out run and target; lower bound by Student's t over runs and by
        the jackknife over targets, the smaller (common practice).
    Formula: y = zero + sum_k a_k cos k phi + b_k sin k phi, fitted to the mean of both sides;
        prediction at a target left out (y_hat - h y)/(1 - h), h the diagonal of the hat matrix;
        reversal = min(max(-mean B, 0), smallest play).
    Inputs: angles (targets,) [rad]; deviations (targets, runs), any unit; smallest_play of the
        turn in that unit.
    Outputs: SmoothCompensation in that unit.
    Valid for: FEWEST_TARGETS targets and FEWEST_RUNS runs or more. Raises: ValueError below, or
        for a play below zero.

    >>> at = np.radians(np.arange(0, 360, 36))
    >>> wave = 20 * np.sin(at)[:, None] + np.array([0.0, 1.0, -1.0])
    >>> made = smooth_compensation(at, wave - 3, wave + 3, smallest_play=5.0)
    >>> made.orders, round(made.reversal, 6), made.helps
    (1, 5.0, True)
    """
    phi = np.asarray(angles, float)
    up, down = np.asarray(forward, float), np.asarray(backward, float)
    if up.shape != down.shape or up.ndim != 2 or up.shape[0] != len(phi):
        raise ValueError(f"compensation: expected targets x runs both ways, got {up.shape}")
    if up.shape[0] < FEWEST_TARGETS or up.shape[1] < FEWEST_RUNS:
        raise ValueError(
            f"compensation: expected {FEWEST_TARGETS} targets and {FEWEST_RUNS} runs or more, "
            f"got {up.shape}"
        )
    if smallest_play < 0:
        raise ValueError(f"compensation: the smallest play is below zero: {smallest_play}")
    middle = (up + down) / 2
    orders = min(range(_most(phi) + 1), key=lambda k: _press(phi, middle.mean(axis=1), k))
    fit = np.linalg.lstsq(_design(phi, orders), middle.mean(axis=1), rcond=None)[0]
    before, after = _trial(phi, up, down, orders, smallest_play)
    return SmoothCompensation(
        cosines=fit[1 : orders + 1],
        sines=fit[orders + 1 :],
        reversal=_reversal(up, down, smallest_play),
        rms_before=math.sqrt(float(before.mean())),
        rms_after=math.sqrt(float(after.mean())),
        gain=float(before.mean() / after.mean()) if after.any() else math.inf,
        gain_low=min(_over_runs(before, after), _over_targets(before, after)),
    )


def _most(phi: Array) -> int:
    return min(MOST_ORDERS, (len(phi) - 3) // 2)


def _design(phi: Array, orders: int) -> Array:
    turned = phi[:, None] * np.arange(1, orders + 1)
    return np.column_stack([np.ones_like(phi), np.cos(turned), np.sin(turned)])


def _hat(phi: Array, orders: int) -> Array:
    q, _ = np.linalg.qr(_design(phi, orders))
    hat: Array = q @ q.T
    return hat


def _left_out(hat: Array, y: Array) -> Array:
    """What the fit without a target predicts there."""
    h = np.minimum(np.diag(hat), 1 - 1e-9)
    predicted: Array = (hat @ y - h * y) / (1 - h)
    return predicted


def _press(phi: Array, y: Array, orders: int) -> float:
    return float(np.sum((y - _left_out(_hat(phi, orders), y)) ** 2))


def _reversal(up: Array, down: Array, smallest_play: float) -> float:
    return min(max(float((down - up).mean()), 0.0), smallest_play)


def _trial(
    phi: Array, up: Array, down: Array, orders: int, smallest_play: float
) -> tuple[Array, Array]:
    """Squares about their mean before and after, (targets, runs), both sides together."""
    hat = _hat(phi, orders)
    before, after = np.empty_like(up), np.empty_like(up)
    for run in range(up.shape[1]):
        others = np.arange(up.shape[1]) != run
        middle = (up[:, others] + down[:, others]).mean(axis=1) / 2
        add = -_left_out(hat, middle) + middle.mean()
        taken = _reversal(up[:, others], down[:, others], smallest_play) / 2
        before[:, run] = _squares(up[:, run], down[:, run])
        after[:, run] = _squares(up[:, run] + add + taken, down[:, run] + add - taken)
    return before, after


def _squares(up: Array, down: Array) -> Array:
    zero = (up.mean() + down.mean()) / 2
    squares: Array = ((up - zero) ** 2 + (down - zero) ** 2) / 2
    return squares


def _over_runs(before: Array, after: Array) -> float:
    tiny = 1e-300
    ratio = np.log(before.mean(axis=0) + tiny) - np.log(after.mean(axis=0) + tiny)
    return _bound(ratio)


def _over_targets(before: Array, after: Array) -> float:
    """Jackknife: the logarithm of the gain with each target left out in turn."""
    n = len(before)
    b, a = before.sum(axis=1), after.sum(axis=1)
    tiny = 1e-300
    whole = math.log(float(b.sum()) + tiny) - math.log(float(a.sum()) + tiny)
    without = np.log(b.sum() - b + tiny) - np.log(a.sum() - a + tiny)
    return _bound(n * whole - (n - 1) * without)


def _bound(logs: Array) -> float:
    from scipy.special import stdtrit  # noqa: PLC0415  (late: costs start-up)

    n = len(logs)
    spread = float(logs.std(ddof=1)) / math.sqrt(n)
    return math.exp(min(700.0, float(logs.mean()) - float(stdtrit(n - 1, 0.95)) * spread))
