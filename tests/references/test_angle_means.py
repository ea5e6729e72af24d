"""What the means of measuring can show: draws of whole procedures, and their limits."""

from __future__ import annotations

import math

import numpy as np
import pytest

from published import derived
from wormwright.core.angle_means import (
    share_left,
    u_of_arm,
    u_of_closed_polygon,
    u_of_indexed_square,
    u_of_sensor_table,
)
from wormwright.core.closure import closure
from wormwright.core.closure_plan import best_design

SECOND = math.radians(1 / 3600)


@derived("brute force: 200,000 blocks with a doubtful corner, both faces swept")
def test_doubt_of_a_square_swept_at_two_faces_is_the_spread_of_its_draws() -> None:
    rng = np.random.default_rng(4)
    ends = rng.normal(0, 0.001, (4, 200_000))
    faces = (ends[1] - ends[0]) / 80, (ends[3] - ends[2]) / 80
    draws = faces[1] - faces[0] + rng.normal(0, 10 * SECOND, 200_000)
    u = u_of_indexed_square(length=80, reading_u=0.001, corner_u=10 * SECOND)
    assert u == pytest.approx(float(draws.std()), rel=0.01)


@derived("brute force: 4,000 closures of a noisy polygon")
@pytest.mark.parametrize(("faces", "set_ups"), [(4, 4), (8, 3), (12, 2)])
def test_doubt_of_a_polygon_closed_is_the_spread_of_its_draws(faces: int, set_ups: int) -> None:
    rng = np.random.default_rng(4)
    shifts = best_design(faces, set_ups).shifts
    found = [closure(rng.normal(0, 2.0, (faces, set_ups)), shifts).table for _ in range(4000)]
    assert u_of_closed_polygon(faces=faces, set_ups=set_ups, pointing_u=2.0) == pytest.approx(
        float(np.std(found)), rel=0.03
    )


@derived("brute force: 200,000 sensors at any mark of the turn")
def test_doubt_of_a_sensor_is_the_spread_of_its_draws() -> None:
    rng = np.random.default_rng(4)
    draws = (
        rng.uniform(-30, 30, 200_000)
        + rng.uniform(-5, 5, 200_000)
        + 0.01 / 50 / SECOND * np.cos(rng.uniform(0, 2 * math.pi, 200_000))
    )
    u = u_of_sensor_table(
        half_width=30.0 * SECOND, step=10.0 * SECOND, offset=0.01, track_radius=50
    )
    assert u / SECOND == pytest.approx(float(draws.std()), rel=0.01)
    alone = u_of_sensor_table(half_width=30.0, step=0.0)
    assert alone == pytest.approx(30 / math.sqrt(3))


@derived("an arm where nothing moved has the indicator's doubt alone")
def test_an_arm_at_rest_carries_only_its_indicator() -> None:
    still = u_of_arm(error=0.0, radius=80, reading_u=0.002, radius_u=2.0)
    moved = u_of_arm(error=0.002, radius=80, reading_u=0.002, radius_u=2.0)
    assert still == pytest.approx(0.002 / 80)
    assert moved**2 - still**2 == pytest.approx((0.002 * 2.0 / 80) ** 2)


@derived("guard band of 1.645 u taken off the limit")
def test_what_a_means_leaves_of_the_allowed_error() -> None:
    assert share_left(u=1.0, allowed=16.45) == pytest.approx(0.9, abs=1e-3)
    assert share_left(u=10.0, allowed=16.45) == pytest.approx(0.0, abs=1e-3)
    assert share_left(u=20.0, allowed=16.45) == 0.0


def test_figures_that_cannot_be_are_refused() -> None:
    with pytest.raises(ValueError, match="zero or more"):
        u_of_indexed_square(length=80, reading_u=0.001, corner_u=-1.0)
    with pytest.raises(ValueError, match="2 set-ups"):
        u_of_closed_polygon(faces=4, set_ups=1, pointing_u=1.0)
    with pytest.raises(ValueError, match="track radius"):
        u_of_sensor_table(half_width=1.0, step=0.0, track_radius=0.0)
    with pytest.raises(ValueError, match="allowed error"):
        share_left(u=1.0, allowed=0.0)
