"""Runout taken apart: printed estimators, printed circles, and traces built from known parts."""

from __future__ import annotations

import math

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.optimize import least_squares

from published import derived, published
from wormwright.core.circle import algebraic_circle, least_squares_circle
from wormwright.core.runout import (
    axis_and_part_by_reversal,
    folds_onto,
    most_lobes,
    runout_parts,
    second_lobe_of_offset,
)
from wormwright.core.runout_causes import (
    bar_axis,
    face_slope,
    offsets_by_part,
    shims_under_bolts,
    skim_to_level,
    slopes_by_part,
    tilt_limits_from_swings,
)
from wormwright.core.turn_vector import TurnVector, vector_from_swing

TWELVE = np.radians(np.arange(0, 360, 30))
TRACE_UM = [26.3, 25.9, 19.8, 14.5, 6.5, -5.9, -14.2, -13.0, -9.0, -6.6, 0.6, 15.1]
SIX_X, SIX_Y = [1, 2, 5, 7, 9, 3], [7, 6, 8, 7, 5, 7]


@published(
    work="NIST/SEMATECH e-Handbook of Statistical Methods",
    edition="web edition, not dated",
    place="2.3.4.4 roundness: R, a, b and the deviations of evenly spaced readings",
    known="read",
)
def test_even_readings_give_the_printed_estimators() -> None:
    r = np.array(TRACE_UM)
    found = runout_parts(TWELVE, r, reading_u=0.1, lobes=())
    a, b = (2 / 12 * float(np.sum(r * f(TWELVE))) for f in (np.cos, np.sin))
    assert found.mean == pytest.approx(float(r.mean()))
    assert (found.eccentricity.x, found.eccentricity.y) == pytest.approx((a, b))
    printed = r - r.mean() - a * np.cos(TWELVE) - b * np.sin(TWELVE)
    assert found.rest == pytest.approx(printed, abs=1e-12)


@derived("a trace made of 20 um at 30 degrees, an oval of 1.5 and three lobes of 3, rounded to 0.1")
def test_trace_of_known_parts_comes_apart_again() -> None:
    found = runout_parts(TWELVE, TRACE_UM, reading_u=0.05)
    assert found.mean == pytest.approx(5.0, abs=0.002)
    assert found.eccentricity.size == pytest.approx(19.994, abs=0.002)
    assert math.degrees(found.eccentricity.direction) == pytest.approx(30.07, abs=0.02)
    assert [lobe.amplitude for lobe in found.lobes[:2]] == pytest.approx([1.498, 2.981], abs=0.002)
    assert found.swing == pytest.approx(40.5)
    circle = runout_parts(TWELVE, TRACE_UM, reading_u=0.05, lobes=())
    assert circle.rest_swing == pytest.approx(8.373, abs=0.002)
    assert [lobe.stands_out for lobe in found.lobes] == [True, True, False, False]


@derived("closed form for even spacing: u(e) = u sqrt(2/N), u(mean) = u/sqrt(N)")
@pytest.mark.parametrize("n", [8, 12, 24])
def test_doubt_of_even_readings(n: int) -> None:
    theta = np.arange(n) * 2 * math.pi / n
    exact = 10 * np.cos(theta - 1.0)
    found = runout_parts(theta, exact, reading_u=0.3, lobes=())
    assert found.eccentricity.u == pytest.approx(0.3 * math.sqrt(2 / n))
    assert found.mean_u == pytest.approx(0.3 / math.sqrt(n))
    assert found.eccentricity.direction_u == pytest.approx(0.03 * math.sqrt(2 / n))


