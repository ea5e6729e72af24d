"""Closed loop of the diagnosis: known faults go into a simulated rotary and must come back."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import cache
from typing import NamedTuple

import numpy as np
import pytest

from example_units import (
    CLUB_TRUTH,
    ROUTER_TRUTH,
    club_plays,
    router_plays,
    router_rest,
    take_four,
)
from simulated_rotary import Taker, Truth, drawn_truth, job_of, lost_motion, rock
from wormwright.job.findings import Diagnosis
from wormwright.job.reading import Reading
from wormwright.job.result import Estimate
from wormwright.job.rotary import Job
from wormwright.stages.diagnose import diagnose
from wormwright.stages.measure import measure

SEEDS = 200
PLAYS = ("mesh", "end_play", "worm_float", "table_radial", "wheel_joint", "drive")
WHOLE = (*PLAYS, "wheel runout", "worm runout", "all together")


@dataclass(frozen=True)
class Kind:
    """A kind of example: its pair, what is read of it, and what must be told of it."""

    base: Truth
    take: Callable[[Taker], object]
    told: tuple[str, ...]


def take_router(taker: Taker) -> None:
    """The metric sheet of the example without its traps, the table and a rock loop included."""
    router_plays(taker)
    router_rest(taker)


def take_marked(taker: Taker) -> None:
    """The inch sheet with a marked used sector, wheel and worm runout read by indicator too."""
    club_plays(taker)
    taker.direct_runouts()


KINDS = {
    "router": Kind(ROUTER_TRUTH, take_router, WHOLE),
    "club": Kind(CLUB_TRUTH, take_marked, (*WHOLE, "wear")),
    "four": Kind(ROUTER_TRUTH, take_four, ("all together", "end_play")),
}
"""Four readings tell the end play and the whole; what else they say is weak and must hold too."""


class Run(NamedTuple):
    """One unit with its truth, what the tool found, and whether a trap lay in its sheet."""

    truth: Truth
    found: Diagnosis
    trapped: bool


def drawn(kind: str, rng: np.random.Generator) -> Truth:
    """A unit of that kind; every other marked wheel of the inch kind is really worn."""
    if kind != "club":
        return drawn_truth(rng, KINDS[kind].base)
    wear = float(rng.uniform(0.0, 0.06)) if rng.random() < 0.5 else 0.0
    pin = float(rng.normal(0.0, 0.3 / 88.9))
    base = KINDS[kind].base
    return drawn_truth(rng, base, wear=wear, used_deg=(80.0, 200.0), pin_radius_error=pin)


def planted(taker: Taker, rng: np.random.Generator) -> None:
    """One trap: a slipped decimal point, or a rock read at the tip of the lever."""
    rocks = [i for i, r in enumerate(taker.readings) if r.kind == "rock"]
    at = int(rng.choice(rocks))
    row = taker.readings[at]
    assert row.value is not None
    spoiled = replace(row, value=10 * row.value)
    if rng.random() < 0.5:
        conditions = {**row.conditions, "surface": "lever tip"}
        spoiled = replace(row, value=1.5 * row.value, conditions=conditions)
    taker.readings[at] = spoiled


@cache
def runs(kind: str) -> tuple[Run, ...]:
    """Every unit of a kind read, a third with a trap in it, sifted and diagnosed."""
    out = []
    for seed in range(SEEDS):
        rng = np.random.default_rng([2024, sorted(KINDS).index(kind), seed])
        truth = drawn(kind, rng)
        taker = Taker(truth, rng)
        KINDS[kind].take(taker)
        trapped = seed % 3 == 0 and kind != "four"
        if trapped:
            planted(taker, rng)
        job = job_of(truth)
        out.append(Run(truth, diagnose(job, sound(job, taker.readings)), trapped))
    return tuple(out)


def sound(job: Job, readings: list[Reading]) -> list[Reading]:
    """What is left when every row that a check refuses or asks about is set aside."""
    sheet = measure(job, tuple(readings))
    open_ = {row for d in sheet.doubts if d.action != "warn" for row in d.rows}
    return [r for r in sheet.usable if r.seq not in open_]


def estimates(run: Run) -> Iterator[tuple[str, Estimate, float]]:
    """What was found beside what is true, by name; contributors only where identified."""
    truth, found = run.truth, run.found
    real = lost_motion(truth)
    for c in found.contributors:
        if c.key in real and c.identifiable:
            yield c.key, c.at_r2, real[c.key]
    yield "all together", found.lost_motion_mean, sum(real.values()) / truth.r2
    for name, size, vector in (
        ("wheel runout", found.wheel_runout, truth.wheel),
        ("worm runout", found.worm_runout, truth.worm),
    ):
        if size is not None:
            yield name, size, 2 * vector[0]
    if found.wear is not None:
        yield "wear", found.wear, truth.wear


@cache
def covered(kind: str) -> dict[str, list[bool]]:
    hits: dict[str, list[bool]] = defaultdict(list)
    for run in runs(kind):
        for name, estimate, real in estimates(run):
            hits[name].append(estimate.low <= real <= estimate.high)
    return dict(hits)


def full_sheets() -> tuple[tuple[Truth, Diagnosis], ...]:
    return tuple((r.truth, r.found) for r in runs("router"))


@pytest.mark.parametrize("kind", sorted(KINDS))
def test_intervals_cover_the_truth_as_often_as_they_say(kind: str) -> None:
    pooled = [hit for hits in covered(kind).values() for hit in hits]
    assert 0.93 <= np.mean(pooled) <= 0.97


@pytest.mark.parametrize(
    ("kind", "key"), [(kind, key) for kind, of in sorted(KINDS.items()) for key in of.told]
)
def test_each_identified_cause_is_covered_as_often_as_it_says(kind: str, key: str) -> None:
    hits = covered(kind)[key]
    assert len(hits) > SEEDS / 4, "too seldom identified for its coverage to mean anything"
    assert 0.90 <= np.mean(hits) <= 0.99


@pytest.mark.parametrize("kind", ["router", "club"])
def test_a_trap_in_the_sheet_costs_no_coverage(kind: str) -> None:
    hits: dict[bool, list[bool]] = {True: [], False: []}
    for run in runs(kind):
        for _, estimate, real in estimates(run):
            hits[run.trapped].append(estimate.low <= real <= estimate.high)
    assert np.mean(hits[True]) > np.mean(hits[False]) - 0.03


@pytest.mark.parametrize("kind", sorted(KINDS))
def test_unidentified_causes_hold_the_truth_as_well(kind: str) -> None:
    hits = []
    for run in runs(kind):
        real = lost_motion(run.truth)
        for c in run.found.contributors:
            if c.key in real and not c.identifiable:
                hits.append(c.at_r2.low <= real[c.key] <= c.at_r2.high)
    assert not hits or np.mean(hits) >= 0.90


def test_share_of_the_table_bearing_in_the_rock_holds_the_truth() -> None:
    """On two opposite pins the rock shows the play of the shaft as a pure couple does."""
    hits = []
    for truth, found in full_sheets():
        of = next(f for f in found.findings if f.key == "table_bearing")
        share = of.of("share rock_pins")
        assert share is not None
        seen = rock(truth, 0.0, 0.0, radius=80.0, torque=3000.0, pins=2) / 80.0 * truth.r2
        hits.append(share.low <= lost_motion(truth)["table_radial"] / seen <= share.high)
    assert 0.90 <= np.mean(hits) <= 0.99


def test_wear_is_not_called_proven_where_there_is_none() -> None:
    proven = [
        run.found.wear.low > 0 or run.found.wear.high < 0
        for run in runs("club")
        if run.found.wear is not None and run.truth.wear == 0
    ]
    assert len(proven) > SEEDS / 3
    assert np.mean(proven) <= 0.10


def test_wear_worth_knowing_is_proven() -> None:
    proven = [
        run.found.wear.low > 0
        for run in runs("club")
        if run.found.wear is not None and run.truth.wear > 0.03
    ]
    assert np.mean(proven) >= 0.9


def test_direct_runout_readings_narrow_the_runout_of_the_worm() -> None:
    truth = drawn_truth(np.random.default_rng(4), CLUB_TRUTH)
    us = []
    for direct in (False, True):
        taker = Taker(truth, np.random.default_rng(5))
        club_plays(taker)
        if direct:
            taker.direct_runouts()
        worm = diagnose(job_of(truth), taker.readings).worm_runout
        assert worm is not None
        us.append(worm.u)
    assert us[1] < 0.9 * us[0]


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
        beyond = ends[key] * float(rng.uniform(1.3, 2.5))
        truth = drawn_truth(np.random.default_rng([77, seed]), Truth(), **{key: beyond})
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
