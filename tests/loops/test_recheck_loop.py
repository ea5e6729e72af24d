"""Closed loop: axes with known wear, checked again; the answer must be what was put in."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest

from wormwright.app.new import example_folders
from wormwright.bench import Bench
from wormwright.job.reading import Reading
from wormwright.job.recheck import Recheck
from wormwright.job.rotary import Job
from wormwright.stages.keep import recheck
from wormwright.store import JobFolder

PIN, NOISE = 80.0, 0.0025
PLACES = tuple(range(0, 360, 30))
AXES = 200


@pytest.fixture(scope="module")
def job() -> Job:
    """A duty that feels the rock: 12 arcmin at its radius."""
    made = JobFolder.open(example_folders()["club-table"]).job
    duty = replace(
        made.duty, radius_mm=60.0, error_mm=0.21, direction="tangential", approach="both ways"
    )
    return replace(made, duty=duty)


def readings(
    seed: int,
    *,
    hours: tuple[float, ...],
    rate: float,
    start: float = 0.10,
    torque: float = 3000.0,
    worn_place: int | None = None,
    worn: float = 0.0,
) -> tuple[Reading, ...]:
    """Rocks of every check, mm at the pin; `rate` is growth in mm per 1000 h."""
    rng = np.random.default_rng(seed)
    rows: list[Reading] = []
    begun = date(2026, 1, 10)
    for number, run in enumerate(hours):
        when = (begun + timedelta(days=40 * number)).isoformat() + "T10:00:00"
        seq = len(rows) + 1
        rows.append(Reading(seq, "hours_run", f"{run:.0f}", value=run, when=when))
        for place in PLACES:
            local = worn if place == worn_place and number else 0.0
            rock = start + 0.01 * math.cos(math.radians(place)) + rate * run / 1000 + local
            rows.append(
                Reading(
                    len(rows) + 1,
                    "rock",
                    "",
                    value=float(rock + NOISE * rng.standard_normal()),
                    table_angle=math.radians(place),
                    conditions={
                        "pin_radius": PIN,
                        "pin_radius_u": 0.3,
                        "torque": torque if number else 3000.0,
                        "worm_held": "at the worm",
                        "lock": "off",
                    },
                    when=when,
                )
            )
    return tuple(rows)


def checked(job: Job, rows: tuple[Reading, ...]) -> Recheck:
    return recheck(Bench(job, rows))


def test_no_wear_is_seldom_called_wear(job: Job) -> None:
    found = [checked(job, readings(s, hours=(0, 300), rate=0.0)) for s in range(AXES)]
    moved = [f.changes[0].moved != "no change shown" for f in found]
    assert 0.01 <= np.mean(moved) <= 0.10
    stands_out = [p.stands_out for f in found for p in f.changes[0].by_place]
    assert np.mean(stands_out) < 0.01


def test_the_change_covers_the_wear_that_was_put_in(job: Job) -> None:
    wear = 0.02  # mm per 1000 h, 300 h
    found = [checked(job, readings(s, hours=(0, 300), rate=wear)) for s in range(AXES)]
    truth = wear * 0.3 / PIN
    inside = [f.changes[0].change.low <= truth <= f.changes[0].change.high for f in found]
    assert 0.90 <= np.mean(inside) <= 0.99
    assert np.mean([f.changes[0].moved == "more" for f in found]) > 0.95


def test_the_rate_of_the_trend_covers_the_truth(job: Job) -> None:
    hours = (0, 100, 200, 300, 400, 500)
    found = [checked(job, readings(s, hours=hours, rate=0.05)) for s in range(AXES)]
    truth, inside = 0.05 / PIN, []
    for f in found:
        assert f.ahead is not None
        assert f.ahead.rate is not None
        inside.append(abs(f.ahead.rate.value - truth) <= 2.776 * f.ahead.rate.u)  # t, 4 dof
    assert 0.90 <= np.mean(inside) <= 0.99


def test_the_limit_is_seldom_passed_before_the_foretold_check(job: Job) -> None:
    hours = (0, 200, 400, 600, 800, 1000)
    rate, start = 0.06, 0.18
    limit = job.duty.error_mm / job.duty.radius_mm * PIN - 0.01  # the loosest place is 0.01 above
    passed = []
    for seed in range(AXES):
        ahead = checked(job, readings(seed, hours=hours, rate=rate, start=start)).ahead
        assert ahead is not None
        assert ahead.next_check <= hours[-1] + 2 * (hours[-1] - hours[0])
        passed.append(start + rate * ahead.next_check / 1000 > limit)
    assert np.mean(passed) <= 0.05


def test_one_worn_sector_stands_out(job: Job) -> None:
    rows = readings(5, hours=(0, 300), rate=0.0, worn_place=120, worn=0.02)
    out = [p.place for p in checked(job, rows).changes[0].by_place if p.stands_out]
    assert out == ["120°"]


def test_three_answers(job: Job) -> None:
    allowed = job.duty.error_mm / job.duty.radius_mm * PIN
    for start, answer in ((0.2, "still good"), (allowed - 0.01, "cannot tell"), (0.4, "adjust")):
        assert checked(job, readings(1, hours=(0, 300), rate=0.0, start=start)).answer == answer


def test_rocks_under_another_torque_are_left_out_and_named(job: Job) -> None:
    found = checked(job, readings(2, hours=(0, 300), rate=0.0, torque=5000.0))
    assert not found.changes
    assert any("torque is not that of the first check" in d.seen for d in found.doubts)
