"""What the duty feels of the lost motion, and the chance that the unit meets it as it stands."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from wormwright.job.findings import Posterior
from wormwright.job.pair import WormPair
from wormwright.job.rotary import Duty
from wormwright.stages.diagnose.turn import parts_of

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Felt:
    """What the duty feels at the loosest place and the warmest, by draw, against what it allows."""

    draws: Array
    allowed: float

    @property
    def chance(self) -> float:
        """Chance that the unit meets its duty as it stands."""
        return float(np.mean(self.draws <= self.allowed))


def felt_by_duty(
    posterior: Posterior, pair: WormPair, duty: Duty, *, warm_opens: float, wear: Array | float
) -> Felt:
    """Lost motion that matters for the duty, rad at the table, by draw.

    A one-way approach takes up all but the play of the table bearing; a radial or axial duty feels
    that play alone, as an angle at its radius. Heat opens the mesh by `warm_opens` (mm at r2), and
    a worn sector adds its wear.
    """
    allowed = duty.error_mm / duty.radius_mm
    if duty.direction != "tangential":
        play = posterior.of("table_radial" if duty.direction == "radial" else "table_axial")
        return Felt(play / duty.radius_mm, allowed)
    parts = parts_of(posterior, pair)
    if duty.approach == "one way":
        return Felt((parts["table_radial"] + parts["table_axial"]) / pair.r2, allowed)
    swing = np.hypot(posterior.of("wheel_x"), posterior.of("wheel_y"))
    swing = swing + np.hypot(posterior.of("worm_x"), posterior.of("worm_y"))
    worn = np.maximum(wear, 0.0)
    total = sum(parts.values()) + 2 * pair.t * swing + warm_opens + worn
    return Felt(np.asarray(total) / pair.r2, allowed)
