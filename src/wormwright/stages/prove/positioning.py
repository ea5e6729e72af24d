"""The positioning test: readings put in their places, and the figures of the standard."""

from __future__ import annotations

import math

import numpy as np

from wormwright.bench import Bench, noise, pair_in_hand
from wormwright.core.positioning import Positioning, positioning
from wormwright.core.positioning_interval import figure_intervals
from wormwright.job.findings import Figured
from wormwright.job.proof_position import PositionTest
from wormwright.job.result import Doubt, Estimate
from wormwright.job.sheet_proof import READ_AT_TARGETS
from wormwright.stages.prove.deviations import Deviation, deviations_of
from wormwright.stages.prove.places import Places, places_of
from wormwright.stages.prove.traps_position import (
    drifted,
    reversal_sign,
    slipped,
    sparse,
    swapped,
    unnamed,
)

LABELS = {
    "reversal": "B, reversal, largest",
    "reversal_mean": "B, reversal, mean",
    "repeatability": "R, repeatability, both ways",
    "repeatability_up": "R, forward",
    "repeatability_down": "R, backward",
    "systematic": "E, systematic error, both ways",
    "systematic_up": "E, forward",
    "systematic_down": "E, backward",
    "mean_bidirectional": "M, mean of both ways, range",
    "accuracy": "A, accuracy, both ways",
    "accuracy_up": "A, forward",
    "accuracy_down": "A, backward",
}
"""Name of a figure in `Positioning` -> its letter and words."""
METHOD = "positioning test, figures of ISO 230-2"


def positioning_of(bench: Bench) -> tuple[PositionTest | None, tuple[Doubt, ...]]:
    """The positioning test, or None with what stands in its way."""
    rows, doubts = deviations_of(bench, READ_AT_TARGETS)
    if not rows:
        return None, doubts
    mixed = swapped(rows)
    rows = _without(rows, mixed)
    asked = slipped(rows)
    places, holes = places_of(_without(rows, asked))
    doubts = (*doubts, *asked, *mixed, *holes)
    if places is None:
        return None, doubts
    test = _tested(bench, places)
    found = (*doubts, *_about(bench, test, places))
    return (None if any(d.action == "refuse" for d in found) else test), found


def _without(rows: tuple[Deviation, ...], doubts: tuple[Doubt, ...]) -> tuple[Deviation, ...]:
    out = {seq for d in doubts for seq in d.rows}
    return tuple(r for r in rows if r.reading.seq not in out)


def _about(bench: Bench, test: PositionTest, places: Places) -> tuple[Doubt, ...]:
    """What is doubtful about a test that has its figures."""
    pair = pair_in_hand(bench)
    mean = test.of("reversal_mean")
    effect = max(test.spread.systematic, test.spread.reversal)
    drift, rows = test.drift, tuple(r.seq for r in bench.of("position_drift"))
    return (
        *(() if drift is None else drifted(drift.value, drift.u, effect, rows)),
        *reversal_sign(mean.value, mean.u, test.rows),
        *sparse([float(t) for t in test.targets], test.runs, None if pair is None else pair.ratio),
        *unnamed(places.rows),
    )


def _tested(bench: Bench, places: Places) -> PositionTest:
    test = positioning(places.forward, places.backward)
    u_reading = math.sqrt(float(np.mean([noise(r.reading) ** 2 for r in places.rows])))
    drift = _drift(bench)
    u = math.hypot(u_reading, 0.0 if drift is None else drift.value / math.sqrt(12))
    named = (m for r in places.rows if (m := r.reading.said("means")))
    return PositionTest(
        targets=places.targets,
        forward=places.forward,
        backward=places.backward,
        spread=test,
        figures=_figures(test, u, bench.job.seed),
        means=tuple(dict.fromkeys(named)),
        u_reading=u_reading,
        drift=drift,
        rows=tuple(sorted(r.reading.seq for r in places.rows)),
    )


def _drift(bench: Bench) -> Estimate | None:
    """How far the first position wandered: the range of its readings, wrapped angles brought in."""
    rows = [r for r in bench.of("position_drift") if r.value is not None]
    if len(rows) < 2:
        return None
    first = rows[0].value or 0.0
    moved = [math.remainder((r.value or 0.0) - first, 2 * math.pi) for r in rows]
    size = max(moved) - min(moved)
    u = math.sqrt(2 * sum(noise(r) ** 2 for r in rows) / len(rows))
    return Estimate(size, u, max(0.0, size - 2 * u), size + 2 * u, "angle", "first position again")


def _figures(test: Positioning, u_target: float, seed: int) -> tuple[Figured, ...]:
    around = figure_intervals(test, u_target=u_target, seed=seed)
    return tuple(
        Figured(key, label, Estimate(getattr(test, key), *around[key], "angle", METHOD))
        for key, label in LABELS.items()
    )
