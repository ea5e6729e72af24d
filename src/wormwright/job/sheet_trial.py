"""Baseline sheet, beside row 19: what trial settings of the worm tell of depth and wheel.

Pure table: read during the work, not on the unit as found.
"""

from __future__ import annotations

import math

from wormwright.job.kind import Condition, ReadingKind
from wormwright.job.sheet_conditions import PIN_RADIUS

TRIAL = (
    ReadingKind(
        key="trial_angle",
        row=19,
        label="Trial pair: angle from the wheel where the mesh just drags",
        dimension="angle",
        do="Turn both trial bushings from square to the wheel toward it until the worm just drags "
        "at the tight spot; write the angle of the throw from pointing at the wheel. Once from "
        "the table top (station plus), once from the table base (station minus).",
        set_up="Table at the tight spot, worm at its own tightest angle, ends matched by the two "
        "indicators; come from the open side, light grease, drag felt at the same drum.",
        instrument="degree marks on the flange, or the indicators and the throw",
        noise=math.radians(1),
        low=0.0,
        high=math.radians(120),
        usual_low=math.radians(15),
        usual_high=math.radians(85),
        tells="The depth of the mesh and where the throat of the wheel lies, both at once.",
        cannot_tell="Either of them from one side alone.",
        sensitivity="z_c = [(c+ − c−)/tan θ + s+ + s−]/2, dC = [c+ + c− + (s+ − s−)·tan θ]/2 with "
        "c = e·cos φ, s = e·sin φ",
        minutes=25,
        repeats=3,
        conditions=(
            Condition(
                "throw", "throw of the trial pair", "length", compulsory=True, low=0.02, high=3.0
            ),
        ),
        stations=("plus", "minus"),
    ),
    ReadingKind(
        key="setting_rock",
        row=19,
        label="Rock at a known setting of the worm",
        dimension="length",
        do="Set the worm by its own adjuster, by packing or by the trial pair to three or more "
        "depths, indicators on the worm shaft at both ends; at each read the rock and enter how "
        "much nearer than at the first the worm stands.",
        set_up="Same table angle, worm angle, pin, torque and hold each time; the worm must come "
        "nearer straight, not sideways. Start as far open as it goes.",
        instrument="test indicator 0.002 mm / 0.0001 in",
        noise=0.0025,
        low=0.0,
        high=5.0,
        usual_low=0.005,
        usual_high=0.5,
        tells="The kind of wheel, by how fast the rock falls: 2·t for an oversize hob or a plain "
        "helical wheel, a fifth to a third less for a hob of the worm's own size.",
        cannot_tell="Oversize hob from plain helical; and nothing while the pressure angle is not "
        "known, for it has the same slope.",
        sensitivity="d rock/d closing = −2·t, or −2·(t·cos θ − g·sin θ) hob-equal",
        minutes=25,
        repeats=3,
        conditions=(
            Condition(
                "closing",
                "how much nearer than at the first setting",
                "length",
                compulsory=True,
                low=0.0,
                high=3.0,
            ),
            PIN_RADIUS,
        ),
    ),
    ReadingKind(
        key="wheel_edge_break",
        row=1,
        label="Wheel: width of the broken edge along the face",
        dimension="length",
        do="Measure how far the chamfer or radius at one end of the teeth reaches along the face.",
        set_up="Wheel off or seen through the cover; both ends, write the larger.",
        instrument="caliper, 0.02 mm / 0.001 in",
        noise=0.1,
        low=0.0,
        high=10.0,
        usual_low=0.0,
        usual_high=1.5,
        tells="How much of the face bears, and so how soon a worm that stands sideways binds.",
        cannot_tell="How the edges have worn.",
        sensitivity="bearing face = face − 2·edge",
        minutes=2,
    ),
    ReadingKind(
        key="wheel_mark",
        row=1,
        label="Wheel: middle of the worn band from the middle of the face",
        dimension="length",
        do="Measure from the middle of the face to the middle of the bright band that running has "
        "left on the flanks; toward the table top above zero, toward the base below.",
        set_up="Light along the teeth; three teeth, mean.",
        instrument="caliper, 0.02 mm / 0.001 in",
        noise=0.2,
        low=-20.0,
        high=20.0,
        usual_low=-1.0,
        usual_high=1.0,
        tells="Where the pair has run in: its edges lie unequally far from the worm.",
        cannot_tell="How deep it has worn.",
        sensitivity="bearing face = face − 2·edge + 2·|offset|",
        minutes=4,
        signed=True,
    ),
    ReadingKind(
        key="wheel_wobble",
        row=1,
        label="Wheel wobble: swing of its rim along the table axis (TIR)",
        dimension="length",
        do="Indicator on the side of the rim beside the teeth, one table turn; write the swing and "
        "the radius of the place.",
        set_up="Wheel on its seat, screws tight, table bearing set first; wipe the rim.",
        instrument="test indicator 0.01 mm / 0.0005 in",
        noise=0.005,
        low=0.0,
        high=2.0,
        usual_low=0.005,
        usual_high=0.08,
        tells="A throated wheel goes sideways of the worm twice a turn and binds a little there.",
        cannot_tell="Rim not turned true to the teeth.",
        sensitivity="dz = (swing/2)·(r2/radius)·cos φ",
        minutes=6,
        swing=True,
        conditions=(Condition("radius", "radius of the place", "length", low=5.0, high=500.0),),
    ),
)
