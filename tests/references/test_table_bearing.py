"""Table bearing and clamp shift: exact rotations by matrix, lines built from known figures."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from published import derived
from wormwright.core.rigid_motion import MOTIONS, Indicator, motions_not_told, table_motion
from wormwright.core.rock_loop import rock_loop
from wormwright.core.table_bearing import (
    axial_share_in_rock,
    lift_and_tilt_from_two_sides,
    push_tips_table,
    radial_play_from_two_sides,
    tilt_play_of_axial_play,
    tilt_share_in_rock,
    tilt_under_moment,
)

FULL_SET = (
    Indicator("round", 0.0, 90.0, 20.0),
    Indicator("round", math.pi, 90.0, 20.0),
    Indicator("outward", 0.0, 100.0, 10.0),
    Indicator("up", 0.0, 85.0, 25.0),
    Indicator("up", 2 * math.pi / 3, 85.0, 25.0),
    Indicator("up", 4 * math.pi / 3, 85.0, 25.0),
)


def moved(place: Indicator, shift: np.ndarray, turn: np.ndarray) -> float:
    """Reading of an indicator when the table is shifted and turned by an exact rotation."""
    at = np.array(
        [-place.radius * math.sin(place.angle), place.radius * math.cos(place.angle), place.height]
    )
    sense = {
        "round": [-math.cos(place.angle), -math.sin(place.angle), 0.0],
        "outward": [-math.sin(place.angle), math.cos(place.angle), 0.0],
        "up": [0.0, 0.0, 1.0],
    }[place.sense]
    change = Rotation.from_rotvec(turn).apply(at) + shift - at
    return float(change @ np.array(sense))


@derived("exact rotation matrices of a table with known shift, lift, tilt and turning")
def test_clamp_shift_comes_apart_into_turning_lift_and_sideways() -> None:
    shift, turn = np.array([0.004, -0.003, 0.006]), np.array([4e-5, -2e-5, 7e-5])
    readings = [moved(place, shift, turn) for place in FULL_SET]
    found = table_motion(FULL_SET, readings, u=0.001)
    assert [m.name for m in found] == list(MOTIONS)
    assert [m.value for m in found] == pytest.approx([*shift, *turn], abs=2e-6)


@derived("two pins by hand: mean is the turning, half the difference is sideways along the worm")
def test_two_opposite_pins_tell_turning_from_sideways() -> None:
    pins = FULL_SET[:2]
    still = ("sideways y", "lift", "tilt about x", "tilt about y")
    sideways, turning = table_motion(pins, [0.030, 0.018], u=0.001, still=still)
    assert turning.value * 90 == pytest.approx((0.030 + 0.018) / 2)
    assert sideways.value == pytest.approx((0.018 - 0.030) / 2)
    assert turning.u * 90 == pytest.approx(0.001 / math.sqrt(2))


def test_what_the_indicators_cannot_tell_is_named() -> None:
    with pytest.raises(ValueError, match=r"cannot tell apart: sideways x, .*turning"):
        table_motion(FULL_SET[:1], [0.03], u=0.001)
    assert motions_not_told(FULL_SET) == ()
    assert set(motions_not_told(FULL_SET[3:])) == {"sideways x", "sideways y", "turning"}
    with pytest.raises(ValueError, match="expected names out of"):
        table_motion(FULL_SET, [0.0] * 6, u=0.001, still=("wobble",))


@derived("the general rigid motion with the same two indicators")
def test_two_sides_give_what_the_general_motion_gives() -> None:
    rim = (Indicator("outward", math.pi / 2, 100.0), Indicator("outward", 3 * math.pi / 2, 100.0))
    readings = [moved(place, np.array([-0.012, 0, 0]), np.zeros(3)) for place in rim]
    play, rest = radial_play_from_two_sides(near=readings[0], opposite=readings[1], u=0.001)
    assert (play.value, rest.value) == pytest.approx((0.012, 0.0))
    face = (Indicator("up", 0.0, 80.0), Indicator("up", math.pi, 80.0))
    up = [moved(place, np.array([0, 0, 0.01]), np.array([2e-4, 0, 0])) for place in face]
    lift, tilt = lift_and_tilt_from_two_sides(near=up[0], opposite=up[1], radius=80, u=0.001)
    assert (lift.value, tilt.value) == pytest.approx((0.01, 2e-4), abs=1e-9)


@derived("brute force: the spread of 1500 noisy lines of known play and stiffness")
def test_tilt_play_and_stiffness_with_their_doubt() -> None:
    rng = np.random.default_rng(2)
    m = np.array([-6, -4, -2, 2, 4, 6]) * 1000.0
    true = 1e-5 + np.sign(m) * 6e-5 + m / 3e7
    seen = [tilt_under_moment(m, true + rng.normal(0, 5e-6, 6), u=5e-6) for _ in range(1500)]
    play = np.array([s.play.value for s in seen])
    give = np.array([s.compliance.value for s in seen])
    assert play.mean() == pytest.approx(1.2e-4, rel=0.01)
    assert give.mean() == pytest.approx(1 / 3e7, rel=0.01)
    assert seen[0].play.u == pytest.approx(float(play.std()), rel=0.07)
    assert seen[0].compliance.u == pytest.approx(float(give.std()), rel=0.07)


@pytest.mark.parametrize("moments", [[1000.0, 2000.0, 3000.0], [-2000.0, 2000.0, 2000.0]])
def test_one_sign_or_one_size_of_moment_is_refused(moments: list[float]) -> None:
    with pytest.raises(ValueError, match="cannot tell apart"):
        tilt_under_moment(moments, [1e-4] * 3, u=1e-6)


@derived("brute force: the largest tilt of a plate between two flat stops at every angle")
def test_tilt_that_an_axial_play_allows() -> None:
    play, diameter = 0.02, 110.0
    tilts = np.linspace(0, 1e-3, 200_001)
    free = tilts[tilts * diameter <= play].max()
    found = tilt_play_of_axial_play(axial_play=play, support_diameter=diameter)
    assert found / 2 == pytest.approx(free, rel=1e-3)


@derived("exact rotation of a tipping table, read by pins straight across")
def test_opposite_pins_read_tilt_with_opposite_sign() -> None:
    tilt, height = 3e-4, 40.0
    pins = [Indicator("round", a, 80.0, height) for a in (0.3, math.pi + 0.3)]
    push = np.array([-math.cos(0.2), -math.sin(0.2), 0.0])
    axis = np.cross([0, 0, 1], push)
    read = [moved(p, np.zeros(3), axis * tilt) for p in pins]
    shares = [
        tilt_share_in_rock(
            pin_height=height, push_angle=0.2, pin_angle=p.angle, pitch_radius=50, pin_radius=80
        )
        for p in pins
    ]
    assert read[0] == pytest.approx(-read[1], rel=1e-3)
    assert read[0] * 50 / 80 == pytest.approx(shares[0] * tilt, rel=1e-3)
    assert read[1] * 50 / 80 == pytest.approx(shares[1] * tilt, rel=1e-3)


@derived("brute force: 100,000 pairs of noisy indicator changes")
def test_doubt_of_two_sides() -> None:
    rng = np.random.default_rng(6)
    near, opposite = rng.normal(0, 0.002, (2, 100_000))
    play, rest = radial_play_from_two_sides(near=0.03, opposite=-0.01, u=0.002)
    assert (play.value, rest.value) == pytest.approx((0.02, 0.01))
    assert play.u == pytest.approx(float(((near - opposite) / 2).std()), rel=0.01)
    assert rest.u == pytest.approx(float(((near + opposite) / 2).std()), rel=0.01)
    lift, tilt = lift_and_tilt_from_two_sides(near=0.03, opposite=-0.01, radius=80, u=0.002)
    assert lift.u == pytest.approx(float(((near + opposite) / 2).std()), rel=0.01)
    assert tilt.u == pytest.approx(float(((near - opposite) / 160).std()), rel=0.01)


def test_a_free_worm_lets_the_wheel_ride_along_the_thread() -> None:
    assert axial_share_in_rock(tan_lead=0.06, locked=False) == 0.06


def test_a_locked_worm_hides_axial_play_and_a_heavy_table_does_not_tip() -> None:
    assert axial_share_in_rock(tan_lead=0.06, locked=True) == 0
    assert push_tips_table(push=60, push_height=50, weight=100, support_diameter=50)
    assert not push_tips_table(push=60, push_height=50, weight=100, support_diameter=60)
    assert push_tips_table(push=60, push_height=50, weight=100, support_diameter=59)


@derived("a loop made of 3 arcmin clearance, 0.8 N·m per arcmin and half width 0.4 arcmin")
def test_rock_loop_gives_its_figures_back() -> None:
    arcmin = math.radians(1 / 60)
    torque = np.array([-8.0, -6, -4, -2, 2, 4, 6, 8] * 2)
    rising = np.array([-11.9, -9.4, -6.9, -4.4, 3.6, 6.1, 8.6, 11.1])
    angle = np.concatenate([rising, rising + 0.8]) * arcmin
    branch = np.repeat([1.0, -1.0], 8)
    loop = rock_loop(torque * 1000, angle, branch, u=0.05 * arcmin, least_torque=2000)
    assert loop.stiffness is not None
    assert loop.friction_torque is not None
    assert loop.stiffness * arcmin / 1000 == pytest.approx(0.8)
    assert loop.clearance / arcmin == pytest.approx(3.0)
    assert loop.half_width / arcmin == pytest.approx(0.4)
    assert loop.friction_torque == pytest.approx(320)
    assert loop.lost_motion_at(600) / arcmin == pytest.approx(4.5)
    assert loop.clearance_told


def test_a_loop_of_one_branch_cannot_tell_friction() -> None:
    t = np.array([-4, -3, -2, 2, 3, 4]) * 1000.0
    with pytest.raises(ValueError, match="friction"):
        rock_loop(t, t * 1e-7, np.ones(6), u=1e-6, least_torque=1000)
    with pytest.raises(ValueError, match="expected 5 or more"):
        rock_loop(t, t * 1e-7, np.ones(6), u=1e-6, least_torque=3500)
