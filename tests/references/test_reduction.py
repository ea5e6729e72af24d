"""Drives between motor and table against printed figures."""

from __future__ import annotations

import math

import pytest

from published import derived, published
from wormwright.core.friction import Interval, efficiency_worm_driving
from wormwright.core.reduction import (
    at_table,
    back_driving_by_efficiency,
    belt_stiffness,
    belt_tension,
    heat,
    in_series,
    motor_field_stiffness,
    strain_wave_ratio,
    table_error,
    wind_up_in_steps,
)

ARCMIN = math.radians(1 / 60)
CATALOGUE = "Strain wave gear makers' catalogue"


@published(
    work=CATALOGUE, edition="general", place="200 against 202 teeth: 100", known="from memory"
)
def test_ratio_of_a_strain_wave_gear() -> None:
    assert strain_wave_ratio(flexible=200, rigid=202) == 100
    with pytest.raises(ValueError, match="more teeth outside"):
        strain_wave_ratio(flexible=202, rigid=200)


@published(
    work=CATALOGUE,
    edition="size 20, ratio 80 and above",
    place="K1 1.6e4, K2 2.5e4 N·m/rad, T1 7 N·m: 3.29 arcmin at 20 N·m",
    known="from memory",
)
def test_wind_up_of_size_20() -> None:
    angle = wind_up_in_steps(torque=20e3, stiffness=(1.6e7, 2.5e7, 2.9e7), up_to=(7e3, 25e3))
    assert angle / ARCMIN == pytest.approx(3.29, abs=0.02)


@derived("one stiffness throughout is a straight spring; odd in the torque")
def test_wind_up_with_equal_steps_is_a_plain_spring() -> None:
    plain = wind_up_in_steps(torque=-20e3, stiffness=(2e7, 2e7), up_to=(7e3,))
    assert plain == pytest.approx(-20e3 / 2e7)


@derived("two springs side by side on an arm: 2 (EA/L) r²")
def test_belt_pulls_with_both_spans_until_one_is_slack() -> None:
    assert belt_stiffness(tensile=2e5, radius=30, span=100) == pytest.approx(2 * 2e5 / 100 * 900)
    assert belt_tension(torque=6000, radius=30) == 100


@derived("drives of the comparison worked by hand: 50 T_hold i² in series with the drive")
@pytest.mark.parametrize(
    ("ratio", "holding", "drive", "total"),
    [(6, 2.2, 1.1, 0.563), (18, 2.2, 0.9, 0.828), (80, 1.2, 2.6, 2.54), (40, 1.2, 5.0, 4.24)],
)
def test_total_stiffness_at_the_table(
    ratio: float, holding: float, drive: float, total: float
) -> None:
    field = at_table(motor_field_stiffness(holding=holding * 1000), ratio=ratio)
    both = in_series(drive * 1000 / ARCMIN, field)
    assert both * ARCMIN / 1000 == pytest.approx(total, abs=0.006)


@derived("by hand: F r²/K and half the lost motion, both times the radius")
def test_error_at_the_radius_is_wind_up_and_half_the_lost_motion() -> None:
    got = table_error(force=40, radius=60, stiffness=0.5627e3 / ARCMIN, lost_motion=0.3 * ARCMIN)
    assert got.wind_up == pytest.approx(0.0744, abs=2e-4)
    assert got.one_way == pytest.approx(0.0771, abs=2e-4)
    assert got.to_and_fro == pytest.approx(2 * got.one_way)


@published(
    work="Gearmotor maker's answers on worm gears",
    edition="web page",
    place="below 0.45 it locks, above 0.55 it does not",
    known="read",
)
@pytest.mark.parametrize(
    ("low", "high", "word"),
    [
        (0.3, 0.44, "stays at rest without vibration"),
        (0.44, 0.5, "uncertain"),
        (0.56, 0.75, "drives back"),
    ],
)
def test_back_driving_told_by_efficiency(low: float, high: float, word: str) -> None:
    assert back_driving_by_efficiency(Interval(low, high)) == word


@derived("theory puts the change of a worm at an efficiency of one half, nearly")
def test_the_rule_brackets_the_theory_of_the_worm() -> None:
    normal = math.radians(20)
    for lead in (2.0, 4.0, 6.0):
        edge = math.tan(math.radians(lead)) * math.cos(normal)
        eta = efficiency_worm_driving(
            lead_angle=math.radians(lead), friction=edge, normal_angle=normal
        )
        assert 0.45 < eta < 0.55


@derived("input power less output power")
def test_heat_is_what_goes_in_and_does_not_come_out() -> None:
    omega = 2 * math.pi * 10 / 60
    assert heat(torque=3000, rpm=10, efficiency=0.4) == pytest.approx(
        3.0 * omega / 0.4 - 3.0 * omega
    )
    assert heat(torque=0, rpm=10, efficiency=0.4, drag=500) == pytest.approx(0.5 * omega)
