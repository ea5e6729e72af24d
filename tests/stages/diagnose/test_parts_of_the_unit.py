"""Clamp shift, heat, table bearing, drive and rock loop: known faults go in and must come back."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

import numpy as np
import pytest

import parts_read as parts
from simulated_rotary import Taker, Truth, job_of, pair_of
from wormwright.bench import Bench
from wormwright.job.findings import Diagnosis, Finding
from wormwright.job.result import Estimate
from wormwright.stages.diagnose import diagnose
from wormwright.stages.diagnose.clamp import clamp_finding
from wormwright.stages.diagnose.drive import drive_finding
from wormwright.stages.diagnose.fit import Fit, fit_rows
from wormwright.stages.diagnose.loop import loop_finding
from wormwright.stages.diagnose.ranges import usual_ranges
from wormwright.stages.diagnose.rows import Rows, rows_of
from wormwright.stages.diagnose.table_bearing import table_bearing_finding
from wormwright.stages.diagnose.warm import warm_finding

SEEDS = 200
PAIR = pair_of(Truth())


def taker(seed: int, truth: Truth | None = None, *, noisy: bool = True) -> Taker:
    return Taker(truth or Truth(), np.random.default_rng([71, seed]), noisy=noisy)


def found(t: Taker) -> Diagnosis:
    return diagnose(job_of(t.truth), t.readings)


def finding(of: Diagnosis, key: str) -> Finding:
    return next(f for f in of.findings if f.key == key)


def figure(of: Finding, key: str) -> Estimate:
    estimate = of.of(key)
    assert estimate is not None, [f.key for f in of.figures]
    return estimate


def holds(estimate: Estimate, real: float) -> bool:
    return estimate.low <= real <= estimate.high


def said(of: Finding) -> str:
    return " ".join(of.words)


def bench(t: Taker) -> Bench:
    return Bench(job_of(t.truth), tuple(t.readings))


def made(t: Taker) -> Rows:
    return rows_of(bench(t), PAIR)


@cache
def any_fit() -> Fit:
    """A fit of some rock, for findings that only stand beside it."""
    t = taker(0)
    t.identity()
    t.rock_at(0.0, psi=0.0)
    ranges = usual_ranges(PAIR, job_of(t.truth).rotary)
    return fit_rows(made(t).rows, ranges, PAIR, worm_share=1.0, seed=1)


def clamped(t: Taker) -> Finding:
    return clamp_finding(bench(t))


def test_clamp_shift_of_each_kind_is_covered_as_often_as_it_says() -> None:
    hits = []
    for seed in range(200):
        shifts = np.random.default_rng([72, seed]).normal(0.0, 0.01, 3)
        t = taker(seed)
        for station, shift in zip(("turning", "lift", "sideways"), shifts, strict=True):
            parts.clamp(t, station, float(shift), radius=80.0)
        of = clamped(t)
        for station, shift in zip(("turning", "lift", "sideways"), shifts, strict=True):
            hits.append(holds(figure(of, station), float(shift)))
        hits.append(holds(figure(of, "angle"), float(shifts[0]) / 80.0))
    assert 0.93 <= np.mean(hits) <= 0.97


def test_a_clamp_that_eats_the_duty_is_said_at_the_radius_of_the_work() -> None:
    """The duty allows 0.06 mm at 50 mm; 0.08 mm at a pin at 80 mm is 0.05 mm there."""
    much, little = taker(1, noisy=False), taker(1, noisy=False)
    parts.clamp(much, "turning", 0.08, radius=80.0)
    parts.clamp(little, "turning", 0.01, radius=80.0)
    assert "more than half of what the duty allows" in said(clamped(much))
    assert "50.0 µm at the duty's radius" in said(clamped(much))
    assert "more than half" not in said(clamped(little))


def test_clamp_shift_without_a_radius_gives_no_angle() -> None:
    t = taker(2)
    parts.clamp(t, "turning", 0.02)
    of = clamped(t)
    assert of.of("angle") is None
    assert "no angle can be given" in said(of)


def test_two_orders_of_locking_are_called_out() -> None:
    t = taker(3)
    parts.clamp(t, "lift", 0.02, order="A then B")
    parts.clamp(t, "lift", 0.00, order="B then A")
    assert "keep to one" in said(clamped(t))


def test_what_heat_did_to_the_play_is_covered_as_often_as_it_says() -> None:
    hits = []
    for seed in range(SEEDS):
        rng = np.random.default_rng([73, seed])
        grown = float(rng.uniform(-0.03, 0.03))
        t = taker(seed)
        t.identity()
        for phi in (0.0, 90.0, 180.0, 270.0):
            t.rock_at(phi, psi=0.0, housing=19.0)
            t.rock_at(phi, psi=0.0, housing=36.0, grown=grown)
        change = figure(warm_finding(made(t), bench(t), PAIR), "change")
        hits.append(holds(change, grown / t.truth.r2))
    assert 0.93 <= np.mean(hits) <= 0.97


@pytest.mark.parametrize(
    ("grown", "words"), [(-0.03, "gets less as the unit warms"), (0.03, "grows as the unit warms")]
)
def test_heat_that_closes_the_mesh_is_told_from_heat_that_opens_it(
    grown: float, words: str
) -> None:
    t = taker(4)
    t.identity()
    t.rock_at(0.0, psi=0.0, housing=19.0)
    t.rock_at(0.0, psi=0.0, housing=36.0, grown=grown)
    assert words in said(finding(found(t), "warm"))


def test_warm_rocks_at_other_places_are_not_compared() -> None:
    t = taker(5)
    t.identity()
    t.rock_at(0.0, psi=0.0, housing=19.0)
    t.rock_at(90.0, psi=0.0, housing=36.0)
    of = finding(found(t), "warm")
    assert of.figures == ()
    assert "none at the same place" in said(of)


def with_tilt(seed: int, *, play: float, spring: float, moments: tuple[float, ...]) -> Finding:
    t = taker(seed)
    t.identity()
    t.rock_at(0.0, psi=0.0)
    parts.tilts(t, play=play, spring=spring, moments=moments)
    return table_bearing_finding(any_fit(), made(t).rows, bench(t), PAIR)


def test_tilt_under_two_moments_is_parted_into_play_and_springing() -> None:
    hits = []
    for seed in range(SEEDS):
        rng = np.random.default_rng([74, seed])
        play, spring = float(rng.uniform(5e-5, 3e-4)), float(rng.uniform(2e-9, 2e-8))
        of = with_tilt(seed, play=play, spring=spring, moments=(3000.0, 9000.0))
        hits.append(holds(figure(of, "tilt_play"), play))
        hits.append(holds(figure(of, "tilt_spring"), spring * 9000.0))
    assert 0.93 <= np.mean(hits) <= 0.97


def test_tilt_under_one_moment_keeps_play_and_springing_together_and_says_so() -> None:
    of = with_tilt(6, play=2e-4, spring=5e-9, moments=(9000.0,))
    assert of.of("tilt_play") is None
    assert "stay together" in said(of)
    assert holds(figure(of, "tilt"), 2e-4 + 2 * 5e-9 * 9000.0)


def test_a_table_that_only_springs_is_not_said_to_have_free_tilt() -> None:
    of = with_tilt(7, play=0.0, spring=2e-8, moments=(3000.0, 9000.0))
    assert "No free tilt stands out" in said(of)


def test_play_beyond_good_work_sends_to_the_table_bearing_first() -> None:
    loose = taker(8, replace(Truth(), table_radial=0.05), noisy=False)
    tight = taker(8, replace(Truth(), table_radial=0.004, table_axial=0.004), noisy=False)
    for t in (loose, tight):
        t.full_sheet()
    assert "set the table bearing before the mesh" in said(finding(found(loose), "table_bearing"))
    assert "set the table bearing" not in said(finding(found(tight), "table_bearing"))


def test_the_drive_is_the_difference_of_the_rocks_held_at_motor_and_at_worm() -> None:
    hits = []
    for seed in range(SEEDS):
        rng = np.random.default_rng([76, seed])
        truth = replace(Truth(), drive_angle=math.radians(float(rng.uniform(0.2, 1.4))))
        t = taker(seed, truth)
        t.identity()
        for phi in (0.0, 90.0, 180.0, 270.0):
            t.rock_at(phi, psi=0.0)
            t.rock_at(phi, psi=0.0, worm_held="at the motor")
        of = drive_finding(any_fit(), made(t).rows, bench(t), PAIR)
        assert of is not None
        hits.append(holds(figure(of, "held at the motor"), truth.drive_angle / truth.ratio))
    assert 0.93 <= np.mean(hits) <= 0.97


@pytest.mark.parametrize(
    ("degrees", "words"), [(0.2, "will not be noticed"), (9.0, "try the coupling before the mesh")]
)
def test_a_coupling_is_only_worth_buying_when_it_loses_its_share(
    degrees: float, words: str
) -> None:
    t = taker(9, replace(Truth(), drive_angle=math.radians(degrees)))
    t.full_sheet()
    assert words in said(finding(found(t), "drive"))


def test_a_drive_rocked_at_other_places_only_is_told_to_be_rocked_at_one_place() -> None:
    t = taker(10)
    t.identity()
    t.rock_at(0.0, psi=0.0)
    t.rock_at(90.0, psi=0.0, worm_held="at the motor")
    assert "do both at one place" in said(finding(found(t), "drive"))


def test_nothing_is_said_of_a_drive_that_was_not_read() -> None:
    t = taker(11)
    t.identity()
    t.rock_at(0.0, psi=0.0)
    assert all(f.key != "drive" for f in found(t).findings)


def test_a_rock_loop_gives_clearance_springing_and_friction_apart() -> None:
    hits: dict[str, list[bool]] = {"clearance": [], "spring": [], "friction": []}
    for seed in range(SEEDS):
        rng = np.random.default_rng([77, seed])
        clearance, friction = float(rng.uniform(1e-3, 4e-3)), float(rng.uniform(200, 900))
        compliance = float(rng.uniform(3e-8, 9e-8))
        t = taker(seed)
        t.identity()
        t.rock_at(0.0, psi=0.0)
        parts.loop(t, clearance=clearance, compliance=compliance, friction=friction, phi=0.0)
        of = loop_finding(bench(t), any_fit(), PAIR)
        hits["clearance"].append(holds(figure(of, "clearance"), clearance))
        hits["spring"].append(holds(figure(of, "spring"), compliance * 3000.0))
        hits["friction"].append(holds(figure(of, "friction"), friction))
    for key, hit in hits.items():
        assert 0.90 <= np.mean(hit) <= 0.99, key


def test_loops_at_four_places_fix_the_springing_that_the_rocks_leave_open() -> None:
    truth = Truth()
    plain, looped = taker(12, truth), taker(12, truth)
    for t in (plain, looped):
        t.full_sheet()
    angle = truth.compliance / truth.r2**2
    for phi in (0.0, 1.0, 2.0, 3.0):
        parts.loop(looped, clearance=2e-3, compliance=angle, friction=300.0, phi=phi)
    left = {
        name: any("springing under the push" in u.causes for u in found(t).unseparated)
        for name, t in (("plain", plain), ("looped", looped))
    }
    assert left == {"plain": True, "looped": False}
    assert holds(figure(finding(found(looped), "loop"), "spring_of_all"), angle * 3000.0)


def test_a_loop_with_one_branch_says_what_it_lacks() -> None:
    t = taker(13)
    t.identity()
    t.rock_at(0.0, psi=0.0)
    parts.loop(t, clearance=2e-3, compliance=5e-8, friction=300.0, phi=0.0)
    t.readings[:] = [r for r in t.readings if r.said("branch") != "down"]
    of = finding(found(t), "loop")
    assert of.figures == ()
    assert "cannot be taken apart" in said(of)
    assert "friction" in said(of)
