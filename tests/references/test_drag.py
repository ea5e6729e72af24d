"""Drag taken apart and mapped: sums by hand, maps built from known waves, brute-force spreads."""

from __future__ import annotations

import math

import numpy as np
import pytest

from published import derived, published
from wormwright.core.drag import Torque, drag_parts, motor_margin, table_drag_at_worm
from wormwright.core.drag_map import (
    Place,
    drag_round_the_turn,
    peak_over_median,
    place_of_peak,
    places_agree,
)
from wormwright.core.friction import Interval

MARKS = np.radians([0, 32, 60, 92, 120, 152, 180, 212, 240, 272, 300, 332])
BEFORE = [34, 34, 33, 34, 34, 35, 40, 46, 46, 42, 35, 34]
AFTER = [38, 40, 37, 38, 37, 40, 48, 64, 64, 53, 40, 38]


@derived("brute force: a million draws of the three readings and of the efficiency")
def test_mesh_drag_and_its_doubt() -> None:
    rng = np.random.default_rng(3)
    n = 1_000_000
    eta = 1 / rng.uniform(1 / 0.5, 1 / 0.3, n)
    mesh = rng.normal(320, 12, n) - rng.normal(110, 6, n) - rng.normal(2700, 150, n) / (90 * eta)
    table = table_drag_at_worm(Torque(2700, 150), ratio=90, efficiency=Interval(0.3, 0.5))
    parts = drag_parts(in_mesh=Torque(320, 12), out_of_mesh=Torque(110, 6), table=table)
    assert parts.mesh.value == pytest.approx(float(mesh.mean()), rel=1e-3)
    assert parts.mesh.u == pytest.approx(float(mesh.std()), rel=5e-3)
    assert parts.table.value + parts.mesh.value + 110 == pytest.approx(320)


def test_a_mesh_drag_below_zero_shows_that_the_series_do_not_belong_together() -> None:
    nothing = Torque(0.0, 0.0)
    odd = drag_parts(in_mesh=Torque(100, 5), out_of_mesh=Torque(130, 5), table=nothing)
    assert odd.mesh_below_zero
    noise = drag_parts(in_mesh=Torque(100, 5), out_of_mesh=Torque(105, 5), table=nothing)
    assert not noise.mesh_below_zero
    with pytest.raises(ValueError, match="drag table"):
        drag_parts(in_mesh=Torque(1, 1), out_of_mesh=Torque(1, 1), table=Torque(-5, 1))


@derived("limit cases: factor 1 and no load give torque over peak")
def test_motor_margin_is_judged_cold_and_at_the_peak() -> None:
    plain = motor_margin(motor_torque=900, peak_drag=300, cold_factor=Interval(1, 1))
    assert plain == (3.0, 3.0)
    cold = motor_margin(motor_torque=900, peak_drag=300, cold_factor=Interval(1.5, 2.5), load=150)
    assert cold == pytest.approx((900 / 900, 900 / 600))
    with pytest.raises(ValueError, match="expected 1 to 10"):
        motor_margin(motor_torque=900, peak_drag=300, cold_factor=Interval(0.5, 2))


@derived("a map made of a mean, 40 once a table turn at 200 and 15 once a worm turn at 70 degrees")
def test_table_and_worm_parts_come_apart() -> None:
    table = np.radians(np.arange(0, 360, 15) + np.tile([0, 2, 1, 3], 6))
    worm = 90 * table
    seen = 250 + 40 * np.cos(table - math.radians(200)) + 15 * np.cos(worm - math.radians(70))
    found = drag_round_the_turn(table, worm, seen, u=5.0)
    assert found.worm is not None
    assert found.mean == pytest.approx(250)
    assert found.table.size == pytest.approx(40)
    assert math.degrees(found.table.direction) == pytest.approx(200)
    assert found.worm.size == pytest.approx(15)
    assert math.degrees(found.worm.direction) == pytest.approx(70)
    assert np.abs(found.rest).max() < 1e-9


def test_whole_worm_turns_tell_nothing_of_the_worm() -> None:
    table = np.radians(np.arange(0, 360, 32))
    found = drag_round_the_turn(table, 90 * table, 200 + 30 * np.cos(table), u=5.0)
    assert found.worm is None
    assert found.table.size == pytest.approx(30)


@published(
    work="common practice of the trade",
    edition="no edition",
    place="drag gate: peak over median of at most 2",
    known="common practice",
)
def test_club_shop_drag_stays_under_the_gate() -> None:
    ratio = peak_over_median(AFTER, u=2.0)
    assert ratio.value == pytest.approx(64 / 40)
    assert ratio.value + 2 * ratio.u < 2


@derived("brute force: spread of max over median in 20,000 noisy maps with one clear peak")
def test_doubt_of_peak_over_median() -> None:
    rng = np.random.default_rng(11)
    true = np.array([100.0] * 11 + [180.0])
    noisy = true + rng.normal(0, 4, (20_000, 12))
    spread = float((noisy.max(axis=1) / np.median(noisy, axis=1)).std())
    assert peak_over_median(true, u=4.0).u == pytest.approx(spread, rel=0.12)


@derived("brute force: true place and phase of the readings drawn 1,500 times")
def test_place_of_the_peak_holds_the_true_place_as_often_as_it_says() -> None:
    rng = np.random.default_rng(5)
    inside = 0
    for _ in range(1500):
        true = rng.uniform(0, 2 * math.pi)
        apart = np.remainder(MARKS - true + math.pi, 2 * math.pi) - math.pi
        seen = 200 + 120 * np.exp(-((apart / 0.7) ** 2)) + rng.normal(0, 8, 12)
        place = place_of_peak(MARKS, seen, u=8.0)
        inside += abs(math.remainder(place.angle - true, 2 * math.pi)) <= 2 * place.u
    assert 0.94 < inside / 1500 <= 1


def test_flat_drag_has_no_place() -> None:
    flat = place_of_peak(MARKS, [200, 204, 197, 201, 203, 199, 200, 202, 198, 201, 203, 199], u=5)
    assert math.degrees(flat.u) > 100
    assert places_agree(flat, Place(math.radians(229), 0.05)) == "cannot tell"


@pytest.mark.parametrize("series", [BEFORE, AFTER])
def test_club_shop_drag_and_rock_name_the_same_tight_spot(series: list[float]) -> None:
    by_drag = place_of_peak(MARKS, series, u=1.5)
    by_rock = Place(math.radians(229), math.radians(4))
    assert places_agree(by_drag, by_rock) == "agree"
    assert places_agree(by_drag, Place(math.radians(49), math.radians(4))) == "differ"
