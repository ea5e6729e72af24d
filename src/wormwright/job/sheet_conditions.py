"""Conditions that several kinds of reading share."""

from __future__ import annotations

import math

from wormwright.job.kind import Condition

STYLUS = Condition(
    "stylus",
    "tilt of the stylus from square to the motion",
    "angle",
    low=0.0,
    high=math.radians(80),
)
"""Between 15° and 30° the value is the reading times the cosine; the raw text stays."""
HOUSING_TEMPERATURE = Condition(
    "housing_temperature", "housing beside the worm", "temperature", low=-10.0, high=90.0
)
LOCK = Condition("lock", "table lock", "none", choices=("off", "on"))
WORM_MESH = Condition("worm", "worm in or out of mesh", "none", choices=("in", "out"))
WORM_HELD = Condition(
    "worm_held",
    "how the worm was held",
    "none",
    compulsory=True,
    choices=("at the worm", "at the motor", "powered motor"),
)
PIN_RADIUS = Condition(
    "pin_radius", "radius of the pin", "length", compulsory=True, low=10.0, high=1000.0
)
PIN_RADIUS_U = Condition(
    "pin_radius_u", "doubt in that radius (±)", "length", compulsory=True, low=0.001, high=50.0
)
