"""Mistakes made on purpose in a positioning test, and what is said of each."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from results_samples import job
from simulated_axis import SimulatedAxis
from stages.prove.position_rows import ARCSEC, position_rows
from wormwright.core.worm_phase import planned_targets
from wormwright.job.reading import Reading
from wormwright.job.result import Doubt, StageRefusal
from wormwright.stages.prove import prove

Rows = tuple[Reading, ...]
TARGETS = planned_targets(ratio=90)
AXIS = SimulatedAxis(waves={1: (25.0, 0.4), 90: (6.0, 1.0)}, play=40.0, noise=1.5)


def clean(seed: int = 1, *, axis: SimulatedAxis = AXIS, kind: str = "position_error") -> Rows:
    up, down = axis.test(TARGETS, 5, np.random.default_rng(seed))
    return position_rows(list(np.degrees(TARGETS)), up, down, kind=kind)


def changed(rows: Rows, change: Callable[[Reading], Reading], *seqs: int) -> Rows:
    return tuple(change(r) if r.seq in seqs else r for r in rows)


def doubts(rows: Rows) -> dict[str, Doubt]:
    try:
        return {d.code: d for d in prove(job(), rows).doubts}
    except StageRefusal as refusal:
        return {d.code: d for d in refusal.doubts}


def times(factor: float) -> Callable[[Reading], Reading]:
    return lambda r: replace(r, value=(r.value or 0.0) * factor)


@pytest.mark.parametrize("seed", range(40))
def test_a_clean_test_is_not_asked_about(seed: int) -> None:
    assert doubts(clean(seed)) == {}


@pytest.mark.parametrize("factor", [60.0, 1 / 60, 3600.0, 10.0])
def test_one_reading_in_another_unit_is_asked_about_and_left_out(factor: float) -> None:
    victim = max(clean(), key=lambda r: abs(r.value or 0.0))
    found = doubts(changed(clean(), times(factor), victim.seq))
    assert found["P-4"].rows == (victim.seq,)
    assert found["P-4"].action == "ask"
    assert "P-11" in found, "its target or run is then not complete"


@pytest.mark.parametrize("factor", [60.0, 1 / 60])
def test_a_whole_run_in_another_unit_is_asked_about(factor: float) -> None:
    run = [r.seq for r in clean() if r.number("run") == 3 and r.said("approach") == "forward"]
    found = doubts(changed(clean(), times(factor), *run))
    assert set(found["P-4"].rows) == set(run)
    assert "Run 3 forward" in found["P-4"].seen


def test_a_lost_sign_is_named_as_such() -> None:
    victim = max(clean(), key=lambda r: abs(r.value or 0.0))
    found = doubts(changed(clean(), times(-1), victim.seq))
    assert "lost sign" in found["P-4"].why


def test_a_row_written_again_is_believed() -> None:
    victim = max(clean(), key=lambda r: abs(r.value or 0.0))
    again = changed(clean(), lambda r: replace(times(60)(r), supersedes=1000), victim.seq)
    assert "P-4" not in doubts(again)


def test_sides_mixed_up_at_one_target_are_found() -> None:
    mixed = {"forward": "backward", "backward": "forward"}

    def turned(r: Reading) -> Reading:
        return replace(r, conditions={**r.conditions, "approach": mixed[r.said("approach") or ""]})

    pair = [r.seq for r in clean() if r.number("run") == 2 and r.table_angle == TARGETS[3]]
    found = doubts(changed(clean(), turned, *pair))
    assert set(found["P-5"].rows) == set(pair)
    everywhere = doubts(tuple(turned(r) for r in clean()))
    assert "P-6" in everywhere, "mixed up everywhere it looks as if play helped"
    assert "P-6" not in doubts(clean())


def drift_rows(*readings: float, first: int = 500) -> Rows:
    return tuple(
        Reading(first + i, "position_drift", f"{x} arcsec", x * ARCSEC, table_angle=0.0)
        for i, x in enumerate(readings)
    )


def test_drift_larger_than_what_the_test_shows_refuses_it() -> None:
    small = SimulatedAxis(waves={1: (4.0, 0.0)}, play=5.0, noise=1.0)
    rows = (*clean(axis=small), *drift_rows(0, 14, 30))
    with pytest.raises(StageRefusal, match="all that the test shows"):
        prove(job(), rows)
    warned = doubts((*clean(), *drift_rows(0, 18, 36)))["P-7"]
    assert warned.action == "warn"
    assert doubts((*clean(), *drift_rows(0, 2, 1))) == {}


def test_drift_of_readings_through_zero_is_small() -> None:
    wrapped = tuple(
        replace(r, value=(r.value or 0.0) % (2 * math.pi)) for r in drift_rows(1.0, -1.0, 0.5)
    )
    test = prove(job(), (*clean(), *wrapped)).positioning
    assert test is not None
    assert test.drift is not None
    assert test.drift.value == pytest.approx(2 * ARCSEC)


@pytest.mark.parametrize("zero", [0.0, 12.3, 179.9999, 359.9])
def test_positions_as_shown_give_the_same_figures_wherever_their_zero_stands(zero: float) -> None:
    def shown(r: Reading) -> Reading:
        angle = ((r.table_angle or 0.0) + (r.value or 0.0) + math.radians(zero)) % (2 * math.pi)
        return replace(r, kind="position_shown", value=angle)

    plain, wrapped = (
        prove(job(), rows).positioning for rows in (clean(), tuple(shown(r) for r in clean()))
    )
    assert plain is not None
    assert wrapped is not None
    for figure in ("accuracy", "reversal_mean", "systematic", "repeatability"):
        assert wrapped.of(figure).value == pytest.approx(plain.of(figure).value, abs=1e-10)


def test_means_that_count_against_the_table_are_refused() -> None:
    def against(r: Reading) -> Reading:
        return replace(r, kind="position_shown", value=-(r.table_angle or 0.0) + (r.value or 0.0))

    assert doubts(tuple(against(r) for r in clean())).keys() == {"P-2"}


def test_two_ways_of_writing_side_by_side_leave_the_fewer_out() -> None:
    extra = replace(clean()[0], seq=900, kind="position_shown")
    assert doubts((*clean(), extra))["P-1"].rows == (900,)


def test_few_targets_are_not_called_a_test_of_the_standard() -> None:
    few = tuple(r for r in clean() if (r.table_angle or 0.0) < 4.0)
    assert "ISO 230-2 wants 8 and 5" in doubts(few)["P-8"].seen


def test_means_that_are_not_named_are_asked_for() -> None:
    bare = tuple(replace(r, conditions={**r.conditions, "means": 0.0}) for r in clean())
    assert "P-10" in doubts(bare)
    assert "P-10" not in doubts(tuple(replace(r, u=1e-6) for r in bare))


def test_even_targets_that_never_see_the_worm_turn_are_named() -> None:
    even = np.radians(np.arange(0.0, 360.0, 40.0))
    up, down = AXIS.test(even, 5, np.random.default_rng(1))
    teeth = Reading(999, "teeth", "90", 90.0)
    length = Reading(998, "thread_length", "23.56 mm", 23.562, conditions={"threads": 5.0})
    rows = (*position_rows(list(np.degrees(even)), up, down), teeth, length)
    assert "90:1" in doubts(rows)["P-9"].seen
