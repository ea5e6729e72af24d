"""Half-turn alignment, centre height, packing and what a crooked axis leaves in the part."""

from __future__ import annotations

import math

import numpy as np
import pytest

from published import derived, published
from wormwright.core.alignment import HalfTurn, axis_line, half_turn, travel_by_turned_edge
from wormwright.core.centre_height import (
    Placed,
    apart,
    height_over_bar,
    side_by_same_line,
    tail_plan,
)
from wormwright.core.feet import move_at_key, packing_under_feet, pitch_of, twist_of
from wormwright.core.part_error import (
    across_flats_error,
    cone_of_lean,
    cross_hole_mismatch,
    skim_opening,
    taper_of_tail_height,
    waist_of_drift,
)

ARCSEC = math.radians(1 / 3600)


def two_places(
    near: tuple[float, float], far: tuple[float, float], apart_mm: float
) -> list[HalfTurn]:
    return [
        half_turn(distance=z, at_start=[a], turned=[b], reading_u=0.002)
        for z, (a, b) in ((0.0, near), (apart_mm, far))
    ]


@derived(method="worked by hand: means and half differences of the four readings")
def test_half_turn_readings_give_the_axis_and_the_bar_apart() -> None:
    places = two_places((0.0, 0.012), (0.038, 0.006), 100.0)
    assert [round(p.axis, 6) for p in places] == [0.006, 0.022]
    assert [round(p.bar, 6) for p in places] == [-0.006, 0.016]
    line = axis_line(places)
    assert line.lean / ARCSEC == pytest.approx(33.00, abs=0.01)
    assert line.lean * 180 == pytest.approx(0.0288, abs=1e-5)
    assert cone_of_lean(lean=line.lean, length=100.0) == pytest.approx(0.032, abs=1e-5)
    assert line.u_lean == pytest.approx(0.002 / 100.0)


@derived(method="circle of radius r seen from a point moved sideways, stepped in double precision")
def test_a_drift_under_the_cutter_leaves_a_waist_of_second_order() -> None:
    by_hand = math.dist((0.016, 10.0), (0.0, 0.0)) - 10.0
    assert waist_of_drift(drift=0.016, radius=10.0) * 1000 == pytest.approx(0.0128, abs=1e-4)
    assert waist_of_drift(drift=0.016, radius=10.0) == pytest.approx(by_hand, abs=1e-12)


@derived(method="worked by hand: mean of the two heights less the radius of the bar")
def test_centre_height_over_a_bar_turned_half_round() -> None:
    found = height_over_bar(
        at_start=[80.034], turned=[80.012], diameter=25.0, reading_u=0.004, diameter_u=0.002
    )
    assert found.value == pytest.approx(67.523, abs=1e-6)
    assert found.u == pytest.approx(math.hypot(0.004 / math.sqrt(2), 0.001))


@published(
    work="service article on a worm rotary table that cut out of parallel",
    edition="web page",
    place="skims at 0° and 180°, 0.012 in over 8 in",
    known="read",
)
def test_two_skims_half_a_turn_apart_open_by_twice_the_lean() -> None:
    lean = math.radians(0.08594) / 2
    assert skim_opening(lean=lean, length=8 * 25.4) == pytest.approx(0.012 * 25.4, rel=1e-4)


@published(
    work="foot shims from a level, rule of the trade",
    edition="machine setters' practice",
    place="0.05 in 150 with feet 240 apart",
    known="common practice",
)
def test_a_lean_of_five_hundredths_in_150_asks_eight_hundredths_under_feet_240_apart() -> None:
    packing = packing_under_feet(lean=0.05 / 150, spacing=240.0, twist=0.0)
    assert packing == pytest.approx((0.0, 0.0, 0.08, 0.08), abs=1e-9)


@derived(method="two 3 by 3 solves: plane through the packed feet, diagonal sums")
@pytest.mark.parametrize("seed", range(20))
def test_packing_takes_pitch_and_rock_out_together(seed: int) -> None:
    rng = np.random.default_rng(seed)
    lean, spacing = rng.normal(0, 4e-4), rng.uniform(80, 300)
    gaps = rng.uniform(0, 0.1, 4)
    twist = twist_of(list(gaps))
    packing = packing_under_feet(lean=lean, spacing=spacing, twist=twist)
    assert min(packing) == pytest.approx(0.0, abs=1e-12)
    assert twist_of(packing) == pytest.approx(twist, abs=1e-12)
    x = np.array([spacing, spacing, 0.0, 0.0])
    y = np.array([1.0, -1.0, 1.0, -1.0]) * 40
    plane = np.linalg.lstsq(np.column_stack([np.ones(4), x, y]), np.array(packing), rcond=None)[0]
    assert plane[1] == pytest.approx(-lean, abs=1e-12)
    assert pitch_of(packing) == pytest.approx(lean * spacing, abs=1e-12)


