"""What the diagnosis found: contributors, the map round the turn, and its joint uncertainty."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from wormwright.job.pair import WormPair
from wormwright.job.result import Doubt, Estimate

PLAYS = (
    "mesh",
    "end_play",
    "worm_float",
    "table_radial",
    "table_axial",
    "wheel_joint",
    "drive",
)
VECTORS = ("wheel_x", "wheel_y", "worm_x", "worm_y")
SHARES = ("table_share", "worm_share")
UNKNOWNS = PLAYS + VECTORS + SHARES
"""Column order of `Posterior.draws`.

mesh: mean flank backlash j at r2 with both axes at the middle of their radial plays, mm.
end_play: worm end play against the housing, mm (1:1 at r2).
worm_float: full radial play of the worm toward the wheel, at the mesh, mm.
table_radial: full radial play of the table shaft (one disc), mm.
table_axial: full axial play of the table, mm.
wheel_joint: play of the wheel-to-table joint, as circumferential motion at r2, mm.
drive: play between motor and worm as circumferential motion at r2 of the wheel (angle/i*r2), mm.
wheel_x, wheel_y: wheel eccentricity vector e (half TIR) along table angle 0 and 90 degrees, mm.
worm_x, worm_y: the same of the worm, against the worm's own angle, mm.
table_share, worm_share: lost motion at r2 per mm of table_radial and of worm_float, 1.
"""


@dataclass(frozen=True, slots=True)
class Posterior:
    """Joint belief about the unknowns: equally likely draws, shape (draws, len(UNKNOWNS)), mm."""

    draws: NDArray[np.float64]
    seed: int

    def of(self, unknown: str) -> NDArray[np.float64]:
        """All draws of one unknown, shape (draws,)."""
        column: NDArray[np.float64] = self.draws[:, UNKNOWNS.index(unknown)]
        return column


@dataclass(frozen=True, slots=True)
class Contributor:
    """One cause of lost motion. `at_r2` in mm, `at_table` in rad, `share` of the total (0..1)."""

    key: str
    label: str
    at_r2: Estimate
    at_table: Estimate
    share: Estimate
    identifiable: bool
    measured: bool
    note: str = ""


@dataclass(frozen=True, slots=True)
class RockPoint:
    """One rock reading brought to the table: angle rad, lost motion rad with its u, worm angle."""

    seq: int
    table_angle: float
    worm_angle: float | None
    lost_motion: float
    u: float
    residual: float


@dataclass(frozen=True, slots=True)
class TightSpot:
    """Where the table has least play. `angle` in rad with its half-width, or why it is refused."""

    angle: Estimate | None
    refusal: str = ""


@dataclass(frozen=True, slots=True)
class Diagnosis:
    """Where the lost motion comes from."""

    pair: WormPair
    contributors: tuple[Contributor, ...]
    lost_motion_mean: Estimate
    lost_motion_tight: Estimate
    lost_motion_loose: Estimate
    unexplained: Estimate
    chi_square: float
    degrees_of_freedom: int
    chi_square_p: float
    tight_spot: TightSpot
    wheel_runout: Estimate | None
    wheel_runout_angle: Estimate | None
    worm_runout: Estimate | None
    worm_runout_angle: Estimate | None
    inseparable: tuple[str, ...]
    points: tuple[RockPoint, ...]
    map_angles: NDArray[np.float64]
    map_mean: NDArray[np.float64]
    map_low: NDArray[np.float64]
    map_high: NDArray[np.float64]
    posterior: Posterior
    next_reading: str
    drag: tuple[tuple[str, Estimate], ...]
    not_measured: tuple[str, ...]
    doubts: tuple[Doubt, ...]
