"""The wheel made to run true on its seat: what it leaves, and when it pays."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from wormwright.bench import Bench
from wormwright.core.index_error import spacing_error_of_eccentric_wheel
from wormwright.job.corrections import Correction
from wormwright.job.result import Estimate
from wormwright.stages.correct.cure import Cure
from wormwright.stages.correct.facts import Facts
from wormwright.stages.correct.joint import TIGHT
from wormwright.stages.correct.predict import Left
from wormwright.stages.correct.seat_part import wheel_seat_part
from wormwright.stages.correct.unit import GOLDEN, Array, UnitRows
from wormwright.stages.correct.wording import length, turn

TRUED = 0.020
"""Runout (TIR) over a pin in the tooth spaces that truing keeps under in 95 % of cases, mm."""

WORTH_TRUING = 1.5
"""A wheel is trued when it runs out by this many times what truing leaves."""

DIVISIONS = 96
"""Divisions for which the spacing error of an eccentric wheel is told."""


def wheel_truing(facts: Facts, bench: Bench) -> Cure | None:
    """The wheel trued on its seat; None when its runout is not known or already small."""
    runout = facts.diagnosis.wheel_runout
    if runout is None or runout.low < WORTH_TRUING * TRUED:
        return None
    left = Estimate(0.6 * TRUED, TRUED / 4, 0.1 * TRUED, TRUED, "length", "common practice")
    part, doubts = wheel_seat_part(facts, bench, found=runout.value, left=TRUED)
    correction = Correction(
        "wheel_truing",
        "Wheel trued on its seat",
        "Runout of the wheel opens and closes the mesh once per turn of the table: what is set at "
        "the tight spot is looser everywhere else by up to twice the swing.",
        (("wheel runout now (TIR)", runout), ("wheel runout left (TIR)", left)),
        (part,) if part else (),
        _steps(facts, runout),
        ("wheel_seat", "wheel_joint"),
        180.0,
        doubts,
    )
    return Cure(correction, {"wheel_joint": Left(0.0, TIGHT)}, trues=TRUED)


def _steps(facts: Facts, runout: Estimate) -> tuple[str, ...]:
    units, at = facts.job.units, facts.diagnosis.wheel_runout_angle
    where = f", high at table {turn(at.value)}" if at else ""
    return (
        f"Indicate over a pin in the tooth spaces at 12 places, never on the turned rim: "
        f"{length(runout.value, units)} TIR was worked out from the rock{where}.",
        "First try: screws loose, pins out, tap the wheel over by half the swing, away from the "
        "high side, inside the clearance of its register; tighten, indicate again.",
        "No clearance there: four-jaw by the same pin, bore the wheel true to its own teeth, "
        "shrink or bond a sleeve in, and finish its bore to the seat in that same hold.",
        f"Wanted: {length(TRUED, units)} TIR or less, face of the wheel within "
        f"{length(TRUED, units)} as well. Then screws in a star, and new pins.",
        "The tight spot is at another angle now: map the rock anew before any depth is set.",
    )


def trued(unit: UnitRows, runout: float) -> UnitRows:
    """The unit with its wheel running out by at most `runout` TIR in 95 % of the rows.

    The eccentricity left is a vector of two like errors, so its length is spread as a Rayleigh
    length, evenly over the rows.
    """
    place = ((np.arange(unit.count) + 0.5) * GOLDEN * GOLDEN) % 1.0
    scale = runout / 2 / math.sqrt(-2 * math.log(0.05))
    left: Array = scale * np.sqrt(-2 * np.log(1 - place))
    worm = unit.worm_swing / (2 * unit.pair.t)
    return replace(unit, wheel_swing=2 * unit.pair.t * left, runout=left + worm)


def spacing_line(facts: Facts) -> str | None:
    """What the wheel's runout does to divided work, for indexed duties."""
    runout, duty = facts.diagnosis.wheel_runout, facts.job.duty
    if runout is None or duty.work != "indexed":
        return None
    error = spacing_error_of_eccentric_wheel(
        eccentricity=runout.value / 2,
        pitch_radius=facts.pair.r2,
        divisions=DIVISIONS,
        radius=duty.radius_mm,
    )
    units = facts.job.units
    return (
        f"Spacing: the wheel's runout puts ± {length(error.cumulative, units)} of slow error "
        f"round the turn into work of {length(duty.radius_mm, units, to=0.1)} radius, and no more "
        f"than {length(error.neighbour, units, to=0.0001)} between neighbours of {DIVISIONS}. "
        "Only truing the wheel lessens it."
    )
