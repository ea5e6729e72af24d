"""Readings beside their siblings: what the others say a reading should be."""

from __future__ import annotations

import math
import statistics
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from wormwright.bench import Bench, noise
from wormwright.job.reading import Reading
from wormwright.job.sheet import KINDS, PROOF_KINDS, ROCKS
from wormwright.job.sheet_table import RUNOUTS

Array = NDArray[np.float64]
Known = list[tuple[Reading, float]]

MAP = 7
"""From so many rock positions on a wave once round the turn is fitted to them."""
WARMER = 5.0
"""Readings taken with more than this between them are compared with care, K."""
SPARE = 2
"""A fit of a series needs so many rows more than it has unknowns."""
APART = ("wire", "how", "radius", "z", "grip", "moment", "arm", "pin_radius")
"""Readings of one kind that differ in one of these are no siblings; a rock is brought to radius."""


@dataclass(frozen=True, slots=True)
class Sibling:
    """A reading with what its siblings say it should be, and the scatter about that.

    All three in what siblings share (see `comparable`), which is `scale` times the reading.
    """

    reading: Reading
    value: float
    expected: float
    scatter: float
    scale: float


def same_angle(a: float, b: float, *, within: float) -> bool:
    """True when two angles point the same way to `within` rad."""
    return abs((a - b + math.pi) % (2 * math.pi) - math.pi) <= within


def series(bench: Bench) -> tuple[tuple[Reading, ...], ...]:
    """Readings that should be alike, group by group: same kind, station, wire size, distance.

    Rocks are one series per kind whatever the radius; warm ones stand apart. Readings of the proof
    are weighed against each other there.
    """
    groups: dict[tuple[object, ...], list[Reading]] = {}
    for kind in (kind for kind in KINDS if kind not in PROOF_KINDS):
        warm = warm_rocks(bench, kind) if kind in ROCKS else frozenset()
        for reading in bench.of(kind):
            if reading.value is None or KINDS[kind].noise is None:
                continue
            groups.setdefault(_group(reading, reading.seq in warm), []).append(reading)
    return tuple(tuple(rows) for rows in groups.values())


def _group(reading: Reading, is_warm: bool) -> tuple[object, ...]:
    if reading.kind in ROCKS:
        return reading.kind, is_warm
    apart = (reading.conditions.get(c) for c in APART)
    place = round(reading.table_angle or 0.0, 2) if reading.kind == "rock_loop" else None
    return reading.kind, reading.station, *apart, place


def warm_rocks(bench: Bench, kind: str) -> frozenset[int]:
    """Rows of rocks at a housing plainly warmer than the coldest that this kind was read at."""
    known = {r.seq: t for r in bench.of(kind) if (t := r.number("housing_temperature")) is not None}
    limit = min(known.values(), default=0.0) + WARMER
    return frozenset(seq for seq, t in known.items() if t > limit)


def comparable(reading: Reading) -> float | None:
    """The value brought to what siblings share: rock per radius, length per thread."""
    scale = _scale(reading)
    return None if reading.value is None or scale is None else reading.value * scale


def _scale(reading: Reading) -> float | None:
    if reading.kind in ROCKS:
        radius = reading.number("pin_radius")
        return 1 / radius if radius else None
    if reading.kind == "thread_length":
        threads = reading.number("threads")
        return 1 / threads if threads else None
    return 1.0


def beside_siblings(rows: tuple[Reading, ...]) -> tuple[Sibling, ...]:
    """Each reading of a series with what the series says it should be; needs three or more."""
    signed = bool(rows) and KINDS[rows[0].kind].signed
    known = known_of(rows) if signed else [(r, y) for r, y in known_of(rows) if y]
    if len(known) < 3:
        return ()
    values = [y for _, y in known]
    shape = shape_of(known)
    if shape is None and rows[0].kind in (*RUNOUTS, "rock_loop"):
        return ()
    fitted = None if shape is None else _fitted(shape, np.array(values))
    off = [abs(v - e) for v, e in zip(values, fitted, strict=True)] if fitted else []
    out = []
    for i, (reading, y) in enumerate(known):
        if fitted:
            expected, rests = fitted[i], off[:i] + off[i + 1 :]
        else:
            others = values[:i] + values[i + 1 :]
            expected = statistics.median(others)
            rests = [abs(v - expected) for v in others]
        scale = _scale(reading) or 1.0
        scatter = max(noise(reading) * scale, 1.48 * statistics.median(rests))
        out.append(Sibling(reading, y, expected, scatter, scale))
    return tuple(out)


def known_of(rows: tuple[Reading, ...]) -> Known:
    """Rows with what siblings share; a loop read at no torque may rest anywhere in the play."""
    return [
        (r, y)
        for r in rows
        if (y := comparable(r)) is not None and (r.kind != "rock_loop" or r.number("torque"))
    ]


def shape_of(known: Known) -> Array | None:
    """Columns of the shape that the series has: a wave once a turn, or a loop; None if neither."""
    kind = known[0][0].kind
    if kind == "rock_loop":
        return _loop(known)
    if kind not in (*ROCKS, *RUNOUTS):
        return None
    placed = [r.table_angle for r, _ in known if r.table_angle is not None]
    places = {round(phi, 2) for phi in placed}
    least = MAP if kind in ROCKS else 3 + SPARE
    if len(placed) < len(known) or len(places) < least:
        return None
    phi = np.array(placed)
    return np.column_stack([np.ones_like(phi), np.cos(phi), np.sin(phi)])


def _loop(known: Known) -> Array | None:
    if len(known) < 4 + SPARE:
        return None
    torque = np.array([r.number("torque") or 0.0 for r, _ in known])
    branch = np.array([1.0 if r.said("branch") == "up" else -1.0 for r, _ in known])
    top = float(np.max(np.abs(torque)))
    return np.column_stack([np.ones_like(torque), torque / top, np.sign(torque), branch])


def _fitted(shape: Array, y: Array) -> list[float]:
    """The shape through the series by least absolute deviations, so that one slip stands out."""
    floor = 1e-3 * float(np.median(np.abs(y))) + 1e-12
    root: Array = np.ones_like(y)
    line: Array = np.zeros_like(y)
    for _ in range(40):
        fit = np.linalg.lstsq(shape * root[:, None], y * root, rcond=None)[0]
        before, line = line, np.asarray(shape @ fit, np.float64)
        if float(np.max(np.abs(line - before))) < floor:
            break
        root = 1 / np.sqrt(np.maximum(np.abs(y - line), floor))
    return [float(v) for v in line]
