"""Before and after: the same readings at the same places, and whether a change is proven."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from wormwright.bench import Bench, Figure
from wormwright.core.difference import Mean, difference_of_means
from wormwright.job.proof_compared import Change, Compared, Comparison, NotCompared
from wormwright.job.reading import Reading
from wormwright.job.result import Estimate
from wormwright.job.rotary import Job
from wormwright.job.sheet import KINDS, PROOF_KINDS, ROCKS
from wormwright.quantities import Dimension
from wormwright.stages.prove.axis_figures import estimate

SAME_ANGLE = math.radians(1.0)
"""Places nearer than this are one place."""
ALIKE = 0.05
"""Share by which a radius or torque may differ and still be the same."""
CONDITIONS = {
    "pin_radius": "the radius of the pin",
    "radius": "the radius",
    "torque": "the torque",
    "force": "the force",
    "worm_held": "how the worm was held",
    "lock": "the lock",
    "surface": "the surface",
    "how": "how it was read",
    "z": "the distance",
}
"""Conditions that must be the same on both sides, in words."""
NOT_SIZES = frozenset({"temperature", "centre_distance"})

Place = tuple[str, str, int | None]


class Named(NamedTuple):
    """A kind of reading, its name, and where it was taken."""

    kind: str
    label: str
    where: str = ""


def comparison(job: Job, before: Sequence[Reading], after: Sequence[Reading]) -> Comparison | None:
    """Every kind that was read on both sides; None when nothing was read again."""
    old = {r.seq for r in before}
    fresh = [r for r in after if r.seq not in old]
    both = sorted(
        {(r.kind, r.station) for r in before} & {(r.kind, r.station) for r in fresh},
        key=lambda key: (KINDS[key[0]].row, key),
    )
    compared: list[Compared] = []
    single: list[Compared] = []
    refused: list[NotCompared] = []
    for kind, station in both:
        if not _is_size(kind):
            continue
        sides = tuple(_by_place(rows, kind, station) for rows in (before, fresh))
        pairs, why = _paired(sides[0], sides[1])
        if why:
            refused.append(_refused(kind, station, why))
        if pairs:
            name = Named(kind, _label(kind, station))
            rows = tuple(_place_compared(job, name, *pair) for pair in pairs)
            compared.append(_together(name, rows))
            single += rows if kind in ROCKS else ()
    return Comparison(tuple(compared), tuple(single), tuple(refused)) if both else None


def _is_size(kind: str) -> bool:
    """Whether a smaller or larger value of this kind means anything by itself."""
    found = KINDS[kind]
    named = kind in NOT_SIZES or kind in PROOF_KINDS
    return found.dimension != "none" and found.noise is not None and not found.signed and not named


def _by_place(rows: Sequence[Reading], kind: str, station: str) -> dict[Place, list[Reading]]:
    places: dict[Place, list[Reading]] = {}
    for r in rows:
        if (r.kind, r.station) == (kind, station) and r.value is not None:
            angle = None
            if KINDS[kind].needs_table_angle and r.table_angle is not None:
                angle = round(r.table_angle % math.tau / SAME_ANGLE) % 360
            places.setdefault((kind, station, angle), []).append(r)
    return places


Pair = tuple[list[Reading], list[Reading]]


def _paired(
    before: dict[Place, list[Reading]], after: dict[Place, list[Reading]]
) -> tuple[list[Pair], str]:
    """Places that stand on both sides under the same conditions, and why others do not."""
    shared = [place for place in before if place in after]
    if not shared:
        return [], "read at other places"
    pairs: list[Pair] = []
    other: dict[str, None] = {}
    for place in shared:
        found = [_alike(before[place], row) for row in after[place]]
        kept = [row for row, (alike, _) in zip(after[place], found, strict=True) if alike]
        other.update({words: None for _, words in found if words})
        matching = [b for b in before[place] if any(not _differs(b, row) for row in kept)]
        if kept:
            pairs.append((matching, kept))
    return pairs, "; ".join(other)


def _alike(before: list[Reading], row: Reading) -> tuple[list[Reading], str]:
    """Rows of the other side under the same conditions; if there are none, what differs."""
    alike = [b for b in before if not _differs(b, row)]
    return alike, "" if alike else _differs(before[0], row)


def _differs(one: Reading, other: Reading) -> str:
    """Which condition differs between two readings, in words; empty when none does."""
    compulsory = {c.key for c in KINDS[one.kind].conditions if c.compulsory}
    for key, words in CONDITIONS.items():
        first, second = one.conditions.get(key), other.conditions.get(key)
        said = first is not None and second is not None
        if (said or key in compulsory) and not _same(first, second):
            return f"{words} is not the same"
    return ""


def _same(first: float | str | None, second: float | str | None) -> bool:
    if isinstance(first, float) and isinstance(second, float):
        return abs(abs(first) - abs(second)) <= ALIKE * max(abs(first), abs(second))
    return first == second


def _refused(kind: str, station: str, why: str) -> NotCompared:
    name = _label(kind, station)
    do = "Read it again as it was read before: same place, radius, torque and lock."
    return NotCompared(name, why, do)


def _label(kind: str, station: str) -> str:
    label = KINDS[kind].label
    return f"{label} ({station})" if station else label


def _figure(job: Job, rows: list[Reading]) -> Figure:
    found = Bench(job, tuple(rows)).figure(rows[0].kind, rows[0].station)
    if found is None:
        raise ValueError(f"reading {rows[0].seq}: expected a figure to compare, got none")
    return found


def _place_compared(job: Job, name: Named, before: list[Reading], after: list[Reading]) -> Compared:
    first, then = _figure(job, before), _figure(job, after)
    angle = before[0].table_angle if KINDS[name.kind].needs_table_angle else None
    where = "" if angle is None else f"{math.degrees(angle):.0f}°"
    return _row(
        name._replace(where=where),
        Mean(first.value, first.u, first.dof),
        Mean(then.value, then.u, then.dof),
        rows=(*first.seqs, *then.seqs),
    )


def _together(name: Named, rows: tuple[Compared, ...]) -> Compared:
    """The mean over the places that both sides have."""
    if len(rows) == 1:
        return rows[0]
    return _row(
        name._replace(where=f"mean of {len(rows)} places"),
        _mean([row.before for row in rows]),
        _mean([row.after for row in rows]),
        rows=tuple(seq for row in rows for seq in row.rows),
        places=len(rows),
    )


def _mean(estimates: Sequence[Estimate]) -> Mean:
    n = len(estimates)
    u = math.sqrt(sum(e.u**2 for e in estimates)) / n
    return Mean(sum(e.value for e in estimates) / n, u)


def _row(
    name: Named, before: Mean, after: Mean, *, rows: tuple[int, ...], places: int = 1
) -> Compared:
    dimension = KINDS[name.kind].dimension
    found = difference_of_means(after, before)
    told: Change = "no change proven"
    if found.proven:
        told = "less" if found.value < 0 else "more"
    change = Estimate(found.value, found.u, found.least, found.most, dimension, "after less before")
    sides = (_estimate(before, dimension), _estimate(after, dimension))
    return Compared(*name, places, *sides, change, told, rows)


def _estimate(mean: Mean, dimension: Dimension) -> Estimate:
    return estimate(mean.value, mean.u, dimension, "mean of readings", mean.dof)
