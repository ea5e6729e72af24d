"""Proof sheet, rows 30 and 31: an artefact closed round the turn, and the axis itself by reversal.

Pure table: read on the finished axis.
"""

from __future__ import annotations

import math

from wormwright.job.kind import Condition, ReadingKind
from wormwright.job.sheet_conditions import HOUSING_TEMPERATURE, LOCK, STYLUS
from wormwright.job.sheet_proof import APPROACHES

RUNS = ("first", "turned")
"""The artefact as first set, and turned half round together with the indicator."""
_CLOSED = (
    Condition("faces", "faces of the artefact", "count", compulsory=True, low=3, high=3600),
    Condition("setup", "which set-up, 1, 2, 3 ...", "count", compulsory=True, low=1, high=3600),
    Condition(
        "first_face",
        "face in line at table angle 0, counted in the order in which they come in line",
        "count",
        compulsory=True,
        low=1,
        high=3600,
    ),
    Condition("approach", "from which side it was reached", "none", choices=APPROACHES),
    LOCK,
    HOUSING_TEMPERATURE,
)
_RE_SET = (
    "Send the table to each of the even positions, always from the same side, and read the face "
    "then in line; position 0 once more at the end, as 360°. Then re-seat the artefact so that "
    "another face stands in line at 0 and read the whole turn again."
)
_BLIND = (
    "Errors that repeat within one step from face to face (most worm error), reversal, scatter of "
    "single positions."
)

PROOF_AXIS = (
    ReadingKind(
        key="closure_sweep",
        row=30,
        label="Closure: face of a square or block, swept",
        dimension="length",
        signed=True,
        do=_RE_SET + " Write by how much the needle changes over the swept length, plus when the "
        "face stands turned too far the way table angle rises.",
        set_up="Ground square, 1-2-3 block or straight-sided polygon on the table, near the "
        "middle; indicator carried along the face by one axis of the machine, same ends of the "
        "sweep at each face, burrs stoned.",
        instrument="test indicator, 0.002 mm / 0.0001 in",
        noise=0.0018,
        low=-2.0,
        high=2.0,
        usual_low=-0.3,
        usual_high=0.3,
        tells="Errors of the table and of the artefact apart, each angle with its doubt; where "
        "the artefact stands off centre does not matter.",
        cannot_tell=_BLIND,
        sensitivity="y = table error + face error + zero of the set-up, angle = change / length",
        minutes=2,
        conditions=(
            Condition(
                "swept", "length of the sweep", "length", compulsory=True, low=5.0, high=1000.0
            ),
            *_CLOSED,
            STYLUS,
        ),
        needs_table_angle=True,
    ),
    ReadingKind(
        key="closure_angle",
        row=30,
        label="Closure: face of a polygon or index plate, as an angle",
        dimension="angle",
        signed=True,
        do=_RE_SET + " Write the angle shown, plus when the face stands turned too far the way "
        "table angle rises.",
        set_up="Mirror polygon, index plate with a mirror, or index plate felt with an arm; "
        "autocollimator, optical lever or arm and indicator at a fixed place beside the table.",
        instrument="autocollimator, optical lever, or arm and indicator",
        noise=math.radians(3 / 3600),
        low=-math.radians(2.0),
        high=math.radians(2.0),
        usual_low=-math.radians(0.5),
        usual_high=math.radians(0.5),
        tells="Errors of the table and of the artefact apart, each angle with its doubt.",
        cannot_tell=_BLIND,
        sensitivity="y = table error + face error + zero of the set-up",
        minutes=1,
        conditions=_CLOSED,
        needs_table_angle=True,
    ),
    ReadingKind(
        key="axis_reversal",
        row=31,
        label="Axis of rotation: ball or bar round the turn, as set and turned half round",
        dimension="length",
        signed=True,
        do="Needle to zero at table angle 0. Turn slowly through 8 to 24 even places, always the "
        "same way, and write the needle with its sign, plus when the stylus is pushed in; two "
        "turns or more. Then turn the ball on its seat half round, move the indicator to the "
        "opposite side of the axis, and read the same table angles again.",
        set_up="Precision ball or ground bar on the table, near the middle; lock off. The "
        "indicator stands at the same height on both sides.",
        instrument="test indicator, 0.002 mm / 0.0001 in",
        noise=0.0010,
        low=-1.0,
        high=1.0,
        usual_low=-0.1,
        usual_high=0.1,
        tells="How the axis itself wanders in a turn, apart from the form of the ball.",
        cannot_tell="Once-a-turn offset (that is how the ball stands), and axial motion.",
        sensitivity="first = form + axis, turned = form − axis",
        minutes=1,
        conditions=(
            Condition("run", "as first set, or turned", "none", compulsory=True, choices=RUNS),
            Condition("turn", "which turn, 1, 2 ...", "count", low=1, high=50),
            STYLUS,
        ),
        needs_table_angle=True,
    ),
)
CLOSURES = ("closure_sweep", "closure_angle")
"""The kinds that close the circle."""
