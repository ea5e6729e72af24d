"""What a positioning test showed: the deviations at each target and the figures made of them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from wormwright.core.positioning import Positioning
from wormwright.job.findings import Figured
from wormwright.job.result import Estimate

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class PositionTest:
    """A bidirectional test of an axis, rad.

    `forward` and `backward` are the deviations, shape (targets, runs), at the rising `targets`;
    `spread` holds them as means and standard deviations by target; `figures` are the ones that
    the standard defines, each with the uncertainty of the test and what many runs would give.
    `u_reading` is the standard uncertainty of the means at one target, `drift` how far the first
    position wandered when it was read again.
    """

    targets: Array
    forward: Array
    backward: Array
    spread: Positioning
    figures: tuple[Figured, ...]
    means: tuple[str, ...]
    u_reading: float
    drift: Estimate | None
    rows: tuple[int, ...]

    def of(self, key: str) -> Estimate:
        """The figure of that name, as `core.positioning.Positioning` names it."""
        return next(f.estimate for f in self.figures if f.key == key)

    @property
    def runs(self) -> int:
        """Runs each way."""
        return self.spread.runs
