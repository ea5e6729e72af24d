"""Sizes of worm and wheel, tip clearances, contact ratio and over-wires sizes against sources."""

from __future__ import annotations

import math

import pytest

from published import derived, published
from wormwright.core.worm_pair import (
    axial_module_of_diametral_pitch,
    axial_pressure_angle,
    backlash_swing,
    best_wire,
    contact_ratio,
    contact_ratio_lost_by_relief,
    opening_for_backlash,
    pair_geometry,
    pressure_angle_from_two_wires,
    size_over_wires,
    throat_clearance,
    two_wire_factor,
    usual_face_width,
    working_depth,
    worm_diameter_guide,
    worm_tip_clearance,
)

ALPHA = math.radians(20)


def degrees(angle: float) -> float:
    return math.degrees(angle)


@published(
    work="gear-maker technical reference, calculation of an axial-module worm gear pair",
    edition="JIS form, ha* 1, c* 0.25",
    place="worked column m 3, z 2/30, d1 44",
    known="from memory",
)
def test_axial_module_pair_of_the_gear_maker_comes_out_in_every_size() -> None:
    pair = pair_geometry(axial_module=3, starts=2, teeth=30, worm_d1=44, clearance=0.25)
    assert degrees(pair.lead_angle) == pytest.approx(7.76517, abs=1e-5)
    assert (
        pair.wheel_pitch_diameter,
        pair.centre_distance,
        pair.worm_tip,
        pair.wheel_throat,
        pair.worm_root,
        pair.wheel_root,
        pair.throat_form_radius,
    ) == pytest.approx((90, 67, 50, 96, 36.5, 82.5, 19), abs=1e-9)


@published(
    work="Mott, Machine Elements in Mechanical Design",
    edition="4th",
    place="Example problem 8-5, p. 343",
    known="read",
)
def test_inch_pair_of_a_textbook_comes_out_to_its_last_digit() -> None:
    inch = 25.4
    pair = pair_geometry(
        axial_module=axial_module_of_diametral_pitch(6), starts=3, teeth=52, worm_d1=2.0 * inch
    )
    assert pair.axial_pitch / inch == pytest.approx(0.5236, abs=5e-5)
    assert pair.lead / inch == pytest.approx(1.5708, abs=5e-5)
    assert degrees(pair.lead_angle) == pytest.approx(14.04, abs=5e-3)
    assert pair.wheel_pitch_diameter / inch == pytest.approx(8.667, abs=5e-4)
    assert pair.centre_distance / inch == pytest.approx(5.333, abs=5e-4)


@published(
    work="Shigley's Mechanical Engineering Design",
    edition="9th",
    place="Example 13-10",
    known="from memory",
)
def test_lead_angle_of_a_second_textbook_pair() -> None:
    pair = pair_geometry(
        axial_module=axial_module_of_diametral_pitch(6), starts=2, teeth=30, worm_d1=50.8
    )
    assert degrees(pair.lead_angle) == pytest.approx(9.46, abs=5e-3)


@published(
    work="AGMA 6034, worm diameter guide as given in machine-design texts",
    edition="1992",
    place="C^0.875/3.0 to C^0.875/1.7",
    known="from memory",
)
def test_worm_diameter_guide_at_three_and_a_half_inch_centres() -> None:
    low, high = worm_diameter_guide(3.5 * 25.4)
    assert low / 25.4 == pytest.approx(0.998, abs=5e-4)
    assert high / 25.4 == pytest.approx(1.760, abs=5e-4)


@published(
    work="ISO 54, modules, with the inch as 25.4 mm",
    edition="1996",
    place="module against diametral pitch",
    known="from memory",
)
@pytest.mark.parametrize(
    ("pitch", "module"), [(8, 3.175), (10, 2.54), (12, 2.1167), (16, 1.5875), (20, 1.27)]
)
def test_module_of_a_diametral_pitch(pitch: float, module: float) -> None:
    assert axial_module_of_diametral_pitch(pitch) == pytest.approx(module, abs=5e-5)


@derived("closest axial pitches multiplied out by hand: π·1.5 and π·25.4/17")
def test_module_one_and_a_half_and_seventeen_pitch_differ_by_four_parts_in_a_thousand() -> None:
    metric = pair_geometry(axial_module=1.5, starts=1, teeth=72, worm_d1=24).axial_pitch
    inch = pair_geometry(
        axial_module=axial_module_of_diametral_pitch(17), starts=1, teeth=72, worm_d1=24
    ).axial_pitch
    assert metric == pytest.approx(4.71239, abs=1e-5)
    assert inch == pytest.approx(4.69391, abs=1e-5)


