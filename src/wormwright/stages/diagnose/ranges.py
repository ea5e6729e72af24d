"""What an as-found import shows: the ranges that a short sheet leans on.

Source: trade practice for new and used 6-8 in geared rotary tables (common practice without
source); wide enough that a direct reading always outweighs them. Inside a range every value is
taken as equally likely.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from wormwright.job.findings import PLAYS, SHARES, VECTORS
from wormwright.job.pair import WormPair
from wormwright.job.rotary import Rotary

COMPLIANCE = "compliance"
WEAR = "wear"
"""Play that a used sector has more than the rest, mm at r2; only asked where one was marked."""

KNOWN = 1 / 3
"""An unknown is identified when its sd is below this share of the sd of its usual range."""

LABELS = {
    "mesh": "worm and wheel mesh (mean backlash)",
    "end_play": "worm end play",
    "worm_float": "worm radial float",
    "table_radial": "table shaft radial play",
    "table_axial": "table axial play",
    "wheel_joint": "wheel-to-table joint",
    "drive": "drive between motor and worm",
}
"""Plain names of the plays, in the words of the trade."""

OTHER_LABELS = {
    "wheel_x": "wheel runout",
    "wheel_y": "wheel runout",
    "worm_x": "worm runout",
    "worm_y": "worm runout",
    COMPLIANCE: "springing under the push",
    WEAR: "wear of the used sector",
}
"""The same of the unknowns that are no plays."""


@dataclass(frozen=True, slots=True)
class UsualRange:
    """A usual range, mm (compliance mm/N, shares 1)."""

    low: float
    high: float

    @property
    def sd(self) -> float:
        """Standard deviation of a flat belief over the range."""
        return (self.high - self.low) / math.sqrt(12)

    def widened(self, factor: float) -> UsualRange:
        """The same range with its far end `factor` times as far from zero."""
        low = self.low * factor if self.low < 0 else self.low
        return UsualRange(low, self.high * factor)


def usual_ranges(pair: WormPair, rotary: Rotary, *, sectors: bool = False) -> dict[str, UsualRange]:
    """The usual range of every unknown of this pair; with wear where `sectors` were marked."""
    drive = math.radians(1.5) / pair.ratio * pair.r2
    table_low = 0.3 if rotary.table_weight_n is None else 0.0
    ranges = {
        "mesh": UsualRange(0.0, 0.30),
        "end_play": UsualRange(0.0, 0.20),
        "worm_float": UsualRange(0.0, 0.08),
        "table_radial": UsualRange(0.0, 0.06),
        "table_axial": UsualRange(0.0, 0.08),
        "wheel_joint": UsualRange(0.0, 0.03),
        "drive": UsualRange(0.0, drive),
        "wheel_x": UsualRange(-0.06, 0.06),
        "wheel_y": UsualRange(-0.06, 0.06),
        "worm_x": UsualRange(-0.02, 0.02),
        "worm_y": UsualRange(-0.02, 0.02),
        "table_share": UsualRange(table_low, 1.0),
        "worm_share": UsualRange(0.5, 1.0),
        COMPLIANCE: UsualRange(5e-6, 1e-4),
    }
    missing = set(PLAYS + VECTORS + SHARES) - set(ranges)
    if missing:
        raise AssertionError(f"no usual range for {sorted(missing)}")
    return ranges | {WEAR: UsualRange(-0.10, 0.20)} if sectors else ranges
