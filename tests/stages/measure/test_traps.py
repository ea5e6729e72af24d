"""Each trap planted in an otherwise clean sheet is found, named and acted on; nothing else is."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stages.measure.clean_sheet import Units, clean_sheet, job
from stages.measure.planted import BOTH, changed, found, of, plus, said, times
from wormwright.job.reading import Reading
from wormwright.job.rotary import Motor
from wormwright.stages.measure import measure


@settings(max_examples=40, deadline=None, derandomize=True)
@given(seed=st.integers(0, 10**6), units=st.sampled_from(BOTH))
def test_a_clean_sheet_raises_no_doubt_in_either_unit_system(seed: int, units: Units) -> None:
    sheet = measure(job(units), clean_sheet(seed, units))
    assert sheet.doubts == ()
    assert [r.seq for r in sheet.usable] == [r.seq for r in clean_sheet(seed, units)]


@settings(max_examples=25, deadline=None, derandomize=True)
@given(
    seed=st.integers(0, 10**6),
    units=st.sampled_from(BOTH),
    factor=st.sampled_from([25.4, 1 / 25.4, 10.0, 0.1]),
    place=st.integers(1, 11),
)
def test_a_slipped_unit_in_one_rock_is_asked_about_in_that_row_only(
    seed: int, units: Units, factor: float, place: int
) -> None:
    rows = clean_sheet(seed, units)
    victim = of(rows, "rock")[place].seq
    doubts = found(changed(rows, {victim}, times(factor)), units)
    assert doubts["E-3"].action == "ask"
    assert doubts["E-3"].rows == (victim,)


@pytest.mark.parametrize("kind", ["worm_end_play", "drive_play", "worm_od", "thread_length"])
@pytest.mark.parametrize("factor", [25.4, 10.0, 1 / 25.4])
def test_a_slipped_unit_among_three_repeats_is_asked_about(kind: str, factor: float) -> None:
    rows = clean_sheet(3)
    same = of(rows, kind)
    if len(same) < 3:
        rows.append(replace(same[0], seq=len(rows) + 1))
    victim = same[1].seq
    doubts = found(changed(rows, {victim}, times(factor)))
    assert victim in doubts["E-3"].rows


@pytest.mark.parametrize("units", BOTH)
@pytest.mark.parametrize("factor", [25.4, 1 / 25.4, 10.0])
def test_a_unit_that_changes_within_a_series_is_asked_about_from_that_row_on(
    units: Units, factor: float
) -> None:
    rows = clean_sheet(5, units)
    later = {r.seq for r in of(rows, "rock")[6:]}
    doubt = found(changed(rows, later, times(factor)), units)["E-3"]
    assert set(doubt.rows) == later
    assert "From row" in doubt.seen


def test_a_whole_series_in_the_wrong_unit_is_asked_about_from_the_usual_range() -> None:
    rows = clean_sheet(5)
    every = {r.seq for r in of(rows, "worm_end_play")}
    assert set(found(changed(rows, every, times(25.4)))["E-3"].rows) == every


def test_a_worn_out_unit_with_large_play_is_not_taken_for_a_slip() -> None:
    rows = clean_sheet(5)
    every = {r.seq for r in of(rows, "rock")}
    assert "E-3" not in found(changed(rows, every, times(4.0)))


@pytest.mark.parametrize("turn", [0.2, 1.0, 2.54])
def test_a_lost_turn_of_the_needle_is_asked_about(turn: float) -> None:
    rows = clean_sheet(11)
    victim = of(rows, "rock")[4].seq
    doubts = found(changed(rows, {victim}, plus(turn)))
    assert set(doubts) == {"E-5"}
    assert doubts["E-5"].rows == (victim,)
    assert doubts["E-5"].action == "ask"


def test_one_reversed_push_and_pull_is_asked_about_and_stays_out_of_fits() -> None:
    rows = clean_sheet(2)
    victim = of(rows, "rock")[3].seq
    sheet = measure(job(), changed(rows, {victim}, times(-1)))
    doubt = next(d for d in sheet.doubts if d.code == "E-4")
    assert doubt.action == "ask"
    assert doubt.rows == (victim,)
    assert sheet.kept_out == (victim,)
    assert victim not in {r.seq for r in sheet.usable}


def test_a_series_read_on_a_dial_that_counts_the_other_way_is_one_question() -> None:
    rows = clean_sheet(2)
    every = {r.seq for r in of(rows, "rock")}
    doubt = found(changed(rows, every, times(-1)))["E-4"]
    assert set(doubt.rows) == every
    assert "other way" in doubt.seen


def test_a_rock_on_the_lever_tip_is_refused_and_kept_out() -> None:
    rows = clean_sheet(2)
    victim = of(rows, "rock")[3].seq
    sheet = measure(job(), changed(rows, {victim}, said(surface="lever tip")))
    assert [(d.code, d.action, d.rows) for d in sheet.doubts] == [("E-6", "refuse", (victim,))]
    assert sheet.kept_out == (victim,)


def test_a_rock_on_the_chuck_body_is_a_warning_only() -> None:
    rows = clean_sheet(2)
    victim = of(rows, "rock")[3].seq
    sheet = measure(job(), changed(rows, {victim}, said(surface="chuck body")))
    assert [(d.code, d.action) for d in sheet.doubts] == [("E-6", "warn")]
    assert sheet.kept_out == ()


def test_a_rock_without_its_radius_is_refused() -> None:
    rows = clean_sheet(2)
    victim = of(rows, "rock")[3].seq
    sheet = measure(job(), changed(rows, {victim}, said(pin_radius=None, pin_radius_u=None)))
    assert ("E-7", "refuse", (victim,)) in [(d.code, d.action, d.rows) for d in sheet.doubts]
    assert sheet.kept_out == (victim,)


def test_a_guessed_radius_is_warned_about_with_its_effect_in_per_cent() -> None:
    rows = clean_sheet(2)
    every = {r.seq for r in of(rows, "rock")}
    doubts = found(changed(rows, every, said(pin_radius_u=4.0)))
    assert set(doubts) == {"E-7"}
    assert "5.0%" in doubts["E-7"].seen
    assert doubts["E-7"].action == "warn"


def test_a_radius_without_a_stated_doubt_is_asked_about() -> None:
    rows = clean_sheet(2)
    every = {r.seq for r in of(rows, "rock")}
    doubt = found(changed(rows, every, said(pin_radius_u=None)))["E-7"]
    assert doubt.action == "ask"
    assert "1.2%" in doubt.why


@pytest.mark.parametrize(("tilt", "action"), [(10, None), (20, "warn"), (40, "refuse")])
def test_a_tilted_stylus_is_warned_about_and_a_steep_one_refused(
    tilt: float, action: str | None
) -> None:
    rows = clean_sheet(2)
    every = {r.seq for r in of(rows, "rock")}
    doubts = found(changed(rows, every, said(stylus=math.radians(tilt))))
    assert (doubts["E-8"].action if doubts else None) == action


def test_one_rock_at_another_torque_is_warned_about_and_a_second_level_is_not() -> None:
    rows = clean_sheet(2)
    victim = of(rows, "rock")[3].seq
    doubts = found(changed(rows, {victim}, said(torque=4000.0)))
    assert doubts["E-9"].rows == (victim,)
    assert doubts["E-9"].action == "warn"
    assert set(doubts) == {"E-9"}


def test_a_rock_without_torque_is_asked_about() -> None:
    rows = clean_sheet(2)
    victim = of(rows, "rock")[3].seq
    doubt = found(changed(rows, {victim}, said(torque=None)))["E-9"]
    assert (doubt.action, doubt.rows) == ("ask", (victim,))


def test_a_single_torque_level_is_warned_about() -> None:
    rows = [r for r in clean_sheet(2) if r.number("torque") != 1000.0]
    doubts = found(rows)
    assert [(d.code, d.action) for d in doubts.values()] == [("E-10", "warn")]


def test_large_table_play_asks_for_two_opposite_pins_until_they_are_read() -> None:
    rows = clean_sheet(2)
    plays = of(rows, "table_radial_play")
    rocks = of(rows, "rock")
    share = 0.4 * sum(r.value or 0.0 for r in rocks) / len(rocks)
    loose = changed(rows, {r.seq for r in plays}, lambda r: replace(r, value=share, raw="read"))
    doubts = found(loose)
    assert set(doubts) == {"E-11"}
    assert "two opposite pins" in doubts["E-11"].do
    pins = [replace(r, kind="rock_pins", seq=1000 + r.seq) for r in rocks]
    assert "E-11" not in found(loose + pins)


def test_positions_that_mix_the_worm_phase_are_warned_about_with_better_ones_offered() -> None:
    rows = [r for r in clean_sheet(2) if not (r.kind == "rock" and r.worm_angle)]
    teeth = of(rows, "teeth")[0].value or 0.0
    blind = [replace(r, worm_angle=None) if r.kind == "rock" else r for r in rows]
    assert "E-12" not in found(blind)
    half = math.pi / teeth
    odd = {r.seq for r in of(blind, "rock")[1:12:2]}
    mixed = changed(blind, odd, lambda r: replace(r, table_angle=(r.table_angle or 0.0) + half))
    doubt = found(mixed)["E-12"]
    assert set(doubt.rows) == odd
    offered = [
        float(w)
        for w in doubt.do.split(" instead")[0].removeprefix("Read at ").replace("°", "").split(", ")
    ]
    turns = [math.radians(a) * teeth / (2 * math.pi) for a in offered]
    assert all(abs(t - round(t)) < 0.01 for t in turns)


def test_thirty_degree_steps_at_ninety_to_one_are_found_to_alternate_the_worm() -> None:
    rows = [replace(r, value=90.0) if r.kind == "teeth" else r for r in clean_sheet(2)]
    blind = [
        replace(r, worm_angle=None, table_angle=math.radians(30 * i))
        for i, r in enumerate(of(rows, "rock")[:12])
    ]
    others = [r for r in rows if r.kind != "rock"]
    doubt = found(others + blind)["E-12"]
    assert set(doubt.rows) == {r.seq for r in blind[1::2]}
    assert "4° of the table" in doubt.seen


@pytest.mark.parametrize(("value", "asked"), [(0.19, False), (0.21, True)])
def test_a_movement_beyond_the_travel_of_the_named_dial_is_asked_about(
    value: float, asked: bool
) -> None:
    rows = clean_sheet(2)
    every = {r.seq for r in of(rows, "worm_end_play")}
    lone = replace(of(rows, "worm_end_play")[0], instrument="TI 0.002", value=value, raw="as typed")
    kept = [r for r in rows if r.seq not in every]
    codes = [d.code for d in measure(job(), [*kept, lone]).doubts if lone.seq in d.rows]
    assert codes == (["E-3"] if asked else [])


@pytest.mark.parametrize(("raw", "note"), [("0.6 mm TIR", ""), ("0.600 mm", "tir by roller")])
def test_a_throw_that_speaks_of_tir_is_asked_about(raw: str, note: str) -> None:
    rows = clean_sheet(2)
    throw = Reading(seq=len(rows) + 1, kind="adjuster_throw", raw=raw, value=0.6, note=note)
    doubt = found([*rows, throw])["E-16"]
    assert (doubt.action, doubt.rows) == ("ask", (throw.seq,))


def test_two_throws_that_differ_by_two_are_asked_about_and_like_ones_are_not() -> None:
    rows = clean_sheet(2)
    n = len(rows)
    one = Reading(seq=n + 1, kind="adjuster_throw", raw="0.305 mm", value=0.305)
    double = Reading(seq=n + 2, kind="adjuster_throw", raw="0.61 mm", value=0.61)
    like = replace(one, seq=n + 2, value=0.31, raw="0.31 mm")
    assert "E-16" in found([*rows, one, double])
    assert "E-16" not in found([*rows, one, like])


def test_a_first_position_that_does_not_repeat_is_warned_about() -> None:
    rows = clean_sheet(2)
    again = of(rows, "rock")[12]
    doubts = found(changed(rows, {again.seq}, plus(0.015)))
    assert [(d.code, d.action) for d in doubts.values()] == [("E-33", "warn")]
    assert doubts["E-33"].rows == (of(rows, "rock")[0].seq, again.seq)


def test_a_series_that_does_not_return_to_its_start_is_warned_about() -> None:
    rows = clean_sheet(2)
    again = of(rows, "rock")[12].seq
    assert "not read again" in found([r for r in rows if r.seq != again])["E-33"].seen


@pytest.mark.parametrize(
    ("kind", "raw", "value"),
    [
        ("rock", "0.271834 mm", 0.271834),
        ("rock", "+0.14012345 / -0.13101234 mm", 0.27113579),
        ("worm_od", "1.250001 in", 31.7500254),
    ],
)
def test_more_digits_than_the_instrument_has_are_warned_about(
    kind: str, raw: str, value: float
) -> None:
    rows = clean_sheet(2)
    victim = of(rows, kind)[0]
    scale = (victim.value or 0.0) / value
    written = replace(victim, raw=raw, value=value) if kind == "rock" else victim
    if kind == "worm_od":
        written = replace(victim, raw=raw, value=value * scale)
    doubts = found(changed(rows, {victim.seq}, lambda _: written))
    assert doubts["E-34"].action == "warn"
    assert victim.seq in doubts["E-34"].rows


def test_a_quarter_division_of_the_named_dial_is_no_false_digit() -> None:
    rows = clean_sheet(2)
    victim = of(rows, "rock")[0]
    fine = replace(victim, instrument="dial indicator 0.01 mm")
    finer = replace(fine, raw=f"{victim.value:.6f} mm", value=round(victim.value or 0.0, 6))
    assert "E-34" not in found(changed(rows, {victim.seq}, lambda _: fine))
    finer = replace(finer, value=(finer.value or 0) + 1.3e-6, raw=f"{finer.value or 0:.6f}3 mm")
    assert "E-34" in found(changed(rows, {victim.seq}, lambda _: finer))


def test_a_unit_without_a_mark_of_its_own_is_refused() -> None:
    doubts = measure(job(unit_id="unknown"), clean_sheet(2)).doubts
    assert [(d.code, d.action) for d in doubts] == [("E-40", "refuse")]


def test_a_worm_held_by_the_powered_motor_is_warned_about_with_its_spring() -> None:
    rows = clean_sheet(2)
    every = {r.seq for r in of(rows, "rock")}
    powered = changed(rows, every, said(worm_held="powered motor"))
    assert found(powered)["E-42"].action == "warn"
    driven = replace(job(), motor=Motor("stepper", torque_hold_nmm=1200.0))
    doubt = next(d for d in measure(driven, powered).doubts if d.code == "E-42")
    teeth = of(rows, "teeth")[0].value or 1.0
    arcmin = math.degrees(2 * 3000 / (50 * 1200 * teeth**2)) * 60
    assert f"{arcmin:.2f}"[:3] in doubt.why or "arcsec" in doubt.why


def test_a_locked_table_is_refused_and_an_unsaid_lock_warned_about() -> None:
    rows = clean_sheet(2)
    victim = of(rows, "rock")[3].seq
    locked = found(changed(rows, {victim}, said(lock="on")))["E-43"]
    unsaid = found(changed(rows, {victim}, said(lock=None)))["E-43"]
    assert (locked.action, locked.rows) == ("refuse", (victim,))
    assert (unsaid.action, unsaid.rows) == ("warn", (victim,))


def test_drag_read_with_the_lock_on_is_refused() -> None:
    rows = clean_sheet(2)
    victim = of(rows, "drag_in_mesh")[3].seq
    assert found(changed(rows, {victim}, said(lock="on")))["E-43"].rows == (victim,)


def test_open_centres_with_little_play_hint_at_a_worm_standing_sideways() -> None:
    rows = clean_sheet(2)
    apart = {r.seq for r in of(rows, "centre_distance")}
    module = 2.0
    doubts = found(changed(rows, apart, plus(1.0 * module)))
    assert doubts["E-19"].action == "warn"
    straight = [replace(r, word="straight") if r.kind == "wheel_kind" else r for r in rows]
    assert "E-19" not in found(changed(straight, apart, plus(1.0 * module)))


def test_hardly_any_room_at_the_crest_hints_at_a_bottomed_worm() -> None:
    rows = clean_sheet(2)
    tight = {r.seq for r in of(rows, "tip_clearance")}
    doubts = found(changed(rows, tight, lambda r: replace(r, value=0.03, raw="0.03 mm")))
    assert [(d.code, d.action) for d in doubts.values()] == [("E-20", "warn")]


def test_a_question_is_not_asked_again_once_the_row_is_replaced_with_the_same_reading() -> None:
    rows = clean_sheet(2)
    victim = of(rows, "worm_end_play")[1]
    wrong = times(10.0)(victim)
    asked = changed(rows, {victim.seq}, lambda _: wrong)
    assert "E-3" in found(asked)
    again = replace(wrong, seq=len(rows) + 1, supersedes=wrong.seq)
    live = [r for r in asked if r.seq != wrong.seq] + [again]
    stood_by = measure(job(), live, all_readings=[*asked, again])
    assert "E-3" not in {d.code for d in stood_by.doubts}
    other = replace(again, value=(again.value or 0.0) * 1.1)
    still = [*live[:-1], other]
    asked_again = measure(job(), still, all_readings=[*asked, other])
    assert "E-3" in {d.code for d in asked_again.doubts}


def test_refusals_come_first_and_every_doubt_says_what_to_do() -> None:
    rows = clean_sheet(2)
    rocks = of(rows, "rock")
    rows = changed(rows, {rocks[1].seq}, said(lock="on"))
    rows = changed(rows, {rocks[2].seq}, said(torque=4500.0))
    rows = changed(rows, {rocks[5].seq}, times(25.4))
    doubts = measure(job(), rows).doubts
    assert [d.action for d in doubts] == ["refuse", "ask", "warn"]
    assert all(d.seen and d.why and d.do for d in doubts)
