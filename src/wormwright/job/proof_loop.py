"""What the rock loops of the finished axis showed, place by place."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from wormwright.job.findings import Figured
from wormwright.job.result import Estimate

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class LoopAt:
    """The loop at one table angle (rad), taken apart.

    `torque` (N·mm), `angle` (rad from the middle of the loop) and `used` are the readings in the
    order taken; `rising` and `falling` the fitted branches at `line_torque`. `figures` are
    clearance, springing, friction and lost motion; `stiffness` is the torque that turns the table
    by one minute of arc, None where no springing is proven.
    """

    place: float
    torque: Array
    angle: Array
    used: NDArray[np.bool_]
    line_torque: Array
    rising: Array
    falling: Array
    figures: tuple[Figured, ...]
    stiffness: Estimate | None
    words: tuple[str, ...]
    rows: tuple[int, ...]

    def of(self, key: str) -> Estimate | None:
        """The figure of that key, or None."""
        return next((f.estimate for f in self.figures if f.key == key), None)


@dataclass(frozen=True, slots=True)
class LoopProof:
    """Every place at which a loop was read."""

    places: tuple[LoopAt, ...]
