"""General notes that stand on every sheet.

General tolerances: ISO 2768-1 class m, from memory: up to 3 mm and to 6 mm 0.1, to 30 mm 0.2,
to 120 mm 0.3, to 400 mm 0.5. In inches rounded inward to 0.001.
"""

from __future__ import annotations

from wormwright.job.rotary import Units

GENERAL_MM: tuple[tuple[float, float], ...] = ((6.0, 0.1), (30.0, 0.2), (120.0, 0.3), (400.0, 0.5))
"""Sizes up to (mm) and the deviation allowed either way (mm)."""
_GENERAL_IN = (("1/4", "0.003"), ("1 3/16", "0.007"), ("4 3/4", "0.011"), ("15 3/4", "0.019"))

EDGES = "Break sharp edges 0.2 mm [0.008 in], no burrs"


def general_tolerance(units: Units) -> str:
    """The general tolerance in words."""
    if units == "mm":
        rows = ", ".join(f"to {size:g} ±{deviation:g}" for size, deviation in GENERAL_MM)
        return f"ISO 2768-m, medium: {rows}; angles ±0.5°"
    rows = ", ".join(f"to {size} ±{deviation}" for size, deviation in _GENERAL_IN)
    return f"ISO 2768-m, medium, in inches: {rows}; angles ±0.5°"


def surface(fine: str) -> str:
    """The general surface note, with the surfaces that are finer."""
    return f"Ra 3.2 µm [125 µin]; {fine} 1.6 [63]"
