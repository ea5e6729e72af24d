"""What each shop means of measuring an angle can show, and what it leaves of an allowed error.

Every function gives the uncertainty of one angle of the table as that means reads it, so that
means can be set beside each other before anything is read.
"""

from __future__ import annotations

import math

from wormwright.core.closure_plan import best_design
from wormwright.core.conformity import guard_band
from wormwright.core.small_angle import angle_of_arm, angle_of_swept_face


def u_of_arm(*, error: float, radius: float, reading_u: float, radius_u: float) -> float:
    """Uncertainty of an error of position read with indicator and arm where the table stands.

    Source: JCGM 100:2008, 5.1.2. Formula: as `angle_of_arm` at a reading of error · R.
    Inputs: error expected [rad]; radius R, reading_u, radius_u [mm]. Outputs: u [rad].
    Valid for: errors below a tenth. Raises: ValueError outside.

    >>> u = u_of_arm(error=5e-4, radius=100, reading_u=0.003, radius_u=0.5)
    >>> round(math.degrees(u) * 3600, 2)
    6.21
    """
    return angle_of_arm(
        reading=error * radius, radius=radius, reading_u=reading_u, radius_u=radius_u
    ).u


def u_of_indexed_square(*, length: float, reading_u: float, corner_u: float) -> float:
    """Uncertainty of a position read by sweeping the faces of a square block once.

    Source: JCGM 100:2008, 5.1.2; the angle between two faces is that of the block itself.
    Formula: u² = 2 (√2 u_d/L)² + u_corner², both faces swept.
    Inputs: length L swept, reading_u [mm]; corner_u, of the angle between two faces [rad].
    Outputs: u [rad]. Valid for: as `angle_of_swept_face`. Raises: ValueError as it.

    >>> u = u_of_indexed_square(length=80, reading_u=0.001, corner_u=0.0)
    >>> round(math.degrees(u) * 3600, 3)
    5.157
    """
    if corner_u < 0:
        raise ValueError(f"corner of the block: expected a u of zero or more, got {corner_u}")
    swept = angle_of_swept_face(change=0.0, length=length, reading_u=reading_u).u
    return math.hypot(math.sqrt(2) * swept, corner_u)


def u_of_closed_polygon(*, faces: int, set_ups: int, pointing_u: float) -> float:
    """Uncertainty of a position from a polygon of unknown angles that is re-set.

    Source: circle closure, `core.closure`. Formula: u = factor(faces, set-ups) · u_pointing.
    Inputs: faces; set_ups, moved on as `best_design` says; pointing_u at one face [rad].
    Outputs: u of the table error from its mean round the turn [rad].
    Valid for: 3 faces or more, 2 set-ups to as many as faces. Raises: ValueError outside.

    >>> u = u_of_closed_polygon(faces=4, set_ups=4, pointing_u=math.radians(3.646 / 3600))
    >>> round(math.degrees(u) * 3600, 3)
    1.579
    """
    if not (faces >= 3 and 2 <= set_ups <= faces and pointing_u >= 0):
        raise ValueError(
            f"polygon of {faces} faces, {set_ups} set-ups: expected 3 faces or more and 2 set-ups "
            "to as many as it has faces"
        )
    return best_design(faces, set_ups).factor * pointing_u


def u_of_sensor_table(
    *, half_width: float, step: float, offset: float = 0.0, track_radius: float = math.inf
) -> float:
    """Uncertainty of a position read from an angle sensor put on the table.

    Source: JCGM 100:2008, 4.3.7; an offset track reads e/r too much and too little in a turn.
    Formula: u² = a²/3 + q²/12 + (e/r)²/2.
    Inputs: half_width a of its stated error, step q of its reading [rad]; offset e of its centre
        from the axis, track_radius r [mm]; a sensor with its own bearing and a soft coupling has
        neither.
    Outputs: u [rad]. Valid for: figures of zero or more, r above zero. Raises: ValueError outside.

    >>> u = u_of_sensor_table(half_width=5e-5, step=1e-5, offset=0.01, track_radius=50)
    >>> round(math.degrees(u) * 3600, 1)
    29.8
    """
    if min(half_width, step, offset) < 0 or not track_radius > 0:
        raise ValueError(
            f"sensor: expected figures of zero or more and a track radius above zero, got "
            f"{half_width}, {step}, {offset}, {track_radius}"
        )
    return math.sqrt(half_width**2 / 3 + step**2 / 12 + (offset / track_radius) ** 2 / 2)


def share_left(*, u: float, allowed: float, p: float = 0.95) -> float:
    """Part of an allowed error that the doubt of the means leaves to the axis itself.

    Source: ISO 14253-1:2017 (recalled): a proof must stay a guard band inside the limit.
    Formula: 1 - z_p u / allowed, not below 0.
    Inputs: u of the means, allowed error, one unit; p. Outputs: 0 to 1; 0: it proves
        nothing.
    Valid for: u >= 0, allowed above zero. Raises: ValueError outside.

    >>> round(share_left(u=12.0, allowed=60.0), 3), share_left(u=40.0, allowed=60.0)
    (0.671, 0.0)
    """
    if not allowed > 0:
        raise ValueError(f"allowed error: expected above zero, got {allowed}")
    return max(0.0, 1 - guard_band(u=u, p=p) / allowed)
