"""Sizes that worms and wheels are cut to, how common each is, and the pressure angles to expect."""

from __future__ import annotations

import math
from functools import cache

from wormwright.core.worm_identity import StandardSize
from wormwright.core.worm_pair import axial_module_of_diametral_pitch

MODULES = (
    *(0.5, 0.6, 0.7, 0.75, 0.8, 0.9, 1.0, 1.125, 1.25, 1.375, 1.5, 1.6, 1.75, 2.0, 2.25, 2.5),
    *(2.75, 3.0, 3.15, 3.25, 3.5, 3.75, 4.0, 4.5, 5.0, 5.5, 6.0, 6.3, 7.0, 8.0, 10.0),
)
"""ISO 54:1996 modules of both rows and the worm series of DIN 780-2 (from memory), mm."""
DIAMETRAL_PITCHES = (
    *(3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 9.0, 10.0, 11.0, 12.0, 13.0, 14.0, 15.0, 16.0, 17.0, 18.0),
    *(19.0, 20.0, 22.0, 24.0, 26.0, 28.0, 30.0, 32.0, 36.0, 40.0, 48.0),
)
"""Diametral pitches of stock hobs (common practice), 1/in."""
ROUND_AXIAL_PITCHES_MM = (2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 10.0, 12.0)
"""Pitches that a lathe's metric gear train cuts (common practice), mm."""
ROUND_AXIAL_PITCHES_IN = (
    *(0.065, 0.080, 0.100, 0.125, 0.130, 0.160, 0.1875, 0.200, 0.250, 0.3125, 0.375, 0.500),
)
"""Axial pitches of the inch fine-pitch worm series (ANSI B6.9, from memory) and fractions, in."""
RARE_MODULES = frozenset({0.7, 0.9, 1.125, 1.375, 2.25, 2.75, 3.25, 3.75, 5.5, 7.0})
"""Second-choice modules."""
RARE_PITCHES = frozenset({7.0, 9.0, 11.0, 13.0, 15.0, 17.0, 19.0, 26.0, 30.0, 36.0})
"""Diametral pitches seldom met."""
RARE = 0.2
"""Weight of a second-choice size beside a common one (judgement)."""
TURNED = 0.15
"""Weight of a round axial pitch beside a common module (judgement)."""
INCH_ANGLES = ((14.5, 0.50), (20.0, 0.44), (25.0, 0.06))
"""Belief in each pressure angle of an inch worm: many are cut by old 14.5° hobs (judgement), °."""
METRIC_ANGLES = ((14.5, 0.10), (20.0, 0.86), (25.0, 0.04))
"""Belief in each pressure angle of a metric worm (judgement), °."""


def _size(
    name: str, module: float, weight: float, angles: tuple[tuple[float, float], ...]
) -> StandardSize:
    return StandardSize(name, module, weight, tuple((math.radians(a), p) for a, p in angles))


@cache
def worm_sizes() -> tuple[StandardSize, ...]:
    """Every size that is looked through."""
    modules = [
        _size(f"module {m:g}", m, RARE if m in RARE_MODULES else 1.0, METRIC_ANGLES)
        for m in MODULES
    ]
    pitches = [
        _size(
            f"{p:g} DP",
            axial_module_of_diametral_pitch(p),
            RARE if p in RARE_PITCHES else 1.0,
            INCH_ANGLES,
        )
        for p in DIAMETRAL_PITCHES
    ]
    turned = [
        _size(f"axial pitch {px:g} mm", px / math.pi, TURNED, METRIC_ANGLES)
        for px in ROUND_AXIAL_PITCHES_MM
    ]
    threads = [
        _size(f"axial pitch {px:g} in", px * 25.4 / math.pi, TURNED, INCH_ANGLES)
        for px in ROUND_AXIAL_PITCHES_IN
    ]
    return (*modules, *pitches, *turned, *threads)
