"""Operations on the mesh and after it: from the bushings to the proof.

Pure table: one entry an operation. Gates, and what must come first, are added by the plan.
"""

from __future__ import annotations

from wormwright.job.operation import Operation, Restore
from wormwright.traveler.cautions import (
    BACK_DRIVING,
    GRIT,
    HOT,
    OIL,
    PINCH,
    POWER,
)
from wormwright.traveler.staleness import MAKES_STALE

MESH = (
    Operation(
        key="bushings_in",
        number="7a",
        title="Eccentric bushings in at the planned angle, provisional depth",
        cautions=(POWER, BACK_DRIVING, PINCH, GRIT),
        tools=("two test indicators", "degree marks", "spanner for the bushings"),
        do=(
            "Fit bearings and worm into the bushings.",
            "An indicator on the worm shaft beside each bearing, along the line from wheel to "
            "worm, both on zero at the factory line.",
            "Turn both alike to the start angle of the setting chart; stop short of the planned "
            "depth.",
        ),
        read=("bearing_outside", "worm_float", "tip_clearance"),
        gates=(),
        makes_stale=MAKES_STALE["bushings_in"],
        spot_check=(),
        go_back="Bushings out, old bearings and covers by their marks: the bores were not touched.",
        after=(),
        minutes=90.0,
        wants=("worm_end_play",),
        restores=(
            Restore(
                "worm bearings at both ends",
                "old bearings, tagged A and B",
                "pop marks of bearing and cover against the housing",
                ("bearing_marking", "bearing_outside", "housing_bore", "centre_distance"),
            ),
        ),
    ),
    Operation(
        key="setting_move",
        number="7a",
        title="Move the factory adjustment to a provisional depth",
        cautions=(POWER, BACK_DRIVING, PINCH),
        tools=("two test indicators", "hex keys", "feeler"),
        do=(
            "Mark where the adjustment stands; note the throw-out stop.",
            "An indicator on the worm shaft beside each bearing, along the line from wheel to "
            "worm, both on zero.",
            "Loosen the lock and move toward the wheel; stop short of the planned depth.",
            "Match the ends by the two indicators; never move one end alone.",
        ),
        read=("tip_clearance", "worm_float"),
        gates=(),
        makes_stale=MAKES_STALE["setting_move"],
        spot_check=(),
        go_back="Back to the marks, lock as found.",
        after=(),
        minutes=45.0,
        wants=("worm_end_play",),
        restores=(
            Restore(
                "factory adjustment",
                "none: it is only moved",
                "adjustment against housing, scribed line",
                ("adjuster_throw", "adjuster_arm", "centre_distance"),
            ),
        ),
    ),
    Operation(
        key="end_play_reread",
        number="7b",
        title="Read the worm end play again",
        cautions=(POWER, PINCH),
        tools=("ball and grease for the centre hole", "test indicator"),
        do=(
            "Still short of full depth: indicator on the worm end, base on the housing.",
            "Push and pull, then rock the table; look whether cartridge or bushing itself moves.",
        ),
        read=("worm_end_play",),
        gates=(),
        makes_stale=MAKES_STALE["end_play_reread"],
        spot_check=(),
        go_back="Nothing has been changed.",
        after=(),
        minutes=15.0,
        wants=("worm_end_play",),
    ),
    Operation(
        key="axial_centring",
        number="7c",
        title="Centre the wheel on the worm by blue, at that angle",
        cautions=(POWER, PINCH, GRIT),
        tools=("marking blue", "brush", "shims under wheel or table", "light brake on the table"),
        do=(
            "Thin film of blue on the thread; two wheel turns each way with a light brake.",
            "High on one edge of both flanks: raise or lower the wheel by shims. Opposite edges on "
            "the two flanks: the ends of the worm are not matched, go back to 7a.",
            "Where the wheel holds the table, its shim and the retainer shim are one stack: "
            "change both by the same amount.",
            "One full turn each way per trial; wash the blue off before the last.",
        ),
        read=("table_axial_play",),
        gates=(),
        makes_stale=MAKES_STALE["axial_centring"],
        spot_check=(),
        go_back="Take the added shims out.",
        after=(),
        minutes=90.0,
        restores=(
            Restore(
                "shims under wheel or table",
                "old shims, tied and tagged",
                "wheel against table, pop mark",
                ("table_shim", "table_axial_play"),
            ),
        ),
    ),
    Operation(
        key="final_depth",
        number="8",
        title="Final depth at the tight spot, locked and re-read",
        cautions=(POWER, PINCH, BACK_DRIVING),
        tools=(
            "two test indicators",
            "indicator on a pin in the table",
            "lever and spring balance",
            "cord and drum",
        ),
        do=(
            "Turn the table to the tight spot; map it again first if table, wheel or worm line "
            "were altered.",
            "Close by small steps (setting chart, adjuster or shim), both ends alike, until the "
            "rock is in the gate; always come from the open side.",
            "Lock with the indicators on; what counts is the locked reading.",
            "Rock at two torques, worm held at the worm; the straight line to zero torque must "
            "still show play.",
            "Turn a full revolution by hand with the drum: highest drag against the median.",
            "Push and pull the worm once more.",
        ),
        read=("rock", "drag_in_mesh", "tip_clearance", "worm_end_play", "centre_distance"),
        gates=(),
        makes_stale=MAKES_STALE["final_depth"],
        spot_check=(),
        go_back="Open to the provisional depth of 7a.",
        after=(),
        minutes=60.0,
        wants=("worm_end_play",),
        restores=(
            Restore(
                "depth of the mesh",
                "none: it is only moved",
                "both ends by indicator from the factory line",
                ("centre_distance", "tip_clearance", "rock"),
            ),
        ),
    ),
    Operation(
        key="coupling",
        number="8b",
        title="Align the coupling to the new worm line",
        cautions=(POWER, PINCH),
        tools=("test indicator", "shims or slotted motor plate", "thread lock"),
        do=(
            "Motor bolts loose: the worm has moved by the throw, the motor has not.",
            "Indicator on the motor hub, base turning with the worm: read half the swing.",
            "Shift or shim the motor, tighten, read again; grub screws on flats, locked.",
            "Check the bore of cover, seal and dial: they must clear the shaft all round.",
            "Rock at the tight spot and straight across the table, before and after the motor "
            "bolts are tightened.",
        ),
        read=("drive_play",),
        gates=(),
        makes_stale=MAKES_STALE["coupling"],
        spot_check=("rock",),
        go_back="Motor back to its old dowels or marks (only with the worm back as well).",
        after=(),
        minutes=45.0,
        restores=(
            Restore(
                "motor on its plate",
                "old dowels and shims in a bag",
                "motor against plate, scribed line",
                ("drive_play",),
            ),
        ),
    ),
    Operation(
        key="seal_grease",
        number="9",
        title="Seals, grease or oil, closed up",
        cautions=(OIL, GRIT, PINCH),
        tools=("seals", "grease or oil", "torque wrench", "test indicator"),
        do=(
            "Everything clean of dust, paste and blue before it is closed.",
            "Seal must follow the moved shaft: shift or open the cover, do not force it.",
            "Cover and case screws in a star, evenly: they can close the mesh. Rock at the tight "
            "spot and straight across the table, before and after.",
        ),
        read=("drag_in_mesh",),
        gates=(),
        makes_stale=MAKES_STALE["seal_grease"],
        spot_check=("rock",),
        go_back="Wash out and refill as found.",
        after=(),
        minutes=60.0,
        restores=(
            Restore(
                "seals and grease",
                "old seals; a spoonful of the old grease in a jar",
                "cover against housing, pop mark",
                ("drag_in_mesh", "drag_out_of_mesh"),
            ),
        ),
    ),
    Operation(
        key="warm_recheck",
        number="10",
        title="Check the mesh warm",
        cautions=(HOT, POWER, PINCH),
        tools=(
            "contact thermometer",
            "test indicator",
            "lever and spring balance",
            "cord and drum",
        ),
        do=(
            "Straight from the run, before it cools: temperature of housing and room.",
            "Rock at the tight spot; drag over a full table turn by hand.",
        ),
        read=("temperature", "rock"),
        gates=(),
        makes_stale=MAKES_STALE["warm_recheck"],
        spot_check=(),
        go_back="Nothing has been changed.",
        after=(),
        minutes=30.0,
    ),
    Operation(
        key="proof_rock",
        number="11",
        title="Proof: rock round the turn, cold again",
        cautions=(POWER, PINCH),
        tools=(
            "test indicator",
            "lever and spring balance",
            "cord and drum",
            "contact thermometer",
        ),
        do=(
            "Cooled to the temperature of the baseline, within 5 K.",
            "The same pin, lever, torque and positions as in the baseline, first position "
            "repeated at the end.",
            "Drag round the turn; worm end play once more.",
            "Write this as the new baseline; check again after 10 h, 50 h, then each half year.",
        ),
        read=("rock", "worm_end_play", "worm_float", "drag_in_mesh", "temperature"),
        gates=(),
        makes_stale=MAKES_STALE["proof_rock"],
        spot_check=(),
        go_back="Nothing has been changed.",
        after=(),
        minutes=60.0,
        wants=("rock",),
    ),
)
