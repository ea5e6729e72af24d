"""Hold-down bolts: torque, clamping force, the slot they go in, their hole and head."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from wormwright.handbook.rows import rows

T_SLOT_SHARE = 0.70
"""Share of the usual torque that a tee-slot of cast iron takes (common practice)."""


@dataclass(frozen=True, slots=True)
class Bolt:
    """A bolt of class 8.8 at its usual torque; lengths mm, torque N mm, force N."""

    thread: str
    diameter: float
    torque: float
    preload: float
    slot: float
    clear_hole: float
    head: float


@cache
def bolts() -> tuple[Bolt, ...]:
    """Every bolt of the handbook, the smallest first."""
    return tuple(
        Bolt(
            r["thread"],
            float(r["diameter_mm"]),
            float(r["torque_nmm"]),
            float(r["preload_n"]),
            float(r["slot_mm"]),
            float(r["clear_hole_mm"]),
            float(r["head_mm"]),
        )
        for r in rows("bolts")
    )


def bolt_for_slot(width: float) -> Bolt:
    """The largest bolt whose tee-nut goes into a slot of that width, mm.

    Raises ValueError for a slot narrower than the smallest.
    """
    fits = [b for b in bolts() if b.slot <= width + 0.5]
    if not fits:
        raise ValueError(f"slot of {width} mm: expected {bolts()[0].slot:g} mm or more")
    return fits[-1]
