"""Further parts that the drawing tests draw: ordinary ones, small, large and wordy ones."""

from __future__ import annotations

import math
from dataclasses import replace

from wormwright.job.parts import ChuckAdapter, Limits, Part

ADAPTER = ChuckAdapter(
    "chuck adapter 125",
    160.0,
    18.0,
    Limits(95.0, 0.003, -0.019, "js6"),
    3.5,
    Limits(40.0, -0.009, -0.025, "g6"),
    5.0,
    26.0,
    132.0,
    4,
    8.5,
    14.5,
    9.0,
    112.0,
    3,
    6.8,
    "M8 x 1.25",
    math.radians(45),
    95.01,
    0.3,
    0.01,
    "cast iron or steel C45",
)
LOOSE_ADAPTER = replace(
    ADAPTER,
    name="adjustable adapter 125",
    spigot=Limits(94.65, 0.05, -0.05, "loose in the recess"),
    adjustable=True,
)
SMALL_ADAPTER = ChuckAdapter(
    "chuck adapter 50",
    70.0,
    10.0,
    Limits(36.0, 0.0, -0.016, "h6"),
    2.5,
    Limits(16.0, -0.006, -0.017, "g6"),
    3.0,
    10.0,
    56.0,
    3,
    4.5,
    8.0,
    4.6,
    44.0,
    3,
    3.3,
    "M4 x 0.7",
    math.radians(60),
    36.0,
    0.2,
    0.008,
    "steel",
)
LARGE_ADAPTER = replace(
    ADAPTER,
    name="chuck adapter 315",
    outside=400.0,
    thickness=40.0,
    spigot=Limits(260.0, 0.0, -0.032, "h6"),
    spigot_length=6.0,
    locating=Limits(120.0, -0.012, -0.034, "g6"),
    bore=100.0,
    table_circle=350.0,
    table_count=6,
    table_hole=13.5,
    table_head=20.0,
    table_head_depth=13.0,
    chuck_circle=300.0,
    chuck_drill=10.2,
    chuck_thread="M12 x 1.75",
    chuck_recess=260.02,
)

FURTHER: dict[str, Part] = {
    "adapter": ADAPTER,
    "loose adapter": LOOSE_ADAPTER,
    "small adapter": SMALL_ADAPTER,
    "large adapter": LARGE_ADAPTER,
}
