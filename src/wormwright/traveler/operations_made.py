"""Operations that cut metal for the mesh: agreement, trial pair, bushings, and the remakes.

Pure table: one entry an operation. Gates, and what must come first, are added by the plan. The
remakes stand in no plan; they appear after the failed gate that asks for them.
"""

from __future__ import annotations

from wormwright.job.operation import Operation, Restore
from wormwright.traveler.cautions import (
    BACK_DRIVING,
    CHUCK,
    GRIT,
    LIFTING,
    PINCH,
    POWER,
    ROTATING,
    SWARF,
)
from wormwright.traveler.staleness import MAKES_STALE

MADE = (
    Operation(
        key="before_cutting",
        number="1b",
        title="Before the first cut: what cannot be undone",
        cautions=("Nothing is cut, bored, reamed or pressed before every box here is ticked.",),
        tools=("calliper", "micrometer", "bore gauge", "pencil"),
        do=(
            "Read aloud, to whoever owns the unit, each line below that cannot be undone.",
            "Measure on this unit every size that a drawing of the plan starts from; a guide for "
            "another unit or another batch proves nothing about this one.",
        ),
        read=("worm_od", "housing_bore", "shaft_seat", "centre_distance"),
        gates=(),
        makes_stale=MAKES_STALE["before_cutting"],
        spot_check=(),
        go_back="Nothing has been changed.",
        after=(),
        minutes=20.0,
    ),
    Operation(
        key="sleeve_bore",
        number="6r",
        title="Remake: bore the housing true and sleeve it",
        cautions=(POWER, LIFTING, ROTATING, SWARF, GRIT),
        tools=("boring head or faceplate", "test indicator", "bore gauge", "bonding compound"),
        do=(
            "Indicate both bores true to each other before the first cut: the worm line is made "
            "here.",
            "Bore until it cleans up all round and no further; leave at least 4 mm of casting.",
            "Turn a sleeve to the bore with 0.03 to 0.05 mm for the bonding compound, the inside "
            "2 mm under size; bond it, let it set its full time.",
            "Bore the sleeve in place, both ends at one setting, to the bushing that is at hand.",
        ),
        read=("housing_bore", "bearing_span", "centre_distance"),
        gates=(),
        makes_stale=MAKES_STALE["sleeve_bore"],
        spot_check=(),
        go_back="The casting bored away does not come back; the sleeve can be bored out again.",
        after=(),
        minutes=240.0,
        lasting="The housing bore is cut larger for good; from then on it lives with a sleeve.",
        machine_minutes=180.0,
        restores=(
            Restore(
                "housing bores", "none: metal is gone", "write the old size", ("housing_bore",)
            ),
        ),
    ),
    Operation(
        key="next_bushing",
        number="6s",
        title="Remake: another bushing, next size",
        cautions=(ROTATING, CHUCK, SWARF),
        tools=("four-jaw chuck and indicator", "bore gauge", "micrometer", "bar of the next size"),
        do=(
            "Keep the spoiled one: its errors say what to set differently.",
            "Measure the bore anew, two directions, two depths; the outside is made to that "
            "reading. Where the bore was only marked, clean it up to the next whole tenth first.",
            "Outside, flange and faces at one setting; then set over in the four-jaw, whole swing "
            "of the needle twice the throw at two stations, and bore.",
            "Check it against its drawing before it comes off the mandrel.",
        ),
        read=("housing_bore",),
        gates=(),
        makes_stale=MAKES_STALE["next_bushing"],
        spot_check=(),
        go_back="Nothing on the unit has been changed.",
        after=(),
        minutes=150.0,
        machine_minutes=120.0,
    ),
    Operation(
        key="trial_pair",
        number="6b",
        title="Trial pair: drag at plus and minus the angle",
        cautions=(POWER, BACK_DRIVING, PINCH, ROTATING, CHUCK, SWARF),
        tools=(
            "four-jaw chuck and indicator",
            "two test indicators",
            "degree marks",
            "cord and drum",
        ),
        do=(
            "Turn the trial pair from brass or soft steel; write its throw as the needle shows it.",
            "Table at the tight spot. Three times from each side, always from the open side, ends "
            "matched by the indicators: station plus from the table top, minus from the table "
            "base.",
            "Enter the angles and ask for the plan again: the two sides give the depth and the "
            "throat centre, and the final pair is made to them.",
        ),
        read=("trial_angle",),
        gates=(),
        makes_stale=MAKES_STALE["trial_pair"],
        spot_check=(),
        go_back="Trial pair out, old bearings by their marks: the bores were not touched.",
        after=(),
        minutes=240.0,
        wants=("worm_end_play", "trial_angle:plus", "trial_angle:minus"),
        machine_minutes=150.0,
        restores=(
            Restore(
                "worm bearings at both ends",
                "old bearings, tagged A and B",
                "pop marks of bearing and cover against the housing",
                ("bearing_marking", "bearing_outside"),
            ),
        ),
    ),
    Operation(
        key="bushings_made",
        number="6c",
        title="Turn the bushing pair and check it before it goes in",
        cautions=(ROTATING, CHUCK, SWARF, GRIT),
        tools=("four-jaw chuck and indicator", "bore gauge", "micrometer", "ball-ended calliper"),
        do=(
            "Bearings first, then the bores measured anew: A and B are not alike, and each drawing "
            "is for its own bore.",
            "Try each in its bore by hand, dry; look whether the worm still passes where it goes "
            "in.",
        ),
        read=("housing_bore",),
        gates=(),
        makes_stale=MAKES_STALE["bushings_made"],
        spot_check=(),
        go_back="Nothing on the unit has been changed.",
        after=(),
        minutes=240.0,
        machine_minutes=210.0,
    ),
    Operation(
        key="centre_shim",
        number="7a",
        title="Shims between worm block and housing, provisional depth",
        cautions=(POWER, BACK_DRIVING, PINCH, SWARF),
        tools=("shim and micrometer", "two test indicators", "stone", "torque wrench"),
        do=(
            "An indicator on the worm shaft beside each bearing, along the line from wheel to "
            "worm, both on zero; mark the old shims by end.",
            "Change the shims of both ends by the same amount, a step short of the plan; flat, no "
            "burr at any hole, whole pieces rather than many thin ones.",
            "Tighten crosswise in three steps; match the ends by the indicators.",
        ),
        read=("tip_clearance", "worm_float"),
        gates=(),
        makes_stale=MAKES_STALE["centre_shim"],
        spot_check=(),
        go_back="Old shims back under their own ends.",
        after=(),
        minutes=90.0,
        wants=("worm_end_play",),
        restores=(
            Restore(
                "shims under the worm block",
                "old shims, tied and tagged by end",
                "block against housing",
                ("centre_distance", "tip_clearance"),
            ),
        ),
    ),
)
