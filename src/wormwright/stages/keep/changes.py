"""What has changed between the first check and the last: only the same places, read alike."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from wormwright.job.reading import Reading
from wormwright.job.recheck import KindChange, Moved, PlaceChange
from wormwright.job.result import Doubt, Estimate
from wormwright.job.sheet import KINDS, ROCKS
from wormwright.quantities import Dimension
from wormwright.stages.keep.checks import Check, Place, alike, pooled

SURE = 1.96
"""How many standard uncertainties a change must exceed to be one (95 %)."""
STANDS_OUT = 3.0
"""The same for one place among many: a dozen places would show one at 95 % by chance."""
Rows = tuple[Reading, ...]


def same_places(first: Check, last: Check) -> tuple[dict[Place, tuple[Rows, Rows]], list[Doubt]]:
    """Readings at the same place in both checks, and a doubt for those that were read otherwise."""
    before, after = first.by_place(), last.by_place()
    pairs: dict[Place, tuple[Rows, Rows]] = {}
    odd: dict[tuple[str, str], list[int]] = {}
    for place in before.keys() & after.keys():
        what = alike(before[place][0], after[place][0])
        if what:
            odd.setdefault((place[0], what), []).extend(r.seq for r in after[place])
        else:
            pairs[place] = (before[place], after[place])
    return pairs, [_read_otherwise(kind, what, rows) for (kind, what), rows in odd.items()]


def changes_of(pairs: Mapping[Place, tuple[Rows, Rows]]) -> tuple[KindChange, ...]:
    """Mean change of every kind over its places, and each place of the rocks."""
    kinds = dict.fromkeys(sorted((place[0] for place in pairs), key=list(KINDS).index))
    return tuple(_kind(kind, {p: pairs[p] for p in pairs if p[0] == kind}) for kind in kinds)


def _kind(kind: str, pairs: Mapping[Place, tuple[Rows, Rows]]) -> KindChange:
    dimension: Dimension = "angle" if kind in ROCKS else KINDS[kind].dimension
    places = sorted(pairs, key=lambda p: (p[1], p[2] or 0))
    before = [pooled(pairs[p][0]) for p in places]
    after = [pooled(pairs[p][1]) for p in places]
    moved = [b.value - a.value for a, b in zip(before, after, strict=True)]
    us = [math.hypot(a.u, b.u) for a, b in zip(before, after, strict=True)]
    change = mean_of(moved, us, dimension)
    by_place = tuple(
        PlaceChange(
            _named(place),
            Estimate.normal(d, u, dimension, "this check less the first"),
            abs(d - change.value) > STANDS_OUT * math.hypot(u, change.u),
        )
        for place, d, u in zip(places, moved, us, strict=True)
    )
    return KindChange(
        kind,
        KINDS[kind].label,
        len(places),
        mean_of([a.value for a in before], [a.u for a in before], dimension),
        mean_of([a.value for a in after], [a.u for a in after], dimension),
        change,
        _moved(change),
        by_place if len(places) > 1 else (),
    )


def mean_of(values: Sequence[float], us: Sequence[float], dimension: Dimension) -> Estimate:
    """Mean of independent values with its standard uncertainty."""
    n = len(values)
    u = math.sqrt(math.fsum(x * x for x in us)) / n
    return Estimate.normal(math.fsum(values) / n, u, dimension, f"mean of {n} places")


def _moved(change: Estimate) -> Moved:
    if abs(change.value) <= SURE * change.u:
        return "no change shown"
    return "more" if change.value > 0 else "less"


def _named(place: Place) -> str:
    _, station, degrees = place
    at = "" if degrees is None else f"{degrees}°"
    return f"{station} {at}".strip() or "the only place"


def _read_otherwise(kind: str, what: str, rows: list[int]) -> Doubt:
    return Doubt(
        "warn",
        "",
        f"{KINDS[kind].label}: the {what} is not that of the first check.",
        "A change of the set-up would be taken for wear.",
        f"Read these places again with the {what} of the first check; they are left out here.",
        tuple(rows),
    )
