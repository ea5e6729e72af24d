"""Baseline sheet, rows 10 to 14 and beside 3 and 4: tilt, runouts and clamp shift.

Pure table: one entry a reading, so the length of this file follows the length of the sheet.
"""

from __future__ import annotations

from wormwright.job.kind import Condition, ReadingKind
from wormwright.job.sheet_conditions import LOCK, STYLUS, WORM_MESH

_TEST = "test indicator, 0.002 mm / 0.0001 in"
_PLACES = (
    "Set the needle near the middle of its scale and to zero at table angle 0. Turn the table by "
    "hand through 8 to 12 even places, always from the same side, and write the needle with its "
    "sign at each, plus when the stylus is pushed in; the first place once more at the end."
)
RUNOUTS = ("face_runout", "register_runout", "bar_runout")
"""Series read place by place about an arbitrary zero."""

TABLE = (
    ReadingKind(
        key="tilt_under_moment",
        swing=True,
        row=10,
        label="Table tilt under a moment",
        dimension="length",
        do="Push down at the rim with the stated force, ease off to a light push, read; the same "
        "lifting at the same place. Write the whole movement. Two moments, one about a third of "
        "the other.",
        set_up="Indicator on the face at the opposite side of the table, at a measured distance "
        "from the table axis; lock off. Moment is force times its distance from the axis.",
        instrument=_TEST,
        noise=0.0025,
        low=0.0,
        high=2.0,
        usual_low=0.005,
        usual_high=0.06,
        tells="Play and stiffness of the table bearing against tipping, wear of its ring.",
        cannot_tell="Whether the face stands square to the axis.",
        sensitivity="tilt = movement / arm = play/W + 2·M/K",
        minutes=8,
        repeats=2,
        conditions=(
            Condition(
                "moment", "moment, each way", "torque", compulsory=True, low=50.0, high=2_000_000.0
            ),
            Condition(
                "arm",
                "indicator, from the table axis",
                "length",
                compulsory=True,
                low=5.0,
                high=1000.0,
            ),
            LOCK,
            STYLUS,
        ),
    ),
    ReadingKind(
        key="face_runout",
        signed=True,
        row=11,
        label="Face runout, place by place",
        dimension="length",
        do=_PLACES + " Then at a second radius.",
        set_up="Indicator fixed to the machine, square to the face, at a measured radius; burrs "
        "stoned, T-slots stepped over. Worm in mesh, lock off.",
        instrument=_TEST,
        noise=0.0013,
        low=-3.0,
        high=3.0,
        usual_low=-0.05,
        usual_high=0.05,
        tells="How far the face leans from square to the axis and which way; ripple of its form.",
        cannot_tell="Form of the face from axial motion of the axis.",
        sensitivity="z(φ) = z0 + c·cos(φ − φ_c) + form; lean = c/radius, TIR = 2c",
        minutes=8,
        conditions=(
            Condition(
                "radius", "radius of the reading", "length", compulsory=True, low=5.0, high=1000.0
            ),
            Condition(
                "surface",
                "what the indicator touched",
                "none",
                choices=("table face", "adapter face", "chuck face", "as-cast face"),
            ),
            STYLUS,
        ),
        needs_table_angle=True,
    ),
    ReadingKind(
        key="register_runout",
        signed=True,
        row=12,
        label="Runout of bore or register, place by place",
        dimension="length",
        do=_PLACES + " At a second height, same places, where it is deep enough.",
        set_up="Indicator fixed to the machine, square to the surface, in the bore or on the "
        "spigot that centres the work; lock off.",
        instrument=_TEST,
        noise=0.0013,
        low=-3.0,
        high=3.0,
        usual_low=-0.06,
        usual_high=0.06,
        tells="How far the register stands off the axis and which way; its lobes.",
        cannot_tell="How well a taper seats.",
        sensitivity="r(φ) = r0 + e·cos(φ − φ_e) + lobes; TIR of a true circle = 2e",
        minutes=6,
        conditions=(
            Condition(
                "surface",
                "what the indicator touched",
                "none",
                choices=("bore", "spigot", "taper", "adapter spigot", "rough rim"),
            ),
            Condition("z", "height above the table face", "length", low=-500.0, high=1000.0),
            STYLUS,
        ),
        needs_table_angle=True,
    ),
    ReadingKind(
        key="bar_runout",
        signed=True,
        row=13,
        label="Runout of a bar in the chuck, place by place",
        dimension="length",
        do=_PLACES + " At two distances from the jaws, same places. Take the bar out, grip it "
        "again and repeat, to see how well the chuck repeats.",
        set_up="Ground bar, seat wiped; indicator fixed to the machine, square to the bar. "
        "Distance from the front of the jaws measured.",
        instrument=_TEST,
        noise=0.0025,
        low=-5.0,
        high=5.0,
        usual_low=-0.15,
        usual_high=0.15,
        tells="Offset and tilt of the work apart, each with its direction.",
        cannot_tell="Which of chuck, adapter and table it comes from, without rows 11 and 12.",
        sensitivity="e(z) = e0 + tilt·z as vectors; equal TIR at both distances does not mean none",
        minutes=6,
        conditions=(
            Condition("z", "distance from the jaws", "length", compulsory=True, low=0.0, high=1e3),
            Condition("grip", "which gripping of the bar, 1, 2 ...", "count", low=1, high=50),
            STYLUS,
        ),
        needs_table_angle=True,
    ),
    ReadingKind(
        key="clamp_shift",
        signed=True,
        row=14,
        label="Clamp shift: what moves on locking",
        dimension="length",
        do="Needle to zero with the lock off. Lock slowly, the screws always in the same order; "
        "write what the needle shows, plus when the table turns its plus way, lifts, or goes away "
        "from the worm. Unlock, move off and come back, and repeat.",
        set_up="Turning: on a pin in a T-slot, as the rock. Lift: on the face near the rim. "
        "Sideways: on the rim, in line with the worm's approach.",
        instrument=_TEST,
        noise=0.0013,
        low=-2.0,
        high=2.0,
        usual_low=-0.03,
        usual_high=0.03,
        tells="The error that locking adds to each indexed position, and how well it repeats.",
        cannot_tell="How stiff the table stands when locked.",
        sensitivity="turning: angle = shift / radius; taken out by zeroing after locking",
        minutes=4,
        repeats=3,
        conditions=(
            Condition("radius", "radius of the reading", "length", low=5.0, high=1000.0),
            Condition(
                "order",
                "order in which the screws were locked",
                "none",
                choices=("A then B", "B then A", "one screw", "all at once"),
            ),
            STYLUS,
        ),
        stations=("turning", "lift", "sideways"),
    ),
    ReadingKind(
        key="worm_runout",
        swing=True,
        row=4,
        label="Worm runout in its own bearings (TIR)",
        dimension="length",
        do="Turn the worm slowly one full turn and write the whole swing of the needle.",
        set_up="Worm out of mesh, end play pushed one way. Flat stylus across the thread crests, "
        "or on a plain ground part beside the thread; write the worm angle of the high place.",
        instrument=_TEST,
        noise=0.0025,
        low=0.0,
        high=1.0,
        usual_low=0.003,
        usual_high=0.06,
        tells="The once-per-turn part of the mesh that comes from the worm.",
        cannot_tell="Lead error and a camming thrust face.",
        sensitivity="TIR = 2·e_worm; play swings by 2t·TIR within one worm turn",
        minutes=5,
        repeats=2,
        conditions=(
            Condition(
                "surface",
                "what the indicator touched",
                "none",
                choices=("thread crests", "plain part"),
            ),
            WORM_MESH,
            STYLUS,
        ),
    ),
    ReadingKind(
        key="wheel_runout",
        swing=True,
        row=3,
        label="Wheel runout on its seat (TIR)",
        dimension="length",
        do="Turn the table one full turn and write the whole swing of the needle, and the table "
        "angle of the high place.",
        set_up="Wheel on its seat as it runs; flat stylus across the tooth tips in the throat, or "
        "on a rim turned with the teeth. Worm out of mesh if it can be.",
        instrument=_TEST,
        noise=0.0025,
        low=0.0,
        high=2.0,
        usual_low=0.005,
        usual_high=0.15,
        tells="Whether truing the wheel on its seat pays.",
        cannot_tell="Runout of the pitch circle, if rim and teeth were cut apart.",
        sensitivity="TIR = 2·e_wheel; play swings by 2t·TIR round the turn",
        minutes=5,
        repeats=2,
        conditions=(
            Condition(
                "surface",
                "what the indicator touched",
                "none",
                choices=("tooth tips", "rim", "hub"),
            ),
            STYLUS,
        ),
    ),
)
