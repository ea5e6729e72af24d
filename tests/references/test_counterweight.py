"""Bias weight, brake and clamp: statics step by step, and what is never counted as holding."""

from __future__ import annotations

import inspect
import math

import numpy as np
import pytest

from published import derived, published
from wormwright.core import counterweight
from wormwright.core.counterweight import (
    bias_torque,
    bias_torque_needed,
    bias_weight,
    brake_heat,
    brake_torque_needed,
    clamp_torque,
    clamp_torque_needed,
    holding_torque,
)
from wormwright.core.friction import Interval, worm_torque

UNIT = {"drum_radius": 60.0, "table_drag": 300.0, "pitch_radius": 54.0, "ratio": 90.0}


@published(
    work="standard acceleration of free fall, 3rd CGPM",
    edition="1901",
    place="9.80665 m/s²",
    known="from memory",
)
def test_one_kilogram_at_one_metre_is_9_80665_newton_metres() -> None:
    assert bias_torque(mass=1, drum_radius=1000, cord_efficiency=1.0) == pytest.approx(9806.65)


@derived("a table with play simulated in small steps: cut of random size pushing against the bias")
def test_bias_of_the_needed_torque_keeps_the_flank_in_contact() -> None:
    rng = np.random.default_rng(4)
    cut = rng.uniform(-1500, 800, 10_000)
    needed = bias_torque_needed(reversing_torque=1500, table_drag=300, margin=1.2)
    flank_load = needed - 300 + cut
    assert flank_load.min() > 0
    without_drag = needed / 1.2 - 300 - 300 + cut
    assert without_drag.min() < 0


def test_a_weight_too_small_is_refused_and_the_right_one_named() -> None:
    with pytest.raises(ValueError, match=r"hang (\d+\.\d) kg") as refused:
        bias_weight(mass=2, reversing_torque=1500, efficiency=Interval(0.3, 0.5), **UNIT)
    words = str(refused.value)
    mass = float(words.split("hang ")[1].split(" kg", maxsplit=1)[0])
    held = bias_weight(
        mass=mass + 0.05, reversing_torque=1500, efficiency=Interval(0.3, 0.5), **UNIT
    )
    assert held.torque >= held.needed


@derived("work done: lifting the weight one turn against the torque times the angle turned")
def test_bias_costs_motor_torque_and_worm_thrust() -> None:
    found = bias_weight(
        mass=6,
        reversing_torque=1500,
        efficiency=Interval(0.4, 0.4),
        cord_efficiency=1.0,
        **UNIT,
    )
    weight = 6 * 9.80665
    work = weight * found.drop_per_turn / (2 * math.pi)
    assert found.torque == pytest.approx(work)
    assert found.worm_thrust * 54 == pytest.approx(work)
    by_worm = worm_torque(wheel_torque=work + 300, ratio=90, efficiency=0.4, drag=0)
    assert found.motor_torque == pytest.approx((by_worm, by_worm))


@derived("limit cases: drag alone may already be brake enough; power by force times path")
def test_brake_makes_up_what_the_drag_lacks() -> None:
    assert brake_torque_needed(reversing_torque=100, table_drag=300) == 0
    needed = brake_torque_needed(reversing_torque=1000, table_drag=300, margin=1.5)
    assert needed + 300 == pytest.approx(1.5 * 1000)
    force, radius, turns_a_second = needed / 80, 80.0, 0.2
    path = 2 * math.pi * radius * turns_a_second
    assert brake_heat(brake_torque=needed, table_rpm=12) == pytest.approx(force * path / 1000)


@published(
    work="common practice of the trade",
    edition="no edition",
    place="clamp to hold twice the peak of an indexed cut",
    known="common practice",
)
def test_clamp_holds_twice_the_peak() -> None:
    assert clamp_torque_needed(4500) == 9000
    two_faces = clamp_torque(force=1800, friction=Interval(0.1, 0.2), radius=75, faces=2)
    assert two_faces == pytest.approx((27_000, 54_000))


def test_the_worm_is_never_counted_as_a_brake() -> None:
    assert holding_torque() == 0
    assert holding_torque(brake=500, clamp=2000) == 2500
    for name, function in inspect.getmembers(counterweight, inspect.isfunction):
        asked = set(inspect.signature(function).parameters)
        assert not asked & {"lead_angle", "tan_lead", "locked", "self_locking"}, name


@pytest.mark.parametrize("margin", [0.5, 1.0])
def test_a_margin_that_is_none_is_refused(margin: float) -> None:
    with pytest.raises(ValueError, match=r"a margin of 1\.2 or more"):
        bias_torque_needed(reversing_torque=100, table_drag=10, margin=margin)
    with pytest.raises(ValueError, match=r"a margin of 1\.2 or more"):
        brake_torque_needed(reversing_torque=100, table_drag=10, margin=margin)
