"""Lost motion at the table: limits that can be worked out by hand, and a second method."""

from __future__ import annotations

import math
from itertools import product

import numpy as np
import pytest

from published import derived
from simulated_rotary import Truth, lost_motion, rock
from wormwright.core.bounded_fit import best_point_within_bounds, draws_within_bounds
from wormwright.core.lost_motion import (
    held_worm_locks,
    mesh_backlash_round_the_turn,
    table_play_share,
    table_play_share_of_couple,
    worm_float_share,
)

ONLY = {
    "mesh": 0.0,
    "end_play": 0.0,
    "worm_float": 0.0,
    "wheel_joint": 0.0,
    "drive_angle": 0.0,
    "table_radial": 0.0,
    "compliance": 0.0,
    "wheel": (0.0, 0.0),
    "worm": (0.0, 0.0),
    "table_share": 1.0,
    "worm_share": 1.0,
}


def unit(**plays: object) -> Truth:
    return Truth(**{**ONLY, **plays})  # type: ignore[arg-type]


@derived("rest positions of the shaft under each push, tests/simulated_rotary.py")
@pytest.mark.parametrize(
    ("radius", "beta_deg"), list(product([60.0, 80.0, 140.0], [0, 35, 90, 150, 180, 270]))
)
def test_one_pin_reads_table_play_as_the_statics_say(radius: float, beta_deg: float) -> None:
    truth, beta = unit(table_radial=0.02), math.radians(beta_deg)
    read = rock(truth, 0, 0, radius=radius, torque=1000, pins=1, beta=beta)
    share = table_play_share(
        push_radius=radius,
        push_angle=beta,
        pin_radius=radius,
        pin_angle=beta,
        pitch_radius=truth.r2,
        tan_pressure=truth.t,
    )
    assert read * truth.r2 / radius == pytest.approx(0.02 * share.one_pin, rel=1e-12)


@derived("hand statics: (1 - (r2/R) cos beta) of the sideways part at the worm side, beta = 0")
def test_one_pin_at_the_worm_side_loses_r2_over_r_of_the_sideways_play() -> None:
    share = table_play_share(
        push_radius=100.0,
        push_angle=0.0,
        pin_radius=100.0,
        pin_angle=0.0,
        pitch_radius=50.0,
        tan_pressure=1e-9,
    )
    assert share.rotation == pytest.approx(1.0)
    assert share.one_pin == pytest.approx(1 - 50.0 / 100.0)


@derived("two opposite pins in the rest-position model read the true rotation of a couple")
def test_two_pins_read_the_couple() -> None:
    truth = unit(table_radial=0.02)
    read = rock(truth, 0, 0, radius=80, torque=1000, pins=2) * truth.r2 / 80
    assert read == pytest.approx(0.02 * table_play_share_of_couple(truth.t), rel=1e-12)
    assert read == pytest.approx(lost_motion(truth)["table_radial"], rel=1e-12)


@derived("rest positions of both worm ends under the thrust couple")
@pytest.mark.parametrize("span", [30.0, 54.0, 200.0])
def test_worm_float_turns_the_worm_over_on_its_span(span: float) -> None:
    truth = unit(worm_float=0.02, span=span)
    read = rock(truth, 0, 0, radius=80, torque=1000, pins=2) * truth.r2 / 80
    share = worm_float_share(
        tan_pressure=truth.t, tan_lead=truth.g, worm_radius=truth.d1 / 2, bearing_span=span
    )
    assert read == pytest.approx(0.02 * share, rel=1e-12)


@derived("play adds 1:1 whatever the ratio: rest-position model")
def test_worm_end_play_is_not_divided_by_any_ratio() -> None:
    for teeth in (40, 90):
        truth = unit(end_play=0.03, teeth=teeth)
        read = rock(truth, 0, 0, radius=80, torque=1000, pins=2) * truth.r2 / 80
        assert read == pytest.approx(0.03)


@derived("swing of a sum of two cosines: 2 t (TIR wheel + TIR worm), grid search over both turns")
def test_swing_of_the_map_is_the_sum_of_both_runouts() -> None:
    phi, psi = np.meshgrid(np.linspace(0, 2 * np.pi, 181), np.linspace(0, 2 * np.pi, 181))
    t = math.tan(math.radians(20))
    j = mesh_backlash_round_the_turn(
        phi, psi, mesh_mean=0.1, wheel_x=0.02, wheel_y=0, worm_x=0, worm_y=0.01, tan_pressure=t
    )
    assert j.max() - j.min() == pytest.approx(2 * t * (0.04 + 0.02), rel=1e-6)


@derived("friction angle of 0.06 at 20 degrees is 3.65 degrees")
def test_one_start_locks_two_starts_do_not() -> None:
    angle = math.radians(20)
    assert held_worm_locks(tan_lead=math.tan(math.radians(3.2)), pressure_angle=angle)
    assert not held_worm_locks(tan_lead=math.tan(math.radians(6.5)), pressure_angle=angle)


@derived("bounded-variable least squares of a general library (scipy.optimize.lsq_linear)")
@pytest.mark.parametrize("seed", range(40))
def test_best_point_is_the_bounded_least_squares_point(seed: int) -> None:
    from scipy.optimize import lsq_linear  # noqa: PLC0415

    rng = np.random.default_rng(seed)
    n, d = int(rng.integers(3, 20)), int(rng.integers(2, 12))
    a, high = rng.normal(size=(n, d)) * 10, rng.uniform(0.1, 1, d)
    y = a @ (rng.uniform(-0.3, 1.3, d) * high) + rng.normal(size=n) * 0.1
    ours = best_point_within_bounds(a, y, low=np.zeros(d), high=high)
    theirs = lsq_linear(a, y, (np.zeros(d), high), method="bvls", tol=1e-12).x
    assert np.sum((a @ ours - y) ** 2) <= np.sum((a @ theirs - y) ** 2) * (1 + 1e-5) + 1e-5


@derived("importance sampling of the same cut normal by brute force, two million points")
def test_draws_are_of_the_cut_normal() -> None:
    a = np.array([[200.0, 200.0, 200.0], [0.0, 30.0, 0.0]])
    y, high = a @ np.array([0.1, 0.02, 0.005]), np.array([0.3, 0.1, 0.03])
    drawn = draws_within_bounds(a, y, (), low=np.zeros(3), high=high, seed=3).x
    rng = np.random.default_rng(5)
    points = rng.uniform(0, high, (2_000_000, 3))
    weight = np.exp(-0.5 * np.sum((points @ a.T - y) ** 2, axis=1))
    brute = points[rng.choice(len(points), 20_000, p=weight / weight.sum())]
    for q in (0.025, 0.5, 0.975):
        assert np.quantile(drawn, q, axis=0) == pytest.approx(
            np.quantile(brute, q, axis=0), abs=0.0035
        )
