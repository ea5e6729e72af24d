"""The positioning test: readings put in their places, and the figures of the standard."""

from __future__ import annotations

import math

import numpy as np

from wormwright.bench import Bench, noise
from wormwright.core.positioning import Positioning, positioning
from wormwright.core.positioning_interval import figure_intervals
from wormwright.job.findings import Figured
from wormwright.job.proof_position import PositionTest
from wormwright.job.result import Doubt, Estimate
from wormwright.stages.prove.places import Places, places_of

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
    rows = [r for r in bench.of("position_error") if r.value is not None]
    if not rows:
        return None, ()
    places, doubts = places_of(rows)
    if places is None:
        return None, doubts
    return _tested(bench, places), doubts


def _tested(bench: Bench, places: Places) -> PositionTest:
    test = positioning(places.forward, places.backward)
    u = math.sqrt(float(np.mean([noise(r) ** 2 for r in places.rows])))
    return PositionTest(
        targets=places.targets,
        forward=places.forward,
        backward=places.backward,
        spread=test,
        figures=_figures(test, u, bench.job.seed),
        means=tuple(dict.fromkeys(m for r in places.rows if (m := r.said("means")))),
        rows=tuple(sorted(r.seq for r in places.rows)),
    )


def _figures(test: Positioning, u_target: float, seed: int) -> tuple[Figured, ...]:
    around = figure_intervals(test, u_target=u_target, seed=seed)
    return tuple(
        Figured(key, label, Estimate(getattr(test, key), *around[key], "angle", METHOD))
        for key, label in LABELS.items()
    )
