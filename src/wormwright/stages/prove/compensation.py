"""Error table and reversal value for the control, offered only when they would help."""

from __future__ import annotations

import math

import numpy as np

from wormwright.core.smooth_compensation import (
    FEWEST_RUNS,
    FEWEST_TARGETS,
    SmoothCompensation,
    smooth_compensation,
)
from wormwright.job.findings import Diagnosis
from wormwright.job.proof_compensation import Compensated
from wormwright.job.proof_position import PositionTest
from wormwright.job.result import Estimate

STEP = 10.0
"""Step of the table, degrees."""
WORTH = 1.1
"""A table that does not surely take this off the mean square is not worth its upkeep."""


def compensation_of(test: PositionTest | None, diagnosis: Diagnosis | None) -> Compensated | None:
    """The table and its trial; None when there is no test, or too small a one to judge it by."""
    if test is None or len(test.targets) < FEWEST_TARGETS or test.runs < FEWEST_RUNS:
        return None
    least, play_from = _least_play(test, diagnosis)
    made = smooth_compensation(test.targets, test.forward, test.backward, smallest_play=least)
    angles = np.radians(np.arange(0.0, 360.0 + STEP / 2, STEP))
    add = made.add(angles)
    at = int(np.argmax(np.abs(add)))
    return Compensated(
        offered=made.gain_low > WORTH,
        reason=_reason(made),
        orders=made.orders,
        angles=angles,
        add=add,
        reversal=made.reversal,
        least_play=least,
        play_from=play_from,
        rms_before=_rms(made.rms_before, test),
        rms_after=_rms(made.rms_after, test),
        gain_low=made.gain_low,
        check_at=float(angles[at]),
        check_by=float(add[at]),
    )


def _least_play(test: PositionTest, diagnosis: Diagnosis | None) -> tuple[float, str]:
    """The smallest play of the turn: of the targets, or of the map of the rocks if that is less."""
    at_targets = max(0.0, float(-test.spread.reversal_at.max()))
    tight = None if diagnosis is None else max(0.0, diagnosis.lost_motion_tight.value)
    if tight is not None and tight < at_targets:
        return tight, "the tight spot of the rocks"
    return at_targets, "the target with the least reversal"


def _rms(value: float, test: PositionTest) -> Estimate:
    """With the doubt that so many runs at so many targets leave."""
    u = value / math.sqrt(2 * len(test.targets))
    low = max(0.0, value - 2 * u)
    return Estimate(value, u, low, value + 2 * u, "angle", "left out in turn")


def _reason(made: SmoothCompensation) -> str:
    if made.gain_low > WORTH:
        return "it takes off more than scatter alone could seem to"
    if made.orders == 0 and made.reversal == 0:
        return "no slow wave and no play stand out of the scatter: there is nothing to take off"
    return (
        "tried at targets and in runs left out of it, it might as well make the axis worse; what "
        "is left is scatter, or repeats faster than a table can follow"
    )
