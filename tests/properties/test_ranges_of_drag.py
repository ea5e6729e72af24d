"""Drag and runout causes keep their ranges by code: the ends pass, just past them is refused."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest

from wormwright.core.drag import Torque, cold_drag, drag_parts, motor_margin, table_drag_at_worm
from wormwright.core.friction import Interval
from wormwright.core.runout_causes import (
    bar_axis,
    face_slope,
    offsets_by_part,
    shims_under_bolts,
    skim_to_level,
    slopes_by_part,
    tilt_limits_from_swings,
)
from wormwright.core.turn_vector import TurnVector

ONE = TurnVector(1e-4, 0.0, 1e-6)
NOTHING = Torque(0.0, 0.0)
WARM = Interval(1.0, 1.0)


def at_worm(low: float, high: float, ratio: float = 90.0) -> Torque:
    return table_drag_at_worm(Torque(900.0, 0.0), ratio=ratio, efficiency=Interval(low, high))


def margin(
    *, motor: float = 1000.0, peak: float = 100.0, load: float = 0.0, cold: Interval = WARM
) -> Interval:
    return motor_margin(motor_torque=motor, peak_drag=peak, cold_factor=cold, load=load)


def bolts(count: int, radius: float = 50.0) -> object:
    marks = [2 * math.pi * k / count for k in range(count)]
    return shims_under_bolts(ONE, bolt_radius=radius, bolt_marks=marks)


PASSES: dict[str, Callable[[], object]] = {
    "a torque of nothing": lambda: NOTHING,
    "a torque below zero": lambda: Torque(-1.0, 0.0),
    "efficiency of one": lambda: at_worm(1.0, 1.0),
    "efficiency known exactly": lambda: at_worm(0.4, 0.4),
    "a ratio below one": lambda: at_worm(0.4, 0.5, ratio=0.5),
    "no drag at all": lambda: drag_parts(in_mesh=NOTHING, out_of_mesh=NOTHING, table=NOTHING),
    "no cold factor": lambda: cold_drag(100.0, cold_factor=WARM),
    "cold factor of ten": lambda: cold_drag(100.0, cold_factor=Interval(10.0, 10.0)),
    "no drag cold": lambda: cold_drag(0.0, cold_factor=WARM),
    "drag without load": lambda: margin(load=0.0),
    "load without drag": lambda: margin(peak=0.0, load=0.5),
    "a small motor": lambda: margin(motor=0.5),
    "no swing": lambda: tilt_limits_from_swings(near_swing=0.0, far_swing=0.0, distance=0.5),
    "a slope without doubt": lambda: face_slope(ONE, radius=0.5, radius_u=0.0),
    "three bolts": lambda: bolts(3),
    "a small bolt circle": lambda: bolts(3, 0.5),
    "a small face": lambda: skim_to_level(ONE, face_radius=0.5),
    "planes close together": lambda: bar_axis(near=ONE, far=ONE, near_z=1.0, far_z=1.5),
}

REFUSES: dict[str, tuple[Callable[[], object], str]] = {
    "a doubt below zero": (lambda: Torque(1.0, -1e-9), "N·mm"),
    "a torque that is no number": (lambda: Torque(math.nan, 1.0), "expected numbers"),
    "an endless torque": (lambda: Torque(math.inf, 1.0), "expected numbers"),
    "no efficiency": (lambda: at_worm(0.0, 0.5), "efficiency 0.0 to 0.5"),
    "efficiency above one": (lambda: at_worm(0.5, 1.000001), "expected 0 to 1"),
    "efficiency ends swapped": (lambda: at_worm(0.5, 0.4), "efficiency 0.5 to 0.4"),
    "no ratio": (lambda: at_worm(0.4, 0.5, ratio=0.0), "ratio 0.0"),
    "drag in mesh below zero": (
        lambda: drag_parts(in_mesh=Torque(-1e-9, 0.0), out_of_mesh=NOTHING, table=NOTHING),
        "in mesh",
    ),
    "drag out of mesh below zero": (
        lambda: drag_parts(in_mesh=NOTHING, out_of_mesh=Torque(-1e-9, 0.0), table=NOTHING),
        "out of mesh",
    ),
    "table drag below zero": (
        lambda: drag_parts(in_mesh=NOTHING, out_of_mesh=NOTHING, table=Torque(-1e-9, 0.0)),
        "drag table",
    ),
    "a cold factor that helps": (
        lambda: cold_drag(100.0, cold_factor=Interval(0.99, 2.0)),
        "0.99 to 2.0",
    ),
    "a cold factor above ten": (
        lambda: cold_drag(100.0, cold_factor=Interval(2.0, 10.01)),
        "expected 1 to 10",
    ),
    "cold ends swapped": (lambda: cold_drag(100.0, cold_factor=Interval(3.0, 2.0)), "3.0 to 2.0"),
    "cold drag below zero": (lambda: cold_drag(-1e-9, cold_factor=WARM), "drag -1e-09"),
    "no motor": (lambda: margin(motor=0.0), "motor 0.0"),
    "load below zero": (lambda: margin(load=-1e-9), "load -1e-09"),
    "nothing to turn": (lambda: margin(peak=0.0), "peak 0.0"),
    "planes swapped": (lambda: bar_axis(near=ONE, far=ONE, near_z=2.0, far_z=1.0), "farther out"),
    "one plane": (lambda: bar_axis(near=ONE, far=ONE, near_z=1.0, far_z=1.0), "farther out"),
    "near swing below zero": (
        lambda: tilt_limits_from_swings(near_swing=-1e-9, far_swing=0.0, distance=1.0),
        "out of range",
    ),
    "far swing below zero": (
        lambda: tilt_limits_from_swings(near_swing=0.0, far_swing=-1e-9, distance=1.0),
        "out of range",
    ),
    "no distance": (
        lambda: tilt_limits_from_swings(near_swing=0.0, far_swing=0.0, distance=0.0),
        "out of range",
    ),
    "face read on the axis": (lambda: face_slope(ONE, radius=0.0), "radius 0.0"),
    "radius with a doubt below zero": (
        lambda: face_slope(ONE, radius=1.0, radius_u=-1e-9),
        "-1e-09",
    ),
    "two bolts": (lambda: bolts(2), "2 bolts"),
    "bolts on the axis": (lambda: bolts(3, 0.0), "0.0 mm"),
    "a table of bolts": (
        lambda: shims_under_bolts(ONE, bolt_radius=1.0, bolt_marks=[[0.0, 1.0, 2.0]]),
        "three or more",
    ),
    "a face of no size": (lambda: skim_to_level(ONE, face_radius=0.0), "got 0.0 mm"),
    "no slope at all": (
        lambda: slopes_by_part(table_face=None, adapter_face=None, bar_tilt=None),
        "no runout vector",
    ),
    "no offset at all": (
        lambda: offsets_by_part(table_bore=None, register=None, bar_at_register=None),
        "no runout vector",
    ),
}


@pytest.mark.parametrize("name", PASSES)
def test_the_ends_of_the_range_pass(name: str) -> None:
    PASSES[name]()


@pytest.mark.parametrize("name", REFUSES)
def test_just_past_the_end_is_refused_and_the_message_names_what_was_got(name: str) -> None:
    call, words = REFUSES[name]
    with pytest.raises(ValueError, match=r".") as refused:
        call()
    assert words in str(refused.value)


def test_doubts_of_independent_torques_add_in_squares() -> None:
    rest = Torque(10.0, 3.0).minus(Torque(4.0, 4.0))
    assert (rest.value, rest.u) == (6.0, 5.0)


def test_table_drag_carries_the_doubt_of_reading_and_of_efficiency() -> None:
    """T/i = 10; 1/eta from 2 to 4: middle 3, half 1; u = hypot(2·3, 10·1/sqrt 3)."""
    part = table_drag_at_worm(Torque(900.0, 180.0), ratio=90.0, efficiency=Interval(0.25, 0.5))
    assert part.value == pytest.approx(30.0)
    assert part.u == pytest.approx(math.hypot(6.0, 10.0 / math.sqrt(3)))


def test_a_mesh_below_zero_is_only_called_out_beyond_twice_its_doubt() -> None:
    for extra, called in ((19.9, False), (20.1, True)):
        parts = drag_parts(
            in_mesh=Torque(100.0, 10.0), out_of_mesh=Torque(100.0 + extra, 0.0), table=NOTHING
        )
        assert parts.mesh_below_zero is called


def test_a_load_takes_its_share_of_the_motor_beside_the_cold_drag() -> None:
    """1200 / (100·2 + 200) = 3 and 1200 / (100·1 + 200) = 4."""
    found = margin(motor=1200.0, peak=100.0, load=200.0, cold=Interval(1.0, 2.0))
    assert found == Interval(3.0, 4.0)


def test_the_doubt_of_the_radius_widens_the_slope_of_a_face() -> None:
    """c = 0.05, u 0.003, rho = 50, u 2: hypot(6e-5, 0.05·2/2500 = 4e-5)."""
    slope = face_slope(TurnVector(0.03, 0.04, 0.003), radius=50.0, radius_u=2.0)
    assert (slope.x, slope.y) == pytest.approx((6e-4, 8e-4))
    assert slope.u == pytest.approx(math.hypot(6e-5, 4e-5))


def test_parts_without_a_reading_between_are_named_together() -> None:
    parts = slopes_by_part(table_face=None, adapter_face=ONE, bar_tilt=ONE.times(-3.0))
    assert [p.part for p in parts] == ["table face + adapter", "chuck and grip"]
    assert [p.vector.x for p in parts] == pytest.approx([1e-4, 2e-4])


def test_two_swings_bound_the_lean_from_both_sides() -> None:
    least, most = tilt_limits_from_swings(near_swing=0.02, far_swing=0.05, distance=100.0)
    assert (least, most) == pytest.approx((1.5e-4, 3.5e-4))


def test_the_torques_given_are_kept_beside_what_is_left_for_the_mesh() -> None:
    whole, out, table = Torque(250.0, 9.0), Torque(100.0, 8.0), Torque(30.0, 4.0)
    parts = drag_parts(in_mesh=whole, out_of_mesh=out, table=table)
    assert (parts.in_mesh, parts.bearings_and_seals, parts.table) == (whole, out, table)


def test_a_radius_that_is_not_doubted_adds_no_doubt_to_the_slope() -> None:
    assert face_slope(TurnVector(0.03, 0.04, 0.003), radius=50.0).u == pytest.approx(6e-5)
