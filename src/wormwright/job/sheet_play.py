"""Baseline sheet, rows 3 to 9: the rock of the table and the plays that hide in it.

Pure table: one entry a reading, so the length of this file follows the length of the sheet.
"""

from __future__ import annotations

import math

from wormwright.job.kind import Condition, ReadingKind
from wormwright.job.sheet_conditions import (
    HOUSING_TEMPERATURE,
    LOCK,
    PIN_RADIUS,
    PIN_RADIUS_U,
    STYLUS,
    WORM_HELD,
    WORM_MESH,
)

_TEST = "test indicator, 0.002 mm / 0.0001 in"

ROCK_CONDITIONS = (
    PIN_RADIUS,
    PIN_RADIUS_U,
    Condition("pin_angle", "pin, from the direction of the worm", "angle"),
    Condition("pin_height", "pin above the table face", "length", low=-300.0, high=500.0),
    Condition("push_angle", "push point, from the direction of the worm", "angle"),
    Condition("push_radius", "push point, from the table axis", "length", low=1.0, high=2000.0),
    Condition("push_height", "push above the table face", "length", low=-300.0, high=500.0),
    Condition(
        "torque",
        "torque, plus and minus this",
        "torque",
        compulsory=True,
        low=10.0,
        high=500_000.0,
    ),
    WORM_HELD,
    LOCK,
    Condition(
        "surface",
        "what the indicator touched",
        "none",
        choices=(
            "pin in T-slot",
            "table rim",
            "T-slot wall",
            "chuck body",
            "coupling",
            "lever tip",
        ),
    ),
    Condition(
        "sector", "sector of the wheel, by its work so far", "none", choices=("used", "unused")
    ),
    STYLUS,
    HOUSING_TEMPERATURE,
)
_FORCE = Condition("force", "force, each way", "force", low=1.0, high=3000.0)

