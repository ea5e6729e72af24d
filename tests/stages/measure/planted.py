"""Planting a fault in a clean sheet, and what the checks find in it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from stages.measure.clean_sheet import Units, job
from wormwright.job.reading import Reading
from wormwright.job.result import Doubt
from wormwright.stages.measure import measure

Sheet = list[Reading]
BOTH: tuple[Units, Units] = ("mm", "in")


def found(rows: Sheet, units: Units = "mm") -> dict[str, Doubt]:
    return {d.code: d for d in measure(job(units), rows).doubts}


def of(rows: Sheet, kind: str) -> list[Reading]:
    return [r for r in rows if r.kind == kind]


def changed(rows: Sheet, seqs: set[int], change: Callable[[Reading], Reading]) -> Sheet:
    return [change(r) if r.seq in seqs else r for r in rows]


def times(factor: float) -> Callable[[Reading], Reading]:
    def change(r: Reading) -> Reading:
        return replace(r, value=(r.value or 0.0) * factor, raw="as typed")

    return change


def plus(step: float) -> Callable[[Reading], Reading]:
    return lambda r: replace(r, value=(r.value or 0.0) + step, raw="as typed")


def said(**conditions: float | str | None) -> Callable[[Reading], Reading]:
    def change(r: Reading) -> Reading:
        merged = {**r.conditions, **conditions}
        return replace(r, conditions={k: v for k, v in merged.items() if v is not None})

    return change