@derived(method="worked by hand on the metric worked example: slopes, packing and tail")
def test_the_worked_mounting_of_a_router_axis() -> None:
    top = axis_line(two_places((-0.047, -0.062), (0.002, -0.027), 150.0))
    side = axis_line(two_places((0.038, 0.025), (-0.017, -0.042), 150.0))
    assert top.lean * 130 == pytest.approx(0.036, abs=0.0005)
    move = move_at_key(lean=side.lean, lean_u=side.u_lean, distance=130.0)
    assert move.move == pytest.approx(0.053, abs=0.0005)
    head = height_over_bar(
        at_start=[112.534], turned=[112.508], diameter=25.004, reading_u=0.005, diameter_u=0.001
    )
    tail = height_over_bar(
        at_start=[112.391], turned=[112.377], diameter=25.004, reading_u=0.005, diameter_u=0.001
    )
    high = apart(tail, head)
    assert tail_plan(too_high=high.value).shim == pytest.approx(0.137, abs=1e-6)
    assert tail_plan(too_high=high.value).grind == 0.0


@derived(method="a bar simulated in three dimensions: offset, tilt, bow and sag, turned half round")
@pytest.mark.parametrize("seed", range(10))
def test_mounting_error_and_bow_of_the_bar_leave_the_line_alone(seed: int) -> None:
    """Offset, tilt and bow of the bar turn with it; sag does not and is taken out by its figure."""
    rng = np.random.default_rng(seed)
    lean = rng.normal(0, 3e-4)
    z = np.array([20.0, 90.0, 170.0])
    bar = rng.normal(0, 0.05) + rng.normal(0, 5e-4) * z + rng.normal(0, 2e-6) * z**2
    sag = 1e-7 * z**2.5
    places = [
        half_turn(distance=d, at_start=[a + b - s], turned=[a - b - s], reading_u=0.002)
        for d, a, b, s in zip(z, lean * z, bar, sag, strict=True)
    ]
    assert axis_line(places, sag=sag).lean == pytest.approx(lean, abs=1e-12)
    assert [p.bar for p in places] == pytest.approx(bar.tolist())


@derived(method="edge and travel made up, both runs composed from them")
def test_a_straight_edge_turned_over_tells_the_bend_of_the_travel_from_its_own() -> None:
    z = np.linspace(0, 200, 9)
    bend, edge = 0.004 * np.sin(np.pi * z / 200), 0.01 * (z / 200) ** 2
    found = travel_by_turned_edge(as_laid=bend + edge, turned_over=bend - edge)
    assert found == pytest.approx(bend, abs=1e-12)


@derived(method="a rod of any size and bend composed, touched by a ball of any size")
def test_the_same_line_of_a_rod_from_front_and_back_cancels_size_bend_and_ball() -> None:
    for rod, bend, tip, place in ((25.0, 0.1, 3.0, 0.4), (12.0, -0.2, 2.0, -7.0)):
        stands = rod / 2 + bend
        found = side_by_same_line(
            front=[place - stands - tip / 2], back=[place + stands + tip / 2], reading_u=0.005
        )
        assert found.value == pytest.approx(place)


@derived(method="chords and circles by hand")
def test_what_small_offsets_leave_in_the_part() -> None:
    assert cross_hole_mismatch(offset=0.03) == pytest.approx(0.06)
    assert across_flats_error(height_error=-0.01) == pytest.approx(-0.02)
    assert taper_of_tail_height(height_error=0.1, length=150.0, between=150.0) == pytest.approx(0.2)


def test_a_bar_without_its_half_turn_or_second_place_is_refused() -> None:
    with pytest.raises(ValueError, match="half a turn apart"):
        half_turn(distance=10.0, at_start=[0.1], turned=[], reading_u=0.002)
    one = half_turn(distance=10.0, at_start=[0.1], turned=[0.2], reading_u=0.002)
    with pytest.raises(ValueError, match="two places"):
        axis_line([one])
    with pytest.raises(ValueError, match="half a turn apart"):
        side_by_same_line(front=[1.0], back=[], reading_u=0.01)


def test_a_travel_that_was_not_read_widens_the_lean() -> None:
    places = two_places((0.0, 0.012), (0.038, 0.006), 100.0)
    sure, unsure = axis_line(places), axis_line(places, travel_u=0.003)
    assert unsure.u_lean == pytest.approx(math.hypot(0.002, 0.003 * math.sqrt(2)) / 100)
    assert unsure.u_travel == pytest.approx(0.003 * math.sqrt(2) / 100)
    assert sure.u_travel == 0.0


def test_a_difference_of_heights_carries_both_doubts() -> None:
    assert apart(Placed(1.0, 0.003), Placed(0.5, 0.004)).u == pytest.approx(0.005)


@pytest.mark.parametrize("gaps", [[0.0, 0.0, 0.0], [0.0] * 5])
def test_feet_that_are_not_four_are_refused(gaps: list[float]) -> None:
    with pytest.raises(ValueError, match="four"):
        twist_of(gaps)
    with pytest.raises(ValueError, match="four"):
        pitch_of(gaps)
