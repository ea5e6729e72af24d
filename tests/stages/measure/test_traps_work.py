"""Traps of the work that readings give away: blue, oil, dirt, warm mesh, cold motor, preload."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import get_args

import pytest

from stages.measure.clean_sheet import clean_sheet, job
from stages.measure.planted import changed, found, of, said, times
from wormwright.core.blue_mark import Sketch
from wormwright.job.blocks import Paragraph
from wormwright.job.reading import Reading
from wormwright.job.result import Doubt
from wormwright.job.rotary import Motor
from wormwright.job.sheet_load import SKETCHES
from wormwright.stages.measure import measure, report

Sheet = list[Reading]


def blued(plus: str, minus: str, *, crest: str = "dull", hand: str = "right") -> Sheet:
    """A clean sheet with these sketches on the two flanks at every place."""

    def mark(r: Reading) -> Reading:
        if r.kind == "hand":
            return replace(r, word=hand)
        if r.kind != "blue_mark":
            return r
        word = plus if r.station == "flank plus" else minus
        return replace(r, word=word, raw=word, conditions={**r.conditions, "crest": crest})

    return [mark(r) for r in clean_sheet(6)]


def blue_words(rows: Sheet) -> str:
    blocks = report(measure(job(), rows))
    return next(
        b.text for b in blocks if isinstance(b, Paragraph) and b.text.startswith("The blue")
    )


def test_the_sketches_of_the_sheet_are_those_that_the_rules_know() -> None:
    assert set(SKETCHES) == set(get_args(Sketch))


@pytest.mark.parametrize(("edge", "way"), [("plus edge", "+Z"), ("minus edge", "-Z")])
def test_blue_at_one_edge_of_both_flanks_is_a_worm_off_the_throat(edge: str, way: str) -> None:
    rows = blued(edge, edge)
    doubts = found(rows)
    assert [(d.code, d.action) for d in doubts.values()] == [("E-19", "warn")]
    assert f"toward {way}" in doubts["E-19"].do
    assert f"the wheel along {way}" in blue_words(rows)


@pytest.mark.parametrize(
    ("hand", "plus", "minus"),
    [("right", "plus edge", "minus edge"), ("left", "minus edge", "plus edge")],
)
def test_opposite_edges_that_only_skew_gives_name_the_ends_of_the_worm(
    hand: str, plus: str, minus: str
) -> None:
    doubts = found(blued(plus, minus, hand=hand))
    assert [(d.code, d.action) for d in doubts.values()] == [("E-18", "warn")]
    assert "two ends" in doubts["E-18"].do


def test_opposite_edges_as_an_open_mesh_marks_them_raise_no_doubt_but_ask_for_depth_first() -> None:
    rows = blued("minus edge", "plus edge", hand="right")
    assert found(rows) == {}
    assert "the worm closer" in blue_words(rows)


def test_blue_at_the_root_with_a_bright_crest_refuses_every_rock() -> None:
    rows = blued("root line", "root line", crest="bright")
    sheet = measure(job(), rows)
    assert [(d.code, d.action) for d in sheet.doubts] == [("E-20", "refuse")]
    assert set(sheet.kept_out) == {r.seq for r in of(rows, "rock")}
    assert found(blued("root line", "root line", crest="dull")) == {}


def test_a_good_patch_and_places_that_differ_are_told_without_a_doubt() -> None:
    assert "centred" in blue_words(clean_sheet(6))
    one = [r for r in of(clean_sheet(6), "blue_mark") if r.table_angle == 0.0]
    odd = changed(clean_sheet(6), {r.seq for r in one}, lambda r: replace(r, word="plus edge"))
    assert found(odd) == {}
    assert "wheel runs out" in blue_words(odd)


def test_the_latest_look_at_a_place_counts() -> None:
    rows = blued("plus edge", "plus edge")
    later = [
        replace(r, seq=r.seq + 1000, word="centred patch") for r in rows if r.kind == "blue_mark"
    ]
    assert found([*rows, *later]) == {}


@pytest.mark.parametrize("oil", ["EP gear oil", "hypoid oil", "EP grease"])
def test_active_oil_on_a_bronze_wheel_is_warned_about_and_on_iron_it_is_not(oil: str) -> None:
    rows = [replace(r, word=oil) if r.kind == "lubricant" else r for r in clean_sheet(6)]
    doubts = measure(job(), rows).doubts
    assert [(d.code, d.action, d.rows) for d in doubts] == [("E-38", "warn", ())]
    iron = replace(job(), rotary=replace(job().rotary, wheel_material="grey iron"))
    assert measure(iron, rows).doubts == ()


@pytest.mark.parametrize("word", ["gritty", "notchy"])
def test_dirt_felt_by_hand_is_warned_about(word: str) -> None:
    rows = clean_sheet(6)
    one = of(rows, "turn_feel")[0].seq
    doubts = found(changed(rows, {one}, lambda r: replace(r, word=word)))
    assert [(d.code, d.action) for d in doubts.values()] == [("E-36", "warn")]
    tight = changed(rows, {one}, lambda r: replace(r, word="tight"))
    assert found(tight) == {}


def warm_rock(rows: Sheet, value: float) -> Sheet:
    cold = changed(rows, {r.seq for r in of(rows, "rock")}, said(housing_temperature=20.0))
    first = of(cold, "rock")[0]
    warm = replace(
        said(housing_temperature=38.0)(first), seq=len(rows) + 1, value=value, raw=f"{value:.3f} mm"
    )
    return [*cold, warm]


def test_a_rock_that_is_gone_when_warm_is_warned_about_and_a_smaller_one_is_not() -> None:
    rows = clean_sheet(6)
    assert [(d.code, d.action) for d in measure(job(), warm_rock(rows, 0.004)).doubts] == [
        ("E-22", "warn")
    ]
    first = of(rows, "rock")[0].value or 0.0
    assert measure(job(), warm_rock(rows, 0.8 * first)).doubts == ()


@pytest.mark.parametrize(("hold", "warned"), [(400.0, True), (5000.0, False)])
def test_a_motor_that_holds_less_than_twice_the_drag_is_warned_about(
    hold: float, warned: bool
) -> None:
    driven = replace(job(), motor=Motor("stepper", torque_hold_nmm=hold))
    doubts = measure(driven, clean_sheet(6)).doubts
    assert [(d.code, d.action) for d in doubts] == ([("E-23", "warn")] if warned else [])


def since(kind: str, change: float, **conditions: float) -> tuple[Doubt, ...]:
    """Doubts when the readings of a kind went stale and were taken again, changed."""
    rows = clean_sheet(6)
    again = [
        replace(said(**conditions)(times(change)(r)), seq=1000 + r.seq) for r in of(rows, kind)
    ]
    live = [r for r in rows if r.kind != kind] + again
    stale = {r.seq: "worm_end_play" for r in of(rows, kind)}
    return measure(job(), live, all_readings=[*rows, *again], stale=stale).doubts


@pytest.mark.parametrize(("rise", "refused"), [(2.6, True), (1.6, False)])
def test_twice_the_drag_out_of_mesh_since_before_the_work_is_too_much_preload(
    rise: float, refused: bool
) -> None:
    doubts = since("drag_out_of_mesh", rise)
    assert [(d.code, d.action) for d in doubts] == ([("E-15", "refuse")] if refused else [])


def test_a_replaced_drag_reading_is_no_reading_from_before_the_work() -> None:
    rows = clean_sheet(6)
    wrong = of(rows, "drag_out_of_mesh")
    mended = [replace(times(3)(r), seq=1000 + r.seq, supersedes=r.seq) for r in wrong]
    live = [r for r in rows if r not in wrong] + mended
    assert "E-15" not in {
        d.code for d in measure(job(), live, all_readings=[*rows, *mended]).doubts
    }


@pytest.mark.parametrize(("torque", "warned"), [(6000.0, True), (3300.0, False)])
def test_rocks_at_another_torque_than_before_the_work_are_warned_about(
    torque: float, warned: bool
) -> None:
    rows = clean_sheet(6)
    again = [
        replace(
            said(torque=torque if r.number("torque") == 3000.0 else 1000.0)(r), seq=1000 + r.seq
        )
        for r in of(rows, "rock")
    ]
    live = [r for r in rows if r.kind != "rock"] + again
    doubts = measure(job(), live, all_readings=[*rows, *again]).doubts
    assert [(d.code, d.action) for d in doubts] == ([("E-9", "warn")] if warned else [])


def test_a_map_at_one_worm_phase_is_blind_to_the_worm_until_its_runout_is_read() -> None:
    rows = [r for r in clean_sheet(6) if r.kind != "rock" or not r.worm_angle]
    with_runout = found(rows)
    without = found([r for r in rows if r.kind != "worm_runout"])
    assert "E-13" not in with_runout
    assert without["E-13"].action == "warn"
    few = [r for r in rows if r.kind != "worm_runout"]
    kept = {r.seq for r in of(few, "rock")[:5]}
    assert "E-13" not in found([r for r in few if r.kind != "rock" or r.seq in kept])


@pytest.mark.parametrize(
    ("surface", "action"), [("coupling", "refuse"), ("T-slot wall", "warn"), ("table rim", None)]
)
def test_a_rock_on_the_coupling_is_refused_and_on_a_slot_wall_warned_about(
    surface: str, action: str | None
) -> None:
    rows = clean_sheet(6)
    victim = of(rows, "rock")[3].seq
    doubts = found(changed(rows, {victim}, said(surface=surface)))
    assert {d.code: (d.action, d.rows) for d in doubts.values()} == (
        {"E-6": (action, (victim,))} if action else {}
    )


def test_a_housing_that_warmed_through_the_readings_is_warned_about() -> None:
    rows = clean_sheet(6)
    end = replace(of(rows, "temperature")[0], seq=len(rows) + 1, value=26.5, raw="26.5 °C")
    assert [(d.code, d.action) for d in found([*rows, end]).values()] == [("E-33", "warn")]
    near = replace(end, value=22.0, raw="22 °C")
    assert found([*rows, near]) == {}


def test_wheel_joint_play_without_its_radius_is_refused() -> None:
    rows = clean_sheet(6)
    victims = {r.seq for r in of(rows, "wheel_joint_play")}
    doubt = found(changed(rows, victims, said(radius=None)))["E-7"]
    assert (doubt.action, set(doubt.rows)) == ("refuse", victims)


def test_a_stylus_of_twenty_degrees_is_told_to_read_six_per_cent_too_much() -> None:
    rows = clean_sheet(6)
    victims = {r.seq for r in of(rows, "worm_end_play")}
    doubt = found(changed(rows, victims, said(stylus=math.radians(20))))["E-8"]
    assert "6%" in doubt.why


@pytest.mark.parametrize(("apart", "warned"), [(12.0, True), (3.0, False)])
def test_drag_in_and_out_of_mesh_at_unlike_temperatures_is_warned_about(
    apart: float, warned: bool
) -> None:
    rows = clean_sheet(6)
    inside, out = ({r.seq for r in of(rows, kind)} for kind in ("drag_in_mesh", "drag_out_of_mesh"))
    told = changed(rows, inside, said(housing_temperature=19.0))
    told = changed(told, out, said(housing_temperature=19.0 + apart))
    doubts = measure(job(), told).doubts
    assert [(d.code, d.action, d.rows) for d in doubts] == (
        [("E-23", "warn", ())] if warned else []
    )


def test_one_flank_looked_at_again_counts_beside_the_other_as_it_was() -> None:
    rows = blued("plus edge", "plus edge")
    minus = [r for r in of(rows, "blue_mark") if r.station == "flank minus"]
    again = [replace(r, seq=r.seq + 1000, word="centred patch") for r in minus]
    assert found([*rows, *again]) == {}
    assert "unclear" in blue_words([*rows, *again])


def test_a_wrong_drag_mended_before_the_work_is_no_reading_from_before_it() -> None:
    rows = clean_sheet(6)
    was = of(rows, "drag_out_of_mesh")
    wrong = [replace(times(0.1)(r), seq=500 + r.seq) for r in was]
    mended = [replace(r, seq=600 + r.seq, supersedes=500 + r.seq) for r in was]
    now = [replace(times(1.5)(r), seq=1000 + r.seq) for r in was]
    live = [r for r in rows if r not in was] + now
    before = [r for r in rows if r not in was] + wrong + mended
    assert measure(job(), live, all_readings=[*before, *now]).doubts == ()
