"""Operations with the unit apart: from the baseline to the worm end play.

Pure table: one entry an operation. Gates, and what must come first, are added by the plan.
"""

from __future__ import annotations

from wormwright.job.operation import Operation, Restore
from wormwright.traveler.cautions import (
    BACK_DRIVING,
    GRIT,
    LIFTING,
    PINCH,
    POWER,
    ROTATING,
    SOLVENT,
    SWARF,
)
from wormwright.traveler.staleness import MAKES_STALE

APART = (
    Operation(
        key="baseline",
        number="0",
        title="Photograph, mark and read the unit as found",
        cautions=(POWER, LIFTING, PINCH),
        tools=("camera", "centre punch", "test indicator", "lever and spring balance"),
        do=(
            "Photograph every side, every cover and the maker's plate.",
            "Pop-mark table against housing, wheel against table, each bushing or cartridge "
            "against the housing, and end A (motor side).",
            "Turn a full revolution by hand and chalk where it goes tight.",
            "Read the whole baseline sheet before any screw is loosened.",
        ),
        read=(
            "teeth",
            "rock",
            "worm_end_play",
            "worm_float",
            "drive_play",
            "table_radial_play",
            "table_axial_play",
            "wheel_joint_play",
            "drag_in_mesh",
            "temperature",
        ),
        gates=(),
        makes_stale=MAKES_STALE["baseline"],
        spot_check=(),
        go_back="Nothing has been changed yet.",
        after=(),
        minutes=120.0,
        wants=("rock",),
    ),
    Operation(
        key="strip_wash",
        number="1",
        title="Strip, wash, deburr and look",
        cautions=(POWER, BACK_DRIVING, LIFTING, SOLVENT),
        tools=("spanners and hex keys", "trays", "stone", "wash", "brush", "micrometer"),
        do=(
            "Drain, take off covers, motor, coupling, worm, then table and wheel; lay parts out "
            "in the order they came off, shims tied to their seats.",
            "Measure and write down every shim and spacer before it is cleaned away.",
            "Wash, stone burrs off joint faces only; look at thread, teeth, balls and races.",
            "A bush filled with oil that got into the solvent is dry inside: lay it in warm oil "
            "overnight before it goes back, or change it.",
            "Put back what the plan does not alter, by the marks.",
        ),
        read=("table_shim", "worm_shim"),
        gates=(),
        makes_stale=MAKES_STALE["strip_wash"],
        spot_check=(),
        go_back="Refit every part by the marks with its own shim: the unit is as found, but for "
        "the grease.",
        after=(),
        minutes=90.0,
        restores=(
            Restore(
                "covers, motor, coupling, seals",
                "every screw and cover, laid out in order",
                "pop marks of operation 0",
                ("table_shim", "worm_shim"),
            ),
        ),
    ),
    Operation(
        key="table_bearing",
        number="2",
        title="Table bearing: shim, preload and retainer",
        cautions=(POWER, LIFTING, SWARF),
        tools=("shim and micrometer", "surface plate", "stone", "test indicator", "torque wrench"),
        do=(
            "Fit the table shim of the plan (drawing and sizes in the report); stone it flat, no "
            "burr at any hole.",
            "Tighten the retainer in a star, in three steps; turn the table several turns between.",
            "Worm out of mesh: pull the table round at a known radius, write the pull every 30°.",
            "Push down and lift at the rim, then push across, indicator opposite.",
        ),
        read=("table_axial_play", "table_radial_play", "drag_table"),
        gates=(),
        makes_stale=MAKES_STALE["table_bearing"],
        spot_check=(),
        go_back="Take the new shim out, refit the tied-up old one, retainer by its mark.",
        after=(),
        minutes=90.0,
        restores=(
            Restore(
                "table shim and retainer",
                "old shim, tied to its seat",
                "retainer against table, pop mark",
                ("table_shim", "table_shim_arrangement", "table_axial_play", "drag_table"),
            ),
        ),
    ),
    Operation(
        key="wheel_joint",
        number="2b",
        title="Wheel-to-table joint tight",
        cautions=(POWER, PINCH),
        tools=("torque wrench", "test indicator", "lever"),
        do=(
            "Clean the joint, seat the wheel by its mark, tighten the screws in a star; pins and "
            "keys home.",
            "Indicator on the wheel, base on the table: twist the wheel both ways with the lever.",
            "If it still moves: ream the pins oversize or bond the register; a wheel screwed on "
            "paint or a burr never stays.",
        ),
        read=("wheel_joint_play",),
        gates=(),
        makes_stale=MAKES_STALE["wheel_joint"],
        spot_check=(),
        go_back="Loosen, turn the wheel to its mark, tighten as found.",
        after=(),
        minutes=20.0,
        restores=(
            Restore(
                "wheel-to-table joint",
                "old screws and pins in a bag",
                "wheel against table, pop mark",
                ("wheel_joint_play",),
            ),
        ),
    ),
    Operation(
        key="wheel_seat",
        number="3",
        title="True or re-seat the wheel on its hub",
        cautions=(POWER, ROTATING, SWARF, LIFTING),
        tools=("test indicator", "soft mallet", "dial-in pins"),
        do=(
            "Indicate pitch circle (over a pin in the teeth) and wheel face at 12 places.",
            "Shift the wheel against the high side by half its swing, tighten, indicate again.",
            "Dowel or bond it where it is true; then check the joint once more.",
        ),
        read=("wheel_joint_play", "wheel_throat"),
        gates=(),
        makes_stale=MAKES_STALE["wheel_seat"],
        spot_check=(),
        go_back="Turn the wheel back to its pop mark; new dowel holes stay.",
        after=(),
        minutes=90.0,
        lasting="New dowel holes or bonding in the wheel seat stay.",
        restores=(
            Restore(
                "wheel on its seat",
                "old dowels in a bag",
                "wheel against hub, pop mark",
                ("wheel_throat", "rock"),
            ),
        ),
    ),
    Operation(
        key="worm_journals",
        number="4",
        title="Worm bearings and journals",
        cautions=(POWER, ROTATING, SWARF),
        tools=("bearing puller", "micrometer", "bore gauge", "test indicator"),
        do=(
            "Measure seats and bores in two directions; change worn bushes or bearings in pairs.",
            "Press by the ring that has the tight fit, never through the balls.",
            "Worm in its bearings, out of mesh: pry gently toward the wheel at each end.",
        ),
        read=("worm_float", "shaft_seat", "bearing_outside"),
        gates=(),
        makes_stale=MAKES_STALE["worm_journals"],
        spot_check=(),
        go_back="The old bearings go back if they were kept whole; a worn bush does not.",
        after=(),
        minutes=120.0,
        lasting="A bush that was pressed out or a journal that was ground does not come back.",
        machine_minutes=60.0,
        restores=(
            Restore(
                "worm bearings or bushes",
                "old bearings, tagged A and B",
                "bearing against housing, pop mark",
                ("bearing_marking", "bearing_outside", "shaft_seat", "worm_float"),
            ),
        ),
    ),
    Operation(
        key="worm_relief",
        number="5",
        title="Turn down the outside diameter of the worm",
        cautions=(POWER, ROTATING, SWARF, GRIT),
        tools=("lathe, worm between centres", "sharp tool", "micrometer", "fine stone"),
        do=(
            "Worm between centres; indicate both journals before the first cut.",
            "Take the crest down to the size of the drawing; the flanks are not touched.",
            "Break the new edges with a stone, both sides of the thread; wash.",
            "Indicate the middle of the thread between centres: a worm bent by the cut runs out.",
        ),
        read=("worm_od",),
        gates=(),
        makes_stale=MAKES_STALE["worm_relief"],
        spot_check=(),
        go_back="What is turned off does not come back: measure twice, cut once.",
        after=(),
        minutes=60.0,
        lasting="What is turned off the worm does not come back.",
        machine_minutes=45.0,
        restores=(
            Restore("worm outside", "none: metal is gone", "write the old size", ("worm_od",)),
        ),
    ),
    Operation(
        key="worm_end_play",
        number="6",
        title="Worm end play and preload, out of mesh",
        cautions=(POWER, PINCH, SWARF),
        tools=(
            "shim and micrometer",
            "ball and grease for the centre hole",
            "test indicator",
            "cord and drum",
        ),
        do=(
            "Worm out of mesh, or the wheel drag hides the preload.",
            "Turn the worm several turns both ways, then write its drag as the starting figure.",
            "Fit the worm shim of the plan on the side that the report names; screws in a star.",
            "Indicator on a ball in the centre hole, base on the housing: push and pull.",
            "Write the drag again; a rise to more than twice is too much preload.",
        ),
        read=("worm_end_play", "drag_out_of_mesh"),
        gates=(),
        makes_stale=MAKES_STALE["worm_end_play"],
        spot_check=(),
        go_back="Old shim back on its seat, cover by its mark.",
        after=(),
        minutes=75.0,
        restores=(
            Restore(
                "worm shim or spacer",
                "old shim, tied to its seat",
                "cover against housing, pop mark",
                ("worm_shim", "worm_shim_arrangement", "worm_end_play", "drag_out_of_mesh"),
            ),
        ),
    ),
)
