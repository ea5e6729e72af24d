"""Symmetries of runout, drag maps, table motion, press fits and wear that hold for any figures."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wormwright.core.circle import least_squares_circle
from wormwright.core.drag_map import Place, place_of_peak, places_agree
from wormwright.core.press_fit import Sleeve, bore_closing_share, fit_pressure
from wormwright.core.rigid_motion import MOTIONS, Indicator, table_motion
from wormwright.core.runout import runout_parts
from wormwright.core.runout_causes import bar_axis, shims_under_bolts
from wormwright.core.turn_vector import TurnVector
from wormwright.core.wear import SectorMean, sector_difference

TWELVE = np.radians(np.arange(0, 360, 30))
lengths = st.floats(-0.1, 0.1)
angles = st.floats(0, 2 * math.pi)
traces = st.lists(lengths, min_size=12, max_size=12)
vectors = st.builds(TurnVector, lengths, lengths, st.floats(1e-5, 1e-2))


@given(traces, st.floats(-5, 5), st.floats(0.1, 100))
def test_zero_and_unit_of_the_dial_do_not_matter(
    trace: list[float], zero: float, unit: float
) -> None:
    seen = runout_parts(TWELVE, trace, reading_u=0.001)
    other = runout_parts(TWELVE, unit * (np.array(trace) + zero), reading_u=0.001 * unit)
    assert other.mean == pytest.approx(unit * (seen.mean + zero), abs=1e-9)
    assert other.eccentricity.x == pytest.approx(unit * seen.eccentricity.x, abs=1e-9)
    assert other.eccentricity.u == pytest.approx(unit * seen.eccentricity.u)
    for a, b in zip(seen.lobes, other.lobes, strict=True):
        assert b.amplitude == pytest.approx(unit * a.amplitude, abs=1e-9)


@given(traces, st.integers(0, 11))
def test_another_zero_mark_turns_the_vector_and_leaves_its_size(
    trace: list[float], steps: int
) -> None:
    seen = runout_parts(TWELVE, trace, reading_u=0.001)
    turned = runout_parts(TWELVE, np.roll(trace, steps), reading_u=0.001)
    back = complex(turned.eccentricity.x, turned.eccentricity.y) * np.exp(-1j * TWELVE[steps])
    assert back == pytest.approx(complex(seen.eccentricity.x, seen.eccentricity.y), abs=1e-12)
    assert [x.amplitude for x in turned.lobes] == pytest.approx(
        [x.amplitude for x in seen.lobes], abs=1e-12
    )


@given(traces)
def test_parts_and_rest_add_up_to_the_readings(trace: list[float]) -> None:
    seen = runout_parts(TWELVE, trace, reading_u=0.001)
    total = seen.mean + seen.rest
    total = total + seen.eccentricity.x * np.cos(TWELVE) + seen.eccentricity.y * np.sin(TWELVE)
    for lobe in seen.lobes:
        wave = lobe.order * TWELVE
        total = total + lobe.cosine * np.cos(wave) + lobe.sine * np.sin(wave)
    assert total == pytest.approx(trace, abs=1e-12)


@given(vectors, vectors, st.floats(1, 50), st.floats(60, 200))
def test_the_bar_goes_through_both_planes(
    near: TurnVector, far: TurnVector, near_z: float, far_z: float
) -> None:
    bar = bar_axis(near=near, far=far, near_z=near_z, far_z=far_z)
    for z, plane in ((near_z, near), (far_z, far)):
        at = bar.offset_at(z)
        assert (at.x, at.y, at.u) == pytest.approx((plane.x, plane.y, plane.u), abs=1e-12)
    middle = bar.offset_at((near_z + far_z) / 2)
    assert middle.u <= max(near.u, far.u)


@given(vectors, st.lists(angles, min_size=3, max_size=8), st.floats(10, 100))
def test_shims_are_never_below_zero_and_one_is_zero(
    slope: TurnVector, marks: list[float], radius: float
) -> None:
    shims = shims_under_bolts(slope, bolt_radius=radius, bolt_marks=marks)
    assert shims.min() == 0
    assert shims.max() <= 2 * radius * slope.size + 1e-12


@given(st.floats(-50, 50), st.floats(-50, 50), st.floats(1, 100), angles, st.floats(2, 6))
def test_points_of_a_circle_give_the_circle_back(
    x: float, y: float, radius: float, start: float, arc: float
) -> None:
    theta = start + np.linspace(0, arc, 9)
    found = least_squares_circle(x + radius * np.cos(theta), y + radius * np.sin(theta))
    assert found == pytest.approx((x, y, radius), abs=1e-6 * (radius + 50))


@given(angles, st.floats(0.5, 1.5))
def test_the_peak_is_found_wherever_the_zero_mark_is(true: float, width: float) -> None:
    apart = np.remainder(TWELVE - true + math.pi, 2 * math.pi) - math.pi
    seen = 100 + 80 * np.exp(-((apart / width) ** 2))
    place = place_of_peak(TWELVE, seen, u=0.5)
    assert abs(math.remainder(place.angle - true, 2 * math.pi)) <= 2.5 * place.u


@given(angles, angles, st.floats(0.01, 2), st.floats(0.01, 2))
def test_agreement_does_not_depend_on_the_order(a: float, b: float, ua: float, ub: float) -> None:
    first, second = Place(a, ua), Place(b, ub)
    assert places_agree(first, second) == places_agree(second, first)
    assert places_agree(first, first) in ("agree", "cannot tell")


@settings(max_examples=50)
@given(st.lists(st.floats(-1e-2, 1e-2), min_size=6, max_size=6), angles)
def test_table_motion_is_found_from_six_indicators_at_any_marks(
    motion: list[float], start: float
) -> None:
    set_up = [
        Indicator("round", start, 90.0, 10.0),
        Indicator("round", start + math.pi, 90.0, 10.0),
        Indicator("outward", start + 0.3, 90.0, 10.0),
        Indicator("up", start, 90.0, 20.0),
        Indicator("up", start + 2.0, 90.0, 20.0),
        Indicator("up", start + 4.0, 90.0, 20.0),
    ]
    readings = [float(place.row @ np.array(motion)) for place in set_up]
    found = table_motion(set_up, readings, u=0.001)
    assert [m.name for m in found] == list(MOTIONS)
    assert [m.value for m in found] == pytest.approx(motion, abs=1e-9)


walls = st.floats(0.05, 0.95)
moduli = st.floats(60_000, 220_000)


@given(walls, walls, moduli, moduli, st.floats(1.2, 3))
def test_a_thinner_sleeve_presses_less_and_a_softer_housing_closes_less(
    one: float, two: float, modulus: float, softer: float, wide: float
) -> None:
    thick, thin = sorted((one, two))
    housing = Sleeve(40, 40 * wide, modulus, 0.3)
    pressed = [
        fit_pressure(inner=Sleeve(40 * b, 40, modulus, 0.3), outer=housing, interference=0.02)
        for b in (thick, thin)
    ]
    assert pressed[1] <= pressed[0] * (1 + 1e-9)
    low, high = sorted((modulus, softer))
    shares = [
        bore_closing_share(
            inner=Sleeve(40 * thick, 40, modulus, 0.3), outer=Sleeve(40, 40 * wide, e, 0.3)
        )
        for e in (low, high)
    ]
    assert 0 < shares[0] <= shares[1] * (1 + 1e-9)


@given(st.floats(0, 1), st.floats(0, 1), st.floats(0.001, 0.1), st.floats(0.001, 0.1))
def test_swapping_the_sectors_swaps_the_verdict(a: float, b: float, ua: float, ub: float) -> None:
    one = sector_difference(used=SectorMean(a, ua), unused=SectorMean(b, ub))
    other = sector_difference(used=SectorMean(b, ub), unused=SectorMean(a, ua))
    assert (one.value, one.u) == pytest.approx((-other.value, other.u))
    assert (one.least, one.most) == pytest.approx((-other.most, -other.least))
    assert (one.verdict == "not proven") == (other.verdict == "not proven")
    assert (one.verdict == "not proven") == (one.least <= 0 <= one.most)
