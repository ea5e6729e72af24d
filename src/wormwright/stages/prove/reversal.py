"""The axis of rotation by reversal: rows put in their places, what is wrong with them, motion."""

from __future__ import annotations

import math
import statistics
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from wormwright.bench import Bench, noise
from wormwright.core.axis_motion import LEAST_PLACES, AxisMotion, axis_motion
from wormwright.core.runout import most_lobes, runout_parts
from wormwright.job.proof_axis import Reversal
from wormwright.job.reading import Reading
from wormwright.job.result import Doubt, Estimate
from wormwright.job.sheet_axis import RUNS

Array = NDArray[np.float64]

METHOD = "reversal"
PLACE = math.radians(0.5)
"""Table angles nearer than this are one place, rad."""
FAR_OFF = 8.0
"""A reading this many u off the other turns at its place is asked about."""

Turns = dict[int, dict[int, Reading]]
"""Turn -> place -> reading."""


def reversal_of(bench: Bench) -> tuple[Reversal | None, tuple[Doubt, ...]]:
    """Motion of the axis from the two runs, or None with what is wrong."""
    rows = [r for r in bench.of("axis_reversal") if r.value is not None]
    if not rows:
        return None, ()
    runs, doubts = _runs(rows)
    for run in RUNS:
        if not runs[run]:
            return None, (*doubts, _one_run(run, rows))
    places = _common(runs)
    if len(places) < LEAST_PLACES:
        return None, (*doubts, _few_places(places, rows))
    doubts += _left_out(runs, places)
    u = math.sqrt(statistics.fmean(noise(r) ** 2 for r in rows))
    doubts += _far_off(runs, places, u)
    any_turn = next(iter(runs[RUNS[0]].values()))
    angles = np.array([(any_turn[p].table_angle or 0.0) % (2 * math.pi) for p in places])
    first, turned = (
        np.array([[turn[p].value for p in places] for turn in runs[run].values()], dtype=float)
        for run in RUNS
    )
    found = axis_motion(angles, first, turned, reading_u=u)
    return _told(found, angles, tuple(sorted(r.seq for r in rows))), doubts


def _runs(rows: Sequence[Reading]) -> tuple[dict[str, Turns], tuple[Doubt, ...]]:
    """Rows by run, turn and place; a full turn read again closes it and is left out."""
    runs: dict[str, Turns] = {run: {} for run in RUNS}
    doubts: list[Doubt] = []
    for r in rows:
        turn = runs[r.said("run") or RUNS[0]].setdefault(round(r.number("turn") or 1), {})
        whole = round(2 * math.pi / PLACE)
        at = round((r.table_angle or 0.0) / PLACE)
        place = at % whole
        if at == whole and 0 in turn:
            doubts += _drift(turn[0], r)
            continue
        if place in turn:
            doubts.append(_twice(turn[place], r))
        turn[place] = r
    return runs, tuple(doubts)


def _drift(first: Reading, last: Reading) -> list[Doubt]:
    by = abs((last.value or 0.0) - (first.value or 0.0))
    if by <= 3 * math.hypot(noise(first), noise(last)):
        return []
    return [
        Doubt(
            "warn",
            "A-1",
            f"The turn did not close (rows {first.seq}, {last.seq}).",
            "Something drifted in it, and that passes for motion of the axis.",
            "Let it settle and read that turn again.",
            (first.seq, last.seq),
        )
    ]


def _twice(a: Reading, b: Reading) -> Doubt:
    return Doubt(
        "ask",
        "A-2",
        f"{math.degrees(b.table_angle or 0.0):.6g}° stands twice in one turn (rows {a.seq}, "
        f"{b.seq}).",
        "One of them belongs to another turn or place; the later one was taken.",
        f"Write turn=2 with a second turn, or correct one (`--replace {a.seq}`).",
        (a.seq, b.seq),
    )


def _one_run(lacking: str, rows: Sequence[Reading]) -> Doubt:
    there = "first" if lacking == "turned" else "turned"
    return Doubt(
        "refuse",
        "A-3",
        f"The ball was read in the {there} run only.",
        "One run is form of the ball and motion of the axis in one; nothing tells them apart.",
        "Turn the ball half round, put the indicator opposite, and read the same table angles "
        f"with run={lacking}.",
        tuple(r.seq for r in rows),
    )


def _common(runs: dict[str, Turns]) -> list[int]:
    """Places that every turn of both runs has."""
    turns = [set(turn) for run in runs.values() for turn in run.values()]
    return sorted(set.intersection(*turns))


def _few_places(places: list[int], rows: Sequence[Reading]) -> Doubt:
    return Doubt(
        "refuse",
        "A-4",
        f"Only {len(places)} table angles were read in every turn of both runs.",
        f"It takes {LEAST_PLACES} or more, the same in each: mean and offset use up three.",
        "Read the missing ones, or supersede a turn that was broken off.",
        tuple(r.seq for r in rows),
    )


def _left_out(runs: dict[str, Turns], places: list[int]) -> tuple[Doubt, ...]:
    out = [
        r
        for run in runs.values()
        for turn in run.values()
        for place, r in turn.items()
        if place not in places
    ]
    if not out:
        return ()
    angles = sorted({f"{math.degrees(r.table_angle or 0.0):.6g}°" for r in out})
    return (
        Doubt(
            "warn",
            "A-5",
            f"Left out, because not read in every turn: {', '.join(angles)}.",
            "Form and axis are told apart place by place.",
            "Read what is missing.",
            tuple(sorted(r.seq for r in out)),
        ),
    )


def _far_off(runs: dict[str, Turns], places: list[int], u: float) -> tuple[Doubt, ...]:
    """Readings that no other turn at their place bears out; told only from three turns on."""
    doubts = []
    for turns in runs.values():
        if len(turns) < 3:
            continue
        for place in places:
            here = [turn[place] for turn in turns.values()]
            middle = statistics.median(r.value or 0.0 for r in here)
            doubts += [
                Doubt(
                    "ask",
                    "A-6",
                    f"Row {r.seq} stands far off what the other turns read at "
                    f"{math.degrees(r.table_angle or 0.0):.6g}°.",
                    "It passes for motion that does not repeat.",
                    f"Look at sign and unit, or read it again (`--replace {r.seq}`).",
                    (r.seq,),
                )
                for r in here
                if abs((r.value or 0.0) - middle) > FAR_OFF * u
            ]
    return tuple(doubts)


def _told(found: AxisMotion, angles: Array, rows: tuple[int, ...]) -> Reversal:
    proven = found.chance < 0.05
    orders = range(2, min(most_lobes(angles), 5) + 1)
    parts = runout_parts(angles, found.axis, reading_u=found.u, lobes=orders)
    return Reversal(
        angles=angles,
        axis=found.axis,
        part=found.part,
        u=found.u,
        synchronous=_swing(found.synchronous, found.swing_u, proven=proven),
        form=_swing(found.form, found.swing_u, proven=found.form > 3 * found.swing_u),
        asynchronous=found.asynchronous,
        turns=found.turns,
        proven=proven,
        lobes=tuple(lobe.order for lobe in parts.lobes if lobe.stands_out) if proven else (),
        rows=rows,
    )


def _swing(value: float, u: float, *, proven: bool) -> Estimate:
    low = max(0.0, value - 1.96 * u) if proven else 0.0
    return Estimate(value, u, low, value + 1.96 * u, "length", METHOD)
