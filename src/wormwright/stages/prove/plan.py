"""Plan of a positioning test: targets not blind to the worm, the order of moves, the time."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from wormwright.bench import Bench, pair_doubts, pair_in_hand
from wormwright.core.harmonics import share_seen
from wormwright.core.worm_phase import phase_blindness, planned_targets
from wormwright.job.proof_plan import Move, PlannedTest, PlanSettings
from wormwright.job.reading import Reading
from wormwright.job.result import StageRefusal
from wormwright.job.rotary import Job
from wormwright.stages.prove.programme import form_of, programme_of

Array = NDArray[np.float64]

PRINCIPAL = (0.0, 90.0, 180.0, 270.0)
"""Angles that belong to every test of a turn, degrees."""
SHUFFLES = 20
SWEEP_TURNS = 2
SWEEP_PLACES = 12
"""The fine sweep: so many turns of the worm, so many places in each."""
OVERRUN_TURNS = 0.5
"""How far beyond the last target the table goes before it comes back, turns of the worm."""
READ_SECONDS = 15.0
"""To read and write one figure."""


def plan_test(job: Job, readings: Sequence[Reading], settings: PlanSettings) -> PlannedTest:
    """A test of the whole turn for this unit.

    Raises:
        StageRefusal: the ratio is not known, so that targets cannot be set apart from it.
        ValueError: more targets than the turn has room for.
    """
    bench = Bench(job, tuple(readings))
    pair = pair_in_hand(bench)
    if pair is None:
        raise StageRefusal("prove", pair_doubts(bench))
    ratio = pair.ratio
    targets = _targets(ratio, settings.targets, job.seed)
    sweep = _sweep(ratio) if settings.sweep else np.zeros(0)
    overrun = math.radians(round(OVERRUN_TURNS * 360 / ratio, 2))
    moves = _moves(targets, sweep, overrun, settings.runs)
    even = np.arange(settings.targets) * 2 * math.pi / settings.targets
    plan = PlannedTest(
        settings=settings,
        ratio=ratio,
        targets=targets,
        sweep=sweep,
        overrun=overrun,
        moves=moves,
        blindness=(
            phase_blindness(targets, ratio=ratio),
            phase_blindness(targets, ratio=ratio, order=2),
        ),
        even_blindness=phase_blindness(even, ratio=ratio),
        minutes=_minutes(moves, settings),
        programme="",
        form=form_of(moves),
    )
    return replace(plan, programme=programme_of(plan, job))


def _targets(ratio: float, count: int, seed: int) -> Array:
    """Spread targets and the principal angles, to 0.01 degrees, rising.

    Among some shuffles the one at which wheel and worm are told apart best.
    """
    tried = []
    for shuffle in range(SHUFFLES):
        parted = planned_targets(ratio=ratio, count=count, seed=SHUFFLES * seed + shuffle)
        spread = np.round(np.degrees(parted), 2)
        tried.append(np.radians(np.unique(np.concatenate([spread, PRINCIPAL]))))
    return max(tried, key=lambda targets: share_seen(targets, 1.0, ratio))


def _sweep(ratio: float) -> Array:
    """Places within two turns of the worm, no two at the same phase, to 0.001 degrees."""
    count = SWEEP_TURNS * SWEEP_PLACES
    period = 360.0 / ratio
    result: Array = np.radians(np.round(np.arange(count) * SWEEP_TURNS * period / count, 3))
    return result


def _moves(targets: Array, sweep: Array, overrun: float, runs: int) -> tuple[Move, ...]:
    """Up through the targets and down again, the first one again between the runs."""
    moves = _again(targets, overrun)
    for run in range(1, runs + 1):
        moves += _there_and_back(targets, overrun, "read", run)
        moves += _again(targets, overrun)
    if len(sweep):
        moves += _there_and_back(sweep, overrun, "fine", 1)
    return tuple(moves)


def _again(targets: Array, overrun: float) -> list[Move]:
    first = float(targets[0])
    return [Move(first - overrun, "go"), Move(first, "again", "forward")]


def _there_and_back(places: Array, overrun: float, purpose: str, run: int) -> list[Move]:
    up, down = (
        [Move(float(a), "fine" if purpose == "fine" else "read", way, run) for a in angles]
        for way, angles in (("forward", places), ("backward", places[::-1]))
    )
    below, beyond = float(places[0]) - overrun, float(places[-1]) + overrun
    return [Move(below, "go"), *up, Move(beyond, "go"), *down, Move(below, "go")]


def _minutes(moves: Sequence[Move], settings: PlanSettings) -> float:
    angles = np.degrees([move.angle for move in moves])
    driving = float(np.abs(np.diff(angles)).sum()) / settings.feed
    readings = sum(move.purpose != "go" for move in moves)
    reading = READ_SECONDS if settings.pause == "stop" else 0.0
    return driving + readings * (settings.dwell + reading) / 60
