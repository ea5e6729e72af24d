"""Baseline sheet, rows 15 to 18 and 26: feel, loop, blue, what runs in it, warm.

Pure table: one entry a reading, so the length of this file follows the length of the sheet.
"""

from __future__ import annotations

from wormwright.job.kind import Condition, ReadingKind
from wormwright.job.sheet_conditions import (
    HOUSING_TEMPERATURE,
    LOCK,
    PIN_RADIUS,
    PIN_RADIUS_U,
    STYLUS,
    WORM_HELD,
)

FEEL = ("free", "slight", "drags", "tight", "binds", "notchy", "gritty")
"""Feel words in order; the last two say that something is wrong, not how hard it turns."""
FLANKS = ("flank plus", "flank minus")
"""The flank that carries when the worm drives the table its plus way, and the other."""
SKETCHES = (
    "centred patch",
    "full face",
    "plus edge",
    "minus edge",
    "both edges",
    "tip line",
    "root line",
)
"""Blue marks as sketched; plus edge is the edge of the wheel face toward +Z."""
LUBRICANTS = (
    "compounded gear oil",
    "plain gear oil",
    "way oil",
    "EP gear oil",
    "hypoid oil",
    "polyglycol oil",
    "plain grease",
    "EP grease",
    "dry",
    "not known",
)


def feel_rank(word: str) -> int:
    """Place of a feel word in the order, free first.

    >>> feel_rank("drags") < feel_rank("tight")
    True
    """
    return FEEL.index(word)


LOAD = (
    ReadingKind(
        key="lubricant",
        row=2,
        label="What is in it now",
        dimension="none",
        do="Look, smell and ask: pick the word that fits the oil or grease that is in the unit.",
        set_up="Before the wash.",
        instrument="eye",
        noise=None,
        low=None,
        high=None,
        usual_low=None,
        usual_high=None,
        tells="Whether it can harm a bronze wheel, and what drag readings can be compared with.",
        cannot_tell="How old it is.",
        sensitivity="drag follows the oil and its temperature",
        minutes=1,
        choices=LUBRICANTS,
    ),
    ReadingKind(
        key="turn_feel",
        row=16,
        label="How it turns by hand",
        dimension="none",
        do="Turn slowly through a whole turn and pick the word that fits the worst place; say the "
        "angle if it is one place.",
        set_up="Table: worm out of mesh, lock off. Worm: in mesh, motor uncoupled.",
        instrument="hand",
        noise=None,
        low=None,
        high=None,
        usual_low=None,
        usual_high=None,
        tells="Dirt, burrs, a tight place, a retainer that is too loose.",
        cannot_tell="How much: two hands do not agree.",
        sensitivity="ordered words, from free to binds; notchy and gritty stand apart",
        minutes=2,
        choices=FEEL,
        stations=("table", "worm"),
    ),
    ReadingKind(
        key="rock_loop",
        signed=True,
        row=17,
        label="Rock loop: movement against torque",
        dimension="length",
        do="Hang weights (or pull a balance) on the lever step by step up to full torque, back "
        "through zero to full torque the other way, and up again, writing the needle at every "
        "step; three cycles. Never touch the zero in between. Two table positions.",
        set_up="As the rock on one pin. At least three steps on each side of zero.",
        instrument="test indicator, 0.002 mm / 0.0001 in",
        noise=0.0020,
        low=-10.0,
        high=10.0,
        usual_low=-0.5,
        usual_high=0.5,
        tells="Clearance, stiffness and friction apart.",
        cannot_tell="Which play the clearance is.",
        sensitivity="angle = angle_0 + T/K + sgn(T)·c/2 − b·h, b = +1 with the torque rising",
        minutes=20,
        conditions=(
            PIN_RADIUS,
            PIN_RADIUS_U,
            Condition(
                "torque",
                "torque with its sign",
                "torque",
                compulsory=True,
                low=-500_000.0,
                high=500_000.0,
            ),
            Condition(
                "branch", "torque going up or down", "none", compulsory=True, choices=("up", "down")
            ),
            Condition("cycle", "which cycle, 1, 2, 3", "count", low=1, high=50),
            WORM_HELD,
            LOCK,
            STYLUS,
            HOUSING_TEMPERATURE,
        ),
        needs_table_angle=True,
    ),
    ReadingKind(
        key="blue_mark",
        row=18,
        label="Blue mark on the wheel",
        dimension="none",
        do="Thin film of blue on the worm thread; two or three wheel turns each way with a light "
        "brake on the table. Pick the sketch that fits, for each flank at three places of the "
        "wheel; look at the worm crest as well.",
        set_up="Washed and dry; film so thin that the metal shines through. Plus edge is the edge "
        "of the face toward the table's +Z.",
        instrument="marking blue, light brake",
        noise=None,
        low=None,
        high=None,
        usual_low=None,
        usual_high=None,
        tells="Whether the worm stands in the middle of the throat, square, and at a fair depth.",
        cannot_tell="How far to move: the next trial tells.",
        sensitivity="one edge on both flanks: wheel along its axis; opposite edges: shafts not "
        "square; line at tip or root: depth; root line with a bright crest: bottomed",
        minutes=30,
        choices=SKETCHES,
        conditions=(
            Condition("crest", "worm crest", "none", choices=("dull", "bright")),
            Condition("patch", "share of the face that a patch covers", "ratio", low=0.02, high=1),
            Condition("film", "film of blue", "none", choices=("thin", "thick")),
        ),
        needs_table_angle=True,
        stations=FLANKS,
    ),
    ReadingKind(
        key="temperature_rise",
        row=26,
        label="Temperature rise after running",
        dimension="rise",
        do="Run at working speed both ways for 30 minutes, then write how much warmer it is than "
        "before. Read rock and drag again at once, with the housing temperature written.",
        set_up="Probe at the same place as before the run.",
        instrument="contact thermometer",
        noise=0.7,
        low=-5.0,
        high=80.0,
        usual_low=3.0,
        usual_high=25.0,
        tells="The rise that the least play must outlast.",
        cannot_tell="How warm the worm thread itself is.",
        sensitivity="ΔC = (αh·a − α1·r1 − α2·r2)·ΔT, play + 2t·ΔC",
        minutes=35,
        conditions=(
            Condition("minutes", "minutes run", "count", low=1, high=1000),
            Condition("speed", "worm speed", "speed", low=1.0, high=6000.0),
        ),
        stations=("housing", "worm end", "wheel"),
    ),
)