PLAY = (
    ReadingKind(
        key="rock",
        swing=True,
        row=3,
        label="Table rock on one pin",
        dimension="length",
        do="Push the table one way with the stated torque, ease off to a light push, read; the "
        "same the other way. Write both readings or the whole movement. Twelve positions round "
        "the turn, each a whole number of worm turns from the first, taken in scattered order; "
        "the first one again at the end.",
        set_up="Worm held at the worm itself, lock off. Indicator on a pin in a T-slot at a "
        "measured radius, square to that radius. Lever and spring balance. Two torque levels at "
        "one position. For row 4, four to eight worm angles within one worm turn at the tight "
        "spot, worm angle written.",
        instrument=_TEST,
        noise=0.0025,
        low=0.0,
        high=10.0,
        usual_low=0.02,
        usual_high=0.8,
        tells="All the lost motion at that place, its mean round the turn, the tight spot, and "
        "from the once-per-turn part the runouts of wheel and worm.",
        cannot_tell="Which part is mesh, end play or float; table radial play gets in on one pin.",
        sensitivity="rock = (R/r2)·[j_c(phi) + s_w + s_joint + kx·s_gx + t·(ky·s_gy + kwy·s_wy) "
        "+ kz·g·(s_gz + s_wz)], kx = 1 − (r2/R)·cos β",
        minutes=10,
        conditions=ROCK_CONDITIONS,
        needs_table_angle=True,
    ),
    ReadingKind(
        key="rock_pins",
        swing=True,
        row=3,
        label="Table rock, mean of two opposite pins",
        dimension="length",
        do="As the rock on one pin, with a second indicator on a pin straight across the table at "
        "the same radius, both read the same way round; write the mean of the two movements.",
        set_up="As the rock on one pin. One indicator moved across does as well.",
        instrument=_TEST,
        noise=0.0020,
        low=0.0,
        high=10.0,
        usual_low=0.02,
        usual_high=0.8,
        tells="The true rotation: sliding of the table in its bearing cancels.",
        cannot_tell="Which part is mesh, end play or float.",
        sensitivity="rock = (R/r2)·[j_c(phi) + s_w + s_joint + kx·s_gx + t·(ky·s_gy + kwy·s_wy) "
        "+ kz·g·(s_gz + s_wz)] with kx = 0 for sliding along the pin's motion",
        minutes=18,
        conditions=ROCK_CONDITIONS,
        needs_table_angle=True,
    ),
    ReadingKind(
        key="worm_end_play",
        swing=True,
        row=5,
        label="Worm end play",
        dimension="length",
        do="Indicator on the worm end; rock the table both ways and write the whole movement of "
        "the worm. Push-pull by hand at the worm as a second reading.",
        set_up="Ball in the centre hole, indicator base on the housing so that only movement "
        "against the housing counts; look whether the bearing cartridge moves as well.",
        instrument=_TEST,
        noise=0.0013,
        low=0.0,
        high=2.0,
        usual_low=0.008,
        usual_high=0.2,
        tells="Its share of the rock, one to one at the pitch radius.",
        cannot_tell="How well a preload is set.",
        sensitivity="s_w, counts 1:1 at r2",
        minutes=10,
        repeats=3,
        conditions=(
            Condition("how", "how it was loaded", "none", choices=("rocking table", "push-pull")),
            _FORCE,
            STYLUS,
        ),
    ),
    ReadingKind(
        key="worm_float",
        swing=True,
        row=6,
        label="Worm radial float at a bearing",
        dimension="length",
        do="Pry the worm shaft gently toward the wheel and away; write the whole movement.",
        set_up="Indicator beside the bearing, pointing at the wheel; worm out of mesh, or the "
        "wheel turned free.",
        instrument=_TEST,
        noise=0.0025,
        low=0.0,
        high=1.0,
        usual_low=0.003,
        usual_high=0.06,
        tells="Its share of the rock and the wear of bushes.",
        cannot_tell="A journal that is not round.",
        sensitivity="t·kwy·s_wy, through r1/span at the two ends",
        minutes=8,
        repeats=3,
        conditions=(_FORCE, STYLUS),
        stations=("A", "B"),
    ),
    ReadingKind(
        key="drive_play",
        swing=True,
        row=7,
        label="Play between motor and worm",
        dimension="angle",
        do="Hold the worm and turn the motor shaft (or the handle) to and fro: write the whole "
        "angle. Or rock the table with the motor held and with the worm held, and convert the "
        "difference.",
        set_up="Pointer or protractor on the motor shaft, grub screws tight, motor not powered.",
        instrument="pointer and protractor, 0.1°",
        noise=math.radians(0.1),
        low=0.0,
        high=math.radians(40),
        usual_low=0.0,
        usual_high=math.radians(2),
        tells="What coupling, key and grub screws lose, divided by the ratio.",
        cannot_tell="Belt stretch at speed.",
        sensitivity="angle/i at the table; not inside a rock with the worm held at the worm",
        minutes=5,
        repeats=3,
    ),
    ReadingKind(
        key="table_radial_play",
        swing=True,
        row=8,
        label="Table radial play",
        dimension="length",
        do="Lever the table sideways both ways and write the whole movement.",
        set_up="Indicator on the rim in line with the lever, at 90° to the direction of the worm; "
        "worm out of mesh if it can be; then the opposite rim as well.",
        instrument=_TEST,
        noise=0.0013,
        low=0.0,
        high=1.0,
        usual_low=0.003,
        usual_high=0.06,
        tells="What the rock on one pin must be corrected by.",
        cannot_tell="The pattern of wear in the bearing.",
        sensitivity="s_gr, one disc: kx·s_gx and t·ky·s_gy share it",
        minutes=8,
        repeats=3,
        conditions=(_FORCE, WORM_MESH, STYLUS),
    ),
    ReadingKind(
        key="table_axial_play",
        swing=True,
        row=9,
        label="Table axial play",
        dimension="length",
        do="Lift and press the table with the stated force and write the whole movement.",
        set_up="Indicator on the face near the rim, lever under the opposite side, then turned "
        "round to the other side; write the mean.",
        instrument=_TEST,
        noise=0.0013,
        low=0.0,
        high=1.0,
        usual_low=0.003,
        usual_high=0.08,
        tells="How the retainer is set.",
        cannot_tell="Preload.",
        sensitivity="kz·g·s_gz; shows in driven reversal rather than in the rock",
        minutes=6,
        repeats=3,
        conditions=(
            Condition("force", "force, each way", "force", compulsory=True, low=1.0, high=3000.0),
            STYLUS,
        ),
    ),
    ReadingKind(
        key="wheel_joint_play",
        swing=True,
        row=8,
        label="Play between wheel and table",
        dimension="length",
        do="With the worm held, rock the table and read the movement of the table against the "
        "wheel itself.",
        set_up="Indicator base on the wheel, stylus on the table (or the reverse), at a measured "
        "radius; screws, pin and taper as found.",
        instrument=_TEST,
        noise=0.0013,
        low=0.0,
        high=1.0,
        usual_low=0.0,
        usual_high=0.02,
        tells="A loose wheel: it looks exactly like backlash and no closing cures it.",
        cannot_tell="Which screw or pin is loose.",
        sensitivity="s_joint = s·r2/r_j",
        minutes=10,
        repeats=2,
        conditions=(
            Condition(
                "radius", "radius of the reading", "length", compulsory=True, low=5.0, high=500.0
            ),
            STYLUS,
        ),
    ),
)
