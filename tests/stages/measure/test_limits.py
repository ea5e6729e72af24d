"""The limits that the page about measuring states are the limits that the checks use."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from stages.measure.clean_sheet import clean_sheet, job
from wormwright.job.reading import Reading
from wormwright.job.sheet import KINDS
from wormwright.job.sheet_table import RUNOUTS
from wormwright.stages.measure import measure
from wormwright.stages.measure.traps_series import closing_limit

ROWS = clean_sheet(2)
ROCKS = [r for r in ROWS if r.kind == "rock"]
MEAN = sum(r.value or 0.0 for r in ROCKS) / len(ROCKS)


def with_conditions(seqs: set[int], **conditions: float) -> list[Reading]:
    return [
        replace(r, conditions={**r.conditions, **conditions}) if r.seq in seqs else r for r in ROWS
    ]


def with_value(kind: str, value: float) -> list[Reading]:
    return [replace(r, value=value, raw="read") if r.kind == kind else r for r in ROWS]


def codes(rows: list[Reading]) -> set[str]:
    return {d.code for d in measure(job(), rows).doubts}


@pytest.mark.parametrize(("share", "told"), [(0.019, False), (0.021, True)])
def test_a_radius_counts_as_guessed_above_two_per_cent(share: float, told: bool) -> None:
    rows = with_conditions({r.seq for r in ROCKS}, pin_radius_u=80.0 * share)
    assert ("E-7" in codes(rows)) == told


@pytest.mark.parametrize(("degrees", "told"), [(14.9, False), (15.1, True), (29.9, True)])
def test_a_stylus_is_warned_about_from_fifteen_degrees(degrees: float, told: bool) -> None:
    rows = with_conditions({ROCKS[2].seq}, stylus=math.radians(degrees))
    doubts = [d.action for d in measure(job(), rows).doubts if d.code == "E-8"]
    assert doubts == (["warn"] if told else [])


def test_a_stylus_is_refused_from_thirty_degrees() -> None:
    rows = with_conditions({ROCKS[2].seq}, stylus=math.radians(30.1))
    assert [d.action for d in measure(job(), rows).doubts if d.code == "E-8"] == ["refuse"]


@pytest.mark.parametrize(("factor", "told"), [(1.15, False), (1.25, True), (0.75, True)])
def test_a_torque_is_unlike_from_twenty_per_cent(factor: float, told: bool) -> None:
    rows = with_conditions({ROCKS[2].seq}, torque=3000.0 * factor)
    assert ("E-9" in codes(rows)) == told


@pytest.mark.parametrize(("share", "told"), [(0.19, False), (0.21, True)])
def test_table_play_matters_from_a_fifth_of_the_rock(share: float, told: bool) -> None:
    assert ("E-11" in codes(with_value("table_radial_play", share * MEAN))) == told


@pytest.mark.parametrize(("deviations", "told"), [(1.9, False), (2.1, True)])
def test_the_first_position_of_a_lone_series_drifts_from_two_standard_deviations(
    deviations: float, told: bool
) -> None:
    s = math.sqrt(2) * (KINDS["rock"].noise or 0.0)
    end = (ROCKS[0].value or 0.0) + deviations * s
    alone = [r for r in ROWS if r.kind not in RUNOUTS]
    rows = [replace(r, value=end, raw="read") if r.seq == ROCKS[12].seq else r for r in alone]
    assert ("E-33" in codes(rows)) == told


def test_many_series_that_close_by_chance_alone_are_warned_about_on_one_sheet_in_twenty() -> None:
    limit, rng = closing_limit(7), np.random.default_rng(5)
    missed = np.abs(rng.normal(size=(20_000, 7))) > limit
    assert np.mean(missed.any(axis=1)) == pytest.approx(0.05, abs=0.006)


@pytest.mark.parametrize(("turn_degrees", "told"), [(25.0, False), (35.0, True)])
def test_the_worm_phase_is_mixed_from_thirty_degrees_of_the_worm(
    turn_degrees: float, told: bool
) -> None:
    teeth = next(r.value or 0.0 for r in ROWS if r.kind == "teeth")
    off = math.radians(turn_degrees) / teeth
    rows = [replace(r, worm_angle=None) if r.kind == "rock" else r for r in ROWS]
    rows = [r for r in rows if r.seq not in {x.seq for x in ROCKS[13:16]}]
    rows = [
        replace(r, table_angle=(r.table_angle or 0.0) + off) if r.seq == ROCKS[4].seq else r
        for r in rows
    ]
    assert ("E-12" in codes(rows)) == told


@pytest.mark.parametrize(("clearance", "told"), [(0.04, True), (0.12, False)])
def test_the_crest_wants_a_twentieth_of_a_millimetre_or_of_the_module(
    clearance: float, told: bool
) -> None:
    assert ("E-20" in codes(with_value("tip_clearance", clearance))) == told


@pytest.mark.parametrize(("scatters", "told"), [(3.0, False), (12.0, True)])
def test_a_value_within_its_scatter_is_no_unit_slip_even_at_a_tenth(
    scatters: float, told: bool
) -> None:
    noise = KINDS["worm_end_play"].noise or 0.0
    plays = [r for r in ROWS if r.kind == "worm_end_play"]
    usual = scatters * noise / 0.9
    values = {plays[0].seq: usual, plays[1].seq: usual / 10, plays[2].seq: usual}
    rows = [replace(r, value=values.get(r.seq, r.value), raw="read") for r in ROWS]
    assert ("E-3" in codes(rows)) == told
