"""Readings of a positioning test sorted by target, approach and run."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from wormwright.core.positioning import FEWEST_RUNS
from wormwright.job.result import Doubt
from wormwright.stages.prove.deviations import Deviation

Array = NDArray[np.float64]

SAME_TARGET = math.radians(0.5 / 3600)
"""Commanded angles nearer than this are one target, rad."""
FEWEST_TARGETS = 2

Slot = tuple[int, str, int]
"""Which target, which approach, which run."""


@dataclass(frozen=True, slots=True)
class Places:
    """The complete part of a test: deviations (targets, runs) each way, rad, and their rows."""

    targets: Array
    forward: Array
    backward: Array
    rows: tuple[Deviation, ...]


def places_of(readings: Sequence[Deviation]) -> tuple[Places | None, tuple[Doubt, ...]]:
    """The test that these readings make up, or None, with what is wrong with them."""
    targets = _targets(readings)
    filled, doubts = _filled(readings, targets)
    kept_targets, kept_runs = _complete(filled, len(targets))
    doubts += _left_out(filled, targets, kept_targets, kept_runs)
    if len(kept_targets) < FEWEST_TARGETS or len(kept_runs) < FEWEST_RUNS:
        return None, (*doubts, _too_few(targets, readings))
    ways = [
        np.array([[filled[i, way, run].x for run in kept_runs] for i in kept_targets], float)
        for way in ("forward", "backward")
    ]
    kept = tuple(
        reading for (i, _, run), reading in filled.items() if i in kept_targets and run in kept_runs
    )
    return Places(targets[kept_targets], ways[0], ways[1], kept), doubts


def _targets(readings: Sequence[Deviation]) -> Array:
    """The different commanded angles, rising."""
    angles = np.sort([r.target for r in readings])
    new = np.concatenate([[True], np.diff(angles) > SAME_TARGET])
    result: Array = angles[new]
    return result


def _filled(
    readings: Sequence[Deviation], targets: Array
) -> tuple[dict[Slot, Deviation], tuple[Doubt, ...]]:
    """Each place with its reading; a place that stands twice keeps the later one."""
    filled: dict[Slot, Deviation] = {}
    twice = []
    for reading in readings:
        i = int(np.searchsorted(targets, reading.target + SAME_TARGET) - 1)
        slot = i, reading.approach, reading.run
        if slot in filled:
            twice.append((filled[slot], reading))
        filled[slot] = reading
    return filled, tuple(_stands_twice(a, b) for a, b in twice)


def _complete(filled: dict[Slot, Deviation], count: int) -> tuple[list[int], list[int]]:
    """Targets and runs that are read both ways without a hole; the emptiest goes out first."""
    runs = sorted({run for _, _, run in filled})
    there = np.array(
        [
            [all((i, way, run) in filled for way in ("forward", "backward")) for run in runs]
            for i in range(count)
        ]
    )
    rows, columns = list(range(count)), list(range(len(runs)))
    while rows and columns and not there[np.ix_(rows, columns)].all():
        part = there[np.ix_(rows, columns)]
        by_row, by_column = part.mean(axis=1), part.mean(axis=0)
        if by_row.min() <= by_column.min():
            rows.pop(int(by_row.argmin()))
        else:
            columns.pop(int(by_column.argmin()))
    return rows, [runs[c] for c in columns]


def _stands_twice(a: Deviation, b: Deviation) -> Doubt:
    first, later = a.reading.seq, b.reading.seq
    return Doubt(
        "ask",
        "P-3",
        f"{_degrees(a.target)} {a.approach}, run {a.run}, stands twice (rows {first}, {later}).",
        "One of them belongs to another target, side or run; the later one was taken.",
        f"Look at the paper and correct one of them (`--replace {first}` or `--replace {later}`).",
        (first, later),
    )


def _left_out(
    filled: dict[Slot, Deviation], targets: Array, kept_targets: list[int], kept_runs: list[int]
) -> tuple[Doubt, ...]:
    out = [r for (i, _, run), r in filled.items() if i not in kept_targets or run not in kept_runs]
    if not out:
        return ()
    lost = [_degrees(float(targets[i])) for i in range(len(targets)) if i not in kept_targets]
    runs = sorted({run for _, _, run in filled} - set(kept_runs))
    what = [f"target {', '.join(lost)}"] if lost else []
    what += [f"run {', '.join(map(str, runs))}"] if runs else []
    return (
        Doubt(
            "warn",
            "P-11",
            f"Left out, because not read from both sides in every run: {'; '.join(what)}.",
            "The figures compare both sides of every target over the same runs.",
            "Read what is missing and ask again.",
            tuple(sorted(r.reading.seq for r in out)),
        ),
    )


def _too_few(targets: Array, readings: Sequence[Deviation]) -> Doubt:
    return Doubt(
        "refuse",
        "P-12",
        f"The positions at {len(targets)} targets make up no test from both sides.",
        "It takes two targets or more, each read forward and backward in two runs or more; a "
        "table that turns all round wants eight targets and five runs.",
        "Read every target forward, then backward, and write approach and run with each.",
        tuple(sorted(r.reading.seq for r in readings)),
    )


def _degrees(angle: float) -> str:
    return f"{math.degrees(angle):.6g}°"
