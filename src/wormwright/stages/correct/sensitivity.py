"""Which doubt matters most: one error at a time taken away, all else drawn as before."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from wormwright.core.monte_carlo import BLOCK, monte_carlo
from wormwright.job.corrections import ErrorShare
from wormwright.stages.correct.choice import Choice
from wormwright.stages.correct.judge import Judge
from wormwright.stages.correct.predict import (
    DUTY,
    NORMALS,
    OUTPUTS,
    Change,
    PlanModel,
    Yardstick,
    normals_of,
)
from wormwright.stages.correct.unit import Array, UnitRows

DRAWS = 4 * BLOCK
"""Enough for a share to whole per cents: the draws are common, so only differences vary."""

LEAST_SHARE = 0.01
"""Doubts below this share of the variance are not named."""

ERRORS = {
    "setting": "reading the rock while the depth is set",
    "locking": "what moves when the bushings are locked",
    "worm angle": "the worm's own tightest angle not met",
    "pitch": "pitch error of the wheel at the tight spot",
    "warm": "how the materials grow when warm",
    "end_play": "worm shim: thickness and end play as read",
    "worm_float": "fit of the worm in its new bearings",
    "table_axial": "table shim: thickness and play as read",
    "table_radial": "what the table bearing keeps of radial play",
    "wheel_joint": "how tight the wheel joint gets",
    "drive": "how tight the coupling gets",
}
"""Errors of making and setting by key, in the words of the bench."""

UNKNOWNS = {
    "hidden": "plays that hide in the rock while the depth is set",
    "bedding": "how far the edges of the wheel bed in",
    "swing": "runout of wheel and worm, not known better",
    "plays": "plays that stay, not known better",
    "mesh": "backlash as found, not known better",
}
"""Doubts about the unit itself by key."""


class _Quiet:
    """A plan with one of its errors taken away; the others keep their draws."""

    def __init__(self, model: PlanModel, normal: int) -> None:
        self.model, self.normal = model, normal

    def __call__(self, start: int, z: Array) -> Array:
        z[self.normal] = 0.0
        return self.model(start, z)


def error_shares(judge: Judge, choice: Choice) -> tuple[ErrorShare, ...]:
    """Share of the variance of what the duty feels that goes with each doubt, largest first.

    Method: common random numbers, one error at a time off: 1 - Var(without)/Var(all). Shares of
    doubts that do not add up (edges, floors at zero) need not sum to one.
    """
    unit, change, by = judge.parts(choice)
    seed = judge.facts.job.seed
    model = PlanModel(unit, change, by)
    every = _variance(model, seed)
    if every <= 0:
        return ()
    shares = [
        ErrorShare(key, ERRORS[key], 1 - _variance(_Quiet(model, normal), seed) / every)
        for key, normal in normals_of(change).items()
    ]
    shares += [
        ErrorShare(key, UNKNOWNS[key], 1 - _variance(PlanModel(*steady), seed) / every)
        for key, steady in _steadied(unit, change, by).items()
    ]
    kept = (s for s in shares if s.share >= LEAST_SHARE)
    return tuple(sorted(kept, key=lambda s: -s.share))


def _variance(model: PlanModel | _Quiet, seed: int) -> float:
    out = monte_carlo(model, draws=DRAWS, normals=NORMALS, outputs=OUTPUTS, seed=seed)
    return float(out[DUTY].var())


def _steadied(
    unit: UnitRows, change: Change, by: Yardstick
) -> dict[str, tuple[UnitRows, Change, Yardstick]]:
    """The plan with one doubt about the unit at its mean in every row."""
    depth = change.depth
    swing = replace(unit, wheel_swing=_flat(unit.wheel_swing), worm_swing=_flat(unit.worm_swing))
    parts = {name: _flat(rows) for name, rows in unit.parts.items()}
    found = {"swing": (swing, change, by), "plays": (replace(unit, parts=parts), change, by)}
    if depth is None:
        found["mesh"] = (replace(unit, mesh=_flat(unit.mesh)), change, by)
        return found
    steadied = {
        "hidden": replace(depth, hidden=_flat(depth.hidden)),
        "bedding": replace(depth, bedding=_flat(depth.bedding)),
    }
    return found | {k: (unit, replace(change, depth=d), by) for k, d in steadied.items()}


def _flat(rows: Array) -> Array:
    return np.full(len(rows), float(rows.mean()))
