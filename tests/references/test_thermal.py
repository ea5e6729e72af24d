"""Growth by heat against makers' equations and printed coefficients."""

from __future__ import annotations

import math

import pytest

from published import derived, published
from wormwright.core.thermal import (
    Rises,
    backlash_change,
    centre_distance_change,
    end_float_change,
    free_growth,
    seat_loosening,
    warm_states,
)
from wormwright.handbook.materials import material, materials

T20 = math.tan(math.radians(20))


@published(
    work="NSK Rolling Bearings E1102e",
    edition="edition not noted",
    place="appendix 8, expansion of aluminium 23.7e-6 and bearing steel 12.5e-6",
    known="read",
)
def test_aluminium_housing_outgrows_its_steel_shaft_by_13_4_um_in_60_mm() -> None:
    change = end_float_change(
        "face to face",
        span=60,
        housing_expansion=material("aluminium (pure, soft)").expansion,
        housing_rise=20,
        shaft_expansion=material("bearing steel").expansion,
        shaft_rise=20,
    )
    assert change == pytest.approx(60 * 20 * (23.7e-6 - 12.5e-6))
    assert change == pytest.approx(0.0134, abs=1e-4)


@published(
    work="NKE bearing catalogue", edition="edition not noted", place="equation 8.3", known="read"
)
@pytest.mark.parametrize(("diameter", "rise"), [(47, 40), (62, 30), (37, 15)])
def test_light_alloy_seat_loosens_by_the_makers_equation(diameter: float, rise: float) -> None:
    by_maker_um = 1000 * (22 - 12) * 1e-6 * diameter * rise
    ours = seat_loosening(
        diameter=diameter, housing_expansion=22e-6, ring_expansion=12e-6, rise=rise
    )
    assert ours * 1000 == pytest.approx(by_maker_um)


@published(
    work="Callister, Materials Science and Engineering",
    edition="table B.6, edition not noted",
    place="grey iron 11.4, ductile 10.6 to 11.2, 1020 11.7, 4140 12.3, 6061 23.6, 356 21.5",
    known="read",
)
@pytest.mark.parametrize(
    ("name", "printed"),
    [
        ("grey iron", 11.4),
        ("ductile iron", 11.2),
        ("ductile iron", 10.6),
        ("mild steel", 11.7),
        ("medium carbon steel", 11.3),
        ("alloy steel", 12.3),
        ("aluminium 6061", 23.6),
        ("cast aluminium 356", 21.5),
        ("tin bronze", 18.0),
    ],
)
def test_expansion_spans_hold_the_textbook_figures(name: str, printed: float) -> None:
    row = material(name)
    assert row.expansion_low <= printed * 1e-6 + 1e-12
    assert row.expansion_high >= printed * 1e-6 - 1e-12


@published(
    work="machine design article on thermal expansion",
    edition="edition not noted",
    place="table of expansion: carbon steel, stainless, cast iron, aluminium, brass, bronze",
    known="read",
)
@pytest.mark.parametrize(
    ("name", "low", "high"),
    [
        ("steel", 11, 12),
        ("stainless steel 304", 16, 17),
        ("cast iron", 10, 11),
        ("aluminium", 22, 24),
        ("brass", 19, 20),
        ("bronze", 17, 18),
    ],
)
def test_expansion_spans_meet_a_second_list(name: str, low: float, high: float) -> None:
    row = material(name)
    assert row.expansion_low <= high * 1e-6
    assert row.expansion_high >= low * 1e-6


@derived("growth of each part added up by hand, aluminium housing")
def test_aluminium_housing_opens_the_mesh() -> None:
    opening = centre_distance_change(
        centre_distance=66,
        worm_radius=12,
        wheel_radius=54,
        housing_expansion=23.6e-6,
        worm_expansion=11.7e-6,
        wheel_expansion=18.0e-6,
        rises=Rises("soaked", 20, 20, 20),
    )
    assert opening == pytest.approx(0.008904, abs=1e-6)
    assert backlash_change(opening=opening, tan_pressure=T20) == pytest.approx(0.006482, abs=1e-6)


@derived("growth of each part added up by hand, iron housing: the bronze wheel closes the mesh")
def test_iron_housing_with_a_bronze_wheel_closes_the_mesh() -> None:
    opening = centre_distance_change(
        centre_distance=66,
        worm_radius=12,
        wheel_radius=54,
        housing_expansion=11.4e-6,
        worm_expansion=11.7e-6,
        wheel_expansion=18.0e-6,
        rises=Rises("soaked", 20, 20, 20),
    )
    assert opening == pytest.approx(-0.007200, abs=1e-6)
    assert backlash_change(opening=opening, tan_pressure=T20) == pytest.approx(-0.005241, abs=1e-6)


@derived("faces moved one by one: housing and shaft of one material at one heat keep the float")
def test_one_material_at_one_heat_changes_no_float_and_no_shape() -> None:
    same = {"housing_expansion": 11e-6, "shaft_expansion": 11e-6}
    assert end_float_change(
        "face to face", span=54, housing_rise=20, shaft_rise=20, **same
    ) == pytest.approx(0)
    hot_shaft = end_float_change("face to face", span=54, housing_rise=0, shaft_rise=20, **same)
    assert hot_shaft == pytest.approx(-54 * 11e-6 * 20)
    back = end_float_change("back to back", span=54, housing_rise=0, shaft_rise=20, **same)
    assert back == pytest.approx(54 * 11e-6 * 20)


@derived("limit cases of the three states")
def test_warm_states_begin_alike_and_end_alike() -> None:
    start, gradient, soaked = warm_states(start=-3, rise=20, housing_share=0.25, wheel_share=0.75)
    assert (start.housing, start.worm, start.wheel) == (-3, -3, -3)
    assert (gradient.housing, gradient.worm, gradient.wheel) == (2, 17, 12)
    assert (soaked.housing, soaked.worm, soaked.wheel) == (17, 17, 17)


@derived("gradient is the worst state for one material: the worm leads the housing")
def test_gradient_closes_a_mesh_that_the_soaked_state_leaves_alone() -> None:
    pair = {"centre_distance": 66.0, "worm_radius": 12.0, "wheel_radius": 54.0}
    same = {"housing_expansion": 12e-6, "worm_expansion": 12e-6, "wheel_expansion": 12e-6}
    states = warm_states(start=0, rise=20, housing_share=0.3, wheel_share=0.8)
    cold, gradient, soaked = (centre_distance_change(**pair, **same, rises=r) for r in states)
    assert cold == 0
    assert soaked == pytest.approx(0, abs=1e-12)
    assert gradient == pytest.approx(12e-6 * (66 * 6 - 12 * 20 - 54 * 16))


def test_expansion_in_the_wrong_unit_is_refused() -> None:
    with pytest.raises(ValueError, match="10e-6"):
        free_growth(expansion=23.7, length=60, rise=20)
    with pytest.raises(ValueError, match="back to back"):
        end_float_change(
            "tandem",  # type: ignore[arg-type] # a word the bench might type
            span=60,
            housing_expansion=11e-6,
            housing_rise=1,
            shaft_expansion=11e-6,
            shaft_rise=1,
        )


def test_every_material_has_its_figure_inside_its_span_and_a_source() -> None:
    for row in materials():
        assert row.expansion_low <= row.expansion <= row.expansion_high
        assert row.modulus > 0
        assert row.source


def test_an_unknown_material_lists_the_known_ones() -> None:
    with pytest.raises(ValueError, match="grey iron"):
        material("unobtainium")
