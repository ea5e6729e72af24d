"""Angles measured with shop means: arm and indicator, sine bar, swept face, lever indicator."""

from __future__ import annotations

import math
from typing import NamedTuple

COSINE_REFUSED = math.radians(30)


class Angle(NamedTuple):
    """An angle and its standard uncertainty, rad."""

    value: float
    u: float


def angle_of_arm(*, reading: float, radius: float, reading_u: float, radius_u: float) -> Angle:
    """Angle of a table from an indicator on an arm or pin.

    Source: JCGM 100:2008, 5.1.2. Formula: d/R; u² = (u_d/R)² + (d u_R/R²)².
    Inputs: reading d, radius R and their u [mm]. Outputs: Angle [rad].
    Valid for: d below a tenth of R. Raises: ValueError outside.

    >>> a = angle_of_arm(reading=0.050, radius=100, reading_u=0.003, radius_u=0.5)
    >>> round(math.degrees(a.value) * 3600, 2), round(math.degrees(a.u) * 3600, 2)
    (103.13, 6.21)
    """
    if not (radius > 0 and abs(reading) < radius / 10 and reading_u >= 0 and radius_u >= 0):
        raise ValueError(f"reading {reading} at radius {radius} mm: expected below a tenth of it")
    u = math.hypot(reading_u / radius, reading * radius_u / radius**2)
    return Angle(reading / radius, u)


def angle_of_sine_bar(*, height: float, length: float, height_u: float, length_u: float) -> Angle:
    """Angle of a sine bar.

    Source: JCGM 100:2008, 5.1.2.
    Formula: sin a = h/L; u² = (u_h/(L cos a))² + (tan a u_L/L)².
    Inputs: height h of the blocks, length L, their u [mm]. Outputs: Angle [rad].
    Valid for: 0 to 60 degrees. Raises: ValueError outside.

    >>> a = angle_of_sine_bar(height=43.233, length=100, height_u=0.001, length_u=0.002)
    >>> round(math.degrees(a.value), 4), round(math.degrees(a.u) * 3600, 2)
    (25.6155, 3.02)
    """
    if not (length > 0 and 0 <= height <= length * math.sin(math.radians(60))):
        raise ValueError(f"height {height} on {length} mm: expected 0 to 60 degrees")
    a = math.asin(height / length)
    u = math.hypot(height_u / (length * math.cos(a)), math.tan(a) * length_u / length)
    return Angle(a, u)


def angle_of_swept_face(*, change: float, length: float, reading_u: float) -> Angle:
    """Angle of a face from an indicator swept along it.

    Source: JCGM 100:2008, 5.1.2; two readings of u each.
    Formula: atan(change/L); u = sqrt(2) u_d/L · cos² a.
    Inputs: change of the reading, length L swept, reading_u [mm]. Outputs: Angle [rad].
    Valid for: length above zero. Raises: ValueError outside.

    >>> a = angle_of_swept_face(change=0.012, length=8.0, reading_u=0.0)
    >>> round(math.degrees(a.value), 5)
    0.08594
    """
    if not (length > 0 and reading_u >= 0):
        raise ValueError(f"swept length {length}, u {reading_u}: expected above zero")
    a = math.atan(change / length)
    return Angle(a, math.sqrt(2) * reading_u / length * math.cos(a) ** 2)


def angle_of_mirror(*, shift: float, distance: float, shift_u: float) -> Angle:
    """Angle of a table from a spot thrown back by a mirror on it.

    Source: law of reflection: the beam turns twice as far. Formula: s/(2 D); u = u_s/(2 D).
    Inputs: shift s of the spot, distance D, shift_u [mm]. Outputs: Angle [rad].
    Valid for: s below a tenth of D. Raises: ValueError outside.

    >>> round(math.degrees(angle_of_mirror(shift=0.3, distance=5000, shift_u=0.3).value) * 3600, 3)
    6.188
    """
    if not (distance > 0 and abs(shift) < distance / 10 and shift_u >= 0):
        raise ValueError(f"shift {shift} at {distance} mm: expected below a tenth of it")
    return Angle(shift / (2 * distance), shift_u / (2 * distance))


def true_lever_reading(reading: float, *, stylus_angle: float) -> float:
    """Movement that a lever indicator really saw, its stylus not lying along the surface.

    Source: Mitutoyo catalogue 2019, lever indicators, table of cosine factors.
    Formula: reading · cos a.
    Inputs: reading [mm]; stylus_angle a between stylus and surface [rad]. Outputs: [mm].
    Valid for: up to 30 degrees; below 15 the factor is within 4 per cent.
    Raises: ValueError above: set the stylus along the surface.

    >>> round(true_lever_reading(0.200, stylus_angle=math.radians(30)), 3)
    0.173
    """
    if not 0 <= stylus_angle <= COSINE_REFUSED + 1e-9:
        raise ValueError(
            f"stylus at {math.degrees(stylus_angle):.0f}° to the surface: expected 30° or less; "
            "set it along the surface and read again"
        )
    return reading * math.cos(stylus_angle)
