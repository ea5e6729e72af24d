"""Plans are carried out on simulated rotaries: they do as often as they say, and seldom bind.

Sheets are read off drawn units and go through diagnosis and correction. Each plan is then carried
out on the unit that was read and on a score of others that its sheet is equally true of.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache

import numpy as np
import pytest

import example_units
from mended_rotary import DEPTHS, Hands, Mended, unit_of_draw, unit_of_truth
from simulated_rotary import Taker, Truth
from wormwright.job.corrections import CHANGE_OF_USE, Plan
from wormwright.job.reading import Reading
from wormwright.stages.correct import correct
from wormwright.stages.correct.judge import MOST_JAM
from wormwright.stages.diagnose import diagnose
from wormwright.store.job_file import job_of

SHEETS, UNITS = 8, 26
"""Sheets of each example kind, and units mended for each of them: 208 together."""

KINDS = ("router", "club", "router with a bolted block")


@dataclass(frozen=True)
class Case:
    """One plan carried out on one unit."""

    plan: Plan
    allowed: float
    mended: Mended


def drawn(base: Truth, rng: np.random.Generator) -> Truth:
    """A unit of the kind: every play from half to half as much again."""
    names = ("mesh", "end_play", "worm_float", "table_radial", "wheel_joint", "drive_angle")
    plays = {name: getattr(base, name) * float(rng.uniform(0.5, 1.5)) for name in names}
    wheel = (base.wheel[0] * float(rng.uniform(0.5, 1.5)), float(rng.uniform(0, 6.28)))
    return replace(base, **plays, wheel=wheel)


def sheet_of(kind: str, rng: np.random.Generator) -> tuple[Truth, list[Reading]]:
    base = example_units.CLUB_TRUTH if kind == "club" else example_units.ROUTER_TRUTH
    taker = Taker(drawn(base, rng), rng)
    (example_units.club_plays if kind == "club" else example_units.router_plays)(taker)
    if "block" in kind:
        block = [
            replace(r, raw="bolted block", word="bolted block") if r.kind == "adjusting" else r
            for r in taker.readings
        ]
        return taker.truth, block
    return taker.truth, taker.readings


@cache
def cases(kind: str) -> tuple[Case, ...]:
    source = example_units.CLUB_JOB if kind == "club" else example_units.ROUTER_JOB
    out = []
    for seed in range(SHEETS):
        rng = np.random.default_rng([35, KINDS.index(kind), seed])
        job = job_of(source)
        error = job.duty.error_mm * float(rng.uniform(0.6, 1.2))
        job = replace(job, duty=replace(job.duty, error_mm=error))
        truth, sheet = sheet_of(kind, rng)
        found = diagnose(job, sheet)
        remedy = correct(job, sheet, found, draws=8192)
        rows = rng.integers(0, len(found.posterior.draws), UNITS - 1)
        units = (unit_of_truth(truth), *(unit_of_draw(found, int(row)) for row in rows))
        own = [p for p in remedy.plans if not {c.key for c in p.corrections} & CHANGE_OF_USE]
        for unit in units:
            hands = Hands(unit, job, found, rng)
            allowed = remedy.allowed_lost_motion
            out += [Case(p, allowed, hands.mended(p)) for p in own if p.offered]
    return tuple(out)


@pytest.mark.parametrize("kind", KINDS)
def test_plans_called_95_per_cent_sure_meet_the_duty_in_92_of_100_units(kind: str) -> None:
    sure = [c for c in cases(kind) if c.plan.p_meets_duty >= 0.95]
    assert len(sure) >= 200
    met = [c.mended.felt <= c.allowed for c in sure]
    assert np.mean(met) >= 0.92


@pytest.mark.parametrize("kind", KINDS)
def test_plans_called_hopeless_do_not_meet_it(kind: str) -> None:
    hopeless = [c for c in cases(kind) if c.plan.p_meets_duty <= 0.05]
    assert len(hopeless) >= 200
    assert np.mean([c.mended.felt <= c.allowed for c in hopeless]) <= 0.08


@pytest.mark.parametrize("kind", KINDS)
def test_no_offered_plan_binds_more_often_than_it_says(kind: str) -> None:
    deep = [c for c in cases(kind) if {x.key for x in c.plan.corrections} & DEPTHS]
    assert len(deep) >= 200
    assert all(c.plan.p_jam <= MOST_JAM for c in deep)
    stated = sum(c.plan.p_jam for c in deep)
    bound = sum(c.mended.least < 0 for c in deep)
    # Three standard deviations of a count of rare events above what was stated.
    assert bound <= stated + 3 * np.sqrt(stated + 1)


def test_a_deeper_setting_than_planned_is_seen_to_bind() -> None:
    """The loop can fail: the same units, set 0.03 mm nearer at the flanks, do bind."""
    deep = [c for c in cases("router") if {x.key for x in c.plan.corrections} & DEPTHS]
    assert np.mean([c.mended.least - 0.03 < 0 for c in deep]) > 0.5
