"""Stepper motors against printed figures."""

from __future__ import annotations

import math

import pytest

from published import derived, published
from wormwright.core.stepper import (
    Winding,
    corner_rpm,
    full_torque_rpm,
    least_step_time,
    load_error,
    microstep_torque,
    natural_frequency,
    pull_out_torque,
    rpm_of_step_rate,
    torque_constant,
    torque_of_points,
    torque_of_power,
)

MOTOR = Winding(1890, 2.8, 1.13, 5.4e-3)


@published(
    work="Public calculators of stepper speed",
    edition="two pages that agree",
    place="48 V, 5.4 mH, 2.8 A, 200 steps: 630 µs, 7.94 rev/s",
    known="read",
)
def test_speed_limit_by_inductance() -> None:
    assert least_step_time(inductance=5.4e-3, current=2.8, voltage=48) == pytest.approx(630e-6)
    assert full_torque_rpm(winding=MOTOR, voltage=48) / 60 == pytest.approx(7.94, abs=0.01)


@derived("definition: two phases in quadrature, each sqrt(2) I at its best")
def test_two_phases_at_the_peak_current_give_the_holding_torque() -> None:
    k = torque_constant(MOTOR)
    assert k == pytest.approx(0.4773, abs=5e-4)
    assert k * MOTOR.peak_current * 1000 == pytest.approx(MOTOR.holding)


@published(
    work="Acarnley, Stepping Motors: a guide to theory and practice",
    edition="4th",
    place="pull-out torque of the hybrid motor in phasor form",
    known="from memory",
)
def test_pull_out_torque_at_600_rpm() -> None:
    assert pull_out_torque(winding=MOTOR, voltage=48, rpm=600) == pytest.approx(1293, abs=10)


@derived("brute force: power balance V I cos − I² R over all load angles, phasor by phasor")
def test_pull_out_is_the_largest_torque_over_the_load_angle() -> None:
    omega = 2 * math.pi * 700 / 60
    k, r = torque_constant(MOTOR), MOTOR.resistance
    z = complex(r, 50 * omega * MOTOR.inductance)
    best = 0.0
    for step in range(3600):
        angle = math.radians(step / 10)
        current = (48 * complex(math.cos(angle), math.sin(angle)) - k * omega) / z
        best = max(best, k * current.real)  # two phases, peak figures: 2 · K · I/2
    assert pull_out_torque(winding=MOTOR, voltage=48, rpm=700) == pytest.approx(
        1000 * best, rel=1e-4
    )


@derived("the voltage needed at the corner is the voltage there")
def test_full_torque_holds_up_to_the_corner() -> None:
    n = corner_rpm(winding=MOTOR, voltage=48)
    assert pull_out_torque(winding=MOTOR, voltage=48, rpm=n * 0.999) == 1890
    assert pull_out_torque(winding=MOTOR, voltage=48, rpm=n * 1.6) < 1890
    assert corner_rpm(winding=MOTOR, voltage=4) == 0


@published(
    work="Motor makers' notes on microstepping",
    edition="general",
    place="torque of one 1/16 microstep: 9.8 per cent of holding",
    known="from memory",
)
def test_one_sixteenth_brings_a_tenth_of_the_torque() -> None:
    assert microstep_torque(holding=1.0, microsteps=16) == pytest.approx(0.098, abs=3e-4)
    assert microstep_torque(holding=1.0, microsteps=1) == pytest.approx(1.0)


@derived("by hand: asin(0.5)/50 is 0.6 degrees")
def test_half_load_lags_a_third_of_a_step() -> None:
    assert math.degrees(load_error(load=0.5, holding=1.0)) == pytest.approx(0.6)
    with pytest.raises(ValueError, match="at most the holding torque"):
        load_error(load=1.1, holding=1.0)


@published(
    work="Small-angle model of the hybrid motor",
    edition="general",
    place="1.89 N·m, 480 g·cm²: 223 Hz",
    known="from memory",
)
def test_low_resonance_of_a_bare_rotor() -> None:
    f = natural_frequency(holding=1890, inertia=48.0)
    assert f == pytest.approx(223.3, abs=0.5)
    assert rpm_of_step_rate(f, steps=200) == pytest.approx(67, abs=0.5)


@published(
    work="Project page with the data of a NEMA 23 motor",
    edition="web page",
    place="max slew 5000 pulses/s is 1500 rpm",
    known="read",
)
def test_pulse_rate_of_full_steps_as_a_speed() -> None:
    assert rpm_of_step_rate(5000, steps=200) == 1500


@derived("straight line by hand; nothing beyond the sheet")
def test_points_of_a_data_sheet_are_joined_and_not_extended() -> None:
    points = ((0.0, 2200.0), (300.0, 1700.0), (600.0, 1100.0))
    assert torque_of_points(points, rpm=450) == pytest.approx(1400)
    assert torque_of_points(points, rpm=601) == 0
    with pytest.raises(ValueError, match="rise"):
        torque_of_points(((300.0, 1.0), (300.0, 2.0)), rpm=10)


@published(
    work="Servo makers' rating plates",
    edition="general",
    place="100, 200, 400, 750 W at 3000 rpm: 0.32, 0.64, 1.27, 2.39 N·m",
    known="from memory",
)
@pytest.mark.parametrize(("watt", "nm"), [(100, 0.32), (200, 0.64), (400, 1.27), (750, 2.39)])
def test_torque_of_a_servo_by_its_power(watt: float, nm: float) -> None:
    assert torque_of_power(power=watt, rpm=3000) / 1000 == pytest.approx(nm, abs=0.006)
