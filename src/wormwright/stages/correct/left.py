"""What a plan leaves of each cause of lost motion, on the average round the turn."""

from __future__ import annotations

import numpy as np

from wormwright.core.monte_carlo import BLOCK, monte_carlo
from wormwright.job.findings import PLAYS
from wormwright.job.result import Estimate
from wormwright.stages.correct.predict import (
    NORMALS,
    Change,
    PlanModel,
    Yardstick,
    estimate_of_draws,
    rolled,
)
from wormwright.stages.correct.unit import Array, UnitRows

DRAWS = 2 * BLOCK
"""Enough for two figures: the doubt of a mean is then under a hundredth of its spread."""


class CauseModel:
    """The model of one plan, told apart by cause instead of added up."""

    def __init__(self, plan: PlanModel) -> None:
        self.plan = plan
        self.kept = {
            name: rolled(rows)
            for name, rows in plan.unit.parts.items()
            if name not in plan.change.plays
        }

    def __call__(self, start: int, z: Array) -> Array:
        """Motion at r2 that each of PLAYS leaves, mm, for one block of draws."""
        plan, rows = self.plan, self.plan.rows(start, z)
        out: Array = np.empty((len(PLAYS), z.shape[1]))
        for cause, left in zip(PLAYS, out, strict=True):
            if cause == "mesh":
                mesh, _ = plan.mesh_set(rows, z, out[:1].copy())
                left[:] = np.maximum(mesh, 0.0) + plan.swing[rows] + plan.bedding[rows]
            elif cause in self.kept:
                left[:] = self.kept[cause][rows]
            else:
                left[:] = plan.play_left(cause, rows, z)
        return out


def parts_left(
    unit: UnitRows, change: Change, yardstick: Yardstick, *, seed: int
) -> dict[str, Estimate]:
    """What is left of each of PLAYS after the change, rad at the table."""
    out = monte_carlo(
        CauseModel(PlanModel(unit, change, yardstick)),
        draws=DRAWS,
        normals=NORMALS,
        outputs=len(PLAYS),
        seed=seed,
    )
    out /= unit.pair.r2
    return {c: estimate_of_draws(draws, "angle") for c, draws in zip(PLAYS, out, strict=True)}
