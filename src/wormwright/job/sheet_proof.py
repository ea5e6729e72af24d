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

PROOF_POSITION = (
    ReadingKind(
        key="position_error",
        row=27,
        label="Position error at a target",
        dimension="angle",
        signed=True,
        do=_TARGET + " Write by how much the table stands beyond it: measured less commanded, "
        "plus the way the table angle rises. All targets forward, then all backward, is one run.",
        set_up="Zero of the measuring means and of the control set once, not between runs. "
        "Compensation in the control as it will be used; motor powered, lock as in use.",
        instrument="the measuring means, named",
        noise=math.radians(3 / 3600),
        low=-_TO,
        high=_TO,
        usual_low=-math.radians(0.1),
        usual_high=math.radians(0.1),
        tells="Reversal, scatter and error of the axis as its control drives it.",
        cannot_tell="What lies between the targets, unless they fall on all phases of the worm.",
        sensitivity="x = table angle as measured − target",
        minutes=1,
        repeats=5,
        conditions=POSITION,
        needs_table_angle=True,
    ),
)
