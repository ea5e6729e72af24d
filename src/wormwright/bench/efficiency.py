"""Efficiency of the worm mesh in hand, between the ends of its friction."""

from __future__ import annotations

import math

from wormwright.core.friction import (
    Interval,
    efficiency_worm_driving,
    normal_pressure_angle,
    over_friction,
)
from wormwright.job.pair import WormPair

MESH_FRICTION = Interval(0.06, 0.14)
"""Believable friction of a greased worm mesh, lowest and highest (common practice)."""


def mesh_efficiency(pair: WormPair) -> Interval:
    """Efficiency of the mesh with the worm driving."""
    lead = math.atan(pair.g)
    normal = normal_pressure_angle(axial_angle=pair.pressure_angle, lead_angle=lead)
    return over_friction(
        efficiency_worm_driving, lead_angle=lead, friction=MESH_FRICTION, normal_angle=normal
    )
