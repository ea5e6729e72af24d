"""Runout that a collet may have, by the diameter it grips."""

from __future__ import annotations

from functools import cache

from wormwright.core.dialling import ColletLimit
from wormwright.handbook.rows import rows


@cache
def collet_limits() -> tuple[ColletLimit, ...]:
    """The whole table, the smallest diameter first."""
    return tuple(
        ColletLimit(
            float(r["over_mm"]),
            float(r["to_mm"]),
            float(r["distance_mm"]),
            float(r["class_1_mm"]),
            float(r["class_2_mm"]),
        )
        for r in rows("collet_runout")
    )
