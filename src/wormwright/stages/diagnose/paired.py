"""Rocks at the same place under two conditions: the difference that the place cannot make."""

from __future__ import annotations

import math
import statistics
from typing import NamedTuple

from wormwright.stages.diagnose.rows import Row


class Difference(NamedTuple):
    """First less second, mean over the places that both have, mm at r2."""

    value: float
    u: float
    places: int


def paired_difference(first: list[Row], second: list[Row]) -> Difference | None:
    """Mean difference of rocks at like places; None when no place was rocked both ways.

    Like means same table and worm angle, pin, kind and torque, so that pitch error, runout, pin
    radius and springing cancel and only the reading noise stays.
    """
    found = []
    for row in first:
        like = [other for other in second if _like(row, other)]
        if like:
            rest = statistics.fmean(other.value for other in like)
            u = math.hypot(*(other.u for other in like)) / len(like)
            found.append((row.value - rest, math.hypot(row.u, u)))
    if not found:
        return None
    n = len(found)
    return Difference(
        statistics.fmean(d for d, _ in found), math.hypot(*(u for _, u in found)) / n, n
    )


def _like(row: Row, other: Row) -> bool:
    return (
        row.kind == other.kind
        and row.pin == other.pin
        and abs(row.torque - other.torque) <= 0.05 * row.torque
        and _same_angle(row.table_angle, other.table_angle)
        and _same_angle(row.worm_angle, other.worm_angle)
    )


def _same_angle(one: float | None, other: float | None) -> bool:
    if one is None or other is None:
        return one is other
    return abs(math.remainder(one - other, 2 * math.pi)) < math.radians(0.1)
