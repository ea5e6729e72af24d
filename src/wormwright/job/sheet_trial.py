"""Baseline sheet, beside row 19: what a trial pair of eccentric bushings tells.

Pure table: read during the work, not on the unit as found.
"""

from __future__ import annotations

import math

from wormwright.job.kind import Condition, ReadingKind

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
)
