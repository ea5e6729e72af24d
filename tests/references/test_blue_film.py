"""The mark of a film of blue: the gap over the whole passage, and the rules of the sketches."""

from __future__ import annotations

import math
from functools import cache

import numpy as np
import pytest

from published import derived
from wormwright.core.blue_film import BlueFilm, mark_of_film, share_of_face, sketch_of_film
from wormwright.core.blue_mark import Hand, cause_of_mark
from wormwright.core.flank import Place
from wormwright.core.mesh_pair import PairSizes, WheelKind, mesh_of_pair
from wormwright.core.mesh_results import gap_field

KINDS: tuple[tuple[WheelKind, float], ...] = (
    ("hob-equal", 0.0),
    ("oversize-hob", 0.3),
    ("helical", 0.0),
)
HOBBED = KINDS[:2]
HANDS: tuple[Hand, Hand] = ("right", "left")


@cache
def film_of(kind: WheelKind, excess: float, hand: Hand = "right") -> BlueFilm:
    pair = PairSizes(
        teeth=72,
        starts=1,
        axial_module=1.5,
        axial_angle=math.radians(20),
        worm_d1=24.0,
        kind=kind,
        hob_excess=excess,
        right_hand=hand == "right",
        face=14.0,
    )
    return BlueFilm(mesh_of_pair(pair))


@derived("gap field of the exact mesh: every phase, every tooth, a finer table")
@pytest.mark.parametrize(("kind", "excess"), KINDS)
@pytest.mark.parametrize("place", [Place(da=0.05), Place(dz=0.08), Place(skew=-1.5e-3)])
def test_a_film_sees_the_gap_of_the_whole_passage(
    kind: WheelKind, excess: float, place: Place
) -> None:
    film = film_of(kind, excess)
    quick, whole = film.gaps(place, 1), gap_field(film.mesh, place, 1)
    heights, compared = whole.z[:, 0], 0
    for z, rho, gap in zip(quick.z[:, 0], quick.rho, quick.gap, strict=True):
        there = int(np.argmin(np.abs(heights - z)))
        if abs(heights[there] - z) > 1e-6:
            continue
        near = (rho > whole.rho[there, 6]) & (rho < whole.rho[there, -2])
        expected = np.interp(rho[near], whole.rho[there], whole.gap[there])
        thin = expected < 0.02
        assert gap[near][thin] == pytest.approx(expected[thin], abs=2e-3)
        compared += int(thin.sum())
    assert compared > 4


@derived("the rules of the sketches, from flank normals: each fault, drawn, is told by its cure")
@pytest.mark.parametrize(("kind", "excess"), HOBBED)
@pytest.mark.parametrize("hand", HANDS)
@pytest.mark.parametrize(
    ("dz", "way"), [(0.12, "along +Z"), (-0.12, "along -Z"), (0.2, "along +Z")]
)
def test_a_worm_off_the_middle_is_marked_as_the_rules_say(
    kind: WheelKind, excess: float, hand: Hand, dz: float, way: str
) -> None:
    mark = mark_of_film(film_of(kind, excess, hand), Place(dz=dz))
    assert cause_of_mark(mark, hand=hand).move == ("wheel", way)


@derived("the rules of the sketches: a skew of the sign of the hand asks for depth first")
@pytest.mark.parametrize(("kind", "excess"), HOBBED)
@pytest.mark.parametrize("hand", HANDS)
@pytest.mark.parametrize(("skew", "way"), [(2.4e-3, "turn - about Y"), (-2.4e-3, "turn + about Y")])
def test_a_skewed_worm_is_marked_as_the_rules_say(
    kind: WheelKind, excess: float, hand: Hand, skew: float, way: str
) -> None:
    mark = mark_of_film(film_of(kind, excess, hand), Place(skew=skew))
    of_the_hand = (skew > 0) == (hand == "right")
    assert cause_of_mark(mark, hand=hand).move == ("worm", "closer" if of_the_hand else way)


@derived("the rules of the sketches: an open worm marks opposite ends by its lead")
@pytest.mark.parametrize(("kind", "excess"), HOBBED)
@pytest.mark.parametrize("hand", HANDS)
def test_a_worm_too_far_out_is_called_closer(kind: WheelKind, excess: float, hand: Hand) -> None:
    mark = mark_of_film(film_of(kind, excess, hand), Place(da=0.2))
    assert cause_of_mark(mark, hand=hand).move == ("worm", "closer")


@derived("mirror: a left-hand pair is a right-hand one seen with Z reversed and flanks swapped")
@pytest.mark.parametrize(("kind", "excess"), KINDS)
def test_the_mark_of_a_left_hand_pair_is_the_mirror(kind: WheelKind, excess: float) -> None:
    place = Place(da=0.04, dz=0.06, skew=1e-3)
    mirror = Place(da=0.04, dz=-0.06, skew=-1e-3)
    right = film_of(kind, excess).gaps(place, 1)
    left = film_of(kind, excess, "left").gaps(mirror, 1)
    thin = right.gap < 0.02
    assert thin.any()
    assert left.gap[::-1][thin] == pytest.approx(right.gap[thin], abs=1e-6)


@derived("envelope: a wheel cut larger touches in a patch, a plain helical one in a point")
def test_the_mark_narrows_from_hob_equal_over_oversize_to_helical() -> None:
    shares = [share_of_face(film_of(kind, excess).gaps(Place(), -1)) for kind, excess in KINDS]
    assert shares[0] == 1.0
    assert shares[0] > shares[1] > shares[2] > 0
    words = [sketch_of_film(film_of(kind, excess).gaps(Place(), -1)) for kind, excess in KINDS]
    assert words == ["full face", "centred patch", "centred patch"]


@derived("crossed helical pair: it touches in one point wherever the worm stands along it")
def test_a_plain_helical_wheel_does_not_show_sideways() -> None:
    film = film_of("helical", 0.0)
    moved = mark_of_film(film, Place(dz=0.3))
    assert cause_of_mark(moved, hand="right").good


@derived("definition: no film, no mark; a thicker film marks all that a thinner one does")
def test_a_thicker_film_marks_more() -> None:
    field = film_of("oversize-hob", 0.3).gaps(Place(dz=0.05), 1)
    shares = [share_of_face(field, film=f) for f in (0.002, 0.005, 0.01, 0.02)]
    assert shares == sorted(shares)
    assert shares[0] < shares[-1]
    with pytest.raises(ValueError, match="marks nothing"):
        sketch_of_film(field, film=0.0)


@derived("a worm lifted out of mesh meets nothing")
def test_a_worm_out_of_mesh_marks_nothing_and_says_so() -> None:
    with pytest.raises(ValueError, match="misses the wheel"):
        film_of("hob-equal", 0.0).gaps(Place(da=8.0), 1)
