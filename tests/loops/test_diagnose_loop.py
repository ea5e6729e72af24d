"""Closed loop of the diagnosis: known faults go into a simulated rotary and must come back."""

from __future__ import annotations

import math
from collections import defaultdict
from functools import cache

import numpy as np
import pytest

from simulated_rotary import Taker, Truth, drawn_truth, job_of, lost_motion
from wormwright.job.findings import Diagnosis
from wormwright.stages.diagnose import diagnose

SEEDS = 200


@cache
def full_sheets() -> tuple[tuple[Truth, Diagnosis], ...]:
    out = []
    for seed in range(SEEDS):
        rng = np.random.default_rng([2024, seed])
        truth = drawn_truth(rng)
        out.append((truth, diagnose(job_of(truth), Taker(truth, rng).full_sheet())))
    return tuple(out)


def covered() -> dict[str, list[bool]]:
    hits: dict[str, list[bool]] = defaultdict(list)
    for truth, found in full_sheets():
        real = lost_motion(truth)
        for c in found.contributors:
            if c.key in real:
                hits[c.key].append(c.at_r2.low <= real[c.key] <= c.at_r2.high)
        total = sum(real.values()) / truth.r2
        mean = found.lost_motion_mean
        hits["all together"].append(mean.low <= total <= mean.high)
        for size, vector in ((found.wheel_runout, truth.wheel), (found.worm_runout, truth.worm)):
            assert size is not None
            name = "wheel runout" if vector is truth.wheel else "worm runout"
            hits[name].append(size.low <= 2 * vector[0] <= size.high)
    return hits


def test_intervals_of_the_full_sheet_cover_the_truth_as_often_as_they_say() -> None:
    pooled = [hit for hits in covered().values() for hit in hits]
    assert 0.93 <= np.mean(pooled) <= 0.97


@pytest.mark.parametrize(
    "key",
    [
        "mesh",
        "end_play",
        "worm_float",
        "table_radial",
        "wheel_joint",
        "drive",
        "wheel runout",
        "worm runout",
        "all together",
    ],
)
def test_each_contributor_is_covered_as_often_as_it_says(key: str) -> None:
    assert 0.90 <= np.mean(covered()[key]) <= 0.99


def test_no_interval_of_a_play_goes_below_zero() -> None:
    lows = [c.at_r2.low for _, found in full_sheets() for c in found.contributors]
    assert min(lows) >= 0


def test_the_full_sheet_identifies_what_it_must() -> None:
    for _, found in full_sheets():
        known = {c.key for c in found.contributors if c.identifiable}
        assert {"mesh", "end_play", "worm_float", "drive"} <= known
        assert found.wheel_runout is not None
        assert found.wheel_runout.u < 0.12 / math.sqrt(12) / 3


def test_units_inside_the_ranges_are_seldom_called_outside() -> None:
    alarms = [any(d.code == "D-1" for d in found.doubts) for _, found in full_sheets()]
    assert np.mean(alarms) <= 0.03


OUTSIDE = ("mesh", "end_play", "worm_float", "wheel_joint", "table_radial", "drive_angle")


def test_a_fault_outside_the_ranges_is_said_in_nine_of_ten_cases() -> None:
    said = []
    for seed in range(60):
        rng = np.random.default_rng([77, seed])
        truth = drawn_truth(rng)
        key = OUTSIDE[seed % len(OUTSIDE)]
        ends = {
            "mesh": 0.30,
            "end_play": 0.20,
            "worm_float": 0.08,
            "wheel_joint": 0.03,
            "table_radial": 0.06,
            "drive_angle": math.radians(1.5),
        }
        truth = drawn_truth(
            np.random.default_rng([77, seed]), **{key: ends[key] * float(rng.uniform(1.3, 2.5))}
        )
        found = diagnose(job_of(truth), Taker(truth, rng).full_sheet())
        said.append(any(d.code == "D-1" for d in found.doubts) or not found.unexplained.low <= 0)
    assert np.mean(said) >= 0.90


