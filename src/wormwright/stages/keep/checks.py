"""The checks of a finished axis: its readings sorted by the day they were taken, and matched."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from wormwright.bench import Figure, noise
from wormwright.job.reading import Reading
from wormwright.job.sheet import ROCKS

LONG_DAY = 2
"""Readings taken within so many days belong to one check."""
WATCHED = (*ROCKS, "worm_end_play", "table_axial_play", "clamp_shift", "drag_in_mesh")
"""What a yearly re-check reads, and the trend is made of."""
SAME_RADIUS, SAME_TORQUE = 0.02, 0.10
"""How far pin radius and torque may differ before a change may be one of the set-up."""
Place = tuple[str, str, int | None]
"""Kind, station and whole degrees of table angle: where a reading is taken again."""


@dataclass(frozen=True, slots=True)
class Check:
    """The readings of one check, when it was begun and the hours run until then."""

    day: date | None
    hours: float | None
    readings: tuple[Reading, ...]

    def by_place(self) -> Mapping[Place, tuple[Reading, ...]]:
        """The readings of what is watched, by kind and place."""
        found: dict[Place, list[Reading]] = {}
        for r in self.readings:
            if r.kind in WATCHED and r.value is not None:
                found.setdefault(place_of(r), []).append(r)
        return {place: tuple(rows) for place, rows in found.items()}


def place_of(reading: Reading) -> Place:
    """Where the reading was taken."""
    angle = reading.table_angle
    degrees = None if angle is None else round(math.degrees(angle)) % 360
    return reading.kind, reading.station, degrees


def checks_of(readings: Iterable[Reading]) -> tuple[Check, ...]:
    """The checks in their order. Hours run, or a gap of days, opens the next one."""
    groups: list[list[Reading]] = []
    last: date | None = None
    for r in sorted(readings, key=lambda r: r.seq):
        day = day_of(r)
        apart = last is not None and day is not None and (day - last).days > LONG_DAY
        if not groups or apart or (r.kind == "hours_run" and _is_check(groups[-1])):
            groups.append([])
        groups[-1].append(r)
        last = day or last
    return tuple(_check(rows) for rows in groups if _is_check(rows))


def _is_check(rows: list[Reading]) -> bool:
    """Whether these readings tell how loose the table is."""
    return any(r.kind in ROCKS and r.value is not None for r in rows)


def _check(rows: list[Reading]) -> Check:
    hours = [r.value for r in rows if r.kind == "hours_run" and r.value is not None]
    days = [day for r in rows if (day := day_of(r)) is not None]
    return Check(min(days, default=None), hours[-1] if hours else None, tuple(rows))


def day_of(reading: Reading) -> date | None:
    """The day that stands with the reading, or None."""
    try:
        return date.fromisoformat(reading.when[:10])
    except ValueError:
        return None


def pooled(rows: tuple[Reading, ...]) -> Figure:
    """Mean of the repeats at one place; a rock as the angle at its pin, rad."""
    scale = [1 / _radius(r) for r in rows]
    values = [r.value * k for r, k in zip(rows, scale, strict=True) if r.value is not None]
    u = math.sqrt(math.fsum((noise(r) * k) ** 2 for r, k in zip(rows, scale, strict=True)))
    n = len(values)
    return Figure(math.fsum(values) / n, u / n, n, math.inf, tuple(r.seq for r in rows))


def _radius(reading: Reading) -> float:
    return (reading.number("pin_radius") or 1.0) if reading.kind in ROCKS else 1.0


def alike(a: Reading, b: Reading) -> str:
    """What of the set-up differs too much to compare the two; "" when nothing does."""
    for name, condition, within in (
        ("pin radius", "pin_radius", SAME_RADIUS),
        ("torque", "torque", SAME_TORQUE),
        ("force", "force", SAME_TORQUE),
    ):
        x, y = a.number(condition), b.number(condition)
        if x is not None and y is not None and abs(x - y) > within * max(abs(x), abs(y)):
            return name
    for name, condition in (("lock", "lock"), ("place the worm was held", "worm_held")):
        said, now = a.said(condition), b.said(condition)
        if said and now and said != now:
            return name
    return ""