@derived("identity: the profile shift cancels, so any shifted pair must give back its module")
@pytest.mark.parametrize("shift", [-0.3, 0.0, 0.45])
def test_working_depth_gives_the_module_whatever_the_profile_shift(shift: float) -> None:
    pair = pair_geometry(axial_module=1.5, starts=1, teeth=72, worm_d1=24, profile_shift=shift)
    depth = working_depth(
        worm_tip=pair.worm_tip,
        wheel_throat=pair.wheel_throat,
        centre_distance=pair.centre_distance,
    )
    assert depth / 2 == pytest.approx(1.5, abs=1e-12)


@derived("1 + cosec α from a table of sines to six figures")
@pytest.mark.parametrize(
    ("angle", "sine", "factor"),
    [
        (14.5, 0.250380, 4.99393),
        (20.0, 0.342020, 3.92380),
        (25.0, 0.422618, 3.36620),
        (30.0, 0.500000, 3.00000),
    ],
)
def test_two_wire_factor(angle: float, sine: float, factor: float) -> None:
    assert two_wire_factor(math.radians(angle)) == pytest.approx(factor, abs=1e-5)
    assert 1 + 1 / sine == pytest.approx(factor, abs=3e-5)


@derived("a wire is laid in a straight-sided groove and pushed down until both flanks touch it")
@pytest.mark.parametrize(("angle", "wire"), [(14.5, 2.3), (20.0, 2.6), (25.0, 3.1)])
def test_size_over_wires_is_where_a_wire_rests_in_the_groove(angle: float, wire: float) -> None:
    alpha, d1, pitch = math.radians(angle), 24.0, 4.71239
    # Groove flanks: half width w(r) = pitch/4 + (r - d1/2)·tan α. A circle of radius ρ centred at
    # height h touches when its distance to the flank line is ρ; found by bisection.
    low, high = 0.0, 40.0
    for _ in range(80):
        h = (low + high) / 2
        half_width = pitch / 4 + (h - d1 / 2) * math.tan(alpha)
        low, high = (low, h) if half_width * math.cos(alpha) > wire / 2 else (h, high)
    expected = 2 * h + wire
    found = size_over_wires(worm_d1=d1, wire=wire, axial_pitch=pitch, pressure_angle=alpha)
    assert found == pytest.approx(expected, abs=1e-9)


@derived("round trip through the size over wires of the same worm")
@pytest.mark.parametrize("angle", [14.5, 20.0, 30.0])
def test_two_wire_sizes_give_back_the_pressure_angle(angle: float) -> None:
    alpha = math.radians(angle)
    over = [
        size_over_wires(worm_d1=24.0, wire=w, axial_pitch=4.71239, pressure_angle=alpha)
        for w in (2.2, 2.9)
    ]
    found = pressure_angle_from_two_wires(
        over_small=over[0], over_large=over[1], wire_small=2.2, wire_large=2.9
    )
    assert degrees(found) == pytest.approx(angle, abs=1e-9)


@derived("the best wire touches at d1: its contact point is ρ cos α off the groove's middle")
def test_best_wire_touches_the_flanks_at_the_reference_diameter() -> None:
    wire = best_wire(axial_pitch=4.71239, pressure_angle=ALPHA)
    assert wire / 2 * math.cos(ALPHA) == pytest.approx(4.71239 / 4, abs=1e-12)
    over = size_over_wires(worm_d1=24, wire=wire, axial_pitch=4.71239, pressure_angle=ALPHA)
    contact_radius = over / 2 - wire / 2 - wire / 2 * math.sin(ALPHA)
    assert contact_radius == pytest.approx(12.0, abs=1e-9)


@derived("rack line of action cut by the two tip circles, found by stepping along it")
@pytest.mark.parametrize(("module", "teeth", "expected"), [(1.5, 72, 1.8962), (3.0, 30, 1.8172)])
def test_contact_ratio_is_the_length_of_action_in_base_pitches(
    module: float, teeth: int, expected: float
) -> None:
    throat, addendum = module * (teeth + 2), module
    found = contact_ratio(
        axial_module=module,
        teeth=teeth,
        wheel_throat=throat,
        working_addendum=addendum,
        pressure_angle=ALPHA,
    )
    assert found == pytest.approx(expected, abs=1e-4)
    # Step along the line of action through the pitch point; s > 0 leaves the wheel's centre.
    step, r2 = 1e-4, module * teeth / 2
    inside = 0
    for k in range(-200_000, 200_000):
        s = k * step
        y, x = r2 + s * math.sin(ALPHA), s * math.cos(ALPHA)
        if math.hypot(x, y) <= throat / 2 and -s * math.sin(ALPHA) <= addendum:
            inside += 1
    assert found == pytest.approx(inside * step / (math.pi * module * math.cos(ALPHA)), abs=2e-4)


@derived("difference of two contact ratios")
def test_relief_of_the_worm_outside_costs_contact_ratio() -> None:
    def ratio(addendum: float) -> float:
        return contact_ratio(
            axial_module=1.5,
            teeth=72,
            wheel_throat=111,
            working_addendum=addendum,
            pressure_angle=ALPHA,
        )

    lost = contact_ratio_lost_by_relief(0.2, axial_module=1.5, pressure_angle=ALPHA)
    assert lost == pytest.approx(0.13205, abs=1e-5)
    assert ratio(1.5) - ratio(1.3) == pytest.approx(lost, abs=1e-12)


