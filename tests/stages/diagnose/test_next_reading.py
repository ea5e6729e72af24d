"""What to read next, and what these readings cannot tell apart: promised against kept."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise
from typing import Any

import numpy as np
import pytest

from simulated_rotary import Taker, Truth, drawn_truth, job_of, lost_motion
from wormwright.job.findings import Diagnosis, NextReading
from wormwright.job.rotary import Job
from wormwright.job.sheet import KINDS
from wormwright.stages.diagnose import diagnose


def job(**duty: Any) -> Job:
    base = job_of(Truth())
    return replace(base, duty=replace(base.duty, **duty))


def short(taker: Taker, *, places: tuple[float, ...] = (0.0, 180.0)) -> Taker:
    taker.identity()
    for phi in places:
        taker.rock_at(phi, psi=0.0)
    return taker


def sheet(seed: int, truth: Truth | None = None, **more: Any) -> Taker:
    return short(Taker(truth or Truth(), np.random.default_rng([51, seed])), **more)


def closing_sd(found: Diagnosis) -> float:
    of, pair = found.posterior.of, found.pair
    swing = np.hypot(of("wheel_x"), of("wheel_y")) + np.hypot(of("worm_x"), of("worm_y"))
    return float(np.std(np.maximum(of("mesh") - 2 * pair.t * swing, 0.0) / (2 * pair.t)))


def named(found: Diagnosis, words: str) -> NextReading:
    return next(n for n in found.next_readings if words in n.label)


def take_end_play(taker: Taker) -> None:
    for _ in range(KINDS["worm_end_play"].repeats):
        taker.take("worm_end_play", taker.truth.end_play, conditions={"how": "rocking table"})


def take_map(taker: Taker) -> None:
    for k in range(6):
        grid = 360.0 / taker.truth.ratio
        taker.rock_at(round(k * 60 / grid) * grid, psi=0.0)


@pytest.mark.parametrize(
    ("words", "take"), [("Worm end play", take_end_play), ("six even places", take_map)]
)
def test_a_reading_narrows_the_closing_by_about_as_much_as_was_promised(
    words: str, take: Any
) -> None:
    promised, kept = [], []
    for seed in range(8):
        truth = drawn_truth(np.random.default_rng([52, seed]))
        taker = sheet(seed, truth)
        if words != "Worm end play":
            take_end_play(taker)
        before = diagnose(job_of(truth), taker.readings)
        promised.append(named(before, words).closing_left)
        take(taker)
        after = diagnose(job_of(truth), taker.readings)
        kept.append(closing_sd(after) / closing_sd(before))
    assert np.mean(kept) == pytest.approx(np.mean(promised), abs=0.15)
    assert np.mean(kept) < 0.95


def test_the_most_useful_reading_comes_first_and_the_shorter_of_two_alike() -> None:
    ahead = diagnose(job(), sheet(2).readings).next_readings
    for one, two in pairwise(ahead):
        bands = round(one.gain / 0.05), round(two.gain / 0.05)
        assert bands[0] >= bands[1]
        assert bands[0] > bands[1] or one.minutes <= two.minutes


def test_every_reading_tells_its_minutes_and_what_it_would_show() -> None:
    for n in diagnose(job(), sheet(3).readings).next_readings:
        assert 1 <= n.minutes <= 60
        assert n.kind in KINDS
        assert n.tells
        assert 0 <= n.closing_left <= 1
        assert 0 <= n.duty_left <= 1


def test_once_the_duty_is_settled_no_reading_is_said_to_settle_it() -> None:
    hopeless = diagnose(job(error_mm=0.001), sheet(4).readings)
    assert hopeless.verdict is not None
    assert hopeless.verdict.chance_meets_duty < 0.02
    assert {n.duty_left for n in hopeless.next_readings} == {1.0}


def test_an_axial_duty_in_the_balance_asks_for_the_axial_play_of_the_table() -> None:
    found = diagnose(job(direction="axial", error_mm=0.05), sheet(5).readings)
    assert found.next_readings[0].kind == "table_axial_play"
    assert found.next_readings[0].duty_left < 0.3


def test_a_reading_that_was_taken_is_only_offered_once_more_and_helps_less() -> None:
    taker = sheet(6)
    first = named(diagnose(job(), taker.readings), "Worm end play")
    take_end_play(taker)
    again = [n for n in diagnose(job(), taker.readings).next_readings if n.kind == first.kind]
    assert all(n.label.endswith("once more") for n in again)
    assert all(n.gain < first.gain / 2 for n in again)


def test_a_new_rock_is_asked_for_in_the_widest_gap() -> None:
    found = diagnose(job(), sheet(7, places=(0.0, 40.0, 80.0)).readings)
    pins = [n for n in found.next_readings if n.kind == "rock_pins"]
    assert all("at 220°" in n.label for n in pins)
    assert pins


def left_open(found: Diagnosis) -> set[str]:
    return {u.causes[0] for u in found.unseparated if len(u.causes) == 1}


def test_what_is_left_open_is_what_was_not_read() -> None:
    taker = sheet(8)
    before = left_open(diagnose(job(), taker.readings))
    assert {"worm radial float", "table shaft radial play", "wheel-to-table joint"} <= before
    for station in ("A", "B"):
        taker.take("worm_float", taker.truth.worm_float, station=station)
    after = left_open(diagnose(job(), taker.readings))
    assert "worm radial float" not in after
    assert "wheel-to-table joint" in after


def test_causes_of_which_only_the_sum_is_seen_are_named_together_with_that_sum() -> None:
    """Rocks alone see mesh and end play as one: their sum must come out right, not their parts."""
    truth = Truth()
    found = diagnose(job(), sheet(9, truth, places=(0.0, 90.0, 180.0, 270.0)).readings)
    together = [u for u in found.unseparated if len(u.causes) > 1]
    assert together
    causes = set(together[0].causes)
    assert {"worm and wheel mesh", "worm end play"} <= causes
    keys = {k for k, _ in together[0].direction}
    real = sum(v for k, v in lost_motion(truth).items() if k in keys) / truth.r2
    draws = sum(found.posterior.of(k) for k in keys if k in lost_motion(truth)) / truth.r2
    assert abs(float(np.mean(draws)) - real) < 4 * float(np.std(draws))
    assert together[0].size > 2 * math.radians(1 / 60)


def test_an_unread_cause_names_the_one_that_pays_for_it() -> None:
    taker = sheet(10)
    take_end_play(taker)
    found = diagnose(job(), taker.readings)
    joint = next(u for u in found.unseparated if u.causes == ("wheel-to-table joint",))
    assert joint.against == "worm and wheel mesh"
    of = found.posterior.of
    assert np.corrcoef(of("wheel_joint"), of("mesh"))[0, 1] < -0.25


def test_a_full_sheet_leaves_no_play_open() -> None:
    taker = Taker(Truth(), np.random.default_rng(11))
    taker.full_sheet()
    assert left_open(diagnose(job(), taker.readings)) <= {"springing under the push"}
