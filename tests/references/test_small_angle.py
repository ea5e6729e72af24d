"""Angles by shop means against a catalogue table, a shop case and draws of the readings."""

from __future__ import annotations

import math

import numpy as np
import pytest

from published import derived, published
from wormwright.core.small_angle import (
    angle_of_arm,
    angle_of_mirror,
    angle_of_sine_bar,
    angle_of_swept_face,
    true_lever_reading,
)

SECOND = math.radians(1 / 3600)


@published(
    work="Mitutoyo catalogue, lever dial indicators",
    edition="2019",
    place="table of compensation: 10° 0.98, 20° 0.94, 30° 0.87",
    known="read",
)
def test_lever_reading_is_cut_by_the_printed_factor() -> None:
    for degrees, printed in ((10, 0.98), (20, 0.94), (30, 0.87)):
        found = true_lever_reading(1.0, stylus_angle=math.radians(degrees))
        assert found == pytest.approx(printed, abs=0.006)
    with pytest.raises(ValueError, match="set it along the surface"):
        true_lever_reading(0.2, stylus_angle=math.radians(40))


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
