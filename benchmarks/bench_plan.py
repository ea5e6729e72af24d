"""A million draws of one plan against the normal draws it uses, on one thread."""

from __future__ import annotations

import math
import tracemalloc
from collections.abc import Iterator

import numpy as np

from benchmarks.figure import Figure, ratio
from wormwright.core.monte_carlo import monte_carlo
from wormwright.job.findings import UNKNOWNS, Posterior
from wormwright.job.pair import WormPair
from wormwright.stages.correct.predict import (
    NORMALS,
    OUTPUTS,
    Change,
    DepthSet,
    Left,
    PlanModel,
    Yardstick,
    outcome_of_plan,
)
from wormwright.stages.correct.unit import bedding_loss, closing_that_gives, unit_rows

DRAWS = 1_000_000
ROWS = 4096
MEANS = {
    "mesh": 0.14,
    "end_play": 0.03,
    "worm_float": 0.02,
    "table_radial": 0.008,
    "table_axial": 0.01,
    "wheel_joint": 0.002,
    "drive": 0.002,
    "table_share": 0.9,
    "worm_share": 0.55,
}


def whole_plan() -> tuple[PlanModel, Yardstick]:
    """The largest plan there is: every play replaced and the mesh set anew, all wheel kinds."""
    pair = WormPair(
        teeth=80,
        starts=1,
        hand="right",
        axial_module=1.25,
        pressure_angle=math.radians(20),
        pressure_angle_u=0.005,
        worm_d1=22.0,
        face_width=12.0,
        kinds=(("hob-equal", 0.5), ("oversize-hob", 0.4), ("helical", 0.1)),
        hob_excess_max=0.55,
    )
    stream = np.random.default_rng(1)
    draws = np.column_stack(
        [abs(stream.normal(MEANS.get(n, 0.01), 0.1 * MEANS.get(n, 0.01), ROWS)) for n in UNKNOWNS]
    )
    unit = unit_rows(pair, Posterior(draws, 1), centre_distance=61.0)
    closing = closing_that_gives(unit, 0.015)
    zero = np.zeros(unit.count)
    depth = DepthSet(
        target=0.015,
        u_set=0.002,
        u_lock=0.002,
        u_phase=0.5,
        u_pitch=0.002,
        short=zero,
        bedding=bedding_loss(unit, closing, zero + 0.03),
        hidden=zero,
        closing=closing,
    )
    plays = {
        "end_play": Left(0.0, 0.002),
        "worm_float": Left(0.003, 0.001),
        "table_axial": Left(0.0025, 0.0015),
        "table_radial": Left(0.001, 0.001),
        "wheel_joint": Left(0.0, 0.0005),
        "drive": Left(0.0, 0.001),
    }
    by = Yardstick(
        allowed=1.2e-3,
        counts=frozenset(MEANS),
        apart=None,
        warm_closes=-0.002,
        warm_opens=0.004,
        warm_u=0.001,
        tip=0.3,
        tip_u=0.01,
    )
    return PlanModel(unit, Change(plays, depth), by), by


def figures() -> Iterator[Figure]:
    model, by = whole_plan()
    stream, buffer = np.random.default_rng(1), np.empty((NORMALS, DRAWS))

    def plan() -> object:
        return outcome_of_plan(model.unit, model.change, by, draws=DRAWS, seed=1)

    yield ratio(
        "a plan, intervals and probabilities, one thread",
        product=plan,
        floor=lambda: stream.standard_normal(out=buffer),
        limit=2.5,
    )

    def draws(threads: int, chunk: int) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
        return monte_carlo(
            model,
            draws=DRAWS,
            normals=NORMALS,
            outputs=OUTPUTS,
            seed=1,
            threads=threads,
            chunk=chunk,
        )

    different = int(np.count_nonzero(draws(1, 131_072) != draws(2, 20_000)))
    yield Figure("draws that change with threads and chunk", different, 0, "", "bit by bit")
    tracemalloc.start()
    plan()
    peak = tracemalloc.get_traced_memory()[1] / 1e6
    tracemalloc.stop()
    yield Figure("peak memory of a plan of a million draws", peak, 200, "MB", "over the imports")
