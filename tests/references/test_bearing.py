"""Play, stiffness and preload of deep-groove bearings against printed figures."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.optimize import brentq

from published import derived, published, regression
from wormwright.core.ball_contact import (
    ball_constant,
    contact_constant,
    curvature,
    ellipse_ratio,
)
from wormwright.core.bearing import (
    BallSet,
    RingSide,
    axial_play,
    ball_set_from_rating,
    clearance_lost_to_warm_inner_ring,
    float_of_cross_located_pair,
    free_contact_angle,
    groove_distance_from_factor,
    mounted_clearance,
    radial_clearance_from_axial_play,
    scraping_of_ring,
)
from wormwright.core.bearing_life import life_million_turns, thrust_factors_at
from wormwright.core.bearing_preload import (
    UNLOADING_RATIO,
    axial_spring,
    deflection_under,
    preload_from_squeeze,
    preload_to_stay_loaded,
    spring_force_to_hold,
    squeeze_for_preload,
    stiffness_at,
    thrust_at,
)
from wormwright.handbook.bearings import (
    bearing,
    bearings,
    play_factor,
    ratings,
    thrust_factors,
)

HARRIS = "Harris, Rolling Bearing Analysis"
NSK = "NSK Rolling Bearings E1102e"
SKF = "SKF general catalogue"

A_209 = (0.52 + 0.52 - 1) * 12.7
BALLS_6204 = BallSet(8, 7.938, 33.5, 0.5177, 0.5177)
FACTORS = [play_factor(b.designation) for b in bearings()]
ANGULAR_218 = BallSet(16, 22.23, 125.26, 0.5232, 0.5232)


def play_of_angle(groove_distance: float, degrees: float) -> float:
    return 2 * groove_distance * (1 - math.cos(math.radians(degrees)))


@published(
    work=HARRIS, edition="4th", place="ch. 2, 209 bearing: free contact angle", known="from memory"
)
def test_209_bearing_touches_at_9_degrees_52_minutes() -> None:
    angle = free_contact_angle(radial_clearance=0.0150, groove_distance=A_209)
    assert math.degrees(angle) == pytest.approx(9 + 52 / 60, abs=0.02)


@published(
    work=HARRIS, edition="4th", place="ch. 2, 209 bearing: free end play", known="from memory"
)
def test_209_bearing_has_an_end_play_of_0_174_mm() -> None:
    assert axial_play(radial_clearance=0.0150, groove_distance=A_209) == pytest.approx(
        0.174, abs=5e-4
    )


@published(
    work=HARRIS,
    edition="4th",
    place="ch. 2, 209 bearing: curvatures at the inner groove",
    known="from memory",
)
def test_209_inner_groove_curvatures() -> None:
    total, difference = curvature(ball=12.7, pitch=65, groove=0.52, angle=0.0, inner=True)
    assert total == pytest.approx(0.202, abs=5e-4)
    assert difference == pytest.approx(0.9399, abs=4e-4)


@published(
    work=HARRIS,
    edition="4th",
    place="ch. 2, 209 bearing: curvatures at the outer groove",
    known="from memory",
)
def test_209_outer_groove_curvatures() -> None:
    total, difference = curvature(ball=12.7, pitch=65, groove=0.52, angle=0.0, inner=False)
    assert total == pytest.approx(0.138, abs=5e-4)
    assert difference == pytest.approx(0.9120, abs=4e-4)


@published(
    work=HARRIS,
    edition="4th",
    place="ch. 7, 218 bearing under 17 800 N: contact angle",
    known="from memory",
)
def test_218_bearing_opens_from_40_to_41_6_degrees() -> None:
    A = ANGULAR_218.groove_distance
    spring = axial_spring(ANGULAR_218, radial_clearance=play_of_angle(A, 40))
    along = A * math.sin(spring.angle) + deflection_under(spring, 17_800)
    angle = math.degrees(math.atan2(along, A * math.cos(spring.angle)))
    assert angle == pytest.approx(41.6, abs=0.15)


@published(
    work=HARRIS,
    edition="4th",
    place="ch. 7, 218 bearing under 17 800 N: ball load",
    known="from memory",
)
def test_218_balls_carry_1676_newton_each() -> None:
    A = ANGULAR_218.groove_distance
    spring = axial_spring(ANGULAR_218, radial_clearance=play_of_angle(A, 40))
    along = A * math.sin(spring.angle) + deflection_under(spring, 17_800)
    sine = along / math.hypot(along, A * math.cos(spring.angle))
    assert 17_800 / (16 * sine) == pytest.approx(1676, abs=8)


@published(work=NSK, edition="edition not noted", place="table 15.4, 6204", known="read")
def test_axial_play_of_a_6204_is_ten_times_its_radial_clearance() -> None:
    factor = play_factor("6204")
    assert factor is not None
    distance = groove_distance_from_factor(factor.factor)
    assert axial_play(radial_clearance=0.010, groove_distance=distance) == pytest.approx(
        0.106, abs=5e-4
    )


@published(
    work=NSK, edition="edition not noted", place="15.3, short law play = K sqrt(G)", known="read"
)
@pytest.mark.parametrize("factor", sorted({f.factor for f in FACTORS if f}))
def test_short_law_is_high_by_less_than_3_per_cent(factor: float) -> None:
    distance = groove_distance_from_factor(factor)
    for clearance in (0.005, 0.010, 0.020, 0.030):
        exact = axial_play(radial_clearance=clearance, groove_distance=distance)
        assert 0 < factor * math.sqrt(clearance) / exact - 1 < 0.03


@published(
    work=NSK,
    edition="edition not noted",
    place="bearing tables, C0r and f0, with table 15.4",
    known="read",
)
@pytest.mark.parametrize(
    "designation",
    ["6002", "6004", "6005", "6007", "6202", "6204", "6205", "6207", "6210", "6305", "6307"],
)
def test_two_tables_of_one_maker_imply_the_same_usual_groove(designation: str) -> None:
    """Load rating and play factor are printed apart; only the right balls make them agree."""
    size, factor = bearing(designation), play_factor(designation)
    rating = next(r for r in ratings(designation) if r.maker == "NSK")
    assert factor is not None
    assert rating.f0 is not None
    balls = ball_set_from_rating(
        static_rating=rating.static,
        f0=rating.f0,
        bore=size.bore,
        outside=size.outside,
        groove_distance=groove_distance_from_factor(factor.factor),
    )
    assert 0.515 <= balls.inner <= 0.525


@published(
    work="ISO 76 (C0r = f0 Z Dw^2)",
    edition="as used in bearing catalogues",
    place="6204: C0r 6600 N, f0 13.1, 8 balls of 5/16 in",
    known="from memory",
)
def test_rating_of_a_6204_implies_eight_balls_of_5_16_inch() -> None:
    balls = ball_set_from_rating(static_rating=6600, f0=13.1, bore=20, outside=47)
    assert balls.balls == 8
    assert balls.ball == pytest.approx(25.4 * 5 / 16)
    assert balls.balls * balls.ball**2 == pytest.approx(6600 / 13.1, rel=0.005)


@published(
    work="bearing handbooks, preloaded pair",
    edition="standard result",
    place="outside load that unloads one bearing = 2.83 preloads",
    known="from memory",
)
def test_equal_pair_lets_go_at_2_83_preloads() -> None:
    assert pytest.approx(2.83, abs=0.005) == UNLOADING_RATIO
    assert preload_to_stay_loaded(283.0) == pytest.approx(100, abs=0.1)


@published(
    work=NSK,
    edition="edition not noted",
    place="axial elastic displacement, short rule 0.00044/sin a (Q^2/Dw)^(1/3)",
    known="from memory",
)
@pytest.mark.parametrize("angle", [15.0, 25.0, 40.0])
def test_deflection_agrees_with_the_makers_short_rule_at_a_fixed_angle(angle: float) -> None:
    """The rule holds the angle, so the check is made where it hardly opens: a light load."""
    clearance = play_of_angle(BALLS_6204.groove_distance, angle)
    spring = axial_spring(BALLS_6204, radial_clearance=clearance)
    sine = math.sin(spring.angle)
    thrust = 8 * 2.0 * sine
    short = 0.00044 / sine * (2.0**2 / BALLS_6204.ball) ** (1 / 3)
    assert deflection_under(spring, thrust) == pytest.approx(short, rel=0.15)


@published(work=NSK, edition="edition not noted", place="equations 9.6 and 9.7", known="read")
def test_inner_ring_5_k_hotter_takes_2_6_um_off_a_6204() -> None:
    size = bearing("6204")
    raceway = (4 * size.outside + size.bore) / 5
    loss = clearance_lost_to_warm_inner_ring(
        bore=size.bore, outside=size.outside, expansion=12.5e-6, difference=5
    )
    assert raceway == pytest.approx(41.6)
    assert loss == pytest.approx(0.0026, abs=5e-5)


@published(
    work="NKE bearing catalogue", edition="edition not noted", place="equation 8.2", known="read"
)
def test_second_makers_clearance_loss_is_lower_by_a_quarter_at_most() -> None:
    ours = clearance_lost_to_warm_inner_ring(bore=20, outside=47, expansion=12.5e-6, difference=5)
    other = 12e-6 * (20 + 47) / 2 * 5
    assert 0.7 < other / ours < 1.0


@derived("the axial play law solved back")
@pytest.mark.parametrize("clearance", [0.0, 0.003, 0.012, 0.028])
def test_clearance_read_back_from_the_play_it_makes(clearance: float) -> None:
    play = axial_play(radial_clearance=clearance, groove_distance=0.281)
    back = radial_clearance_from_axial_play(play=play, groove_distance=0.281)
    assert back == pytest.approx(clearance, abs=1e-12)


@derived("brute force: the inner ring moved until the gap to the groove closes")
def test_axial_play_is_where_a_ball_first_fills_the_gap() -> None:
    A, clearance = 0.281, 0.014

    def gap(shift: float) -> float:
        return A - math.hypot(A - clearance / 2, shift)

    touch = brentq(gap, 0.0, A)
    assert axial_play(radial_clearance=clearance, groove_distance=A) == pytest.approx(2 * touch)


@derived("contact-angle equation of Harris, ch. 7, solved for the angle instead of the deflection")
@pytest.mark.parametrize("thrust", [25.0, 100.0, 400.0])
def test_deflection_by_the_contact_angle_equation(thrust: float) -> None:
    spring = axial_spring(BALLS_6204, radial_clearance=0.010)
    A, a0 = spring.groove_distance, spring.angle

    def residual(a: float) -> float:
        stretch = math.cos(a0) / math.cos(a) - 1
        return float(spring.constant * A**1.5 * math.sin(a) * stretch**1.5 - thrust)

    angle = brentq(residual, a0, 1.2)
    deflection = A * math.sin(angle - a0) / math.cos(angle)
    assert deflection_under(spring, thrust) == pytest.approx(deflection, rel=1e-8)


@derived("limit case: two equal spheres, the closed Hertz law (4/3) E* sqrt(R) d^1.5")
def test_nearly_round_contact_follows_the_sphere_law() -> None:
    radius, modulus, nu = 5.0, 207_000.0, 0.3
    total = 4 / radius
    effective = modulus / (2 * (1 - nu**2))
    expected = 4 / 3 * effective * math.sqrt(radius / 2)
    found = contact_constant(total=total, difference=0.01, modulus=modulus, poisson=nu)
    assert found == pytest.approx(expected, rel=1e-3)


@derived("the implicit equation put back, its integrals summed as a series of angles")
@pytest.mark.parametrize("difference", [0.1, 0.5, 0.9, 0.94, 0.99])
def test_ellipse_ratio_satisfies_its_own_equation(difference: float) -> None:
    k = ellipse_ratio(difference)
    m, n = 1 - 1 / k**2, 20_000
    angles = (np.arange(n) + 0.5) * math.pi / (2 * n)
    root = np.sqrt(1 - m * np.sin(angles) ** 2)
    first, second = float(np.sum(1 / root)), float(np.sum(root))
    back = ((k**2 + 1) * second - 2 * first) / ((k**2 - 1) * second)
    assert back == pytest.approx(difference, abs=1e-6)


@derived("finite difference of the thrust")
@pytest.mark.parametrize("deflection", [0.002, 0.010, 0.030])
def test_stiffness_is_the_slope_of_the_thrust(deflection: float) -> None:
    spring, h = axial_spring(BALLS_6204, radial_clearance=0.010), 1e-6
    slope = (thrust_at(spring, deflection + h) - thrust_at(spring, deflection - h)) / (2 * h)
    assert float(stiffness_at(spring, deflection)) == pytest.approx(float(slope), rel=1e-5)


@derived("preload and squeeze undo each other, equal and unequal pairs, rigid and soft seats")
@pytest.mark.parametrize("seat", [math.inf, 50_000.0])
@pytest.mark.parametrize("preload", [5.0, 100.0, 1200.0])
def test_preload_from_the_squeeze_that_makes_it(preload: float, seat: float) -> None:
    first = axial_spring(BALLS_6204, radial_clearance=0.010)
    second = axial_spring(BallSet(9, 6.35, 31.0), radial_clearance=0.006)
    squeeze = squeeze_for_preload(first, second, preload=preload, seat=seat)
    assert float(preload_from_squeeze(first, second, squeeze, seat=seat)) == pytest.approx(
        preload, rel=2e-3
    )


@derived("two bearings played through by hand: each from its middle to one side")
def test_float_of_a_cross_located_pair() -> None:
    assert float_of_cross_located_pair(first_play=0.1, second_play=0.1, gap=0.0) == 0.1
    assert float_of_cross_located_pair(first_play=0.1, second_play=0.06, gap=0.02) == pytest.approx(
        0.10
    )
    assert float_of_cross_located_pair(first_play=0.1, second_play=0.1, gap=-0.2) == 0.0


@derived("limit cases of the interference rule: loose rings take nothing")
def test_loose_rings_leave_the_clearance_alone() -> None:
    assert (
        mounted_clearance(
            unmounted=0.012, inner_interference=-0.003, outer_interference=-0.02, share=0.8
        )
        == 0.012
    )
    tight = mounted_clearance(
        unmounted=0.012, inner_interference=0.010, outer_interference=0.005, share=0.8
    )
    assert tight == pytest.approx(0.0)


@regression("6204 with its catalogue geometry; moves with the Hertz constants or the groove")
def test_6204_gives_14_6_um_under_100_newton() -> None:
    spring = axial_spring(BALLS_6204, radial_clearance=0.010)
    assert deflection_under(spring, 100.0) == pytest.approx(0.01459, abs=2e-5)
    assert 1.9e5 < ball_constant(BALLS_6204, angle=spring.angle) < 4.0e5


def test_clearance_beyond_the_groove_is_refused() -> None:
    with pytest.raises(ValueError, match="check the unit"):
        free_contact_angle(radial_clearance=0.7, groove_distance=0.3)
    with pytest.raises(ValueError, match="not bearing play"):
        radial_clearance_from_axial_play(play=0.8, groove_distance=0.3)


def test_end_float_carries_no_preload() -> None:
    spring = axial_spring(BALLS_6204, radial_clearance=0.010)
    assert preload_from_squeeze(spring, spring, [-0.05, 0.0]).tolist() == [0.0, 0.0]


CAPPED = {
    "608-2Z": (8, 22, 12.1, 19.2),
    "626-2Z": (6, 19, 11.1, 16.5),
    "628-2Z": (8, 24, 14.4, 21.2),
    "634-2Z": (4, 16, 8.4, 13.3),
}
"""Bore, outside, shoulder of the inner ring, recess of the outer ring as printed, mm."""


@published(
    work="maker's product table of capped deep-groove bearings, in a public parameter list",
    edition="read 2026",
    place="608-2Z, 626-2Z, 628-2Z, 634-2Z: shoulder and recess diameters",
    known="read",
)
@pytest.mark.parametrize("name", CAPPED)
def test_a_ring_is_judged_by_the_shoulders_that_the_maker_prints(name: str) -> None:
    bore, outside, shoulder, recess = CAPPED[name]

    def judged(against: RingSide, ring: tuple[float, float]) -> str:
        return scraping_of_ring(
            against=against,
            inside=ring[0],
            outside=ring[1],
            bearing_bore=bore,
            bearing_outside=outside,
        )

    assert judged("outer ring", (shoulder, outside)) == "on the other ring"
    assert judged("outer ring", ((shoulder + recess) / 2 + 0.4, outside)) == "over the shield"
    assert judged("outer ring", (recess + 0.6, outside)) == "clear"
    assert judged("inner ring", (bore + 0.1, recess)) == "on the other ring"
    assert judged("inner ring", (bore + 0.1, 0.9 * shoulder)) == "clear"


@published(
    work="DIN 988",
    edition="1990",
    place="note: rings may scrape on cage or inner ring; 37 x 47 is the ring of a 47 mm bore",
    known="read",
)
def test_the_ring_of_the_list_lies_over_the_shield_of_a_6204() -> None:
    got = scraping_of_ring(
        against="outer ring", inside=37, outside=47, bearing_bore=20, bearing_outside=47
    )
    assert got == "over the shield"


@pytest.mark.parametrize(
    "wrong", [{"inside": 47.0}, {"inside": 0.0}, {"bearing_bore": 47.0}, {"bearing_bore": 0.0}]
)
def test_a_ring_that_cannot_be_is_refused_for_scraping(wrong: dict[str, float]) -> None:
    sizes = {"inside": 37.0, "outside": 47.0, "bearing_bore": 20.0, "bearing_outside": 47.0}
    with pytest.raises(ValueError, match="expected inside below outside"):
        scraping_of_ring(against="outer ring", **{**sizes, **wrong})


@published(
    work="machine tool practice",
    edition="none",
    place="a preload spring takes 1.3 times the thrust",
    known="common practice",
)
def test_a_spring_holds_a_third_more_than_the_thrust() -> None:
    assert spring_force_to_hold(100.0) == pytest.approx(130.0)
    with pytest.raises(ValueError, match="must not be below zero"):
        spring_force_to_hold(-1.0)


@derived("growth of the span by hand: 60 mm x (23.7 - 12.5)e-6 x 20 K = 13.4 um of 29.2 um squeeze")
def test_a_pair_between_covers_in_aluminium_loses_most_of_its_preload_warm() -> None:
    one = axial_spring(BALLS_6204, radial_clearance=0.010)
    cold = squeeze_for_preload(one, one, preload=100.0)
    warm = float(preload_from_squeeze(one, one, cold - 0.01344))
    assert 25.0 < warm < 50.0
    slope = (100.0 - warm) / 13.44
    assert 4.5 < slope < 6.5, "about 5 N lost per micrometre, on the falling part of the curve"


def test_too_much_thrust_and_squeeze_are_refused() -> None:
    spring = axial_spring(BALLS_6204, radial_clearance=0.010)
    with pytest.raises(ValueError, match="expected 0 to"):
        deflection_under(spring, 1e9)
    with pytest.raises(ValueError, match="check the unit"):
        preload_from_squeeze(spring, spring, 1.0)
    with pytest.raises(ValueError, match="take a larger one"):
        thrust_factors_at(7.0, thrust_factors())
    with pytest.raises(ValueError, match="C/2"):
        life_million_turns(dynamic_rating=1000, load=600)