@derived("brute force: the spread of 1500 noisy traces at uneven places")
def test_doubt_of_uneven_readings_is_the_spread_of_many_traces() -> None:
    rng = np.random.default_rng(7)
    theta = np.radians([0, 40, 75, 130, 160, 215, 250, 300, 335])
    true = 0.02 * np.cos(theta - 2.0) + 0.004 * np.cos(2 * theta)
    noise = rng.normal(0, 0.001, (1500, len(theta)))
    seen = [runout_parts(theta, true + e, reading_u=0.001, lobes=(2,)) for e in noise]
    x = np.array([(s.eccentricity.x, s.eccentricity.y) for s in seen])
    worst = math.sqrt(np.linalg.eigvalsh(np.cov(x.T))[-1])
    stated = runout_parts(theta, true, reading_u=0.001, lobes=(2,)).eccentricity.u
    assert stated == pytest.approx(worst, rel=0.07)
    assert x.mean(axis=0) == pytest.approx(
        [0.02 * math.cos(2.0), 0.02 * math.sin(2.0)], abs=5 * stated / math.sqrt(1500)
    )


@derived("sampling: cos k theta and cos (N - k) theta have the same values at even places")
@pytest.mark.parametrize(("order", "n"), [(3, 12), (5, 12), (3, 8), (1, 8)])
def test_lobes_that_fold_onto_each_other_read_alike(order: int, n: int) -> None:
    theta = np.arange(n) * 2 * math.pi / n
    for other in folds_onto(order, n):
        assert np.cos(other * theta) == pytest.approx(np.cos(order * theta), abs=1e-9)


def test_lobes_beyond_the_places_are_refused_and_their_double_named() -> None:
    with pytest.raises(ValueError, match="7 looks like 5"):
        runout_parts(TWELVE, TRACE_UM, reading_u=0.1, lobes=(2, 3, 4, 5, 7))
    with pytest.raises(ValueError, match=r"carry lobes up to 5, .*6 shows only half of itself"):
        runout_parts(TWELVE, TRACE_UM, reading_u=0.1, lobes=(6,))


def test_four_places_carry_no_lobes() -> None:
    four = np.radians([0, 90, 180, 270])
    assert most_lobes(four) == 1
    with pytest.raises(ValueError, match="expected 8 places or more"):
        runout_parts(four, [1.0, 2.0, 3.0, 2.0], reading_u=0.1, lobes=(2,))


def test_bunched_angles_are_refused_for_the_lobes_they_blur() -> None:
    bunched = np.radians([0, 4, 8, 12, 16, 20, 24, 28, 32, 36])
    assert most_lobes(bunched) == 0
    with pytest.raises(ValueError, match="spread more evenly"):
        runout_parts(bunched, np.zeros(10), reading_u=0.001, lobes=(2, 3))


def test_first_place_read_again_counts_as_one_place() -> None:
    closed = np.append(TWELVE, 2 * math.pi)
    again = runout_parts(closed, [*TRACE_UM, TRACE_UM[0]], reading_u=0.1)
    assert [lobe.order for lobe in again.lobes] == [2, 3, 4, 5]


@published(
    work="Gander, Golub and Strebel, Least-squares fitting of circles and ellipses, BIT",
    edition="34, 1994",
    place="six points, geometric circle: centre (4.7398, 2.9835), radius 4.7142",
    known="from memory",
)
def test_geometric_circle_of_six_points() -> None:
    assert least_squares_circle(SIX_X, SIX_Y) == pytest.approx((4.7398, 2.9835, 4.7142), abs=6e-5)


@derived("normal equations of the linear circle, solved as 3 by 3")
def test_algebraic_circle_of_six_points() -> None:
    x, y = np.array(SIX_X, float), np.array(SIX_Y, float)
    design = np.column_stack([2 * x, 2 * y, np.ones(6)])
    a, b, c = np.linalg.solve(design.T @ design, design.T @ (x**2 + y**2))
    by_hand = (a, b, math.sqrt(c + a * a + b * b))
    assert algebraic_circle(x, y) == pytest.approx(by_hand, abs=1e-9)
    assert by_hand == pytest.approx((4.742331, 3.835123, 4.108762), abs=1e-6)


