"""Operations that set the finished unit on its machine: base and tram, chuck, tail.

Pure table: one entry an operation. Gates, and what must come first, are added by the plan.
"""

from __future__ import annotations

from wormwright.job.operation import Operation, Restore
from wormwright.traveler.cautions import CHUCK, LIFTING, POWER, ROTATING
from wormwright.traveler.staleness import MAKES_STALE

MOUNT = (
    Operation(
        key="mount_base",
        number="12",
        title="Base, feet and tram on the machine",
        cautions=(LIFTING, POWER),
        tools=("test indicator", "ground bar", "feelers", "shim stock", "stone", "spanner"),
        do=(
            "Base plate or riser down first: bolts crosswise in three rounds, keys to one wall of "
            "the slot. No loose washers, paper or foil.",
            "Unit on it, bolts out: feelers under all four feet.",
            "Clamp it; bar top and side at two places, the axis at 0° and turned half round; enter "
            "them, and the gaps.",
            "Pack each foot and move it at the key as `wormwright mount` says; stacks by "
            "micrometer.",
            "Tighten crosswise; loosen and retighten one bolt after the other, indicator above the "
            "foot: none may lift.",
        ),
        read=("bar_line", "foot_gap", "foot_lift"),
        gates=(),
        makes_stale=MAKES_STALE["mount_base"],
        spot_check=("rock",),
        go_back="Bolts out, packing off foot by foot into its bag, unit down with the hoist.",
        after=(),
        minutes=90.0,
        wants=("bar_line:top", "bar_line:side"),
        restores=(
            Restore(
                "unit on the machine",
                "packing in a bag, each piece marked with its foot",
                "scribed line at the key, foot by foot",
                ("bar_line",),
            ),
        ),
    ),
    Operation(
        key="chuck_dial",
        number="14",
        title="Dial the chuck in",
        cautions=(POWER, ROTATING, CHUCK),
        tools=("test indicator", "ground bar", "chuck key", "soft hammer"),
        do=(
            "Faces and register wiped, chuck on, screws drawn up lightly and crosswise.",
            "Bar in the jaws at the size that is used. Loose register: tap it true. Four jaws: "
            "needle at three angles or more, then move the jaws as `wormwright mount` says.",
            "Screws tight, read near the jaws and far out; a lean is a chip or a burr under it.",
            "Eight places at both distances; enter them with their angles. Chuck key out.",
        ),
        read=("bar_runout",),
        gates=(),
        makes_stale=MAKES_STALE["chuck_dial"],
        spot_check=(),
        go_back="Chuck off with its screws in its own holes, pop mark to pop mark.",
        after=(),
        minutes=40.0,
        restores=(Restore("chuck", "none", "pop marks on chuck and adapter", ("bar_runout",)),),
    ),
    Operation(
        key="tail_set",
        number="15",
        title="Tail: height and side",
        cautions=(POWER,),
        tools=("height gauge or probe", "ground bars", "shim stock", "spanner"),
        do=(
            "Tail clamped where it is used, its centre as far out as it is used.",
            "Height over a bar in head and tail, and the place beside both, half a turn apart; "
            "enter them.",
            "Shim or grind, and set it over, as `wormwright mount` says.",
            "Clamp it and read both again. Bring the centre up without bending the work.",
        ),
        read=("over_bar", "beside_bar"),
        gates=(),
        makes_stale=MAKES_STALE["tail_set"],
        spot_check=(),
        go_back="Shim out, tail off; what was ground off its foot stays off.",
        after=(),
        minutes=45.0,
        restores=(Restore("tail", "shim in a bag", "scribed line at its key", ("over_bar",)),),
    ),
)
