"""Few plans out of many corrections, ranked by what the machinist counts, and what each buys."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import pytest

import correct_fixture as made
from wormwright.job.corrections import CHANGE_OF_USE, CORRECTIONS, Remedy
from wormwright.job.reading import Reading
from wormwright.job.result import Estimate
from wormwright.stages.correct import correct, report, summary
from wormwright.stages.correct.effort import effort_of_plan

DRAWS = 8192
EVERYTHING: made.Plays = {
    "wheel_joint": (0.02, 0.002),
    "drive": (0.03, 0.002),
    "wheel_x": (-0.05, 0.001),
}


def all_faults() -> tuple[Reading, ...]:
    more = (
        Reading(1, "wheel_joint_play", "typed", value=0.02, conditions={"radius": 50.0}),
        Reading(1, "drive_play", "typed", value=0.05),
    )
    rows = (*made.readings(), *more)
    return tuple(replace(r, seq=k) for k, r in enumerate(rows, start=1))


def remedy(rows: Sequence[Reading] | None = None, **duty: Any) -> Remedy:
    found = replace(
        made.diagnosis(plays=EVERYTHING),
        wheel_runout=Estimate(0.10, 0.002, 0.096, 0.104, "length", "made up"),
    )
    return correct(made.job(**duty), rows or all_faults(), found, draws=DRAWS)


def test_plans_stay_few_however_many_corrections_there_are() -> None:
    got = remedy(error_mm=0.02)
    possible = {c.key for p in got.plans for c in p.corrections}
    assert len(possible) >= 7
    assert len(got.plans) <= 3 * len(possible)


def test_a_duty_that_asks_for_all_of_it_gets_all_of_it() -> None:
    got = remedy(error_mm=0.06)
    assert got.chosen is not None
    assert got.chosen.p_meets_duty >= 0.9
    needed = {"wheel_truing", "worm_shim", "bushings", "coupling"}
    assert needed <= {c.key for c in got.chosen.corrections}


def test_no_correction_of_the_taken_plan_can_be_left_out() -> None:
    got = remedy(error_mm=0.09)
    assert got.chosen is not None
    for correction in got.chosen.corrections:
        rest = [c.key for c in got.chosen.corrections if c.key != correction.key]
        less = correct(
            made.job(error_mm=0.09),
            all_faults(),
            made.diagnosis(plays=EVERYTHING),
            draws=DRAWS,
            plan="+".join(rest) or "leave",
        )
        named = [p for p in less.plans if p.key == ("+".join(rest) or "leave")]
        assert not named or not named[0].offered or named[0].p_meets_duty < 0.905


def test_costs_of_the_machinist_turn_the_ranking_round() -> None:
    by_minutes = remedy(error_mm=0.16)
    dear = replace(made.job(error_mm=0.16), hour_cost=10.0, costs=(("worm_shim", 500.0),))
    found = made.diagnosis(plays=EVERYTHING)
    by_cost = correct(dear, all_faults(), found, draws=DRAWS)
    costs = [p.cost for p in by_cost.plans]
    assert costs == sorted(costs, key=float)  # type: ignore[arg-type]
    assert all(p.cost is None for p in by_minutes.plans)
    shim = next(p for p in by_cost.plans if p.key == "worm_shim")
    assert shim.cost == pytest.approx(90 / 60 * 10 + 500)
    alone = next(p for p in by_cost.plans if p.key == "coupling")
    assert effort_of_plan(alone) < effort_of_plan(shim)


def test_what_the_steps_buy_adds_up_to_what_the_plan_takes_off() -> None:
    wanted = "wheel_joint+worm_shim+bushings+coupling"
    found = made.diagnosis(plays=EVERYTHING)
    got = correct(made.job(), all_faults(), found, draws=DRAWS, plan=wanted)
    assert got.chosen is not None
    assert [b.keys for b in got.buys] == [(key,) for key in wanted.split("+")]
    leave = next(p for p in got.plans if p.key == "leave")
    whole = leave.loose.value - got.chosen.loose.value
    assert sum(b.taken_off for b in got.buys) == pytest.approx(whole, rel=0.05)
    joint = got.buys[0]
    assert joint.taken_off == pytest.approx(0.02 / 50, rel=0.05)
    assert joint.causes[0][1] == pytest.approx(0.02 / 50, rel=0.05)


def test_the_doubt_that_matters_most_is_named_and_goes_when_it_is_measured() -> None:
    vague = made.diagnosis(plays={"wheel_joint": (0.012, 0.008)})
    sure = made.diagnosis(plays={"wheel_joint": (0.012, 0.0002)})
    shares = []
    for found in (vague, sure):
        got = correct(made.job(), made.readings(), found, draws=DRAWS, plan="worm_shim")
        shares.append({e.key: e.share for e in got.error_shares})
    assert shares[0]["plays"] > 0.4
    assert shares[1].get("plays", 0.0) < shares[0]["plays"] / 2
    assert max(shares[0], key=lambda k: shares[0][k]) == "plays"


def test_ways_of_using_the_axis_are_listed_and_never_taken_unasked() -> None:
    got = remedy(error_mm=0.02, work="indexed")
    used = {c.key for p in got.plans for c in p.corrections} & CHANGE_OF_USE
    assert used == {"approach", "clamp", "bias_weight", "friction_brake"}
    assert got.chosen is not None
    assert not {c.key for c in got.chosen.corrections} & CHANGE_OF_USE


def test_every_correction_key_has_its_short_name() -> None:
    got = remedy(error_mm=0.02, work="indexed")
    assert {c.key for p in got.plans for c in p.corrections} <= set(CORRECTIONS)


def test_summary_and_report_tell_what_each_step_buys() -> None:
    job = made.job(error_mm=0.06)
    got = remedy(error_mm=0.06)
    for blocks in (summary(got, job), report(got, job)):
        tables = {getattr(b, "key", "") for b in blocks}
        assert "buys" in tables
    assert "error shares" in {getattr(b, "key", "") for b in report(got, job)}
