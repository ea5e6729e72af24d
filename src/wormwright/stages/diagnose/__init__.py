"""Diagnose: where do lost motion, runout and drag come from?"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from wormwright.bench import Bench, pair_doubts, pair_in_hand
from wormwright.job.findings import Diagnosis, RockPoint
from wormwright.job.pair import WormPair
from wormwright.job.reading import Reading
from wormwright.job.result import Doubt, StageRefusal
from wormwright.job.rotary import Job
from wormwright.stages.diagnose.causes import (
    DIRECT_KIND,
    contributors_of,
    drag_of,
    inseparable_of,
    next_reading_of,
    unexplained_of,
)
from wormwright.stages.diagnose.fit import SURE_OF_MISFIT, Fit, fit_rows
from wormwright.stages.diagnose.ranges import LABELS, usual_ranges
from wormwright.stages.diagnose.report import report
from wormwright.stages.diagnose.rows import PITCH_NOISE, Row, Rows, rows_of, worm_share_of
from wormwright.stages.diagnose.turn import (
    distinct_positions,
    estimate_of,
    lost_motion_of,
    map_round_the_turn,
    tight_and_loose,
    tight_spot_of,
    vector_of,
)

__all__ = ["diagnose", "report"]

FEWEST_ROWS = 1


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
    if not any(row.kind.startswith("rock") for row in made.rows):
        raise StageRefusal("diagnose", (_NO_ROCK,))
    ranges = usual_ranges(pair, job.rotary)
    fit = fit_rows(made.rows, ranges, pair, worm_share=worm_share_of(bench, pair), seed=job.seed)
    return _found(job, bench, pair, made, fit)


_NO_ROCK = Doubt(
    "refuse",
    "D-2",
    "No rock reading can be used.",
    "The rock is the only reading that sees the lost motion itself.",
    "Rock the table against the held worm on a pin at a measured radius, at one position or more.",
)


def _found(job: Job, bench: Bench, pair: WormPair, made: Rows, fit: Fit) -> Diagnosis:
    rows, posterior = made.rows, fit.posterior
    ranges = usual_ranges(pair, job.rotary)
    positions = distinct_positions(rows)
    angles = np.radians(np.arange(0.0, 360.0, 5.0))
    mean, low, high = map_round_the_turn(posterior, pair, angles)
    tight, loose = tight_and_loose(posterior, pair)
    several = len(positions) >= 3
    wheel, wheel_angle = vector_of(posterior, ("wheel_x", "wheel_y"), "rock round the turn")
    turned = {round(math.degrees(r.worm_angle)) for r in rows if r.worm_angle is not None}
    worm, worm_angle = vector_of(posterior, ("worm_x", "worm_y"), "rock at worm angles")
    method = "sum of contributors, worm driven from the motor"
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
        wheel_runout=wheel if several else None,
        wheel_runout_angle=wheel_angle if several else None,
        worm_runout=worm if len(turned) >= 3 else None,
        worm_runout_angle=worm_angle if len(turned) >= 3 else None,
        inseparable=inseparable_of(fit, ranges),
        points=_points(rows, fit, pair),
        map_angles=angles,
        map_mean=mean,
        map_low=low,
        map_high=high,
        posterior=posterior,
        next_reading=next_reading_of(fit, rows, pair),
        drag=drag_of(bench),
        not_measured=_not_measured(rows, several, len(turned) >= 3, bench),
        doubts=(*pair.doubts, *made.doubts, *_doubts(fit, made)),
    )


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
        if row.kind.startswith("rock") and row.table_angle is not None
    )


def _not_measured(rows: list[Row], wheel: bool, worm: bool, bench: Bench) -> tuple[str, ...]:
    read = {row.kind for row in rows}
    missing = [LABELS[k] for k, kind in DIRECT_KIND.items() if k != "mesh" and kind not in read]
    if not wheel:
        missing.append("wheel runout (rock at three table positions or more)")
    if not worm:
        missing.append("worm runout (rock at three worm angles or more at one table place)")
    if not bench.of("drag_in_mesh"):
        missing.append("drag")
    return tuple(missing)


def _doubts(fit: Fit, made: Rows) -> list[Doubt]:
    out = []
    if fit.p < SURE_OF_MISFIT or fit.outside:
        beyond = ", ".join(LABELS.get(n, n.replace("_", " ")) for n in fit.outside)
        seen = (
            f"The readings do not fit plays inside the usual ranges "
            f"(chi-square {fit.chi_square:.1f} on {fit.degrees_of_freedom} degrees of freedom)."
        )
        out.append(
            Doubt(
                "warn",
                "D-1",
                seen + (f" Beyond its range: {beyond}." if beyond else ""),
                "A cause that is not on the sheet, a slip in a reading, or an unusual unit.",
                "Repeat the readings with the largest residuals, then look for a part that moves "
                "and was not read (worm carrier, bushing in the housing, wheel on its hub).",
                _suspects(fit, made.rows),
            )
        )
    if made.span_assumed:
        out.append(
            Doubt(
                "warn",
                "D-3",
                "The span between the worm bearings was not read; 2.5 worm diameters taken.",
                "The span decides how far worm float turns into lost motion.",
                "Measure the span between the bearing centres.",
            )
        )
    return out


def _suspects(fit: Fit, rows: list[Row]) -> tuple[int, ...]:
    off = [
        (abs(row.value - float(fit.predicted_in_range[i])) / row.u, row.seqs[0])
        for i, row in enumerate(rows)
    ]
    return tuple(seq for size, seq in sorted(off, reverse=True)[:3] if size > 2)
