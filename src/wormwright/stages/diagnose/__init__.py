"""Diagnose: where do lost motion, runout and drag come from?"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from wormwright.bench import PITCH_NOISE, Bench, pair_doubts, pair_in_hand
from wormwright.job.findings import Diagnosis, RockPoint
from wormwright.job.pair import WormPair
from wormwright.job.reading import Reading
from wormwright.job.result import Estimate, StageRefusal
from wormwright.job.rotary import Job
from wormwright.stages.diagnose.causes import contributors_of, unexplained_of
from wormwright.stages.diagnose.direct_runout import weighed_by_runout
from wormwright.stages.diagnose.doubts import NO_ROCK, doubts_of, not_measured
from wormwright.stages.diagnose.fit import Fit, fit_rows
from wormwright.stages.diagnose.judged import parts_judged
from wormwright.stages.diagnose.ranges import WEAR, UsualRange, usual_ranges
from wormwright.stages.diagnose.report import report
from wormwright.stages.diagnose.rows import Row, Rows, rows_of, worm_share_of
from wormwright.stages.diagnose.separation import unseparated_of
from wormwright.stages.diagnose.turn import (
    distinct_positions,
    estimate_of,
    lost_motion_of,
    map_round_the_turn,
    tight_and_loose,
    tight_spot_of,
    vector_of,
    wear_of,
)

__all__ = ["diagnose", "report"]

SEVERAL = 3
"""Positions or worm angles from which a once-per-turn part can be told."""


def diagnose(job: Job, readings: Sequence[Reading]) -> Diagnosis:
    """Take the lost motion apart from the live readings of a job.

    Answers from one rock reading and a known pair upward; what was not read keeps the width of
    its usual range. Raises StageRefusal when the pair is not known or nothing was rocked.
    """
    bench = Bench(job, tuple(readings))
    pair = pair_in_hand(bench)
    if pair is None:
        raise StageRefusal("diagnose", pair_doubts(bench))
    made = rows_of(bench, pair)
    if not any(row.is_rock for row in made.rows):
        raise StageRefusal("diagnose", (NO_ROCK,))
    ranges = usual_ranges(pair, job.rotary, sectors=any(WEAR in r.sees for r in made.rows))
    fit = fit_rows(made.rows, ranges, pair, worm_share=worm_share_of(bench, pair), seed=job.seed)
    fit, disagreeing = weighed_by_runout(fit, bench)
    made.doubts.extend(disagreeing)
    return parts_judged(_found(bench, pair, made, fit, ranges), bench, made, fit)


def _found(
    bench: Bench, pair: WormPair, made: Rows, fit: Fit, ranges: dict[str, UsualRange]
) -> Diagnosis:
    rows, posterior = made.rows, fit.posterior
    positions = distinct_positions(rows)
    angles = np.radians(np.arange(0.0, 360.0, 5.0))
    mean, low, high = map_round_the_turn(posterior, pair, angles)
    wear = wear_of(fit)
    tight, loose = tight_and_loose(posterior, pair, wear=fit.of(WEAR) if wear else 0.0)
    wheel, wheel_angle = _wheel_vector(fit, bench, positions=len(positions))
    worm, worm_angle = _worm_vector(fit, rows, bench)
    method = "sum of contributors, worm driven from the motor"
    unseparated = unseparated_of(fit, rows, ranges, pair)
    return Diagnosis(
        pair=pair,
        contributors=contributors_of(fit, rows, ranges, pair),
        lost_motion_mean=estimate_of(lost_motion_of(posterior, pair, drive=True), "angle", method),
        lost_motion_tight=estimate_of(tight, "angle", method),
        lost_motion_loose=estimate_of(loose, "angle", method),
        unexplained=unexplained_of(fit, rows, pair),
        chi_square=fit.chi_square,
        degrees_of_freedom=fit.degrees_of_freedom,
        chi_square_p=fit.p,
        tight_spot=tight_spot_of(posterior, positions),
        wheel_runout=wheel,
        wheel_runout_angle=wheel_angle,
        worm_runout=worm,
        worm_runout_angle=worm_angle,
        inseparable=tuple(one.words for one in unseparated),
        points=_points(rows, fit, pair),
        map_angles=angles,
        map_mean=mean,
        map_low=low,
        map_high=high,
        posterior=posterior,
        next_reading="",
        drag=(),
        not_measured=not_measured(rows, wheel is not None, worm is not None, bench),
        doubts=(*pair.doubts, *made.doubts, *doubts_of(fit, made)),
        unseparated=unseparated,
        wear=wear,
    )


Vector = tuple[Estimate | None, Estimate | None]


def _wheel_vector(fit: Fit, bench: Bench, *, positions: int) -> Vector:
    """Wheel runout and its angle: from three positions up, or its size from an indicator."""
    size, angle = vector_of(fit.posterior, ("wheel_x", "wheel_y"), "rock round the turn")
    several = positions >= SEVERAL
    return (size if several or bench.of("wheel_runout") else None), (angle if several else None)


def _worm_vector(fit: Fit, rows: list[Row], bench: Bench) -> Vector:
    """Worm runout and its angle: from three worm angles up, or its size from an indicator."""
    size, angle = vector_of(fit.posterior, ("worm_x", "worm_y"), "rock at worm angles")
    turned = {round(math.degrees(r.worm_angle)) for r in rows if r.worm_angle is not None}
    several = len(turned) >= SEVERAL
    return (size if several or bench.of("worm_runout") else None), (angle if several else None)


def _points(rows: list[Row], fit: Fit, pair: WormPair) -> tuple[RockPoint, ...]:
    return tuple(
        RockPoint(
            row.seqs[0],
            row.table_angle,
            row.worm_angle,
            row.value / pair.r2,
            math.hypot(row.u, PITCH_NOISE) / pair.r2,
            (row.value - float(fit.predicted[i])) / pair.r2,
        )
        for i, row in enumerate(rows)
        if row.is_rock and row.table_angle is not None
    )
