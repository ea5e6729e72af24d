"""What must hold for any exact mesh whatever its sizes: symmetries, bounds, and a second pair."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from published import derived, regression
from wormwright.core.flank import FlankMesh, Place
from wormwright.core.helicoid import Profile
from wormwright.core.mesh_pair import PairSizes, mesh_of_pair

T = math.tan(math.radians(20))
PAIR_A = PairSizes(
    teeth=72,
    starts=1,
    axial_module=1.5,
    axial_angle=math.radians(20),
    worm_d1=24.0,
    outside=57.0,
    face=14.0,
)
PAIR_B = replace(PAIR_A, teeth=60, axial_module=2.0, worm_d1=36.0, outside=64.0, face=16.0)
ANOTHER = "figures of an independent numerical flank model (28 sections, 240 points)"


@cache
def mesh(
    pair: PairSizes = PAIR_A, *, thinned: float = 0.0, face: float = 14.0, profile: Profile = "ZA"
) -> FlankMesh:
    return mesh_of_pair(replace(pair, thinned=thinned, face=face, profile=profile))


@derived("conjugacy holds for a pair of other sizes as well")
@pytest.mark.parametrize("profile", ["ZA", "ZI"])
def test_a_second_pair_has_no_gap_and_no_transmission_error_where_it_was_cut(
    profile: Profile,
) -> None:
    contact = mesh(PAIR_B, face=16.0, profile=profile).contact(phases=8)
    for flank in (contact.plus, contact.minus):
        assert np.abs(flank.turn).max() < 1e-9


@derived("an involute thread is nearly a rack in the mid-plane")
def test_a_narrow_involute_pair_opens_by_the_textbook_law_to_half_a_per_cent() -> None:
    opened = mesh(face=0.02, profile="ZI").contact(Place(da=0.1)).backlash.min()
    assert opened == pytest.approx(2 * 0.1 * T, rel=5e-3)


@derived("the edge of a throated face has a smaller pressure angle, the middle of it none larger")
@pytest.mark.parametrize("profile", ["ZA", "ZN", "ZI"])
def test_a_whole_face_gains_less_by_opening_and_loses_more_by_closing(profile: Profile) -> None:
    pair = mesh(thinned=0.1, profile=profile)
    opened = pair.contact(Place(da=0.1)).backlash
    closed = pair.contact(Place(da=-0.1)).backlash
    assert opened.max() < 0.1 + 2 * 0.1 * T
    assert closed.min() < 0.1 - 2 * 0.1 * T
    assert np.ptp(opened) >= 0


@derived("half a turn about the common perpendicular turns each flank into the other")
@pytest.mark.parametrize("place", [Place(da=0.1), Place(da=0.05, dz=0.08), Place(dz=-0.06)])
def test_half_a_turn_swaps_the_flanks_and_the_sign_of_sideways_and_phase(place: Place) -> None:
    pair = mesh()
    phase = np.array([0.0, 0.7, 1.9, 3.3])
    here = pair.contacts(place, phases=phase)
    there = pair.contacts(place._replace(dz=-np.asarray(place.dz)), phases=-phase)
    assert here.plus.turn[0] == pytest.approx(-there.minus.turn[0], abs=1e-9)
    assert here.minus.turn[0] == pytest.approx(-there.plus.turn[0], abs=1e-9)


@derived("mirror image: the hand of the worm changes no backlash where nothing is skewed")
def test_the_other_hand_has_the_same_backlash_at_the_mirrored_place() -> None:
    left = mesh_of_pair(replace(PAIR_A, right_hand=False))
    for da, dz in ((0.1, 0.0), (0.05, 0.08)):
        one = mesh().contact(Place(da=da, dz=dz)).backlash
        other = left.contact(Place(da=da, dz=-dz)).backlash
        assert np.sort(one) == pytest.approx(np.sort(other), abs=1e-9)


@regression(ANOTHER)
@pytest.mark.parametrize(("face", "low", "high"), [(14.0, 0.0519, 0.0534), (8.0, 0.0628, 0.0639)])
def test_least_and_most_backlash_of_an_opened_pair_over_a_pitch(
    face: float, low: float, high: float
) -> None:
    backlash = mesh(face=face).contact(Place(da=0.1), phases=8).backlash
    assert backlash.min() == pytest.approx(low, abs=3e-4)
    assert backlash.max() == pytest.approx(high, abs=3e-4)
