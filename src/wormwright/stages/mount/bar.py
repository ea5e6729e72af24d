"""The bar along the travel: pairs half a turn apart, sag and travel taken out, the lean."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from wormwright.bench import Bench, noise
from wormwright.core.alignment import AxisLine, HalfTurn, axis_line, half_turn
from wormwright.core.beam import sag_of_bar
from wormwright.handbook.materials import material
from wormwright.job.reading import Reading
from wormwright.job.result import Doubt

TRAVEL_UNREAD = 0.003
"""Doubt of each place from a travel whose bend was not read, mm (common practice)."""
SAME_ANGLE = math.radians(2)
SAME_PLACE = 0.5
"""Two places on the bar nearer than this are one, mm."""


@dataclass(frozen=True, slots=True)
class BarLine:
    """The axis against the travel one way, with what was taken out; None of it without a pair."""

    line: AxisLine | None
    places: tuple[HalfTurn, ...]
    sag: float
    travel_read: bool
    seqs: tuple[int, ...]
    doubts: tuple[Doubt, ...]


def turned_apart(rows: Sequence[Reading]) -> tuple[list[Reading], list[Reading]]:
    """Readings at the angle of the first of them, and those half a turn from it."""
    first = next((r.table_angle for r in rows if r.table_angle is not None), 0.0)
    sides: tuple[list[Reading], list[Reading]] = ([], [])
    for row in rows:
        for side, angle in zip(sides, (first, first + math.pi), strict=True):
            apart = ((row.table_angle or 0.0) - angle + math.pi) % (2 * math.pi) - math.pi
            if row.table_angle is not None and abs(apart) <= SAME_ANGLE:
                side.append(row)
    return sides


def bar_line(bench: Bench, station: str) -> BarLine:
    """The lean of the axis from the bar, top or side."""
    rows = [r for r in bench.of("bar_line", station) if r.value is not None]
    places: list[HalfTurn] = []
    alone: list[Reading] = []
    used: list[Reading] = []
    for group in _by_place(rows):
        rest = group
        while rest:
            start, turned = turned_apart(rest)
            taken = {r.seq for r in (*start, *turned)} or {rest[0].seq}
            if start and turned:
                places.append(_pair(start, turned))
                used += [*start, *turned]
            else:
                alone += [r for r in rest if r.seq in taken]
            rest = [r for r in rest if r.seq not in taken]
    doubts = list(_without_half_turn(alone, station))
    sags, sag_doubts = _sags(used, places, station)
    travel, travel_doubts = _travel(bench, station, places)
    doubts += [*sag_doubts, *travel_doubts]
    line = None
    if len({round(p.distance / SAME_PLACE) for p in places}) > 1:
        line = axis_line(
            places,
            sag=sags,
            travel=0.0 if travel is None else travel,
            travel_u=TRAVEL_UNREAD if travel is None else 0.0025 / math.sqrt(2),
        )
    elif places:
        doubts.append(_one_place(used, station))
    return BarLine(
        line,
        tuple(places),
        float(np.max(sags, initial=0.0)),
        travel is not None,
        tuple(sorted(r.seq for r in used)),
        tuple(doubts),
    )


def _by_place(rows: Sequence[Reading]) -> list[list[Reading]]:
    groups: list[list[Reading]] = []
    for row in sorted(rows, key=lambda r: (r.number("z") or 0.0, r.seq)):
        z = row.number("z") or 0.0
        if groups and abs(z - (groups[-1][0].number("z") or 0.0)) < SAME_PLACE:
            groups[-1].append(row)
        else:
            groups.append([row])
    return groups


def _pair(start: Sequence[Reading], turned: Sequence[Reading]) -> HalfTurn:
    values = [[r.value or 0.0 for r in side] for side in (start, turned)]
    u = math.sqrt(float(np.mean([noise(r) ** 2 for r in (*start, *turned)])))
    return half_turn(
        distance=start[0].number("z") or 0.0, at_start=values[0], turned=values[1], reading_u=u
    )


def _without_half_turn(alone: Sequence[Reading], station: str) -> tuple[Doubt, ...]:
    if not alone:
        return ()
    rows = tuple(r.seq for r in alone)
    return (
        Doubt(
            "refuse",
            "MT-1",
            f"Bar, {station}: {len(rows)} reading{'s' if len(rows) > 1 else ''} without the "
            "reading half a turn on.",
            "A bar that stands off or is bent reads like an axis that leans; only the half turn "
            "tells them apart.",
            "Turn the axis half round, read the same place again and enter it.",
            rows,
        ),
    )


def _one_place(used: Sequence[Reading], station: str) -> Doubt:
    return Doubt(
        "refuse",
        "MT-2",
        f"Bar, {station}: read at one distance from the jaws only.",
        "One place tells where the axis lies, not how it leans.",
        "Read the bar at a second place, as far out as the travel allows.",
        tuple(r.seq for r in used),
    )


def _sags(
    used: Sequence[Reading], places: Sequence[HalfTurn], station: str
) -> tuple[np.ndarray, tuple[Doubt, ...]]:
    """How far the bar hangs at each place; only the top feels it."""
    none = np.zeros(len(places))
    if station != "top" or not places:
        return none, ()
    known = [(r.number("bar_diameter"), r.number("bar_out")) for r in used]
    sizes = next(((d, out) for d, out in known if d and out), None)
    rows = tuple(r.seq for r in used)
    if sizes is None:
        return none, (
            Doubt(
                "warn",
                "MT-3",
                "The sag of the bar was not taken out: its diameter and how far it stands out of "
                "the jaws were not written.",
                "A long thin bar hangs by hundredths, and the half turn does not cancel that.",
                "Write bar_diameter and bar_out with the readings; 25 mm and thicker hangs least.",
                rows,
            ),
        )
    diameter, out = sizes
    if max(p.distance for p in places) > out:
        return none, (
            Doubt(
                "ask",
                "MT-3",
                "A place on the bar lies further from the jaws than the bar stands out.",
                "The sag cannot be taken out so.",
                "Check z and bar_out; both count from the front of the jaws.",
                rows,
            ),
        )
    steel = material("steel")
    return (
        np.array(
            [
                sag_of_bar(
                    at=p.distance,
                    length=out,
                    diameter=diameter,
                    modulus=steel.modulus,
                    density=steel.density_kg_m3,
                )
                for p in places
            ]
        ),
        (),
    )


def _travel(
    bench: Bench, station: str, places: Sequence[HalfTurn]
) -> tuple[np.ndarray | None, tuple[Doubt, ...]]:
    """Bend of the travel at the places of the bar, from an edge read as laid and turned over."""
    rows = [r for r in bench.of("travel_line", station) if r.value is not None]
    if not rows or not places:
        return None, ()
    runs = {
        edge: {
            z: float(np.mean([r.value or 0.0 for r in rows if _lies(r, edge, z)]))
            for z in sorted({r.number("z") or 0.0 for r in rows if r.said("edge") == edge})
        }
        for edge in ("as laid", "turned over")
    }
    both = sorted(set(runs["as laid"]) & set(runs["turned over"]))
    if len(both) < 3:
        return None, (
            Doubt(
                "warn",
                "MT-4",
                f"Travel, {station}: the straight-edge was not read as laid and turned over at "
                "three places or more, so its own form cannot be told from the travel.",
                "The bend of the travel is left in the lean, with a doubt for it.",
                "Turn the edge over and read the same places again.",
                tuple(r.seq for r in rows),
            ),
        )
    z = np.array(both)
    mean = np.array([(runs["as laid"][d] + runs["turned over"][d]) / 2 for d in both])
    bend = mean - np.interp(z, [z[0], z[-1]], [mean[0], mean[-1]])
    return np.interp([p.distance for p in places], z, bend), ()


def _lies(row: Reading, edge: str, z: float) -> bool:
    return row.said("edge") == edge and (row.number("z") or 0.0) == z
