"""The wheel kind told from rocks at known closings, the truth an exact mesh of each kind."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import cache

import numpy as np
import pytest

from published import derived
from wormwright.core.flank import Place
from wormwright.core.mesh_pair import PairSizes, WheelKind, mesh_of_pair
from wormwright.core.wheel_kind import KindBelief, KnownPair, Settings, belief_after_settings

BEFORE = {"hob-equal": 0.3, "oversize-hob": 0.4, "helical": 0.3}
R1, FACE, ALPHA = 12.0, 14.0, math.radians(20)
CLOSINGS = np.array([0.0, 0.04, 0.08, 0.12, 0.16])


@cache
def backlash(kind: WheelKind, hand: bool) -> np.ndarray:
    """Backlash of a pair that stands 0.2 mm open and has a thread 0.05 mm thin, set nearer."""
    sizes = PairSizes(
        teeth=72,
        starts=1,
        axial_module=1.5,
        axial_angle=ALPHA,
        worm_d1=2 * R1,
        kind=kind,
        hob_excess=0.4 if kind == "oversize-hob" else 0.0,
        thinned=0.05,
        face=FACE,
        right_hand=hand,
    )
    places = Place(da=0.2 - CLOSINGS)
    return np.asarray(mesh_of_pair(sizes).contacts(places, phases=4).backlash.min(axis=1))


def told(rock: Sequence[float], *, u: float, angle_u: float = math.radians(0.1)) -> KindBelief:
    return belief_after_settings(
        Settings(
            closing=CLOSINGS, rock=np.asarray(rock), rock_u=np.full(len(rock), u), closing_u=0.001
        ),
        KnownPair(angle=ALPHA, angle_u=angle_u, g=1.5 / 24, r1=R1, face=FACE, excess=(0.12, 0.6)),
        before=BEFORE,
    )


@derived("rocks made by the exact mesh, read by the closed forms")
@pytest.mark.parametrize("right", [True, False])
def test_a_hob_of_the_worms_size_is_told_from_the_rest(*, right: bool) -> None:
    got = told(backlash("hob-equal", right).tolist(), u=0.001)
    assert got.kinds["hob-equal"] > 0.99
    assert got.slope == pytest.approx(got.expected["hob-equal"], rel=0.06)
    other = told(backlash("helical", right).tolist(), u=0.001)
    assert other.kinds["hob-equal"] < 0.03  # a worm already deeper than the hob stood loses 2 t too
    assert other.slope == pytest.approx(2 * math.tan(ALPHA), rel=0.01)


@derived("2 t for both kinds inside the face: their odds stay nearly those of before")
def test_an_oversize_hob_is_not_told_from_a_helical_wheel() -> None:
    got = told(backlash("oversize-hob", True).tolist(), u=0.002)
    assert got.kinds["hob-equal"] < 0.05
    odds = got.kinds["oversize-hob"] / got.kinds["helical"]
    assert 0.4 * 4 / 3 < odds < 2.5 * 4 / 3


@derived("a slope that is not known better than the kinds differ says nothing")
def test_rough_readings_or_an_unknown_pressure_angle_leave_the_belief_as_it_was() -> None:
    rough = told(backlash("helical", True).tolist(), u=0.05)
    for kind, before in BEFORE.items():
        assert rough.kinds[kind] == pytest.approx(before, abs=0.06)
    fine = told(backlash("helical", True).tolist(), u=0.001)
    unsure = told(backlash("helical", True).tolist(), u=0.001, angle_u=math.radians(5))
    assert 4 * fine.kinds["hob-equal"] < unsure.kinds["hob-equal"]
    assert unsure.slope_u == fine.slope_u


@derived("weighted line: u of the slope is 1 / sqrt(sum w (c - mean)^2)")
def test_the_slope_carries_the_doubt_of_rock_and_closing() -> None:
    got = told(backlash("helical", True).tolist(), u=0.002)
    u = math.hypot(0.002, 2 * math.tan(ALPHA) * 0.001)
    assert got.slope_u == pytest.approx(u / math.sqrt(np.sum((CLOSINGS - 0.08) ** 2)))


def test_two_settings_or_no_way_between_them_are_refused() -> None:
    for closing in ([0.0, 0.1], [0.1, 0.1, 0.1]):
        size = len(closing)
        with pytest.raises(ValueError, match="expected a rock at 3 closings"):
            Settings(
                closing=np.array(closing),
                rock=np.ones(size),
                rock_u=np.ones(size),
                closing_u=0.0,
            )
