"""Life, static safety and thrust of ball bearings against printed figures."""

from __future__ import annotations

import math

import numpy as np
import pytest

from published import derived, published
from wormwright.core.bearing_life import (
    equivalent_load,
    life_hours,
    life_million_turns,
    static_safety,
    thrust_factors_at,
    thrust_limit,
    worm_bearing_radials,
)
from wormwright.handbook.bearings import (
    ratings,
    thrust_factors,
)

HARRIS = "Harris, Rolling Bearing Analysis"
NSK = "NSK Rolling Bearings E1102e"
SKF = "SKF general catalogue"


@published(work=SKF, edition="edition not noted", place="life example 1, 6309: L10", known="read")
def test_6309_lives_169_million_turns() -> None:
    assert life_million_turns(dynamic_rating=55_300, load=10_000) == pytest.approx(169, abs=0.5)


@published(work=SKF, edition="edition not noted", place="life example 1, 6309: L10h", known="read")
def test_6309_lives_940_hours_at_3000_rpm() -> None:
    turns = life_million_turns(dynamic_rating=55_300, load=10_000)
    assert life_hours(million_turns=turns, rpm=3000) == pytest.approx(940, abs=2)


@published(work=NSK, edition="edition not noted", place="5.7, example 1, 6208", known="read")
def test_6208_lives_29_000_hours() -> None:
    rating = next(r for r in ratings("6208") if r.maker == "NSK")
    turns = life_million_turns(dynamic_rating=rating.dynamic, load=2500)
    assert life_hours(million_turns=turns, rpm=900) == pytest.approx(29_000, abs=300)


@published(
    work=NSK, edition="edition not noted", place="5.7, example 3, 6208: Y and P", known="read"
)
def test_6208_under_combined_load_counts_3070_newton() -> None:
    rating = next(r for r in ratings("6208") if r.maker == "NSK")
    assert rating.f0 is not None
    e, y = thrust_factors_at(rating.f0 * 1000 / rating.static, thrust_factors())
    assert y == pytest.approx(1.67, abs=0.005)
    assert equivalent_load(radial=2500, axial=1000, e=e, y=y) == pytest.approx(3070, abs=5)


@published(
    work="Shigley, Mechanical Engineering Design",
    edition="table 11-1 as restated in a published course notebook",
    place="02-series 30 mm, Fr 5 kN, Fa 2 kN: Fe 5.34 kN",
    known="read",
)
def test_combined_load_of_the_textbook_comes_out_with_its_own_table() -> None:
    table = ((0.17, 0.34, 1.31), (0.28, 0.38, 1.15))
    e, y = thrust_factors_at(2 / 10, table)
    assert equivalent_load(radial=5000, axial=2000, e=e, y=y) == pytest.approx(5340, abs=10)


@published(
    work="Shigley, Mechanical Engineering Design",
    edition="table 11-1 as restated in a published course notebook",
    place="02-series 65 mm, Fr 8.4 kN, Fa 3 kN: Fe 9.29 kN",
    known="read",
)
def test_second_combined_load_of_the_textbook() -> None:
    e, y = thrust_factors_at(3 / 34, ((0.084, 0.28, 1.55), (0.110, 0.30, 1.45)))
    assert equivalent_load(radial=1.2 * 7000, axial=3000, e=e, y=y) == pytest.approx(9294, abs=20)


@published(
    work="examination problem with solution, bearing life",
    edition="edition not noted",
    place="C 16 kN, W 2 kN: 512 million turns",
    known="read",
)
def test_eight_times_overrated_bearing_lives_512_million_turns() -> None:
    assert life_million_turns(dynamic_rating=16_000, load=2000) == pytest.approx(512)


@published(
    work="bearing maker's selection example, 62 series",
    edition="edition not noted",
    place="example 1: Fa/Fr 0.15 below every e, so P = Fr = 2000 N",
    known="read",
)
def test_small_thrust_does_not_count() -> None:
    least_e = min(e for _, e, _ in thrust_factors())
    assert equivalent_load(radial=2000, axial=300, e=least_e, y=2.30) == 2000


@published(
    work="ISO 76 factors as printed in NSK E1102e bearing tables",
    edition="edition not noted",
    place="P0 = Fr or 0.6 Fr + 0.5 Fa, the larger",
    known="read",
)
def test_static_safety_takes_the_larger_of_the_two_loads() -> None:
    assert static_safety(static_rating=6600, radial=300, axial=600) == pytest.approx(13.75)
    assert static_safety(static_rating=6600, radial=600, axial=100) == pytest.approx(11.0)


@published(
    work=SKF,
    edition="edition not noted",
    place="deep groove, axial load limit 0.5 and 0.25 C0",
    known="read",
)
def test_thrust_limit_halves_for_light_series_and_small_bores() -> None:
    assert thrust_limit(static_rating=6600, bore=20, light_series=False) == 3300
    assert thrust_limit(static_rating=5000, bore=20, light_series=True) == 1250
    assert thrust_limit(static_rating=3050, bore=12, light_series=False) == 762.5


@derived("moments and forces of the shaft solved as a set of linear equations in space")
def test_radial_loads_of_the_worm_bearings_balance_the_mesh() -> None:
    thrust, t, g, mu, r1, span = 120.0, 0.364, 0.057, 0.06, 11.0, 54.0
    around = thrust * (g + mu) / (1 - mu * g)
    force = np.array([thrust, thrust * t, around])  # along the worm, apart, round the worm
    at = np.array([0.0, -r1, 0.0])  # the mesh, off the worm axis toward the wheel
    ends = [np.array([-span / 2, 0.0, 0.0]), np.array([span / 2, 0.0, 0.0])]
    rows, right = [], []
    for axis in (1, 2):  # the two radial directions of both ends
        row = np.zeros(4)
        row[[axis - 1, axis + 1]] = 1.0
        rows.append(row)
        right.append(-force[axis])
    moment = np.cross(at, force)
    for axis in (1, 2):  # moments about them; the moment along the worm is the motor's
        row = np.zeros(4)
        for end, place in enumerate(ends):
            for radial in (1, 2):
                unit = np.eye(3)[radial]
                row[2 * end + radial - 1] += np.cross(place, unit)[axis]
        rows.append(row)
        right.append(-moment[axis])
    solved = np.linalg.solve(np.array(rows), np.array(right))
    loads = sorted((math.hypot(*solved[:2]), math.hypot(*solved[2:])), reverse=True)
    got = worm_bearing_radials(
        thrust=thrust, tan_pressure=t, tan_lead=g, friction=mu, worm_radius=r1, span=span
    )
    assert got == pytest.approx(loads, rel=1e-9)


def test_worm_bearing_loads_refuse_what_cannot_be() -> None:
    usual = {"thrust": 1.0, "tan_pressure": 0.36, "tan_lead": 0.06, "friction": 0.06}
    for wrong in ({"thrust": -1.0}, {"friction": 20.0}):
        with pytest.raises(ValueError, match="expected a thrust"):
            worm_bearing_radials(**{**usual, **wrong}, worm_radius=11, span=54)
    with pytest.raises(ValueError, match="lengths above zero"):
        worm_bearing_radials(**usual, worm_radius=11, span=0)
