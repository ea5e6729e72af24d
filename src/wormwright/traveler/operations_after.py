"""Operations on the set mesh: lock, bedding in, holding against the cut, and the adapter.

Pure table: one entry an operation. Gates, and what must come first, are added by the plan.
"""

from __future__ import annotations

from wormwright.job.operation import Operation, Restore
from wormwright.traveler.cautions import (
    BACK_DRIVING,
    CHUCK,
    HOT,
    PINCH,
    POWER,
    ROTATING,
    SWARF,
    UNBALANCED,
)
from wormwright.traveler.staleness import MAKES_STALE, kinds_of_rows

AFTER = (
    Operation(
        key="clamp_adjust",
        number="8c",
        title="Adjust the table lock",
        cautions=(POWER, PINCH),
        tools=("test indicator", "lever and spring balance", "hex keys"),
        do=(
            "Lock off: it must not touch anywhere round the turn; stone or shim the pad that rubs.",
            "Lock on by hand, always the same order and the same pull; zero after locking.",
            "Indicator on a pin at the radius of the duty: lock and unlock three times, write the "
            "whole shift.",
            "Pull at the lever with the lock on until the needle moves; write the torque.",
        ),
        read=kinds_of_rows(14),
        gates=(),
        makes_stale=MAKES_STALE["clamp_adjust"],
        spot_check=("rock",),
        go_back="Lock screws back to their marks.",
        after=(),
        minutes=40.0,
        restores=(
            Restore(
                "table lock", "pads and screws in a bag", "screws by turns from home", ("rock",)
            ),
        ),
    ),
    Operation(
        key="bed_in",
        number="9b",
        title="Bed in, with drag before and after",
        cautions=(UNBALANCED, ROTATING, HOT),
        tools=("cord and drum", "watch", "contact thermometer", "rags"),
        do=(
            "Drag in mesh round a full table turn: write the mean before.",
            "Table bare: half an hour at working speed, turning round every five minutes; stop if "
            "the housing gets hotter than the hand bears.",
            "Let it cool to the temperature of the first reading, within 2 K; read the same turn "
            "again. It should have fallen or stayed.",
            "Look at the oil on a white rag: bright bronze dust means drain, wash and fill anew.",
        ),
        read=("drag_in_mesh",),
        gates=(),
        makes_stale=MAKES_STALE["bed_in"],
        spot_check=(),
        go_back="Nothing to take back: flanks that have bedded stay bedded.",
        after=(),
        minutes=75.0,
    ),
    Operation(
        key="bias_weight",
        number="9c",
        title="Bias weight and cord",
        cautions=(
            BACK_DRIVING,
            "A hanging weight falls when the cord parts or the worm leaves the mesh: cage it, and "
            "keep feet from under it.",
        ),
        tools=("drum or groove on the table", "cord and pulley", "weight", "spring balance"),
        do=(
            "Fix the cord so that it pulls the way the plan says and winds in one layer.",
            "Turn the whole working travel: the cord must neither climb nor reach its end, the "
            "weight neither touch nor swing.",
            "Drag at the worm round the travel, lifting and lowering the weight.",
        ),
        read=("drag_in_mesh",),
        gates=(),
        makes_stale=MAKES_STALE["bias_weight"],
        spot_check=(),
        go_back="Weight down first, then the cord off.",
        after=(),
        minutes=45.0,
        restores=(Restore("weight and cord", "none", "none: it only comes off"),),
    ),
    Operation(
        key="friction_brake",
        number="9d",
        title="Friction brake on the table",
        cautions=(POWER, PINCH),
        tools=("brake pad or band", "spring", "lever and spring balance", "cord and drum"),
        do=(
            "Fit the pad so that it presses through a spring: screwed up solid it grips where the "
            "table runs out.",
            "Pull the table round at a known radius, write the pull every 30°.",
            "Drag at the worm round a turn with the brake on.",
        ),
        read=("drag_table", "drag_in_mesh"),
        gates=(),
        makes_stale=MAKES_STALE["friction_brake"],
        spot_check=(),
        go_back="Brake off; its rubbed track stays visible.",
        after=(),
        minutes=60.0,
        restores=(Restore("friction brake", "none", "none: it only comes off", ("drag_table",)),),
    ),
    Operation(
        key="adapter_true",
        number="13",
        title="True the adapter or register in place",
        cautions=(POWER, ROTATING, SWARF, CHUCK),
        tools=("test indicator", "fixed tool or driven cutter", "stone", "spanner"),
        do=(
            "Clean both faces, stone the burrs, bolt it down crosswise; read face and register "
            "before anything is cut. Swarf under it looks like runout.",
            "Try what costs no metal first: another bolt place, an adjustable spigot, a wedge "
            "shim under the low side.",
            "What is left is skimmed in place, the axis turning on its own finished bearings, "
            "light cuts one way round; mark where it sits.",
            "Read face and register again, clamped as in use.",
        ),
        read=kinds_of_rows(11, 12, 13),
        gates=(),
        makes_stale=MAKES_STALE["adapter_true"],
        spot_check=(),
        go_back="Adapter back to its pop mark; what was skimmed off stays off.",
        after=(),
        minutes=90.0,
        machine_minutes=45.0,
        restores=(
            Restore(
                "adapter or register",
                "wedge shims, if any, in a bag",
                "adapter against table, pop mark",
                kinds_of_rows(11, 12, 13),
            ),
        ),
    ),
)
