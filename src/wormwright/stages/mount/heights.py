"""Centre heights of head and tail, the tail's side offset, and what to do about them."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from wormwright.bench import Bench, noise
from wormwright.bench.shim_pieces import nearest_pieces
from wormwright.bench.tram import tail_limit
from wormwright.core.centre_height import (
    Placed,
    apart,
    height_over_bar,
    side_by_same_line,
    tail_plan,
)
from wormwright.job.mounting import Heights
from wormwright.job.reading import Reading
from wormwright.job.result import Doubt, Estimate
from wormwright.job.rotary import Job
from wormwright.stages.mount.bar import turned_apart
from wormwright.stages.mount.wording import about, length

BAR_U = 0.002
"""Doubt of a bar's diameter from a micrometer, mm."""


def heights_of(bench: Bench) -> tuple[Heights | None, tuple[Doubt, ...], tuple[str, ...]]:
    """What was read over and beside the bars; None while nothing was."""
    doubts: list[Doubt] = []
    over = {end: _height(bench, end, doubts) for end in ("head", "tail")}
    beside = {end: _side(bench, end, doubts) for end in ("head", "tail")}
    head, tail = over["head"], over["tail"]
    missing: list[str] = []
    if head is None:
        missing.append("height over a bar in the head, half a turn apart (`over_bar`)")
    if bench.job.mount is not None and bench.job.mount.has_tail and tail is None:
        missing.append("height over a bar in the tail (`over_bar`, station tail)")
    if head is None and tail is None and not any(beside.values()):
        return None, tuple(doubts), tuple(missing)
    high = apart(tail, head) if head and tail else None
    side = None
    if beside["head"] and beside["tail"]:
        side = apart(beside["tail"], beside["head"])
    found = Heights(
        _shown(head, "over a bar, half turn"),
        _shown(tail, "over a bar, half turn"),
        _shown(high, "tail less head"),
        _shown(side, "same line from both sides"),
        (*_height_words(bench.job, high), *_side_words(bench.job, side)),
    )
    return found, tuple(doubts), tuple(missing)


def _shown(placed: Placed | None, method: str) -> Estimate | None:
    return None if placed is None else about(placed.value, placed.u, method)


def _height(bench: Bench, end: str, doubts: list[Doubt]) -> Placed | None:
    rows = [r for r in bench.of("over_bar", end) if r.value is not None]
    if not rows:
        return None
    start, turned = turned_apart(rows)
    if not (start and turned):
        doubts.append(_alone(rows, f"Height over the bar in the {end}"))
        return None
    diameters = [d for r in (*start, *turned) if (d := r.number("bar_diameter"))]
    return height_over_bar(
        at_start=_values(start),
        turned=_values(turned),
        diameter=float(np.mean(diameters)),
        reading_u=_u(rows),
        diameter_u=BAR_U,
        tip=next((t for r in rows if (t := r.number("tip"))), 0.0),
    )


def _side(bench: Bench, end: str, doubts: list[Doubt]) -> Placed | None:
    rows = [r for r in bench.of("beside_bar", end) if r.value is not None]
    if not rows:
        return None
    front, back = (
        [r for r in rows if r.said("side") == side] for side in ("machine minus", "machine plus")
    )
    if not (front and back):
        doubts.append(_alone(rows, f"Place beside the bar in the {end}"))
        return None
    return side_by_same_line(front=_values(front), back=_values(back), reading_u=_u(rows))


def _values(rows: Sequence[Reading]) -> list[float]:
    return [r.value or 0.0 for r in rows]


def _u(rows: Sequence[Reading]) -> float:
    return math.sqrt(float(np.mean([noise(r) ** 2 for r in rows])))


def _alone(rows: Sequence[Reading], what: str) -> Doubt:
    return Doubt(
        "refuse",
        "MT-1",
        f"{what}: read one way only.",
        "A bar that stands off or is bent moves the reading by as much.",
        "Turn the bar half round, read it again and enter it.",
        tuple(r.seq for r in rows),
    )


def _height_words(job: Job, high: Placed | None) -> tuple[str, ...]:
    if high is None:
        return ()
    limit = tail_limit(job)
    if abs(high.value) <= limit:
        kept = "" if abs(high.value) + 1.645 * high.u <= limit else " as far as the readings show"
        return (f"Head and tail agree within {length(limit, job.units)}{kept}: leave them.",)
    plan = tail_plan(too_high=high.value)
    if plan.shim > 0:
        pieces = _pieces(job, plan.shim)
        return (f"Tail too low: shim {length(plan.shim, job.units)} under it{pieces}.",)
    pieces = _pieces(job, plan.head_shim)
    return (
        f"Tail too high: grind {length(plan.grind, job.units)} off its foot, or put a shim plate "
        f"of as much under the head{pieces}.",
    )


def _pieces(job: Job, thickness: float) -> str:
    stack = nearest_pieces(job, thickness, tolerance=0.005)
    if stack is None:
        return ""
    pieces = " + ".join(length(p.thickness, job.units) for p in stack.pieces)
    near = "" if stack.hits else ", the nearest there is"
    return f", from stock {pieces}{near}"


def _side_words(job: Job, side: Placed | None) -> tuple[str, ...]:
    if side is None:
        return ()
    if abs(side.value) <= tail_limit(job):
        return (f"Tail in line sideways within {length(tail_limit(job), job.units)}.",)
    way = "machine minus" if side.value > 0 else "machine plus"
    return (f"Set the tail over by {length(abs(side.value), job.units)} to {way}.",)
