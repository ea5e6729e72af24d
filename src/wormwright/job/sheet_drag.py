"""Baseline sheet, rows 15, 16 and 19: drag, and the room at the tooth tips.

Pure table: one entry a reading.
"""

from __future__ import annotations

from wormwright.job.kind import Condition, ReadingKind
from wormwright.job.sheet_conditions import HOUSING_TEMPERATURE, LOCK

_DRAG_CONDITIONS = (
    Condition("state", "start or running", "none", choices=("start", "running")),
    Condition("direction", "direction of turning", "none", choices=("plus", "minus")),
    HOUSING_TEMPERATURE,
    LOCK,
)

DRAG = (
    ReadingKind(
        key="drag_in_mesh",
        row=15,
        label="Drag at the worm, in mesh",
        dimension="torque",
        do="Turn the worm slowly through a whole table turn and write the torque every 30° of the "
        "table; turn several turns first.",
        set_up="Thin cord round a drum and a spring balance, or a beam torque driver; lock off, "
        "motor uncoupled.",
        instrument="spring balance and drum, or beam torque driver",
        noise=5.0,
        low=0.0,
        high=10_000.0,
        usual_low=70.0,
        usual_high=600.0,
        tells="Tight places, preload, what the motor must overcome.",
        cannot_tell="Whether mesh or bearings drag, without the same reading out of mesh; and no "
        "clearance at all.",
        sensitivity="mesh drag = in mesh − out of mesh; peak/median shows the tight spot",
        minutes=10,
        conditions=_DRAG_CONDITIONS,
        needs_table_angle=True,
        noise_share=0.07,
    ),
    ReadingKind(
        key="drag_out_of_mesh",
        row=16,
        label="Drag at the worm, out of mesh",
        dimension="torque",
        do="The same with the worm thrown out of mesh (or the wheel taken off).",
        set_up="Same grease, temperature and bearing preload as in mesh.",
        instrument="spring balance and drum, or beam torque driver",
        noise=5.0,
        low=0.0,
        high=10_000.0,
        usual_low=20.0,
        usual_high=350.0,
        tells="The share of bearings and seals.",
        cannot_tell="Their play.",
        sensitivity="mesh drag = in mesh − out of mesh",
        minutes=5,
        repeats=3,
        conditions=_DRAG_CONDITIONS[:3],
        noise_share=0.07,
    ),
    ReadingKind(
        key="drag_table",
        row=16,
        label="Drag of the table alone",
        dimension="torque",
        do="With the worm out, pull the table round at a known radius; write force times radius.",
        set_up="Spring balance square to the radius, lock off.",
        instrument="spring balance and arm",
        noise=100.0,
        low=0.0,
        high=60_000.0,
        usual_low=300.0,
        usual_high=6000.0,
        tells="Drag of the table bearing; none at all means a loose retainer.",
        cannot_tell="Where on the ways it drags, unless read round the turn.",
        sensitivity="reversal from the motor grows by 2·T_drag/K",
        minutes=5,
        repeats=3,
        conditions=_DRAG_CONDITIONS,
        noise_share=0.07,
    ),
    ReadingKind(
        key="tip_clearance",
        row=19,
        label="Clearance between worm crest and wheel root",
        dimension="length",
        do="Feel with a feeler strip or measure a squeezed plastic strip; or bring the worm in "
        "until it stops with an indicator on it.",
        set_up="Middle of the face, at the tight spot if it is known.",
        instrument="feeler gauge or plastic strip",
        noise=0.02,
        low=0.0,
        high=3.0,
        usual_low=0.1,
        usual_high=0.6,
        tells="How far the mesh can close before the worm bottoms.",
        cannot_tell="Play between the flanks.",
        sensitivity="c1 = a − da1/2 − df2/2; closing and half of each runout come off it",
        minutes=5,
        repeats=2,
        needs_table_angle=False,
    ),
)
