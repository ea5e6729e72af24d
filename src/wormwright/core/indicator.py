"""What an indicator shows and what really moved: the cosine of a stylus off square."""

from __future__ import annotations

import math

NEGLIGIBLE_TILT = math.radians(15)
"""Up to here the reading is at most 3.5 % too large and is left as it stands (common practice)."""
LARGEST_TILT = math.radians(30)
"""Beyond this a tilt judged by eye no longer tells the factor well enough (common practice)."""


def movement_from_lever(reading: float, *, tilt: float) -> float:
    """True movement from the reading of a lever indicator whose stylus stands off square.

    Source: indicator makers' correction tables; the same holds for a plunger that stands off
        square to a flat face.
    Formula: true = reading · cos(tilt).
    Inputs: reading [mm]; tilt of the stylus from its correct 0 degrees to the surface [rad].
    Outputs: movement [mm].
    Valid for: a ball stylus, 0 <= tilt <= 60 degrees; not for a plunger that rides on one fixed
        point, which reads too little.
    Raises: ValueError outside.

    >>> round(movement_from_lever(0.200, tilt=math.radians(30)), 4)
    0.1732
    """
    if not 0 <= tilt <= math.radians(60) + 1e-12:
        raise ValueError(
            f"tilt of the stylus: expected 0 to 60 degrees, got {math.degrees(tilt):.4g}; set the "
            "stylus square to the movement and read again"
        )
    return reading * math.cos(tilt)
