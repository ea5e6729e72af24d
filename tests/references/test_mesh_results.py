"""Backlash over a pitch, transmission error, crests, gap field, and the first-order mesh."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from published import derived, published
from wormwright.core.flank import FlankMesh, Place
from wormwright.core.flank_first_order import FirstOrderMesh
from wormwright.core.mesh_pair import PairSizes, WheelKind, contact_ratio, mesh_of_pair
from wormwright.core.mesh_results import (
    ExactMesh,
    backlash_over_a_pitch,
    crest_room,
    gap_field,
    transmission_error,
)

PAIR_A = PairSizes(
    teeth=72,
    starts=1,
    axial_module=1.5,
    axial_angle=math.radians(20),
    worm_d1=24.0,
    thinned=0.1,
    face=14.0,
)


@cache
def pair_a(kind: WheelKind = "hob-equal", excess: float = 0.0, starts: int = 1) -> FlankMesh:
    return mesh_of_pair(replace(PAIR_A, kind=kind, hob_excess=excess, starts=starts))


@cache
def involutes(starts: int, *, right: bool) -> FlankMesh:
    """An involute worm with the plain helical wheel of the same normal base pitch."""
    pair = replace(PAIR_A, kind="helical", profile="ZI", starts=starts, right_hand=right)
    return mesh_of_pair(replace(pair, face=22.0))


@published(
    work="Buckingham, Analytical Mechanics of Gears",
    edition="1949",
    place="crossed helical gears: one line of action for each flank, equal normal base pitches",
    known="from memory",
)
@pytest.mark.parametrize("starts", [1, 2])
@pytest.mark.parametrize("right", [True, False])
def test_crossed_helical_involutes_run_evenly_wherever_the_worm_stands(
    starts: int, *, right: bool
) -> None:
    mesh = involutes(starts, right=right)
    places = Place(da=np.array([0.0, 0.05, -0.08, 0.02]), dz=np.array([0.0, 0.3, -0.2, 0.0]))
    contact = mesh.contacts(places, phases=16)
    for flank in (contact.plus, contact.minus):
        assert transmission_error(flank, radius=mesh.radius)[1].max() < 1e-10
    t = math.tan(math.radians(20))
    expected = 0.1 + 2 * t * np.asarray(places.da)
    assert contact.backlash.min(axis=1) == pytest.approx(expected, abs=1e-8)


@derived(
    "helix of the wheel: a right-hand worm set aside by dz turns it toward +X by dz tan(gamma)"
)
def test_sideways_on_a_helical_wheel_only_turns_it() -> None:
    mesh = involutes(2, right=True)
    at_rest, moved = mesh.contact(), mesh.contact(Place(dz=0.4))
    turned = moved.plus.turn - at_rest.plus.turn
    assert turned == pytest.approx(0.4 * 2 * 1.5 / 24.0, abs=1e-8)
    assert moved.minus.turn - at_rest.minus.turn == pytest.approx(turned, abs=1e-8)


@derived("the path of contact of rack and pinion, sheet formula for the mid-plane")
def test_contact_ratio_is_that_of_rack_and_pinion() -> None:
    alpha, r2, m = math.radians(20), 54.0, 1.5
    tip, base = 55.5, 54.0 * math.cos(alpha)
    path = math.sqrt(tip**2 - base**2) - r2 * math.sin(alpha) + m / math.sin(alpha)
    expected = path / (math.pi * m * math.cos(alpha))
    assert contact_ratio(pair_a()) == pytest.approx(expected, abs=0.006)


@derived("closing takes room from both crests one to one; sideways wedges at the edge of the face")
def test_room_of_the_crests_follows_the_worm() -> None:
    places = Place(da=np.array([0.0, -0.1, -0.4, 0.0]), dz=np.array([0.0, 0.0, 0.0, 0.1]))
    room = crest_room(pair_a(), places)
    assert room.worm_crest[:3] == pytest.approx([0.3, 0.2, -0.1], abs=1e-6)
    assert room.wheel_crest[:3] == pytest.approx([0.3, 0.2, -0.1], abs=1e-6)
    assert room.worm_crest[3] == pytest.approx(0.3 - 0.1 * 7.0 / 13.8, abs=2e-3)


@derived("the definition of least, mean and most, and of a transmission error with an open worm")
def test_least_mean_and_most_backlash_stand_in_order_and_agree_with_the_phases() -> None:
    contact = pair_a().contacts(Place(da=np.array([0.0, 0.1])))
    swing = backlash_over_a_pitch(contact)
    assert swing.least[0] == pytest.approx(swing.most[0], abs=1e-9)
    assert swing.least[1] == contact.backlash[1].min() < swing.mean[1] < swing.most[1]
    assert transmission_error(contact.plus, radius=54.0)[1][1] > 1e-6


@derived("conjugacy: as cut there is no gap anywhere that the worm sweeps")
def test_a_pair_as_cut_marks_its_whole_flank_and_an_open_one_its_edges() -> None:
    as_cut = gap_field(pair_a(), Place(), 1)
    swept = np.isfinite(as_cut.gap)
    assert np.max(as_cut.gap[:, 15:][swept[:, 15:]]) < 0.5e-3
    opened = gap_field(pair_a(), Place(da=0.2), 1).gap
    middle = np.nanmin(opened[20])
    assert min(np.nanmin(opened[0]), np.nanmin(opened[-1])) < 0.1e-3
    assert middle > 5e-3


@derived("an oversize hob leaves a patch in the middle of the face")
def test_an_oversize_hob_marks_the_middle() -> None:
    gap = gap_field(pair_a("oversize-hob", 0.6), Place(), -1).gap
    assert np.nanmin(gap[20]) < 0.5e-3
    assert min(np.nanmin(gap[0]), np.nanmin(gap[-1])) > 3e-3


@derived("the exact model at random moves; limits as stated on the explanation page")
@pytest.mark.parametrize(
    ("kind", "excess", "limit"),
    [
        ("hob-equal", 0.0, 0.6e-3),
        ("oversize-hob", 0.24, 0.6e-3),
        ("oversize-hob", 0.6, 0.6e-3),
        ("helical", 0.0, 1.6e-3),
    ],
)
def test_first_order_stays_within_its_stated_error(
    kind: WheelKind, excess: float, limit: float
) -> None:
    mesh, stream = pair_a(kind, excess), np.random.default_rng(7)
    da, dz = stream.uniform(-0.1, 0.1, (2, 60))
    skew, tilt = stream.uniform(-2e-3, 2e-3, (2, 60))
    exact = ExactMesh(mesh).backlash_change(da=da, dz=dz, skew=skew, tilt=tilt)
    first = FirstOrderMesh(mesh).backlash_change(da=da, dz=dz, skew=skew, tilt=tilt)
    assert np.abs(np.asarray(first) - np.asarray(exact)).max() < limit
    small = ExactMesh(mesh).backlash_change(da=da / 5, dz=dz / 5, skew=skew / 5, tilt=tilt / 5)
    near = FirstOrderMesh(mesh).backlash_change(da=da / 5, dz=dz / 5, skew=skew / 5, tilt=tilt / 5)
    assert np.abs(np.asarray(near) - np.asarray(small)).max() < limit / 3


@derived("central differences of the exact model")
def test_first_order_turns_by_each_move_as_the_exact_model_does() -> None:
    mesh = pair_a("oversize-hob", 0.6)
    first, h = FirstOrderMesh(mesh), 2e-3
    moves = np.eye(5) * np.array([h, h, h, h / 20, h / 20])
    ahead, behind = (Place(*(s * moves).T) for s in (1, -1))
    for side, name in ((1, "plus"), (-1, "minus")):
        exact = getattr(mesh.contacts(ahead), name).turn - getattr(mesh.contacts(behind), name).turn
        linear = first.turns(ahead, side) - first.turns(behind, side)
        assert linear == pytest.approx(exact, abs=4e-5)


@derived("one number, an array and a table of draws give the same")
def test_both_meshes_take_numbers_and_arrays_of_any_shape() -> None:
    for model in (ExactMesh(pair_a()), FirstOrderMesh(pair_a())):
        alone = model.backlash_change(da=0.05, dz=-0.02)
        assert isinstance(alone, float)
        many = np.asarray(model.backlash_change(da=np.full((2, 3), 0.05), dz=-0.02))
        assert many.shape == (2, 3)
        assert many == pytest.approx(alone, abs=1e-12)
