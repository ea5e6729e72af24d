"""Readings beside their siblings: what the others say a reading should be."""

from __future__ import annotations

import math
import statistics
from dataclasses import dataclass

import numpy as np

from wormwright.bench import Bench, noise
from wormwright.job.reading import Reading
from wormwright.job.sheet import KINDS, ROCKS

MAP = 7
"""From so many rock positions on a wave once round the turn is fitted to them."""


@dataclass(frozen=True, slots=True)
class Sibling:
    """A reading with what its siblings say it should be, and the scatter about that."""

    reading: Reading
    value: float
    expected: float
    scatter: float


def same_angle(a: float, b: float, *, within: float) -> bool:
    """True when two angles point the same way to `within` rad."""
    return abs((a - b + math.pi) % (2 * math.pi) - math.pi) <= within


def series(bench: Bench) -> tuple[tuple[Reading, ...], ...]:
    """Readings that should be alike, group by group: same kind, station, wire size, torque level.

    Rocks are one series per kind; only the first of them hangs on the torque.
    """
    groups: dict[tuple[str, ...], list[Reading]] = {}
    for kind in KINDS:
        for reading in bench.of(kind):
            if reading.value is None or KINDS[kind].noise is None:
                continue
            wire = f"{reading.number('wire')}" if kind == "worm_over_wires" else ""
            how = reading.said("how") or ""
            groups.setdefault((kind, reading.station, wire, how), []).append(reading)
    return tuple(tuple(rows) for rows in groups.values())


def comparable(reading: Reading) -> float | None:
    """The value brought to what siblings share: rock per radius, length per thread."""
    if reading.value is None:
        return None
    if reading.kind in ROCKS:
        radius = reading.number("pin_radius")
        return reading.value / radius if radius else None
    if reading.kind == "thread_length":
        threads = reading.number("threads")
        return reading.value / threads if threads else None
    return reading.value


def beside_siblings(rows: tuple[Reading, ...]) -> tuple[Sibling, ...]:
    """Each reading of a series with what the series says it should be; needs three or more."""
    known = [(r, y) for r in rows if (y := comparable(r)) is not None and r.value]
    if len(known) < 3:
        return ()
    values = [y for _, y in known]
    wave = _round_the_turn(known) if known[0][0].kind in ROCKS else None
    out = []
    for i, (reading, y) in enumerate(known):
        others = values[:i] + values[i + 1 :]
        expected = wave[i] if wave else statistics.median(others)
        about = wave[:i] + wave[i + 1 :] if wave else [expected] * len(others)
        rests = [abs(v - e) for v, e in zip(others, about, strict=True)]
        own = noise(reading) * abs(y / (reading.value or 1.0))
        out.append(Sibling(reading, y, expected, max(own, 1.48 * statistics.median(rests))))
    return tuple(out)


def _round_the_turn(known: list[tuple[Reading, float]]) -> list[float] | None:
    """Mean and once-per-turn wave through a map by least absolute deviations; None if too few."""
    placed = [(r.table_angle, y) for r, y in known if r.table_angle is not None]
    places = {round(phi, 2) for phi, _ in placed}
    if len(placed) < len(known) or len(places) < MAP:
        return None
    phi = np.array([p for p, _ in placed])
    y = np.array([v for _, v in placed])
    rows = np.column_stack([np.ones_like(phi), np.cos(phi), np.sin(phi)])
    weight = np.ones_like(y)
    for _ in range(40):
        root = np.sqrt(weight)
        fit = np.linalg.lstsq(rows * root[:, None], y * root, rcond=None)[0]
        rest = np.abs(y - rows @ fit)
        weight = 1 / np.maximum(rest, 1e-3 * float(np.median(np.abs(y))) + 1e-12)
    return [float(v) for v in rows @ fit]
