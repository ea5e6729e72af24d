"""Baseline sheet, rows 20 to 22: the axis against the machine, centre heights, feet; four-jaw.

Pure table: one entry a reading, so the length of this file follows the length of the sheet.
"""

from __future__ import annotations

import math

from wormwright.job.kind import Condition, ReadingKind
from wormwright.job.sheet_conditions import STYLUS

_TEST = "test indicator, 0.002 mm / 0.0001 in"
_BAR = Condition(
    "bar_diameter", "diameter of the bar there", "length", compulsory=True, low=2.0, high=200.0
)
_TIP = Condition("tip", "ball of the probe, 0 for a height gauge", "length", low=0.0, high=20.0)
_ALONG = Condition("z", "distance from the jaws", "length", compulsory=True, low=0.0, high=2000.0)
FEET = ("front left", "front right", "rear left", "rear right")
"""Front is the chuck end; left and right as seen from behind the unit, looking at the work."""
_FOOT = "Front is the chuck end; left and right as seen from behind, looking at the work."

MOUNT = (
    ReadingKind(
        key="bar_line",
        signed=True,
        row=20,
        label="Bar along the travel, top and side, half a turn apart",
        dimension="length",
        do="Needle on the bar, top then side, carried along the travel: write it near the jaws and "
        "near the end of the bar with the axis at 0°, turn the axis half round and read the same "
        "places again. Plus when the bar stands higher (top) or further to machine plus (side).",
        set_up="Unit clamped as for use. Ground bar in the chuck; indicator on the head, not "
        "on the chuck body. Same two lines of the bar both times, the needle never lifted between.",
        instrument=_TEST,
        noise=0.0025,
        low=-5.0,
        high=5.0,
        usual_low=-0.2,
        usual_high=0.2,
        tells="Where the axis leans against the travel, the bar's own error apart.",
        cannot_tell="Sag of the bar and bend of the travel, without their own figures.",
        sensitivity="axis = (d0 + d180)/2, bar = (d0 - d180)/2; lean = change of axis / distance",
        minutes=3,
        conditions=(
            _ALONG,
            Condition("bar_diameter", "diameter of the bar", "length", low=2.0, high=200.0),
            Condition("bar_out", "bar out of the jaws", "length", low=5.0, high=2000.0),
            STYLUS,
        ),
        needs_table_angle=True,
        stations=("top", "side"),
    ),
    ReadingKind(
        key="travel_line",
        signed=True,
        row=20,
        label="Straightness of the travel, along a straight-edge",
        dimension="length",
        do="Needle along a straight-edge laid along the travel, the same places as on the bar; "
        "turn the edge over and read the same places again.",
        set_up="Edge on two blocks at a quarter of its length from the ends; needle set to zero "
        "at both ends by tapping the edge. Same sign as on the bar.",
        instrument=_TEST,
        noise=0.0025,
        low=-1.0,
        high=1.0,
        usual_low=-0.03,
        usual_high=0.03,
        tells="How far the travel itself bends, the form of the edge apart.",
        cannot_tell="A lean of the travel as a whole: it is the line that all is set to.",
        sensitivity="bend = (as laid + turned over)/2, less the line through its ends",
        minutes=8,
        conditions=(
            _ALONG,
            Condition("edge", "how the edge lay", "none", choices=("as laid", "turned over")),
            STYLUS,
        ),
        stations=("top", "side"),
    ),
    ReadingKind(
        key="over_bar",
        row=21,
        label="Height over a bar in head or tail, half a turn apart",
        dimension="length",
        do="Height gauge, or probe from above, over the bar close to head or tail: read it, turn "
        "the bar half round, read it again.",
        set_up="From the same plate or table for head and tail, in the line of the axis. With a "
        "probe write the height of its ball's middle and the ball.",
        instrument="height gauge 0.01 mm / 0.0005 in, or a probe",
        noise=0.006,
        low=2.0,
        high=2000.0,
        usual_low=40.0,
        usual_high=300.0,
        tells="Centre heights of head and tail, how much to shim or grind.",
        cannot_tell="Droop of the tail's quill, unless it is read as far out as it is used.",
        sensitivity="height = (a0 + a180)/2 - D/2 - tip/2",
        minutes=4,
        conditions=(_BAR, _TIP),
        needs_table_angle=True,
        stations=("head", "tail"),
    ),
    ReadingKind(
        key="beside_bar",
        signed=True,
        row=21,
        label="Place beside a bar in head or tail, half a turn apart",
        dimension="length",
        do="Touch the SAME line of the bar with probe or edge finder: from machine minus with the "
        "line there, then from machine plus after half a turn. Write the coordinate both times.",
        set_up="Mark the line; touch at one height, on the middle of the bar.",
        instrument="probe or edge finder and the machine's own scale, 0.01 mm / 0.0005 in",
        noise=0.006,
        low=-3000.0,
        high=3000.0,
        usual_low=-500.0,
        usual_high=500.0,
        tells="Where the axis lies sideways at head and tail; bar size, bend and ball cancel.",
        cannot_tell="Its height.",
        sensitivity="y = (from minus + from plus)/2; tail offset = y tail - y head",
        minutes=4,
        conditions=(
            Condition(
                "side",
                "touched from",
                "none",
                compulsory=True,
                choices=("machine minus", "machine plus"),
            ),
        ),
        stations=("head", "tail"),
    ),
    ReadingKind(
        key="foot_gap",
        row=22,
        label="Gap under a foot, bolts out",
        dimension="length",
        do="Unit set down clean, bolts out. Press lightly on the foot across from it and find the "
        "thickest feeler that slides under each foot; 0 where none enters.",
        set_up="Table and feet stoned and wiped. " + _FOOT,
        instrument="feeler gauges",
        noise=0.006,
        low=0.0,
        high=3.0,
        usual_low=0.0,
        usual_high=0.15,
        tells="Whether the unit rocks, and the packing that stops it.",
        cannot_tell="How the axis leans.",
        sensitivity="rock = (front left + rear right) - (front right + rear left)",
        minutes=2,
        stations=FEET,
    ),
    ReadingKind(
        key="foot_lift",
        swing=True,
        row=22,
        label="Lift of the unit when one foot's bolt is loosened",
        dimension="length",
        do="All bolts tight. Loosen one, write how far the unit lifts beside that foot, tighten it "
        "again and go on to the next.",
        set_up="Indicator from the table on the unit, just above the foot. " + _FOOT,
        instrument=_TEST,
        noise=0.0015,
        low=0.0,
        high=1.0,
        usual_low=0.0,
        usual_high=0.06,
        tells="Strain that clamping puts into the housing, after packing.",
        cannot_tell="What that strain does to the mesh: read the rock at two places for that.",
        sensitivity="lift of a foot that was pulled down; zero on four true feet",
        minutes=2,
        stations=FEET,
    ),
    ReadingKind(
        key="four_jaw",
        signed=True,
        row=13,
        label="Work in a four-jaw chuck, needle at any angles",
        dimension="length",
        do="Turn to three angles or more, best four a quarter apart; write needle and table angle. "
        "Plus when the work comes toward the needle.",
        set_up="Indicator fixed to the machine, on the work near the jaws. Note the table angle at "
        "which jaw 1 stands under the needle; jaws count with the angle.",
        instrument=_TEST,
        noise=0.0025,
        low=-10.0,
        high=10.0,
        usual_low=-0.5,
        usual_high=0.5,
        tells="Which jaw to ease, which to follow with, and by how much.",
        cannot_tell="Tilt of the work: read a second place further out.",
        sensitivity="r = r0 + e cos(a - d); along jaw 1 e cos(d - j), along jaw 2 e sin(d - j)",
        minutes=2,
        conditions=(
            Condition(
                "jaw_1",
                "table angle with jaw 1 under the needle",
                "angle",
                compulsory=True,
                low=-2 * math.pi,
                high=2 * math.pi,
            ),
            STYLUS,
        ),
        needs_table_angle=True,
    ),
)
