"""Backlash closed forms against a numerical flank model, brute force, and the trade's rule.

The flank-model rows come from a numerical envelope model of the same pair run elsewhere (grid
29-33 sections by 240-300 points, 8 phases); the tolerances say how far the closed forms may be
from it, not how well the model was run.
"""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest
from numpy.typing import NDArray

from published import derived, published
from wormwright.core.backlash import (
    ClosedFormMesh,
    MeshModel,
    backlash_at_angle,
    backlash_change_of_moved_worm,
    backlash_round_the_turn,
    sideways_for_false_depth,
    sine_of_half_face,
    slope_of_opening,
)

# Pair A: ZA, module 1.5, 1/72, d1 24, 20 degrees axial, face 14, hob equal to the worm.
T, G, R1, R2, A0 = math.tan(math.radians(20)), 1.5 / 24, 12.0, 54.0, 66.0
PAIR_A = ClosedFormMesh.hob_equal(t=T, g=G, r1=R1, centre_distance=A0, face=14.0)
ARCSEC = math.degrees(1) * 3600


@published(
    work="KHK Gear Technical Reference",
    edition="as recalled, edition not noted",
    place="backlash relations of a worm pair, radial play = circumferential / (2 tan alpha_x)",
    known="from memory",
)
@pytest.mark.parametrize(
    ("degrees", "two_tan"), [(14.5, 0.51724), (20.0, 0.72794), (25.0, 0.93262)]
)
def test_a_wheel_touching_in_one_point_follows_the_two_tangent_rule(
    degrees: float, two_tan: float
) -> None:
    t = math.tan(math.radians(degrees))
    mesh = ClosedFormMesh.plain_helical(t=t, g=0.06, r1=12.0, centre_distance=66.0)
    assert mesh.backlash_change(da=0.1) == pytest.approx(0.1 * two_tan, abs=1e-6)
    assert mesh.backlash_change(da=-0.1) == pytest.approx(-0.1 * two_tan, abs=1e-6)
    assert mesh.backlash_change(da=0.0, dz=0.3) == pytest.approx(0.0, abs=1e-12)


@derived("numerical flank model of pair A, opened 0.1 mm, least over the phases")
@pytest.mark.parametrize(
    ("face", "expected", "tolerance"), [(14.0, 0.0519, 5e-4), (8.0, 0.0628, 2e-3)]
)
def test_opening_a_hob_equal_wheel_gains_less_than_the_rule(
    face: float, expected: float, tolerance: float
) -> None:
    mesh = ClosedFormMesh.hob_equal(t=T, g=G, r1=R1, centre_distance=A0, face=face)
    assert mesh.backlash_change(da=0.1) == pytest.approx(expected, abs=tolerance)
    assert float(mesh.backlash_change(da=0.1)) < 0.1 * 2 * T * 0.9


@derived("numerical flank model of pair A, thread thinned 0.1 mm and closed 0.1 mm")
def test_closing_costs_a_little_more_than_the_rule() -> None:
    assert 0.1 + PAIR_A.backlash_change(da=-0.1) == pytest.approx(0.0259, abs=4e-4)


@derived("numerical flank model of pair A, thread thinned 0.1 mm, moved 0.05 mm sideways")
@pytest.mark.parametrize("dz", [0.05, -0.05])
def test_sideways_costs_backlash_alike_on_both_sides(dz: float) -> None:
    assert 0.1 + PAIR_A.backlash_change(da=0.0, dz=dz) == pytest.approx(0.0789, abs=3e-4)


@derived("numerical flank model of pair A, thread thinned 0.1 mm, skewed 1 mrad either way")
def test_skew_costs_backlash() -> None:
    # The model finds a small difference between the two signs; the closed form gives their mean.
    both = [float(PAIR_A.backlash_change(da=0.0, skew=s)) for s in (1e-3, -1e-3)]
    assert both[0] == pytest.approx(both[1], abs=1e-12)
    assert 0.1 + both[0] == pytest.approx((0.0839 + 0.0814) / 2, abs=4e-4)


@derived("numerical flank model of pair A, thread thinned 0.1 mm, tilted 1 mrad")
def test_tilt_costs_nothing_to_first_order() -> None:
    assert 0.1 + PAIR_A.backlash_change(da=0.0, tilt=1e-3) == pytest.approx(0.09998, abs=5e-5)


