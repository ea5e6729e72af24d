"""What a trial pair of eccentric bushings told: depth, throat centre, and the final pair."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from wormwright.bench import Bench
from wormwright.core.eccentric import closing_and_sideways
from wormwright.job.result import Doubt, Estimate
from wormwright.stages.correct.unit import (
    Array,
    UnitRows,
    opening_that_gives,
    root_of,
)

DRAG_FELT = 0.002
"""Backlash either way at which the mesh is felt to drag, one standard deviation, mm at r2."""

PLUS, MINUS = "plus", "minus"
GOLDEN_STEPS = (math.sqrt(2), math.sqrt(3), math.sqrt(5), math.sqrt(7))


@dataclass(frozen=True, slots=True)
class Trial:
    """The trial pair as read: its throw [mm] and the two angles of first drag with doubts [rad]."""

    throw: float
    plus: float
    minus: float
    plus_u: float
    minus_u: float


@dataclass(frozen=True, slots=True)
class Found:
    """What it told, one value a row, mm: the closing for the wanted backlash, the throat centre."""

    closing: Array
    centre: Array

    @property
    def sideways(self) -> Estimate:
        """The throat centre as an estimate."""
        low, high = (float(x) for x in np.quantile(self.centre, [0.025, 0.975]))
        middle, u = float(self.centre.mean()), float(self.centre.std())
        return Estimate(middle, u, low, high, "length", "trial pair")


def trial_read(bench: Bench) -> tuple[Trial | None, tuple[Doubt, ...]]:
    """The trial pair's two angles, or what is missing of them."""
    plus, minus = bench.figure("trial_angle", PLUS), bench.figure("trial_angle", MINUS)
    if plus is None and minus is None:
        return None, ()
    throws = [t for r in bench.of("trial_angle") if (t := r.number("throw"))]
    if plus is None or minus is None or not throws:
        return None, (_half_a_trial(),)
    if max(throws) - min(throws) > DRAG_FELT:
        return None, (_two_throws(),)
    return Trial(throws[-1], plus.value, -minus.value, plus.u, minus.u), ()


def _half_a_trial() -> Doubt:
    return Doubt(
        "ask",
        "trial pair",
        "The trial pair has been read from one side only.",
        "Depth and throat centre come from the two angles together; one alone gives neither.",
        "Turn it to the other side until it just drags and enter that `trial_angle` too.",
    )


def _two_throws() -> Doubt:
    return Doubt(
        "ask",
        "trial pair",
        "The trial angles were read with pairs of different throw.",
        "Both angles must come from one pair.",
        "Supersede the readings of the pair that does not count.",
    )


def found_by_trial(unit: UnitRows, trial: Trial, *, target: float) -> Found:
    """Depth and throat centre in each row, for whatever kind of wheel the row is.

    At both angles the mesh just shuts at the tight spot, so the closed-form mesh, moved to the two
    places, has lost the same backlash: that fixes the throat centre; then the closing that leaves
    the target at the centre follows. A plain helical wheel has no throat: its centre is taken half
    way, and the deeper of its two closings counts for nothing but noise.
    """
    index = np.arange(unit.count, dtype=np.float64)
    e_plus, e_minus, felt_plus, felt_minus = (_normal(index, k) for k in range(4))
    place = {
        "plus": closing_and_sideways(throw=trial.throw, angle=trial.plus + trial.plus_u * e_plus),
        "minus": closing_and_sideways(
            throw=trial.throw, angle=trial.minus + trial.minus_u * e_minus
        ),
    }
    (c_plus, s_plus), (c_minus, s_minus) = (
        (np.asarray(c), np.asarray(s)) for c, s in place.values()
    )

    def lost(closing: Array, off: Array) -> Array:
        return np.asarray(unit.model.backlash_change(da=unit.opened - closing, dz=off))

    def leaning(centre: Array) -> Array:
        more: Array = lost(c_plus, s_plus - centre) - lost(c_minus, s_minus - centre)
        return more + DRAG_FELT * (felt_minus - felt_plus)

    reach = trial.throw
    centre = root_of(leaning, np.zeros(unit.count), reach=reach)
    centre = np.clip(centre, np.minimum(s_minus, s_plus), np.maximum(s_minus, s_plus))
    both = (lost(c_plus, s_plus - centre) + lost(c_minus, s_minus - centre)) / 2
    shut = both + DRAG_FELT * (felt_plus + felt_minus) / 2
    opening = opening_that_gives(unit.model, shut + target, np.zeros(unit.count))
    return Found(unit.opened - opening, centre)


def _normal(index: Array, which: int) -> Array:
    """A standard normal a row, spread evenly, by fixed irrational steps."""
    from scipy.special import ndtri  # noqa: PLC0415  (late: costs start-up)

    place = ((index + 0.5) * GOLDEN_STEPS[which] * (which + 3)) % 1.0
    result: Array = ndtri(np.clip(place, 1e-6, 1 - 1e-6))
    return result
