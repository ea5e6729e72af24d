"""Traps in runouts, tilt, clamp shift and loop: each planted in a clean sheet, found and named."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stages.measure.clean_sheet import Units, clean_sheet, job
from stages.measure.planted import BOTH, changed, found, of, plus, said, times
from wormwright.job.reading import Reading
from wormwright.stages.measure import measure

RUNOUTS = ("face_runout", "register_runout", "bar_runout")


def every(rows: list[Reading], kind: str) -> set[int]:
    return {r.seq for r in of(rows, kind)}


@pytest.mark.parametrize("kind", RUNOUTS)
def test_a_runout_without_table_angles_is_refused_and_kept_out(kind: str) -> None:
    rows = clean_sheet(4)
    victims = every(rows, kind)
    sheet = measure(job(), changed(rows, victims, lambda r: replace(r, table_angle=None)))
    refused = [d for d in sheet.doubts if d.action == "refuse"]
    assert [(d.code, set(d.rows)) for d in refused] == [("E-31", victims)]
    assert set(sheet.kept_out) == victims


def test_a_bar_read_at_one_distance_only_is_warned_about() -> None:
    rows = [r for r in clean_sheet(4) if r.kind != "bar_runout" or r.number("z") == 20.0]
    doubts = found(rows)
    assert [(d.code, d.action) for d in doubts.values()] == [("E-31", "warn")]
    assert set(doubts["E-31"].rows) == every(rows, "bar_runout")


@pytest.mark.parametrize("places", [3, 4, 7])
def test_a_runout_from_few_places_is_warned_about(places: int) -> None:
    rows = clean_sheet(4)
    kept = {r.seq for r in of(rows, "register_runout")[:places]}
    few = [r for r in rows if r.kind != "register_runout" or r.seq in kept]
    doubt = found(few)["E-32"]
    assert doubt.action == "warn"
    assert set(doubt.rows) == kept
    assert f"{places} places" in doubt.seen


@pytest.mark.parametrize(
    ("kind", "condition"),
    [
        ("face_runout", "radius"),
        ("tilt_under_moment", "arm"),
        ("bar_runout", "z"),
        ("rock_loop", "pin_radius"),
    ],
)
def test_a_movement_without_the_distance_that_makes_it_an_angle_is_refused(
    kind: str, condition: str
) -> None:
    rows = clean_sheet(4)
    victims = every(rows, kind)
    sheet = measure(job(), changed(rows, victims, said(**{condition: None})))
    refused = next(d for d in sheet.doubts if d.action == "refuse")
    assert (refused.code, set(refused.rows)) == ("E-7", victims)
    assert set(sheet.kept_out) == victims


def test_a_turning_clamp_shift_needs_its_radius_and_a_lift_does_not() -> None:
    rows = changed(clean_sheet(4), every(clean_sheet(4), "clamp_shift"), said(radius=None))
    refused = found(rows)["E-7"]
    turning = {r.seq for r in of(rows, "clamp_shift") if r.station == "turning"}
    assert (refused.action, set(refused.rows)) == ("refuse", turning)


@pytest.mark.parametrize(
    ("kind", "surface"), [("face_runout", "as-cast face"), ("register_runout", "rough rim")]
)
def test_runout_of_a_surface_that_was_not_machined_is_warned_about(kind: str, surface: str) -> None:
    rows = clean_sheet(4)
    victims = every(rows, kind)
    doubts = found(changed(rows, victims, said(surface=surface)))
    assert [(d.code, d.action, set(d.rows)) for d in doubts.values()] == [("E-6", "warn", victims)]


def test_locking_in_different_orders_is_warned_about() -> None:
    rows = clean_sheet(4)
    one = of(rows, "clamp_shift")[4].seq
    doubts = found(changed(rows, {one}, said(order="B then A")))
    assert [(d.code, d.action) for d in doubts.values()] == [("E-24", "warn")]
    assert "A then B, B then A" in doubts["E-24"].seen


def test_a_loop_pushed_one_way_only_is_warned_about() -> None:
    rows = [r for r in clean_sheet(4) if r.kind != "rock_loop" or (r.number("torque") or 0.0) > 0.0]
    doubts = found(rows)
    assert [(d.code, d.action) for d in doubts.values()] == [("E-10", "warn")]
    assert "one way of pushing" in doubts["E-10"].seen


def test_a_loop_with_the_torque_only_rising_is_warned_about() -> None:
    rows = [r for r in clean_sheet(4) if r.kind != "rock_loop" or r.said("branch") == "up"]
    assert "one branch" in found(rows)["E-10"].seen


def test_a_loop_that_runs_against_its_torque_is_one_question_about_the_dial() -> None:
    rows = clean_sheet(4)
    victims = every(rows, "rock_loop")
    doubts = found(changed(rows, victims, times(-1)))
    assert [(d.code, d.action, set(d.rows)) for d in doubts.values()] == [("E-4", "ask", victims)]


@settings(max_examples=30, deadline=None, derandomize=True)
@given(
    seed=st.integers(0, 10**6),
    units=st.sampled_from(BOTH),
    kind=st.sampled_from(RUNOUTS),
    place=st.integers(0, 7),
    turn=st.sampled_from([-1.0, 1.0]),
)
def test_one_place_of_a_runout_a_needle_turn_off_is_asked_about_in_that_row_only(
    seed: int, units: Units, kind: str, place: int, turn: float
) -> None:
    rows = clean_sheet(seed, units)
    victim = of(rows, kind)[place].seq
    doubts = found(changed(rows, {victim}, plus(turn)), units)
    asked = [d for d in doubts.values() if d.action == "ask"]
    assert [(d.code, d.rows) for d in asked] == [("E-5", (victim,))]


def balanced_or_not(instrument: str) -> str:
    """The code that a place reading 0.992 among neighbours near 0 raises on that dial."""
    rows = clean_sheet(4)
    series = of(rows, "register_runout")
    named = changed(
        rows,
        {r.seq for r in series},
        lambda r: replace(r, instrument=instrument, value=round((r.value or 0) * 0.3, 3)),
    )
    low = min(series[1:8], key=lambda r: r.value or 0.0).seq
    past = changed(
        named,
        {low},
        lambda r: replace(r, value=(r.value or 0) + 1.0, raw=f"{(r.value or 0) + 1.0:.3f} mm"),
    )
    doubts = [d for d in measure(job(), past).doubts if d.action == "ask"]
    assert [d.rows for d in doubts] == [(low,)]
    return doubts[0].code


def test_98_on_a_continuous_dial_is_asked_about_as_minus_2_and_on_a_balanced_one_as_a_turn() -> (
    None
):
    assert balanced_or_not("DI 0.01") == "E-4"
    assert balanced_or_not("DI 0.01/1") == "E-5"


def test_the_question_of_a_dial_past_zero_offers_both_readings() -> None:
    rows = clean_sheet(4)
    series = of(rows, "face_runout")
    values = [0.0, 0.02, 0.01, 0.0, -0.01, 0.98, -0.02, -0.01, 0.0]
    written = {
        r.seq: replace(r, value=v, raw=f"{v:.2f} mm", instrument="DI 0.01")
        for r, v in zip(series, values, strict=True)
    }
    doubt = found([written.get(r.seq, r) for r in rows])["E-4"]
    assert doubt.rows == (series[5].seq,)
    assert "−0.02 or +0.98" in doubt.seen


@pytest.mark.parametrize("kind", RUNOUTS)
@pytest.mark.parametrize("factor", [25.4, 10.0])
def test_a_slipped_unit_at_one_place_of_a_runout_is_asked_about(kind: str, factor: float) -> None:
    rows = clean_sheet(5)
    victim = max(of(rows, kind)[1:8], key=lambda r: abs(r.value or 0.0)).seq
    doubt = found(changed(rows, {victim}, times(factor)))["E-3"]
    assert (doubt.action, doubt.rows) == ("ask", (victim,))


@pytest.mark.parametrize("factor", [25.4, 10.0])
def test_a_unit_key_pressed_in_the_middle_of_a_runout_is_asked_about(factor: float) -> None:
    rows = clean_sheet(5)
    later = {r.seq for r in of(rows, "face_runout")[5:]}
    doubt = found(changed(rows, later, times(factor)))["E-3"]
    assert set(doubt.rows) == later
    assert "From row" in doubt.seen


@pytest.mark.parametrize("kind", RUNOUTS)
def test_a_runout_that_does_not_close_is_warned_about(kind: str) -> None:
    rows = clean_sheet(4)
    again = of(rows, kind)[8].seq
    doubts = found(changed(rows, {again}, plus(0.012)))
    assert [(d.code, d.action) for d in doubts.values()] == [("E-33", "warn")]
    assert doubts["E-33"].rows == (of(rows, kind)[0].seq, again)


def test_a_tilted_stylus_is_seen_on_a_runout_too() -> None:
    rows = clean_sheet(4)
    victims = every(rows, "face_runout")
    doubts = found(changed(rows, victims, said(stylus=math.radians(40))))
    assert (doubts["E-8"].action, set(doubts["E-8"].rows)) == ("refuse", victims)


def test_a_locked_table_is_refused_for_tilt_and_loop_too() -> None:
    rows = clean_sheet(4)
    for kind in ("tilt_under_moment", "rock_loop"):
        victims = every(rows, kind)
        doubts = found(changed(rows, victims, said(lock="on")))
        assert (doubts["E-43"].action, set(doubts["E-43"].rows)) == ("refuse", victims)


@pytest.mark.parametrize("units", BOTH)
@pytest.mark.parametrize("kind", ["bar_runout", "rock_loop"])
def test_a_lost_sign_is_asked_about_in_that_row_only(kind: str, units: Units) -> None:
    rows = clean_sheet(4, units)
    victim = max(of(rows, kind)[1:8], key=lambda r: abs(r.value or 0.0)).seq
    doubts = found(changed(rows, {victim}, times(-1)), units)
    assert [(d.code, d.action, d.rows) for d in doubts.values()] == [("E-4", "ask", (victim,))]


def test_a_loop_on_a_powered_motor_is_warned_about_with_its_rows() -> None:
    rows = clean_sheet(4)
    victims = every(rows, "rock_loop")
    doubts = found(changed(rows, victims, said(worm_held="powered motor")))
    assert [(d.code, d.action, set(d.rows)) for d in doubts.values()] == [("E-42", "warn", victims)]


def test_a_bar_with_strong_lobes_is_not_taken_for_a_change_of_unit() -> None:
    rows = clean_sheet(4)
    lobed = changed(
        rows,
        every(rows, "bar_runout"),
        lambda r: replace(r, value=0.05 * math.cos(3 * (r.table_angle or 0.0)), raw="as typed"),
    )
    assert "E-3" not in found(lobed)


def test_a_loop_that_hardly_moves_is_not_said_to_run_backward() -> None:
    rows = clean_sheet(4)
    still = changed(
        rows,
        every(rows, "rock_loop"),
        lambda r: replace(r, value=0.001 if r.said("branch") == "up" else -0.001, raw="as typed"),
    )
    assert "E-4" not in found(still)