@derived("exact contact solution of a small pair elsewhere: module 1.5, 36 teeth, d1 28, face 12")
@pytest.mark.parametrize(
    ("excess_percent", "expected", "tolerance"), [(0.0, 468, 12), (2.0, 323, 6), (5.0, 157, 6)]
)
def test_sideways_on_a_small_unit_by_hob_size(
    excess_percent: float, expected: float, tolerance: float
) -> None:
    r1, r2 = 14.0, 27.0
    mesh = ClosedFormMesh.oversize_hob(
        t=T,
        g=1.5 / 28,
        r1=r1,
        centre_distance=41.0,
        face=12.0,
        hob_excess=r1 * excess_percent / 100,
    )
    lost = -float(mesh.backlash_change(da=0.0, dz=0.2)) / r2 * ARCSEC
    assert lost == pytest.approx(expected, abs=tolerance)


def _flank_gaps(
    theta: NDArray[np.float64], sign: float, *, da: float, dz: float, skew: float, excess: float
) -> NDArray[np.float64]:
    """Gap of one flank at each polar angle, straight from the displacement law, nothing solved."""
    radial = da * np.cos(theta) + excess * (1 - np.cos(theta)) - dz * np.sin(theta)
    along = G * (da * np.sin(theta) + dz * np.cos(theta)) + skew * R1 * np.tan(theta)
    gaps: NDArray[np.float64] = T * radial + sign * along
    return gaps


SKEWS = list(itertools.product((1e-3, -4e-3), (0.0, 0.3, 1.0)))
MOVES = list(itertools.product((-0.2, -0.03, 0.0, 0.08, 0.3), (-0.25, -0.02, 0.0, 0.1), (0.0, 0.6)))


@derived("brute-force least gap over 20 001 polar angles for each flank")
@pytest.mark.parametrize(("da", "dz", "excess"), MOVES)
def test_closed_form_equals_the_least_gap_on_a_fine_grid(
    da: float, dz: float, excess: float
) -> None:
    sine = sine_of_half_face(face=14.0, r1=R1, hob_excess=excess)
    theta = np.linspace(-math.asin(float(sine)), math.asin(float(sine)), 20_001)
    brute = sum(
        float(np.min(_flank_gaps(theta, s, da=da, dz=dz, skew=0.0, excess=excess)))
        for s in (1.0, -1.0)
    )
    got = backlash_change_of_moved_worm(
        t=T, g=G, r1=R1, sin_face=sine, da=da, dz=dz, hob_excess=excess
    )
    assert got == pytest.approx(brute, abs=1e-8)


@derived("brute-force least gap with the tangent law of skew, which the closed form takes straight")
@pytest.mark.parametrize(
    ("skew", "excess"), list(itertools.product((1e-3, -4e-3), (0.0, 0.3, 1.0)))
)
def test_skew_never_looks_cheaper_than_brute_force(skew: float, excess: float) -> None:
    sine = float(sine_of_half_face(face=14.0, r1=R1, hob_excess=excess))
    theta = np.linspace(-math.asin(sine), math.asin(sine), 20_001)
    brute = sum(
        float(np.min(_flank_gaps(theta, s, da=0.02, dz=0.0, skew=skew, excess=excess)))
        for s in (1.0, -1.0)
    )
    got = float(
        backlash_change_of_moved_worm(
            t=T, g=G, r1=R1, sin_face=sine, da=0.02, skew=skew, hob_excess=excess
        )
    )
    assert got <= brute + 1e-9
    assert got == pytest.approx(brute, abs=0.35 * abs(skew) * R1 * sine)


@derived("circle in circle: the gap between a worm circle and a larger hob circle, exactly")
@pytest.mark.parametrize(("da", "dz"), [(0.05, 0.1), (0.0, 0.15), (-0.05, 0.05)])
def test_inside_the_face_the_hob_circle_is_exact(da: float, dz: float) -> None:
    excess = 0.6
    # Hob circle of radius R1 + D about the origin; the worm circle moved from touching it at -Y.
    around = np.linspace(0, 2 * math.pi, 400_001)
    y = -(excess - da) + R1 * np.cos(around)
    z = dz + R1 * np.sin(around)
    gap = float(np.min(R1 + excess - np.hypot(y, z)))
    mesh = ClosedFormMesh(
        T, 0.0, R1, A0, sine_of_half_face(face=14.0, r1=R1, hob_excess=excess), excess
    )
    assert mesh.backlash_change(da=da, dz=dz) == pytest.approx(2 * T * gap, abs=1e-9)


