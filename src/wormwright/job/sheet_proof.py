"""Proof sheet, row 27: where the table stands when the control says it does.

Pure table: read on the finished axis under power, not on the unit as found.
"""

from __future__ import annotations

import math

from wormwright.job.kind import Condition, ReadingKind
from wormwright.job.sheet_conditions import HOUSING_TEMPERATURE, LOCK

APPROACHES = ("forward", "backward")
"""From which side the target was reached: table angle rising, or falling."""
MEANS = (
    "square or block, swept",
    "polygon",
    "arm and indicator",
    "sine bar",
    "optical lever",
    "sensor table",
    "index table",
    "other",
)
"""What the angle of the table was measured with."""
_TO = math.radians(1.0)
_TARGET = (
    "Send the table to the target from the stated side, the last move longer than any play; wait "
    "until it rests, then read. Table angle is the target that was commanded."
)
POSITION = (
    Condition(
        "approach", "from which side it was reached", "none", compulsory=True, choices=APPROACHES
    ),
    Condition("run", "which run, 1, 2, 3 ...", "count", compulsory=True, low=1, high=100),
    Condition("means", "measured with", "none", choices=MEANS),
    LOCK,
    HOUSING_TEMPERATURE,
)
"""Conditions of every reading of a position under power."""

_SET_UP = (
    "Zero of the measuring means and of the control set once, not between runs. Compensation in "
    "the control as it will be used; motor powered, lock as in use."
)
_TURN = math.radians(720.0)
_USUAL = math.radians(0.1)
READ_AT_TARGETS = ("position_error", "position_shown")
"""The two ways to write the same test: by how much it stands beyond the target, or where."""
FINE = ("fine_error", "fine_shown")
"""The same two ways within one or two turns of the worm."""


def _position(
    key: str, *, row: int, label: str, write: str, span: float, tells: str, blind: str
) -> ReadingKind:
    return ReadingKind(
        key=key,
        row=row,
        label=label,
        dimension="angle",
        signed=True,
        do=_TARGET + " " + write,
        set_up=_SET_UP,
        instrument="the measuring means, named",
        noise=math.radians(3 / 3600),
        low=-span,
        high=span,
        usual_low=-_USUAL,
        usual_high=_USUAL,
        tells=tells,
        cannot_tell=blind,
        sensitivity="x = table angle as measured − target",
        minutes=1,
        repeats=5,
        conditions=POSITION,
        needs_table_angle=True,
    )


_BEYOND = (
    "Write by how much the table stands beyond the target: measured less commanded, plus the way "
    "the table angle rises."
)
_AS_SHOWN = "Write the angle that the measuring means shows; its zero may be anywhere."
_RUN = " All targets forward, then all backward, is one run."
_WORM = " Twelve or more places within one turn of the worm, better two, forward and backward."
_TEST = "Reversal, scatter and error of the axis as its control drives it."
_WAVE = "What repeats with every turn of the worm and with its teeth."
_BETWEEN = "What lies between the targets, unless they fall on all phases of the worm."
_ELSEWHERE = "Whether it is the same elsewhere round the turn."

PROOF_POSITION = (
    _position(
        "position_error",
        row=27,
        label="Position error at a target",
        write=_BEYOND + _RUN,
        span=_TO,
        tells=_TEST,
        blind=_BETWEEN,
    ),
    _position(
        "position_shown",
        row=27,
        label="Position shown at a target",
        write=_AS_SHOWN + _RUN,
        span=_TURN,
        tells=_TEST,
        blind=_BETWEEN,
    ),
    _position(
        "fine_error",
        row=28,
        label="Position error within a worm turn",
        write=_BEYOND + _WORM,
        span=_TO,
        tells=_WAVE,
        blind=_ELSEWHERE,
    ),
    _position(
        "fine_shown",
        row=28,
        label="Position shown within a worm turn",
        write=_AS_SHOWN + _WORM,
        span=_TURN,
        tells=_WAVE,
        blind=_ELSEWHERE,
    ),
    ReadingKind(
        key="position_drift",
        row=29,
        label="First position again",
        dimension="angle",
        signed=True,
        do="Go back to the first target from the same side and read it again: before the test, "
        "between the runs and after it. Write it as in the test.",
        set_up="Nothing touched since the first reading.",
        instrument="the measuring means, named",
        noise=math.radians(3 / 3600),
        low=-_TURN,
        high=_TURN,
        usual_low=-_USUAL,
        usual_high=_USUAL,
        tells="How far zero wanders through warmth, creep of the stand and the measuring means.",
        cannot_tell="Which of them it was.",
        sensitivity="drift = last − first",
        minutes=1,
        repeats=3,
        conditions=(
            Condition("approach", "from which side it was reached", "none", choices=APPROACHES),
            Condition("means", "measured with", "none", choices=MEANS),
            Condition("minutes", "minutes since the first reading", "count", low=0, high=10000),
            HOUSING_TEMPERATURE,
        ),
        needs_table_angle=True,
    ),
)