@derived("scipy.optimize.least_squares on the same distances, from its own start")
@pytest.mark.parametrize("arc", [60, 120, 360])
def test_geometric_circle_is_that_of_a_general_optimiser(arc: int) -> None:
    rng = np.random.default_rng(arc)
    at = np.radians(np.linspace(0, arc, 24, endpoint=False))
    x = 3 + 40 * np.cos(at) + rng.normal(0, 0.05, 24)
    y = -7 + 40 * np.sin(at) + rng.normal(0, 0.05, 24)

    def distances(c: NDArray[np.float64]) -> NDArray[np.float64]:
        off: NDArray[np.float64] = np.hypot(x - c[0], y - c[1]) - c[2]
        return off

    other = least_squares(distances, [x.mean(), y.mean(), 30.0], xtol=1e-14)
    assert least_squares_circle(x, y) == pytest.approx(tuple(other.x), abs=1e-6)
    linear = np.linalg.lstsq(np.column_stack([x, y, np.ones(24)]), x**2 + y**2, rcond=None)[0]
    kasa = algebraic_circle(x, y)
    assert (kasa.x, kasa.y) == pytest.approx((linear[0] / 2, linear[1] / 2), abs=1e-9)


def test_points_in_a_line_have_no_circle() -> None:
    with pytest.raises(ValueError, match="in one line"):
        least_squares_circle([0, 1, 2, 3], [1, 2, 3, 4])


@derived("exact geometry of a circle of radius 25 that runs 0.5 off centre, 720 places")
def test_false_oval_of_an_offset_circle() -> None:
    e, radius = 0.5, 25.0
    theta = np.arange(720) * 2 * math.pi / 720
    exact = e * np.cos(theta) + np.sqrt(radius**2 - (e * np.sin(theta)) ** 2)
    oval = runout_parts(theta, exact, reading_u=1e-6, lobes=(2,)).lobes[0].amplitude
    assert oval == pytest.approx(second_lobe_of_offset(offset=e, radius=radius), rel=1e-3)


@derived("eight readings made of a part and an axis motion, run 2 with both turned half round")
def test_reversal_gives_axis_and_part_back() -> None:
    run = [2.0, 1.7, -2.3, -0.6, 0.4, 1.1, -0.9, -1.4]
    turned = [-2.0, 0.7, 0.7, 1.4, -2.6, 0.7, 1.5, -0.4]
    axis, part = axis_and_part_by_reversal(run, turned)
    assert part.tolist() == pytest.approx([0, 1.2, -0.8, 0.4, -1.1, 0.9, 0.3, -0.9])
    assert axis.tolist() == pytest.approx([2, 0.5, -1.5, -1, 1.5, 0.2, -1.2, -0.5])


@derived("vector algebra by complex numbers")
def test_equal_swings_in_two_planes_hide_a_tilt() -> None:
    bar = bar_axis(
        near=vector_from_swing(0.020, direction=0.0, u=0.0005),
        far=vector_from_swing(0.020, direction=math.pi / 2, u=0.0005),
        near_z=10.0,
        far_z=110.0,
    )
    tilt = (0.010j - 0.010) / 100
    assert bar.tilt.size == pytest.approx(abs(tilt))
    assert math.degrees(bar.tilt.size) * 3600 == pytest.approx(29.170, abs=0.001)
    assert math.degrees(bar.tilt.direction) == pytest.approx(135)
    assert bar.tilt.u == pytest.approx(math.sqrt(2) * 0.0005 / 100)
    assert bar.offset_at(60.0).size == pytest.approx(0.010 / math.sqrt(2))
    assert bar.offset_at(60.0).u == pytest.approx(0.0005 / math.sqrt(2))
    assert bar.offset_at(210.0).u == pytest.approx(0.0005 * math.sqrt(5))


def test_swings_without_angles_give_no_tilt_but_limits() -> None:
    with pytest.raises(ValueError, match="without the mark of its high point"):
        vector_from_swing(0.02, direction=None, u=0.001)
    least, most = tilt_limits_from_swings(near_swing=0.021, far_swing=0.029, distance=127)
    assert (least, most) == pytest.approx((0.004 / 127, 0.025 / 127))


