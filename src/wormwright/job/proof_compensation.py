"""Error table and reversal value for the control, with what they are worth."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from wormwright.job.result import Estimate

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Compensated:
    """A table that was tried, rad. `offered` is False when it would not surely help.

    `angles` are even table angles from 0 to 360°, `add` what to add to the commanded angle there;
    `reversal` what the control takes up when the direction turns, `least_play` the smallest play
    of the turn, which it never passes, and `play_from` where that is known from. `rms_before` and
    `rms_after` are of deviations about their mean, both sides, at targets and in runs that the
    table was not made from. `check_at` and `check_by` are the one move that shows the sign: with
    the table on, the axis stands so much further on there.
    """

    offered: bool
    reason: str
    orders: int
    angles: Array
    add: Array
    reversal: float
    least_play: float
    play_from: str
    rms_before: Estimate
    rms_after: Estimate
    gain_low: float
    check_at: float
    check_by: float
