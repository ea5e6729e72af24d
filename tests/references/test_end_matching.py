"""Matching two eccentric bushings: skew that costs backlash, and what the indicators show of it."""

from __future__ import annotations

import math

import pytest

from published import derived
from wormwright.core.backlash import ClosedFormMesh
from wormwright.core.eccentric import indicator_change, misalignment_of_unequal_angles
from wormwright.core.end_matching import MOST_TURN, ends_match, skew_that_costs


@derived("closed form of a skewed worm at the depth its wheel was cut for")
@pytest.mark.parametrize(("r1", "face"), [(11.0, 12.0), (14.0, 12.0), (16.0, 20.0)])
def test_the_allowed_skew_takes_up_just_the_backlash_it_may(r1: float, face: float) -> None:
    mesh = ClosedFormMesh.hob_equal(t=0.364, g=0.06, r1=r1, centre_distance=60.0, face=face)
    sine = face / (2 * r1)
    skew = skew_that_costs(backlash=0.003, r1=r1, tan_face=sine / math.sqrt(1 - sine**2))
    assert float(mesh.backlash_change(da=0.0, skew=skew)) == pytest.approx(-0.003, rel=1e-9)


@derived("finite turn of one bushing by the geometry of unequal angles")
@pytest.mark.parametrize("degrees", [0.0, 20.0, 46.0, 60.0, -50.0])
def test_a_difference_of_that_size_skews_the_worm_by_what_is_allowed(degrees: float) -> None:
    throw, span, skew = 0.225, 54.0, 1.5e-4
    angle = math.radians(degrees)
    got = ends_match(throw=throw, angle=angle, span=span, skew=skew)
    real = misalignment_of_unequal_angles(
        throw=throw, angle_a=angle, angle_b=angle + got.turn, span=span
    )
    # First order: the finite turn departs from it by half the turn itself.
    assert abs(real.skew) == pytest.approx(skew, rel=got.turn)
    toward = float(indicator_change(throw=throw, start=angle, end=angle + got.turn))
    assert abs(toward) == pytest.approx(got.toward_wheel, abs=throw * got.turn**2)


@derived("limit cases: pointing at the wheel and square to it")
def test_the_indicator_goes_where_it_sees_the_difference() -> None:
    pointing = ends_match(throw=0.2, angle=0.0, span=54.0, skew=1e-4)
    assert pointing.look == "along the table axis"
    assert pointing.toward_wheel == 0.0
    assert pointing.reading == pytest.approx(1e-4 * 54.0)
    square = ends_match(throw=0.2, angle=math.pi / 2, span=54.0, skew=1e-4)
    assert square.look == "toward the wheel"
    assert square.turn == MOST_TURN
    assert square.reading == pytest.approx(0.2 * MOST_TURN)


@pytest.mark.parametrize("bad", ["throw", "span", "skew"])
def test_sizes_of_nothing_are_refused(bad: str) -> None:
    sizes = {"throw": 0.2, "span": 54.0, "skew": 1e-4, bad: 0.0}
    with pytest.raises(ValueError, match="above zero"):
        ends_match(angle=0.1, **sizes)


@pytest.mark.parametrize("bad", ["backlash", "r1", "tan_face"])
def test_a_skew_of_nothing_is_refused(bad: str) -> None:
    sizes = {"backlash": 0.002, "r1": 11.0, "tan_face": 0.6, bad: 0.0}
    with pytest.raises(ValueError, match="above zero"):
        skew_that_costs(**sizes)