@derived("nominal clearance of a pair is c*·m at both places and falls with the closing")
def test_both_tip_clearances_are_nominal_and_fall_one_to_one_with_closing() -> None:
    pair = pair_geometry(axial_module=1.5, starts=1, teeth=72, worm_d1=24, profile_shift=0.2)
    for closing in (0.0, 0.12):
        a = pair.centre_distance - closing
        crest = worm_tip_clearance(
            centre_distance=a, worm_tip=pair.worm_tip, wheel_root=pair.wheel_root
        )
        throat = throat_clearance(
            centre_distance=a, wheel_throat=pair.wheel_throat, worm_root=pair.worm_root
        )
        assert crest == pytest.approx(0.3 - closing, abs=1e-12)
        assert throat == pytest.approx(0.3 - closing, abs=1e-12)


@derived("largest less smallest of the two cosine waves, stepped round the turn")
def test_backlash_swing_is_the_range_of_both_runout_waves() -> None:
    steps = [2 * math.pi * k / 7200 for k in range(7200)]
    waves = [
        2 * math.tan(ALPHA) * (0.02 * math.cos(phi) + 0.01 * math.cos(72 * phi + 0.4))
        for phi in steps
    ]
    swing = backlash_swing(wheel_tir=0.04, worm_tir=0.02, pressure_angle=ALPHA)
    assert swing == pytest.approx(0.04368, abs=1e-5)
    assert max(waves) - min(waves) == pytest.approx(swing, rel=3e-3)


@derived("backlash of pair m 1.5, 1/72 turned into angles and openings by the definitions")
def test_a_tenth_of_backlash_in_every_form() -> None:
    j, r2, lead_per_radian = 0.1, 54.0, 0.75
    assert math.degrees(j / r2) * 3600 == pytest.approx(381.97, rel=1e-4)
    assert math.degrees(j / lead_per_radian) == pytest.approx(7.6394, rel=1e-4)
    assert opening_for_backlash(j, pressure_angle=ALPHA) == pytest.approx(0.13737, rel=1e-4)


@derived("tangents from a five-figure table, doubled")
@pytest.mark.parametrize(("angle", "slope"), [(14.5, 0.51724), (20, 0.72794), (25, 0.93262)])
def test_opening_slope_is_twice_the_tangent(angle: float, slope: float) -> None:
    opening = opening_for_backlash(1.0, pressure_angle=math.radians(angle))
    assert 1 / opening == pytest.approx(slope, abs=1e-5)


@derived("normal and axial section of the same flank related by cos γ")
def test_axial_angle_is_steeper_than_the_normal_one() -> None:
    lead = pair_geometry(axial_module=1.5, starts=1, teeth=72, worm_d1=24).lead_angle
    axial = axial_pressure_angle(math.radians(19.9641), lead_angle=lead)
    assert degrees(axial) == pytest.approx(20.0, abs=1e-4)


@published(
    work="worm-gear design texts, face width not over 0.67 of the worm diameter",
    edition="Shigley 9th",
    place="section 13-17",
    known="from memory",
)
def test_usual_face_width_is_capped_by_the_worm_diameter() -> None:
    assert usual_face_width(axial_module=6.0, worm_d1=25.0) == pytest.approx(0.67 * 25.0)


@pytest.mark.parametrize(
    ("call", "complaint"),
    [
        (lambda: pair_geometry(axial_module=0, starts=1, teeth=72, worm_d1=24), "above zero"),
        (lambda: pair_geometry(axial_module=3, starts=1, teeth=72, worm_d1=6), "no core"),
        (lambda: two_wire_factor(1.2), "pressure angle"),
        (lambda: axial_pressure_angle(ALPHA, lead_angle=1.0), "lead angle"),
        (lambda: contact_ratio_lost_by_relief(-1, axial_module=1, pressure_angle=0.3), "negative"),
        (lambda: backlash_swing(wheel_tir=-1, worm_tir=0, pressure_angle=0.3), "never negative"),
        (
            lambda: pressure_angle_from_two_wires(
                over_large=2, over_small=1, wire_large=1, wire_small=1
            ),
            "differ in size",
        ),
        (
            lambda: pressure_angle_from_two_wires(
                over_large=25.5, over_small=25, wire_large=3, wire_small=2
            ),
            "no flank",
        ),
        (
            lambda: contact_ratio(
                axial_module=1.5,
                teeth=15,
                wheel_throat=25.5,
                working_addendum=1.5,
                pressure_angle=math.radians(14.5),
            ),
            "undercut",
        ),
    ],
)
def test_sizes_that_cannot_be_are_refused_with_a_reason(call: object, complaint: str) -> None:
    assert callable(call)
    with pytest.raises(ValueError, match=complaint):
        call()
