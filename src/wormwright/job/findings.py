"""What the diagnosis found: contributors, the map round the turn, and its joint uncertainty."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

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
class Figured:
    """One figure with its name in the words of the trade."""

    key: str
    label: str
    estimate: Estimate


@dataclass(frozen=True, slots=True)
class Finding:
    """What the readings say about one part of the unit: figures, and what follows in words."""

    key: str
    title: str
    figures: tuple[Figured, ...] = ()
    words: tuple[str, ...] = ()

    def of(self, key: str) -> Estimate | None:
        """The figure of that key, or None."""
        return next((f.estimate for f in self.figures if f.key == key), None)


@dataclass(frozen=True, slots=True)
class Drag:
    """Drag taken apart, all at the worm (N·mm); `peak_at` is the table angle of most drag.

    `agreement` compares `peak_at` with the tight spot of the rock: agree, differ, cannot tell.
    """

    parts: tuple[Figured, ...]
    peak_over_median: Estimate | None = None
    peak_at: Estimate | None = None
    agreement: str = ""
    words: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Lobes:
    """A wave of `order` lobes round the turn: amplitude `size` in mm, table angle of a high."""

    order: int
    size: Estimate
    first_high: Estimate


@dataclass(frozen=True, slots=True)
class Runout:
    """Runout of one surface (`key` face, register or bar) taken apart.

    `swing` (TIR) and `eccentricity` in mm; `high_at` is the table angle at which the high place
    stands under the indicator, None within the noise; `slope` of a face in rad; `lobes` those that
    stand out; `do` says what to skim, shim or leave.
    """

    key: str
    surface: str
    swing: float
    eccentricity: Estimate
    high_at: Estimate | None
    slope: Estimate | None = None
    slope_at: Estimate | None = None
    lobes: tuple[Lobes, ...] = ()
    do: str = ""


@dataclass(frozen=True, slots=True)
class Unseparated:
    """A combination of unknowns that the readings do not fix.

    `causes` are the plain names in it: of several the readings fix the sum, one alone they do not
    fix; `against` names the cause that is out by as much the other way, if there is one.
    `direction` holds the weights of the worst combination in units of the usual ranges; `size` is
    its doubt at the table, rad (one standard deviation).
    """

    causes: tuple[str, ...]
    direction: tuple[tuple[str, float], ...]
    size: float
    words: str
    against: str = ""


@dataclass(frozen=True, slots=True)
class NextReading:
    """One reading that could be taken next: what it would narrow, and its bench minutes.

    `closing_left` and `duty_left` are the doubt of the mesh closing and of the lost motion that the
    duty feels after it, as a share of the doubt now.
    """

    kind: str
    label: str
    minutes: float
    closing_left: float
    duty_left: float
    tells: str

    @property
    def gain(self) -> float:
        """The larger of the two narrowings, as a share of the doubt now."""
        return 1.0 - min(self.closing_left, self.duty_left)

    @property
    def gain_per_minute(self) -> float:
        """Gain for each minute at the bench."""
        return self.gain / self.minutes


Where = Literal["below", "inside", "open", "above", "far above"]
"""A figure against its usual range; open when its interval crosses the upper end."""


@dataclass(frozen=True, slots=True)
class Judged:
    """One figure against the range of the trade, with its cure and where the range is from."""

    key: str
    label: str
    estimate: Estimate
    usual: tuple[float, float]
    far: float
    where: Where
    cure: str
    source: str


VerdictWord = Literal[
    "leave it as it is", "normal", "fix it at home", "send it back", "read more first"
]


@dataclass(frozen=True, slots=True)
class Verdict:
    """What to do with the unit: in one word, why, and what no work at home will cure."""

    word: VerdictWord
    reasons: tuple[str, ...]
    chance_meets_duty: float
    judged: tuple[Judged, ...] = ()
    cannot_cure: tuple[str, ...] = ()


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
    drag_apart: Drag | None = None
    runouts: tuple[Runout, ...] = ()
    findings: tuple[Finding, ...] = ()
    unseparated: tuple[Unseparated, ...] = ()
    next_readings: tuple[NextReading, ...] = ()
    verdict: Verdict | None = None
    wear: Estimate | None = None
