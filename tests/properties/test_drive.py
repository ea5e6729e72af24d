"""Laws that the arithmetic of the drive keeps for any figures."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wormwright.core.feed import Move, block_minutes, inverse_time, inverse_time_word
from wormwright.core.reduction import at_table, in_series, table_error
from wormwright.core.rotating import reflected_inertia, unbalance_torque
from wormwright.core.stepper import Winding, pull_out_torque
from wormwright.core.steps import (
    divided_turn,
    pulse_rate,
    pulses_per_degree,
    rounded_setting,
    rpm_of_pulse_rate,
    setting_error,
)

PULSES = st.integers(1, 100_000)
RATIO = st.fractions(min_value=1, max_value=400, max_denominator=60)
SIZE = st.floats(0.1, 1000)


@given(PULSES, RATIO)
def test_a_turn_of_the_table_is_exactly_the_pulses_of_its_motor_turns(
    pulses: int, ratio: Fraction
) -> None:
    assert pulses_per_degree(pulses_per_turn=pulses, ratio=ratio) * 360 == pulses * ratio


@given(PULSES, RATIO, st.integers(0, 8), st.integers(1, 100))
def test_what_rounding_leaves_out_is_given_back_exactly(
    pulses: int, ratio: Fraction, decimals: int, turns: int
) -> None:
    exact = pulses_per_degree(pulses_per_turn=pulses, ratio=ratio)
    off = rounded_setting(exact, decimals=decimals, turns=turns)
    assert off.typed * 360 * turns + off.pulses == exact * 360 * turns
    assert abs(off.pulses) <= Fraction(180 * turns, 10**decimals)
    assert setting_error(exact, typed=exact, turns=turns).angle == 0
    assert rounded_setting(exact, decimals=decimals, turns=2 * turns).angle == 2 * off.angle


@given(st.integers(2, 500), st.integers(500, 2_000_000))
def test_the_remainders_of_a_divided_turn_sum_to_the_turn(divisions: int, pulses: int) -> None:
    got = divided_turn(pulses=pulses, divisions=divisions)
    assert len(got.moves) == divisions
    assert sum(got.moves) == pulses
    assert max(got.moves) - min(got.moves) <= 1
    assert got.even == (pulses % divisions == 0)
    assert got.worst * pulses <= 648_000


@given(PULSES, RATIO, st.floats(0.01, 100))
def test_pulse_rate_and_speed_are_each_others_inverse(
    pulses: int, ratio: Fraction, rpm: float
) -> None:
    exact = pulses_per_degree(pulses_per_turn=pulses, ratio=ratio)
    rate = pulse_rate(per_degree=exact, rpm=rpm)
    assert rpm_of_pulse_rate(per_degree=exact, rate=rate) == pytest.approx(rpm)


@given(SIZE, SIZE, st.floats(1e3, 1e9), st.floats(0, 0.01), st.floats(1, 10))
def test_wind_up_goes_with_the_radius_squared_and_lost_motion_with_the_radius(
    force: float, radius: float, stiffness: float, lost_motion: float, times: float
) -> None:
    once = table_error(force=force, radius=radius, stiffness=stiffness, lost_motion=lost_motion)
    more = table_error(
        force=force, radius=radius * times, stiffness=stiffness, lost_motion=lost_motion
    )
    assert more.wind_up == pytest.approx(once.wind_up * times**2)
    assert more.lost_motion == pytest.approx(once.lost_motion * times)


@given(SIZE, st.floats(1, 200), st.floats(1, 10))
def test_inertia_falls_with_the_ratio_squared_and_stiffness_rises_with_it(
    load: float, ratio: float, times: float
) -> None:
    once = reflected_inertia(load=load, ratio=ratio)
    assert reflected_inertia(load=load, ratio=ratio * times) == pytest.approx(once / times**2)
    assert at_table(load, ratio=ratio * times) == pytest.approx(
        at_table(load, ratio=ratio) * times**2
    )


@given(st.lists(st.floats(1.0, 1e9), min_size=1, max_size=5))
def test_springs_in_series_are_softer_than_the_softest(stiffness: list[float]) -> None:
    assert in_series(*stiffness) <= min(stiffness) * (1 + 1e-12)
    assert in_series(*stiffness, math.inf) == pytest.approx(in_series(*stiffness))


@given(st.floats(0.01, 100), st.floats(0, 500), st.floats(1.1, 5))
def test_unbalance_goes_with_mass_and_arm(mass: float, off: float, times: float) -> None:
    once = unbalance_torque(mass=mass, off_centre=off)
    assert unbalance_torque(mass=mass * times, off_centre=off) == pytest.approx(once * times)
    assert unbalance_torque(mass=mass, off_centre=off * times) == pytest.approx(once * times)


@given(st.floats(0.1, 500), st.floats(0.1, 720), SIZE, st.floats(1, 5000))
def test_inverse_time_is_a_time_whatever_word_says_it(
    linear: float, turn: float, radius: float, feed: float
) -> None:
    per_minute = inverse_time(Move(linear, turn), radius=radius, feed=feed)
    seconds = inverse_time_word(per_minute, rule="seconds a block")
    assert seconds * inverse_time_word(per_minute, rule="blocks a second") == pytest.approx(1)
    assert seconds / 60 >= block_minutes(Move(linear, turn), feed=feed) * (1 - 1e-9)


@given(st.floats(0, 3000), st.floats(1.05, 3), st.floats(12, 80))
def test_a_stepper_gives_less_the_faster_it_turns_and_more_the_higher_its_voltage(
    rpm: float, times: float, voltage: float
) -> None:
    motor = Winding(1890, 2.8, 1.13, 5.4e-3)
    now = pull_out_torque(winding=motor, voltage=voltage, rpm=rpm)
    assert pull_out_torque(winding=motor, voltage=voltage, rpm=rpm * times) <= now + 1e-9
    assert pull_out_torque(winding=motor, voltage=voltage * times, rpm=rpm) >= now - 1e-9