def test_four_rocks_answer_and_admit_what_they_cannot_tell() -> None:
    truth = Truth()
    taker = Taker(truth, np.random.default_rng(4))
    taker.identity()
    for phi in (0.0, 90.0, 180.0, 270.0):
        taker.rock_at(phi, psi=0.0)
    found = diagnose(job_of(truth), taker.readings)
    known = {c.key for c in found.contributors if c.identifiable}
    assert known <= {"mesh", "end_play"}
    assert found.next_reading
    assert {"worm end play", "worm radial float"} <= set(found.not_measured)
    real = sum(lost_motion(truth).values()) / truth.r2
    assert found.lost_motion_mean.low <= real <= found.lost_motion_mean.high


def test_tight_spot_is_found_and_refused_when_positions_are_too_few() -> None:
    truth = Truth()
    found = diagnose(job_of(truth), Taker(truth, np.random.default_rng(8)).full_sheet())
    spot = found.tight_spot.angle
    assert spot is not None
    off = math.remainder(spot.value - (truth.wheel[1] + math.pi), 2 * math.pi)
    assert spot.low - spot.value <= off <= spot.high - spot.value
    few = Taker(truth, np.random.default_rng(8))
    few.identity()
    few.rock_at(0.0, psi=0.0)
    few.rock_at(90.0, psi=0.0)
    refused = diagnose(job_of(truth), few.readings).tight_spot
    assert refused.angle is None
    assert "positions" in refused.refusal


def test_same_seed_gives_the_same_answer() -> None:
    truth = Truth()
    sheet = Taker(truth, np.random.default_rng(8)).full_sheet()
    one, two = diagnose(job_of(truth), sheet), diagnose(job_of(truth), sheet)
    assert np.array_equal(one.posterior.draws, two.posterior.draws)


@cache
def worn_sheets() -> tuple[tuple[Truth, Diagnosis], ...]:
    """Full sheets with a marked used sector and with wheel and worm runout read by indicator."""
    out = []
    for seed in range(SEEDS):
        rng = np.random.default_rng([4048, seed])
        wear = float(rng.uniform(0.0, 0.06))
        truth = drawn_truth(rng, wear=wear, used_deg=(80.0, 200.0))
        taker = Taker(truth, rng)
        taker.full_sheet()
        taker.direct_runouts()
        out.append((truth, diagnose(job_of(truth), taker.readings)))
    return tuple(out)


def covered_when_worn() -> dict[str, list[bool]]:
    hits: dict[str, list[bool]] = defaultdict(list)
    for truth, found in worn_sheets():
        real = lost_motion(truth)
        for c in found.contributors:
            if c.key in real:
                hits[c.key].append(c.at_r2.low <= real[c.key] <= c.at_r2.high)
        assert found.wear is not None
        hits["wear"].append(found.wear.low <= truth.wear <= found.wear.high)
        for name, size, vector in (
            ("wheel runout", found.wheel_runout, truth.wheel),
            ("worm runout", found.worm_runout, truth.worm),
        ):
            assert size is not None
            hits[name].append(size.low <= 2 * vector[0] <= size.high)
    return hits


def test_intervals_stay_honest_with_wear_and_direct_runout_readings() -> None:
    pooled = [hit for hits in covered_when_worn().values() for hit in hits]
    assert 0.93 <= np.mean(pooled) <= 0.97


@pytest.mark.parametrize("key", ["mesh", "wear", "wheel runout", "worm runout"])
def test_each_is_covered_as_often_as_it_says_with_wear(key: str) -> None:
    assert 0.90 <= np.mean(covered_when_worn()[key]) <= 0.99


def test_direct_runout_readings_narrow_the_runout_of_the_worm() -> None:
    plain = np.mean([f.worm_runout.u for _, f in full_sheets() if f.worm_runout])
    direct = np.mean([f.worm_runout.u for _, f in worn_sheets() if f.worm_runout])
    assert direct < 0.9 * plain


def test_wear_is_not_called_proven_where_there_is_none() -> None:
    proven = []
    for seed in range(100):
        rng = np.random.default_rng([4049, seed])
        truth = drawn_truth(rng, wear=0.0, used_deg=(80.0, 200.0))
        wear = diagnose(job_of(truth), Taker(truth, rng).full_sheet()).wear
        assert wear is not None
        proven.append(wear.low > 0 or wear.high < 0)
    assert np.mean(proven) <= 0.10
