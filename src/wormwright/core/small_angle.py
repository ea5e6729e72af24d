"""Angles measured with shop means: arm and indicator, sine bar, swept face, mirror and spot."""

from __future__ import annotations

import math
from typing import Literal, NamedTuple

Touch = Literal["pin", "flat arm", "ball"]
"""How the arm meets the plunger: a pin and small angles; a flat arm under a plunger that stays at
its radius; a ball on the arm under a flat plunger tip."""

STEEPEST_ARM = math.radians(20)
"""Beyond this the plunger pushes more sideways than it likes (common practice)."""


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


def angle_of_wide_arm(
    *, reading: float, radius: float, reading_u: float, radius_u: float, touch: Touch
) -> Angle:
    """Angle of an arm that swings too far for d/R.

    Source: geometry; JCGM 100:2008, 5.1.2.
    Formula: flat arm tan a = d/R, u² = cos⁴a ((u_d/R)² + (d u_R/R²)²);
        ball sin a = d/R, u² = ((u_d/R)² + (d u_R/R²)²)/cos² a; pin a = d/R.
    Inputs: reading d from the place where the arm stands square to the plunger, radius R, their u
        [mm]; touch. Outputs: Angle [rad].
    Valid for: up to 20 degrees, a pin up to a tenth of R. Raises: ValueError outside.

    >>> a = angle_of_wide_arm(reading=20, radius=100, reading_u=0.003, radius_u=0.05, touch="ball")
    >>> round(math.degrees(a.value), 3), round(math.degrees(a.u) * 3600, 1)
    (11.537, 22.0)
    """
    if touch == "pin":
        return angle_of_arm(reading=reading, radius=radius, reading_u=reading_u, radius_u=radius_u)
    if not (radius > 0 and abs(reading) < radius and reading_u >= 0 and radius_u >= 0):
        raise ValueError(f"reading {reading} at radius {radius} mm: expected below the radius")
    share = reading / radius
    a = math.atan(share) if touch == "flat arm" else math.asin(share)
    if abs(a) > STEEPEST_ARM:
        raise ValueError(
            f"arm at {math.degrees(a):.1f} degrees: expected 20 or less; set the arm square to the "
            "plunger nearer to the angle"
        )
    slope = math.cos(a) ** 2 if touch == "flat arm" else 1 / math.cos(a)
    return Angle(a, slope * math.hypot(reading_u / radius, reading * radius_u / radius**2))


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


def angle_of_laser(*, shift: float, distance: float, shift_u: float) -> Angle:
    """Angle of a table from the spot of a laser that rides on it.

    Source: geometry. Formula: s/D; u = u_s/D.
    Inputs: shift s of the spot, distance D, shift_u [mm]. Outputs: Angle [rad].
    Valid for: s below a tenth of D. Raises: ValueError outside.

    >>> round(math.degrees(angle_of_laser(shift=0.3, distance=5000, shift_u=0.3).value) * 3600, 2)
    12.38
    """
    twice = angle_of_mirror(shift=shift, distance=distance, shift_u=shift_u)
    return Angle(2 * twice.value, 2 * twice.u)


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
