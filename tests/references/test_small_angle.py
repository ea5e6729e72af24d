"""Angles by shop means against a catalogue table, a shop case and draws of the readings."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest

from published import derived, published
from wormwright.core.small_angle import (
    Touch,
    angle_of_arm,
    angle_of_laser,
    angle_of_mirror,
    angle_of_sine_bar,
    angle_of_swept_face,
    angle_of_wide_arm,
)

SECOND = math.radians(1 / 3600)


@published(
    work="service article on a worm-driven rotary table",
    edition="web page, not dated",
    place="0.012 in out of parallel over 8 in is 0.086°",
    known="read",
)
def test_two_skims_out_of_parallel() -> None:
    found = angle_of_swept_face(change=0.012, length=8.0, reading_u=0.0)
    assert math.degrees(found.value) == pytest.approx(0.086, abs=5e-4)


@derived("brute force: 200,000 draws of reading and radius")
def test_doubt_of_an_arm_is_the_spread_of_its_draws() -> None:
    rng = np.random.default_rng(8)
    draws = rng.normal(0.05, 0.003, 200_000) / rng.normal(100, 0.5, 200_000)
    found = angle_of_arm(reading=0.05, radius=100, reading_u=0.003, radius_u=0.5)
    assert found.value == pytest.approx(float(draws.mean()), rel=1e-3)
    assert found.u == pytest.approx(float(draws.std()), rel=0.01)
    assert (found.value / SECOND, found.u / SECOND) == pytest.approx((103.13, 6.21), abs=0.01)


@derived("brute force: 200,000 draws of blocks and bar")
@pytest.mark.parametrize("height", [20.0, 43.233, 80.0])
def test_doubt_of_a_sine_bar_is_the_spread_of_its_draws(height: float) -> None:
    rng = np.random.default_rng(8)
    h, length = rng.normal(height, 0.001, 200_000), rng.normal(100, 0.002, 200_000)
    draws = np.arcsin(h / length)
    found = angle_of_sine_bar(height=height, length=100, height_u=0.001, length_u=0.002)
    assert found.value == pytest.approx(float(draws.mean()), abs=SECOND / 10)
    assert found.u == pytest.approx(float(draws.std()), rel=0.01)


@derived("reflection of a ray by a turned mirror, vectors")
def test_mirror_doubles_the_angle() -> None:
    turn, distance = 40 * SECOND, 5000.0
    normal = np.array([math.cos(turn), math.sin(turn)])
    ray = np.array([-1.0, 0.0])
    back = ray - 2 * (ray @ normal) * normal
    shift = distance * back[1] / back[0]
    found = angle_of_mirror(shift=float(shift), distance=distance, shift_u=0.3)
    assert found.value == pytest.approx(turn, rel=1e-6)
    assert found.u / SECOND == pytest.approx(6.188, abs=1e-3)


@derived("two readings of 1 um over 80 mm, by differences of draws")
def test_doubt_of_a_swept_face() -> None:
    rng = np.random.default_rng(8)
    ends = rng.normal(0, 0.001, (2, 200_000))
    spread = float(np.arctan((ends[1] - ends[0]) / 80).std())
    found = angle_of_swept_face(change=0.0, length=80, reading_u=0.001)
    assert found.u == pytest.approx(spread, rel=0.01)
    assert found.u / SECOND == pytest.approx(3.646, abs=1e-3)


@derived("brute force: 200,000 draws through tangent and sine")
@pytest.mark.parametrize(("touch", "curve"), [("flat arm", np.arctan), ("ball", np.arcsin)])
def test_doubt_of_a_wide_arm_is_the_spread_of_its_draws(
    touch: Touch, curve: Callable[[np.ndarray], np.ndarray]
) -> None:
    rng = np.random.default_rng(8)
    draws = curve(rng.normal(30, 0.01, 200_000) / rng.normal(100, 0.05, 200_000))
    found = angle_of_wide_arm(reading=30, radius=100, reading_u=0.01, radius_u=0.05, touch=touch)
    assert found.value == pytest.approx(float(draws.mean()), abs=SECOND)
    assert found.u == pytest.approx(float(draws.std()), rel=0.01)


@derived("all three touches agree to first order, and part by the third power of the angle")
def test_a_small_swing_is_the_same_for_every_touch() -> None:
    pin, flat, ball = (
        angle_of_wide_arm(reading=2.0, radius=100, reading_u=0.003, radius_u=0.5, touch=touch)
        for touch in ("pin", "flat arm", "ball")
    )
    assert flat.value - pin.value == pytest.approx(-(0.02**3) / 3, rel=1e-3)
    assert ball.value - pin.value == pytest.approx(0.02**3 / 6, rel=1e-3)
    assert [flat.u, ball.u] == pytest.approx([pin.u, pin.u], rel=1e-3)


def test_an_arm_that_swings_too_far_is_refused() -> None:
    with pytest.raises(ValueError, match="nearer to the angle"):
        angle_of_wide_arm(reading=40, radius=100, reading_u=0, radius_u=0, touch="ball")
    with pytest.raises(ValueError, match="below a tenth"):
        angle_of_wide_arm(reading=40, radius=100, reading_u=0, radius_u=0, touch="pin")


@derived("a mirror turns the beam twice as far as a laser that turns with the table")
def test_a_laser_on_the_table_shows_half_as_much_as_a_mirror() -> None:
    laser = angle_of_laser(shift=0.3, distance=5000, shift_u=0.3)
    mirror = angle_of_mirror(shift=0.3, distance=5000, shift_u=0.3)
    assert (laser.value, laser.u) == pytest.approx((2 * mirror.value, 2 * mirror.u))
    assert laser.value / SECOND == pytest.approx(12.376, abs=1e-3)


@derived("arc over radius: 0.02 mm and 1 second at 100 mm, 1 minute at 50 mm, by hand")
def test_angle_and_arc_at_a_radius() -> None:
    at_100 = angle_of_arm(reading=0.02, radius=100, reading_u=0, radius_u=0).value
    assert at_100 / SECOND == pytest.approx(41.253, abs=1e-3)
    at_50 = angle_of_arm(reading=0.014544, radius=50, reading_u=0, radius_u=0).value
    one = angle_of_arm(reading=0.00048481, radius=100, reading_u=0, radius_u=0).value
    assert (at_50 / SECOND, one / SECOND) == pytest.approx((60, 1), rel=1e-4)
