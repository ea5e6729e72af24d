"""What each operation makes stale, and what stays alive."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planned_job import (
    reading,
    sign_off,
)
from wormwright.job.sheet import KINDS
from wormwright.traveler import (
    ALL,
    live_readings,
    readings_as_found,
    stale_readings,
)
from wormwright.traveler.staleness import MAKES_STALE, SPOT_VALUES

CLOSING = {"rock", "rock_pins", "worm_end_play", "worm_float", "drive_play", "drag_in_mesh",
           "tip_clearance", "centre_distance"}  # fmt: skip


@pytest.mark.parametrize(
    ("operation", "dead", "alive"),
    [
        (
            "strip_wash",
            {"rock", "worm_end_play", "worm_float", "drive_play", "table_radial_play",
             "table_axial_play", "drag_in_mesh", "drag_out_of_mesh", "drag_table"},
            {"teeth", "starts", "thread_length", "worm_od", "wheel_face", "housing_bore"},
        ),
        (
            "table_bearing",
            {"rock", "table_radial_play", "table_axial_play", "drag_in_mesh", "drag_table"},
            {"teeth", "worm_end_play", "worm_float"},
        ),
        (
            "wheel_seat",
            {"rock", "drag_in_mesh", "wheel_throat"},
            {"teeth", "worm_end_play", "worm_float", "table_axial_play"},
        ),
        (
            "bushings_in",
            CLOSING | {"drag_out_of_mesh"},
            {"table_radial_play", "table_axial_play", "worm_od", "housing_bore"},
        ),
        (
            "worm_end_play",
            {"rock", "worm_end_play", "drive_play", "drag_in_mesh", "worm_float"},
            {"table_radial_play", "table_axial_play", "worm_od", "centre_distance"},
        ),
        ("worm_relief", {"worm_od", "tip_clearance"}, {"rock", "worm_float"}),
        (
            "axial_centring",
            {"rock", "drag_in_mesh", "tip_clearance"},
            {"worm_end_play", "table_radial_play"},
        ),
        ("setting_move", CLOSING, {"table_radial_play", "table_axial_play"}),
        ("final_depth", CLOSING, {"table_radial_play", "table_axial_play"}),
        ("coupling", {"drive_play", "rock"}, {"worm_end_play", "worm_float"}),
        (
            "seal_grease",
            {"drag_in_mesh", "drag_out_of_mesh"},
            {"worm_end_play", "table_radial_play", "centre_distance"},
        ),
        ("warm_recheck", set(), set(KINDS)),
        ("proof_rock", set(), set(KINDS)),
        ("proof_axis", set(), set(KINDS)),
        ("recheck", set(), set(KINDS)),
    ],
    ids=lambda x: x if isinstance(x, str) else None,
)  # fmt: skip
def test_each_operation_kills_what_the_trade_says_and_spares_the_rest(
    operation: str, dead: set[str], alive: set[str]
) -> None:
    killed = {kind for kind, _ in MAKES_STALE[operation]}
    assert dead <= killed
    assert not alive & killed


def test_a_reading_dies_by_the_running_number_and_a_new_one_lives() -> None:
    rows = [reading(1, "rock"), reading(2, "teeth"), reading(5, "rock")]
    signed = [sign_off(4, "strip_wash")]
    assert stale_readings(rows, signed) == {1: "strip_wash"}
    assert [r.seq for r in live_readings(rows, signed)] == [2, 5]


def test_a_failed_sign_off_has_moved_metal_too() -> None:
    assert live_readings([reading(1, "rock")], [sign_off(2, "final_depth", "failed")]) == ()


def test_a_slip_of_the_pen_mended_later_does_not_make_a_stale_reading_young() -> None:
    rows = [reading(1, "rock"), reading(6, "rock", supersedes=1)]
    assert stale_readings(rows, [sign_off(4, "strip_wash")]) == {1: "strip_wash", 6: "strip_wash"}
    assert [r.seq for r in live_readings(rows, [sign_off(8, "warm_recheck")])] == [6]


def test_an_operation_that_is_not_known_counts_as_a_strip_down() -> None:
    rows = [reading(1, "rock"), reading(2, "teeth")]
    assert [r.seq for r in live_readings(rows, [sign_off(3, "repainted")])] == [2]


def test_a_station_that_was_not_touched_stays_alive() -> None:
    one_end = replace(ALL["worm_journals"], key="one_end", makes_stale=(("worm_float", "A"),))
    rows = [reading(1, "worm_float", station="A"), reading(2, "worm_float", station="B")]
    assert stale_readings(rows, [sign_off(3, "one_end")], [one_end]) == {1: "one_end"}


def test_the_unit_as_found_stays_readable_when_the_work_has_begun() -> None:
    rows = [reading(1, "rock"), reading(2, "worm_end_play"), reading(9, "rock")]
    signed = [sign_off(3, "baseline"), sign_off(4, "strip_wash")]
    assert [r.seq for r in readings_as_found(rows, signed)] == [1, 2]
    assert [r.seq for r in readings_as_found(rows, signed[:1])] == [1, 2, 9]
    mended = [*rows, reading(10, "rock", supersedes=1)]
    assert [r.seq for r in readings_as_found(mended, signed)] == [2, 10]


def test_what_a_trial_pair_told_comes_back_to_the_plan_until_the_wheel_is_moved() -> None:
    rows = [reading(1, "rock"), reading(9, "trial_angle", station="plus"), reading(10, "rock")]
    signed = [sign_off(3, "strip_wash"), sign_off(11, "trial_pair")]
    assert [r.seq for r in readings_as_found(rows, signed)] == [1, 9]
    moved = [*signed, sign_off(12, "wheel_seat")]
    assert [r.seq for r in readings_as_found(rows, moved)] == [1]


@pytest.mark.parametrize("operation", ["coupling", "clamp_adjust", "seal_grease"])
def test_a_spot_check_that_repeats_keeps_the_rock_alive_and_nothing_else_does(
    operation: str,
) -> None:
    rows = [reading(1, "rock"), reading(2, "drive_play"), reading(3, "clamp_shift")]
    both = dict.fromkeys(SPOT_VALUES, 0.1)
    assert 1 in {r.seq for r in live_readings(rows, [sign_off(5, operation, "passed", both)])}
    one = dict.fromkeys(SPOT_VALUES[:2], 0.1)
    for left in (
        sign_off(5, operation, "passed", one),
        sign_off(5, operation, "failed", both),
        sign_off(5, operation, "passed"),
    ):
        assert 1 not in {r.seq for r in live_readings(rows, [left])}
    elsewhere = sign_off(5, "final_depth", "passed", both)
    assert 1 not in {r.seq for r in live_readings(rows, [elsewhere])}
