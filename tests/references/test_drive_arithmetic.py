"""Steps of a control, masses that turn, warmth, coupling and home against printed figures."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest

from published import derived, published
from wormwright.core.coupling import (
    angle_error_of_offset,
    eccentric_register,
    home_error,
    index_turns_home,
    offset_after_move,
)
from wormwright.core.rotating import (
    acceleration,
    best_ratio,
    centrifugal_force,
    cylinder_inertia,
    jaw_speed_limit,
    reflected_inertia,
    time_to_speed,
    unbalance_torque,
)
from wormwright.core.steps import (
    divided_turn,
    most_pulses_per_turn,
    pulse_rate,
    pulses_per_degree,
    rounded_setting,
    rpm_of_pulse_rate,
    setting_error,
    truncated_turn_error,
    turns_of_counter,
)
from wormwright.core.warm_running import (
    duty_share,
    rise_at_speed,
    run_minutes,
    steady_rise,
    steady_rise_of_run,
)

THREADS = "Public threads on steps for each degree"


@published(work=THREADS, edition="web pages", place="200·8·72/360 = 320", known="read")
def test_a_setting_that_comes_out_whole() -> None:
    assert pulses_per_degree(pulses_per_turn=1600, ratio=Fraction(72)) == 320


@published(work=THREADS, edition="web pages", place="200·10·100/360 = 555.556", known="read")
def test_a_setting_that_does_not() -> None:
    exact = pulses_per_degree(pulses_per_turn=2000, ratio=Fraction(100))
    assert exact == Fraction(5000, 9)
    assert float(exact) == pytest.approx(555.556, abs=5e-4)


@published(
    work="Model engineering forum page",
    edition="web page",
    place="0.00125 degrees at 90:1, 1/16",
    known="read",
)
def test_degrees_of_a_sixteenth_at_ninety_to_one() -> None:
    assert 1 / pulses_per_degree(pulses_per_turn=3200, ratio=Fraction(90)) == Fraction("0.00125")


@published(
    work="Thread of a control's forum", edition="web page", place="17.78 typed as 18", known="read"
)
def test_rounding_17_78_to_18_is_four_and_a_half_degrees_a_turn() -> None:
    exact = pulses_per_degree(pulses_per_turn=1600, ratio=Fraction(4))
    assert exact == Fraction(160, 9)
    assert abs(setting_error(exact, typed=Fraction(18), turns=1).angle) == Fraction(45, 10) * 3600


@derived("by hand: 0.000444… · 36 000 degrees = 16 pulses of 8.1 arc seconds")
def test_three_decimals_cost_130_arc_seconds_in_a_hundred_turns() -> None:
    exact = pulses_per_degree(pulses_per_turn=2000, ratio=Fraction(80))
    off = rounded_setting(exact, decimals=3, turns=100)
    assert off.pulses == 16
    assert float(off.angle) == pytest.approx(129.6)


@derived("by hand: 6.67 rpm · 90 · 3200/60")
def test_pulse_rate_and_the_speed_it_allows() -> None:
    exact = pulses_per_degree(pulses_per_turn=3200, ratio=Fraction(90))
    assert pulse_rate(per_degree=exact, rpm=20 / 3) == pytest.approx(32_000)
    router = pulses_per_degree(pulses_per_turn=2000, ratio=Fraction(80))
    assert rpm_of_pulse_rate(per_degree=router, rate=30_000) == pytest.approx(11.25)
    assert most_pulses_per_turn(rate=30_000, rpm=25, ratio=80) == 900


@derived("2^31 − 1 pulses counted out")
def test_a_counter_of_32_bits_is_finite() -> None:
    turns = turns_of_counter(per_degree=Fraction(800))
    assert turns * 288_000 <= 2**31 - 1 < (turns + 1) * 288_000


@derived("127 does not divide 160 000; cut down move by move it loses 107 pulses")
def test_remainders_of_127_teeth_are_spread() -> None:
    got = divided_turn(pulses=160_000, divisions=127)
    assert sum(got.moves) == 160_000
    assert not got.even
    assert got.worst <= Fraction(1, 2) * 1_296_000 / 160_000
    assert truncated_turn_error(pulses=160_000, divisions=127) == 107
    assert divided_turn(pulses=160_000, divisions=100).even


@published(
    work="Mechanics, solid cylinder",
    edition="general",
    place="4 kg, 100 mm: 0.005 kg·m²",
    known="from memory",
)
def test_inertia_of_a_chuck() -> None:
    assert cylinder_inertia(mass=4, diameter=100) == pytest.approx(0.005e6)


@derived("equal inertia on both sides of the ratio; found by trying ratios")
def test_best_ratio_speeds_the_load_up_fastest() -> None:
    i = best_ratio(load=5000, motor=48)
    assert i == pytest.approx(10.21, abs=0.01)

    def at(ratio: float) -> float:
        return (
            acceleration(inertia=48 + reflected_inertia(load=5000, ratio=ratio), torque=1.0) / ratio
        )

    assert at(i) > max(at(i * 1.05), at(i / 1.05))


@derived("by hand: 5000/8100 kg·mm², about one per cent of the rotor")
def test_at_ninety_to_one_the_rotor_rules() -> None:
    assert reflected_inertia(load=5000, ratio=90) / 48 == pytest.approx(0.013, abs=0.001)


@derived("speed is acceleration times time")
def test_time_to_speed_agrees_with_acceleration() -> None:
    t = time_to_speed(inertia=50, rpm=300, torque=400)
    assert acceleration(inertia=50, torque=400) * t == pytest.approx(2 * math.pi * 5)


@derived("by hand: 3 · 0.12 · 0.035 · (104.7)²")
def test_jaws_lose_138_newtons_at_a_thousand_turns() -> None:
    lost = 3 * centrifugal_force(mass=0.12, radius=35, rpm=1000)
    assert lost == pytest.approx(138.2, abs=0.3)
    n = jaw_speed_limit(grip=3000, mass=0.12, radius=35, jaws=3, share=2 / 3)
    assert 3 * centrifugal_force(mass=0.12, radius=35, rpm=n) == pytest.approx(2000)


@derived("by hand: 3 kg 10 mm off centre at standard gravity")
def test_torque_of_an_unbalanced_work() -> None:
    assert unbalance_torque(mass=3, off_centre=10) == pytest.approx(294.2, abs=0.05)


@derived("the exponential and its inverse; a run of one time constant comes to 63 per cent")
def test_warmth_rises_to_its_end_and_tells_the_minutes_left() -> None:
    steady = steady_rise_of_run(rise=12.0, minutes=45, time_constant=45)
    assert steady == pytest.approx(12 / (1 - math.exp(-1)))
    assert run_minutes(allowed=12, steady=steady, time_constant=45) == pytest.approx(45)
    assert run_minutes(allowed=20, steady=steady, time_constant=45) == math.inf
    assert duty_share(allowed=20, steady=10) == 1.0


@derived("10 W over 0.09 m² at 6 and 14 W/(m² K)")
def test_rise_by_the_film_is_an_interval() -> None:
    rise = steady_rise(heat=10, area=90_000)
    assert rise.low == pytest.approx(10 / (14 * 0.09))
    assert rise.high == pytest.approx(10 / (6 * 0.09))
    with pytest.raises(ValueError, match="three times"):
        rise_at_speed(rise=10, at=5, rpm=16)


@derived("right triangle of the two moves; the register reaches the closing it is turned for")
def test_the_motor_is_left_behind_and_the_register_carries_it_after() -> None:
    assert offset_after_move(closing=0.3, sideways=0.4) == pytest.approx(0.5)
    assert offset_after_move(closing=0.3, sideways=0.4, followed=0.3) == pytest.approx(0.4)
    ring = eccentric_register(closing=0.17, sideways=0.07, reserve=0.2)
    assert ring.throw * math.sin(ring.turn) == pytest.approx(0.17)


@derived("0.2 mm at 10 mm is a fiftieth of a radian at the worm")
def test_an_offset_coupling_shows_once_a_worm_turn() -> None:
    assert angle_error_of_offset(offset=0.2, arm=10, ratio=80) == pytest.approx(0.02 / 80)


@derived("a worm turn at 90:1 is four degrees: a switch must tell one degree")
def test_a_home_switch_must_tell_the_worm_turn() -> None:
    spread = home_error(repeat=0.02, arm=70)
    assert math.degrees(spread) * 3600 == pytest.approx(59, abs=0.5)
    assert index_turns_home(error=spread, ratio=90)
    assert not index_turns_home(error=math.radians(1.01), ratio=90)
