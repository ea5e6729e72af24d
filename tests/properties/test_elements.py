"""What must hold for every bearing, fit, shim, temperature and friction, whatever the numbers."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wormwright.core.bearing import BallSet, axial_play
from wormwright.core.bearing_preload import (
    axial_spring,
    deflection_under,
    preload_from_squeeze,
    squeeze_for_preload,
    thrust_at,
)
from wormwright.core.fit import clearance_of_fit
from wormwright.core.friction import (
    efficiency_wheel_driving,
    efficiency_worm_driving,
    holding_friction,
    mesh_forces,
)
from wormwright.core.shim import (
    TIGHTENS,
    Piece,
    best_stack,
    float_after_shim,
    shim_thickness_from_gap,
)
from wormwright.core.thermal import (
    PairArrangement,
    Rises,
    centre_distance_change,
    end_float_change,
    free_growth,
    seat_loosening,
)
from wormwright.handbook.fits import deviations, tolerance
from wormwright.handbook.shim_stock import System, shims
from wormwright.quantities import read

SHAFT = ["d", "e", "f", "g", "h", "js", "k", "m", "n", "p"]
SYSTEMS: tuple[System, ...] = ("DIN 988 ring", "metric foil", "inch stock")
ARRANGEMENTS: tuple[PairArrangement, ...] = ("face to face", "back to back")
sizes = st.floats(0.1, 120.0)
grades = st.integers(5, 8)
rises = st.floats(-40, 80)
expansions = st.floats(8e-6, 120e-6)
clearances = st.floats(0.002, 0.03)
BALLS = BallSet(8, 7.938, 33.5, 0.5177, 0.5177)


@given(size=sizes, grade=st.integers(1, 11))
def test_a_coarser_grade_is_wider(size: float, grade: int) -> None:
    assert tolerance(grade, size) < tolerance(grade + 1, size)


@given(small=sizes, large=sizes, grade=st.integers(1, 12))
def test_a_larger_size_is_never_made_to_a_finer_tolerance(
    small: float, large: float, grade: int
) -> None:
    low, high = sorted((small, large))
    assert tolerance(grade, low) <= tolerance(grade, high)


@given(size=sizes, grade=grades, letter=st.sampled_from([*SHAFT, *(x.upper() for x in SHAFT)]))
def test_width_of_a_class_is_its_standard_tolerance(size: float, grade: int, letter: str) -> None:
    assert deviations(f"{letter}{grade}", size).width == pytest.approx(tolerance(grade, size))


@given(size=sizes, grade=st.integers(5, 7), place=st.integers(0, len(SHAFT) - 2))
def test_letters_run_from_loose_to_tight(size: float, grade: int, place: int) -> None:
    hole = deviations("H7", size)
    loose, tight = (
        clearance_of_fit(hole, deviations(f"{letter}{grade}", size))
        for letter in SHAFT[place : place + 2]
    )
    assert tight.mean <= loose.mean + 1e-12


@given(size=sizes, grade=grades)
def test_middle_of_js_is_the_nominal_size(size: float, grade: int) -> None:
    assert deviations(f"js{grade}", size).middle == 0
    assert deviations(f"JS{grade}", size).middle == 0


@given(clearance=clearances, more=clearances)
def test_more_radial_clearance_is_more_axial_play(clearance: float, more: float) -> None:
    tight = axial_play(radial_clearance=clearance, groove_distance=0.281)
    loose = axial_play(radial_clearance=clearance + more, groove_distance=0.281)
    assert clearance < tight < loose


@given(clearance=clearances, thrust=st.floats(1, 2000))
def test_thrust_and_deflection_undo_each_other(clearance: float, thrust: float) -> None:
    spring = axial_spring(BALLS, radial_clearance=clearance)
    assert float(thrust_at(spring, deflection_under(spring, thrust))) == pytest.approx(
        thrust, rel=1e-5
    )


@given(clearance=clearances, more=st.floats(0.001, 0.02), thrust=st.floats(10, 1000))
def test_a_looser_bearing_is_stiffer_along_its_axis(
    clearance: float, more: float, thrust: float
) -> None:
    tight = axial_spring(BALLS, radial_clearance=clearance)
    loose = axial_spring(BALLS, radial_clearance=clearance + more)
    assert deflection_under(loose, thrust) < deflection_under(tight, thrust)


@given(clearance=clearances, preload=st.floats(5, 1500), seat=st.floats(2e4, 1e6))
def test_squeeze_and_preload_undo_each_other(clearance: float, preload: float, seat: float) -> None:
    one = axial_spring(BALLS, radial_clearance=clearance)
    squeeze = squeeze_for_preload(one, one, preload=preload, seat=seat)
    assert squeeze > squeeze_for_preload(one, one, preload=preload)
    assert float(preload_from_squeeze(one, one, squeeze, seat=seat)) == pytest.approx(
        preload, rel=3e-3
    )


@given(
    target=st.floats(0.05, 2.5),
    tolerance_mm=st.floats(0, 0.03),
    system=st.sampled_from(SYSTEMS),
)
def test_band_of_a_stack_holds_its_nominal_sum(
    target: float, tolerance_mm: float, system: System
) -> None:
    stock = [Piece(s.thickness, s.upper, s.lower) for s in shims(system)]
    stack = best_stack(target, stock, tolerance=tolerance_mm, most_pieces=2)
    assert stack.low <= stack.nominal <= stack.high
    assert stack.nominal == pytest.approx(sum(p.thickness for p in stack.pieces))
    assert stack.hits == (abs(stack.nominal - target) <= tolerance_mm + 1e-9)
    assert stack.u <= (stack.high - stack.low) / math.sqrt(12) + 1e-12


@given(
    gap=st.floats(0, 0.3),
    squeeze=st.floats(-0.005, 0.06),
    arrangement=st.sampled_from(sorted(TIGHTENS)),
)
def test_shim_leaves_the_float_that_was_asked_for(
    gap: float, squeeze: float, arrangement: str
) -> None:
    new = shim_thickness_from_gap(in_place=0.5, gap=gap, squeeze=squeeze, arrangement=arrangement)
    left = float_after_shim(gap=gap, change=new - 0.5, arrangement=arrangement)
    assert left == pytest.approx(-squeeze, abs=1e-9)


@given(expansion=expansions, length=st.floats(1, 300), rise=rises)
def test_cooling_undoes_what_warming_did(expansion: float, length: float, rise: float) -> None:
    warm = free_growth(expansion=expansion, length=length, rise=rise)
    cold = free_growth(expansion=expansion, length=length, rise=-rise)
    assert warm == pytest.approx(-cold)


@given(housing=expansions, shaft=expansions, rise=rises, span=st.floats(10, 200))
def test_face_to_face_and_back_to_back_move_opposite_ways(
    housing: float, shaft: float, rise: float, span: float
) -> None:
    face, back = (
        end_float_change(
            arrangement,
            span=span,
            housing_expansion=housing,
            housing_rise=rise,
            shaft_expansion=shaft,
            shaft_rise=rise,
        )
        for arrangement in ARRANGEMENTS
    )
    assert face == pytest.approx(-back)
    loosening = seat_loosening(
        diameter=span, housing_expansion=housing, ring_expansion=shaft, rise=rise
    )
    assert loosening == pytest.approx(face)


@given(expansion=expansions, rise=rises, r1=st.floats(5, 40), r2=st.floats(15, 120))
def test_one_material_at_one_heat_leaves_the_mesh_alone(
    expansion: float, rise: float, r1: float, r2: float
) -> None:
    change = centre_distance_change(
        centre_distance=r1 + r2,
        worm_radius=r1,
        wheel_radius=r2,
        housing_expansion=expansion,
        worm_expansion=expansion,
        wheel_expansion=expansion,
        rises=Rises("soaked", rise, rise, rise),
    )
    assert change == pytest.approx(0, abs=1e-12)


@given(
    lead=st.floats(0.02, 0.5),
    friction=st.floats(0.005, 0.3),
    more=st.floats(0.005, 0.1),
    normal=st.floats(0.25, 0.45),
)
def test_friction_only_ever_costs(lead: float, friction: float, more: float, normal: float) -> None:
    for efficiency in (efficiency_worm_driving, efficiency_wheel_driving):
        smooth = efficiency(lead_angle=lead, friction=friction, normal_angle=normal)
        rough = efficiency(lead_angle=lead, friction=friction + more, normal_angle=normal)
        assert rough < smooth < 1


@given(lead=st.floats(0.02, 0.5), friction=st.floats(0, 0.4), normal=st.floats(0.25, 0.45))
def test_a_set_that_holds_has_an_efficiency_below_one_half(
    lead: float, friction: float, normal: float
) -> None:
    eta = efficiency_worm_driving(lead_angle=lead, friction=friction, normal_angle=normal)
    if friction >= holding_friction(lead_angle=lead, normal_angle=normal):
        assert eta <= 0.5
    else:
        assert efficiency_wheel_driving(lead_angle=lead, friction=friction, normal_angle=normal) > 0


@given(force=st.floats(1, 5000), lead=st.floats(0.02, 0.5), friction=st.floats(0, 0.3))
def test_forces_scale_with_the_load(force: float, lead: float, friction: float) -> None:
    one = mesh_forces(wheel_tangential=1, lead_angle=lead, friction=friction, normal_angle=0.35)
    all_of_it = mesh_forces(
        wheel_tangential=force, lead_angle=lead, friction=friction, normal_angle=0.35
    )
    assert all_of_it.separating == pytest.approx(force * one.separating)
    assert all_of_it.worm_tangential == pytest.approx(force * one.worm_tangential)


@given(thou=st.integers(1, 12), gap_tenths=st.integers(1, 80))
def test_a_shim_is_the_same_in_inches_and_in_millimetres(thou: int, gap_tenths: int) -> None:
    """The same shim and gap typed in either system lead to the same thickness."""
    inch = [
        read(text, "length", field="shim").value
        for text in (f"{thou + 10} thou", f"{gap_tenths} tenths")
    ]
    exact = [Fraction(thou + 10) * Fraction("0.0254"), Fraction(gap_tenths) * Fraction("0.00254")]
    metric = [read(f"{float(mm):.6f} mm", "length", field="shim").value for mm in exact]
    thickness_inch, thickness_metric = (
        shim_thickness_from_gap(
            in_place=in_place, gap=gap, squeeze=0.0, arrangement="ring behind outer ring"
        )
        for in_place, gap in (inch, metric)
    )
    assert thickness_inch == pytest.approx(thickness_metric, rel=1e-9)
