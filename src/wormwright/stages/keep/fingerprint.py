"""What tells one kind of unit from another: the sizes and words that a guide compares.

Pure table: one entry a reading kind, so the length of this file follows the length of the sheet.
What wear and setting change (rock, drag, shims in place) is not here: it is reckoned anew.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType


@dataclass(frozen=True, slots=True)
class Mark:
    """One size or word of the fingerprint: what hangs on it, and how far units of one kind differ.

    `spread` is a first proposal for the half-width of the limits, mm (common practice without
    source; the author of a guide sets it from what the parts allow); 0 for counts and words. A
    mark that is not `compulsory` is shown and does not decide. `per` names the condition that the
    reading is divided by.
    """

    needs: str
    spread: float = 0.0
    compulsory: bool = True
    per: str = ""


FINGERPRINT: Mapping[str, Mark] = MappingProxyType(
    {
        "teeth": Mark("ratio, every angle"),
        "starts": Mark("ratio, lead angle"),
        "hand": Mark("which way the worm pushes"),
        "thread_length": Mark("module of the pair", 0.01, per="threads"),
        "worm_od": Mark("tip clearance, relief of the worm", 0.05),
        "wheel_throat": Mark("pitch radius of the wheel", 0.10),
        "wheel_od": Mark("room in the housing", 0.30, compulsory=False),
        "wheel_face": Mark("how far the worm may stand sideways", 0.20),
        "wheel_root": Mark("tip clearance", 0.10),
        "wheel_kind": Mark("law of the mesh"),
        "centre_distance": Mark("closing, throw of the bushings", 0.06),
        "adjusting": Mark("which correction fits at all"),
        "adjuster_throw": Mark("reach of the factory eccentric", 0.05),
        "adjuster_arm": Mark("reach of the pivot box", 0.30),
        "bearing_kind": Mark("bearing swap, end float"),
        "bearing_marking": Mark("bearing swap", compulsory=False),
        "bearing_bore": Mark("bore of the new bearing", 0.015),
        "bearing_outside": Mark("wall of the bushing", 0.015),
        "bearing_width": Mark("depth of the bearing seat", 0.05),
        "shaft_seat": Mark("bore of the new bearing", 0.010),
        "housing_bore": Mark("outside of the bushing", 0.020),
        "bearing_span": Mark("skew from unequal bushings", 0.50),
        "shaft_step": Mark("abutment of the bearing", 0.20, compulsory=False),
        "table_bearing_kind": Mark("preload of the table"),
        "table_shim_arrangement": Mark("sign of the table shim"),
        "worm_shim_arrangement": Mark("sign of the worm shim"),
        "block_shim_way": Mark("sign of the packing under the block"),
    }
)
"""Reading kind -> what it is compared for, in the order in which a unit is compared."""