@derived("the closed form must shut exactly at the tolerance it gives")
@pytest.mark.parametrize(
    ("false_depth", "excess"), list(itertools.product((0.005, 0.03, 0.2), (0.0, 0.2, 0.8)))
)
def test_sideways_tolerance_shuts_the_mesh_at_the_false_depth(
    false_depth: float, excess: float
) -> None:
    sine = float(sine_of_half_face(face=12.0, r1=R1, hob_excess=excess))
    dz = sideways_for_false_depth(false_depth=false_depth, sin_face=sine, hob_excess=excess)
    left = backlash_change_of_moved_worm(
        t=T, g=0.0, r1=R1, sin_face=sine, da=false_depth, dz=dz, hob_excess=excess
    )
    assert left == pytest.approx(0.0, abs=1e-9)


@derived("limits of the tolerance: delta / tan(th) hob-equal, sqrt(2 D delta) for small delta")
def test_sideways_tolerance_limits() -> None:
    tan_face = 0.5 / math.sqrt(0.75)
    assert sideways_for_false_depth(
        false_depth=0.02, sin_face=0.5, hob_excess=0.0
    ) == pytest.approx(0.02 / tan_face)
    assert sideways_for_false_depth(
        false_depth=1e-3, sin_face=0.5, hob_excess=0.6
    ) == pytest.approx(math.sqrt(2 * 0.6 * 1e-3), rel=1e-3)
    assert sideways_for_false_depth(false_depth=0.02, sin_face=0.0, hob_excess=0.0) == math.inf


@derived("difference quotient of the closed form")
@pytest.mark.parametrize("excess", [0.0, 0.6])
def test_slope_of_opening_is_the_derivative(excess: float) -> None:
    sine = float(sine_of_half_face(face=14.0, r1=R1, hob_excess=excess))
    mesh = ClosedFormMesh(T, G, R1, A0, sine, excess)
    rise = float(mesh.backlash_change(da=0.02)) - float(mesh.backlash_change(da=0.01))
    slope = slope_of_opening(t=T, g=G, sin_face=sine, hob_excess=excess)
    assert rise / 0.01 == pytest.approx(slope, rel=5e-3)


@derived("runouts of 0.04 and 0.02 mm TIR at 20 degrees: range 2 tan(alpha) times their sum")
def test_swing_round_the_turn() -> None:
    turn = backlash_round_the_turn(mean=0.1, t=T, wheel_eccentricity=0.02, worm_eccentricity=0.01)
    assert turn.swing == pytest.approx(0.04368, abs=1e-5)
    assert float(turn.mean) - float(turn.tight) == pytest.approx(0.02184, abs=1e-5)
    angles = np.linspace(0, 2 * math.pi, 72 * 24, endpoint=False)
    round_it = backlash_at_angle(
        table_angle=angles, mean=0.1, t=T, ratio=72.0, wheel=(0.012, 0.016), worm=(0.01, 0.0)
    )
    assert float(np.min(round_it)) == pytest.approx(float(turn.tight), abs=2e-4)
    assert float(np.max(round_it)) == pytest.approx(float(turn.loose), abs=2e-4)


def test_arrays_and_numbers_agree_and_the_seam_takes_both() -> None:
    mesh: MeshModel = PAIR_A
    da = np.array([-0.05, 0.0, 0.1])
    dz = np.array([0.0, 0.02, -0.03])
    together = np.asarray(mesh.backlash_change(da=da, dz=dz))
    one_by_one = [
        mesh.backlash_change(da=float(a), dz=float(z)) for a, z in zip(da, dz, strict=True)
    ]
    assert together.tolist() == one_by_one
    assert isinstance(one_by_one[0], float)


def test_left_and_right_hand_are_mirror_images() -> None:
    left = ClosedFormMesh.hob_equal(t=T, g=-G, r1=R1, centre_distance=A0, face=14.0)
    for da, dz, skew in ((0.1, 0.0, 1e-3), (0.02, 0.05, -2e-3)):
        assert left.backlash_change(da=da, dz=-dz, skew=-skew) == pytest.approx(
            float(PAIR_A.backlash_change(da=da, dz=dz, skew=skew)), abs=1e-12
        )


@pytest.mark.parametrize(
    "bad", [{"t": 0.0}, {"r1": -1.0}, {"sin_face": 1.2}, {"sin_face": -0.1}, {"hob_excess": -0.1}]
)
def test_numbers_that_cannot_be_a_mesh_are_refused(bad: dict[str, float]) -> None:
    given = {"t": T, "g": G, "r1": R1, "sin_face": 0.5, "da": 0.1} | bad
    with pytest.raises(ValueError, match="mesh: expected"):
        backlash_change_of_moved_worm(**given)
