"""Error table and reversal value for a control, and whether they would help on the next run."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from wormwright.core.positioning import positioning

Array = NDArray[np.float64]
FEWEST_RUNS = 3


@dataclass(frozen=True, slots=True)
class Compensation:
    """What a control would add, and its trial on runs that it was not made from.

    `add` is what to add to the commanded angle at each target, the mean taken off; `reversal` what
    to take up when the direction turns, never more than `most_reversal`. `rms_before` and
    `rms_after` are of deviations about their mean, each run judged by a table of the other runs;
    `gain` is their mean square ratio, `gain_low` its lower one-sided 95 % bound over the runs.
    """

    add: Array
    reversal: float
    most_reversal: float
    rms_before: float
    rms_after: float
    gain: float
    gain_low: float

    @property
    def helps(self) -> bool:
        """Whether the runs left out got surely better."""
        return self.gain_low > 1.0


def compensation(forward: ArrayLike, backward: ArrayLike, *, smallest_play: float) -> Compensation:
    """Table and reversal value of a test, judged by leaving out one run after the other.

    Source: cross-validation, leave one out (common practice in regression); the table is the mean
        of both directions, the reversal the mean of -B_i: play leaves the table behind.
    Formula: add_i = -(mean_i - mean of all); reversal = min(max(-mean B, 0), smallest play).
    Inputs: deviations, shape (targets, runs), any unit; smallest_play of the turn in that unit.
    Outputs: the table, the reversal and their trial.
    Valid for: three runs or more. Raises: ValueError below, or a play below zero.

    >>> up = [[0, 1, -1], [10, 11, 9], [4, 5, 3]]
    >>> made = compensation(up, [[x + 6 for x in row] for row in up], smallest_play=5.0)
    >>> made.reversal, made.helps
    (5.0, True)
    """
    up, down = np.asarray(forward, float), np.asarray(backward, float)
    whole = positioning(up, down)
    if up.shape[1] < FEWEST_RUNS:
        raise ValueError(f"compensation: expected 3 runs or more, got {up.shape[1]}")
    if smallest_play < 0:
        raise ValueError(f"compensation: the smallest play is below zero: {smallest_play}")
    add, reversal = _table(up, down, smallest_play)
    before, after = [], []
    for run in range(up.shape[1]):
        others = np.arange(up.shape[1]) != run
        part, taken = _table(up[:, others], down[:, others], smallest_play)
        left = (up[:, run], down[:, run])
        before.append(_scatter(*left))
        after.append(_scatter(left[0] + part + taken / 2, left[1] + part - taken / 2))
    ratio = np.log(np.array(before) / np.maximum(np.array(after), 1e-300))
    return Compensation(
        add=add,
        reversal=reversal,
        most_reversal=min(smallest_play, max(whole.reversal, 0.0)),
        rms_before=math.sqrt(float(np.mean(before))),
        rms_after=math.sqrt(float(np.mean(after))),
        gain=float(np.mean(before) / max(float(np.mean(after)), 1e-300)),
        gain_low=_lower(ratio),
    )


def _table(up: Array, down: Array, smallest_play: float) -> tuple[Array, float]:
    mean = (up.mean(axis=1) + down.mean(axis=1)) / 2
    reversal = float((down.mean(axis=1) - up.mean(axis=1)).mean())
    return mean.mean() - mean, min(max(reversal, 0.0), smallest_play)


def _scatter(up: Array, down: Array) -> float:
    both = np.concatenate([up, down])
    return float(np.mean((both - both.mean()) ** 2))


def _lower(ratio: Array) -> float:
    """Lower one-sided 95 % bound of the mean gain; runs share no error but the table's."""
    from scipy.special import stdtrit  # noqa: PLC0415  (late: costs start-up)

    n = len(ratio)
    spread = float(ratio.std(ddof=1)) / math.sqrt(n)
    return math.exp(float(ratio.mean()) - float(stdtrit(n - 1, 0.95)) * spread)
