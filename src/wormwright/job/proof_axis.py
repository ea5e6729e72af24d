"""What turning the table showed: surfaces against the axis, and the axis itself."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from wormwright.job.findings import Finding, Runout
from wormwright.job.result import Estimate

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class CircleTrace:
    """One surface round the turn, for its picture: readings less their mean, and the fit, mm."""

    name: str
    angles: Array
    readings: Array
    fit_angles: Array
    circle: Array
    with_lobes: Array
    swing: float


@dataclass(frozen=True, slots=True)
class Reversal:
    """The axis of rotation apart from the form of the ball, set-up taken out, mm.

    `proven` says that the motion of the axis is more than noise. `asynchronous` is the largest
    range between turns at one place, None from one turn.
    """

    angles: Array
    axis: Array
    part: Array
    u: float
    synchronous: Estimate
    form: Estimate
    asynchronous: float | None
    turns: int
    proven: bool
    lobes: tuple[int, ...]
    rows: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class AxisProof:
    """Runout of what was felt, what it is made of, and the axis itself where it was reversed."""

    runouts: tuple[Runout, ...]
    traces: tuple[CircleTrace, ...]
    findings: tuple[Finding, ...]
    reversal: Reversal | None
    rows: tuple[int, ...]