@derived("plain sums of sines and cosines by hand over a made-up club-shop bar, tenths of a thou")
def test_bar_of_the_club_shop() -> None:
    eight = np.radians(np.arange(0, 360, 45))
    near = runout_parts(eight, [32, 37, 40, 35, 27, 24, 19, 25], reading_u=1.0, lobes=())
    far = runout_parts(eight, [26, 35, 45, 42, 35, 26, 16, 17], reading_u=1.0, lobes=())
    assert (near.swing, far.swing) == (21, 29)
    for part, size, mark in ((near, 9.48, 79.2), (far, 14.20, 111.0)):
        assert part.eccentricity.size == pytest.approx(size, abs=0.005)
        assert math.degrees(part.eccentricity.direction) == pytest.approx(mark, abs=0.05)
    bar = bar_axis(near=near.eccentricity, far=far.eccentricity, near_z=1.0, far_z=6.0)
    assert bar.tilt.size == pytest.approx(1.58, abs=0.005)
    assert math.degrees(bar.tilt.size * 1e-4) * 3600 == pytest.approx(32.6, abs=0.05)
    assert math.degrees(bar.tilt.direction) == pytest.approx(150.1, abs=0.05)
    assert bar.offset_at(0.0).size == pytest.approx(9.1, abs=0.05)
    assert math.degrees(bar.offset_at(0.0).direction) == pytest.approx(69.7, abs=0.05)
    assert bar.tilt.size * 2.4 / 10 == pytest.approx(0.38, abs=0.005)


@derived("brute force: plane faces stacked as heights, the bar as the normal of the topmost")
def test_slopes_of_table_adapter_and_chuck_come_apart() -> None:
    table, adapter, chuck = np.array([2e-4, 1e-4]), np.array([-1e-4, 3e-4]), np.array([5e-5, 0.0])
    heights = [table, table + adapter, table + adapter + chuck]
    theta = np.radians(np.arange(0, 360, 45))
    faces = [
        face_slope(
            runout_parts(
                theta, 60 * (h[0] * np.cos(theta) + h[1] * np.sin(theta)), reading_u=1e-4
            ).eccentricity,
            radius=60.0,
        )
        for h in heights[:2]
    ]
    normal = np.cross([1, 0, heights[2][0]], [0, 1, heights[2][1]])
    lean = TurnVector(normal[0] / normal[2], normal[1] / normal[2], 1e-6)
    parts = slopes_by_part(table_face=faces[0], adapter_face=faces[1], bar_tilt=lean)
    assert [p.part for p in parts] == ["table face", "adapter", "chuck and grip"]
    for part, true in zip(parts, (table, adapter, chuck), strict=True):
        assert (part.vector.x, part.vector.y) == pytest.approx(true.tolist(), abs=1e-9)


def test_an_unread_part_is_named_together_with_the_next() -> None:
    bar = TurnVector(0.03, 0.01, 0.001)
    only = offsets_by_part(table_bore=None, register=None, bar_at_register=bar)
    assert [p.part for p in only] == ["table bore + adapter + chuck and grip"]
    with pytest.raises(ValueError, match="no runout vector"):
        offsets_by_part(table_bore=None, register=None, bar_at_register=None)


@derived("the sloping plane plus its shims is level; the skim leaves no metal below the low mark")
def test_shims_and_skim_make_the_seat_level() -> None:
    slope = TurnVector(1.5e-4, -2e-4, 1e-6)
    marks = np.radians([10, 130, 250])
    shims = shims_under_bolts(slope, bolt_radius=55.0, bolt_marks=marks)
    seat = 55 * (slope.x * np.cos(marks) + slope.y * np.sin(marks))
    assert np.ptp(seat + shims) == pytest.approx(0, abs=1e-12)
    assert shims.min() == 0
    theta = np.linspace(0, 2 * math.pi, 3601)
    edge = 70 * (slope.x * np.cos(theta) + slope.y * np.sin(theta))
    assert skim_to_level(slope, face_radius=70.0) == pytest.approx(float(np.ptp(edge)), rel=1e-5)


def test_a_vector_that_may_be_zero_points_nowhere() -> None:
    weak = TurnVector(0.001, 0.0, 0.001)
    assert not weak.stands_out
    assert TurnVector(0.0, 0.0, 0.001).direction_u == pytest.approx(math.radians(103.9), abs=1e-3)
    assert TurnVector(0.003, 0.0, 0.001).stands_out
