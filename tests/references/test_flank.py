"""Exact flank contact: invariants that hold for any pair, and the figures of another model."""

from __future__ import annotations

import math

import numpy as np
import pytest

from published import derived, regression
from wormwright.core.flank import FlankMesh, Place
from wormwright.core.helicoid import Profile, oversize_hob, worm_thread
from wormwright.core.mesh_pair import PairSizes, mesh_of_pair
from wormwright.core.wall_table import WallTable
from wormwright.core.wheel_wall import Blank, HobbedWall

ANOTHER = "figures of an independent numerical flank model made elsewhere, not a published table"


def pair_a(
    *, thinned: float = 0.0, face: float = 14.0, profile: Profile = "ZA", right: bool = True
) -> FlankMesh:
    """mx 1.5, one start, 72 teeth, d1 24, 20 degrees, hob equal to the worm."""

    def thread(thin: float):  # type: ignore[no-untyped-def]
        return worm_thread(
            profile=profile,
            axial_module=1.5,
            starts=1,
            worm_d1=24.0,
            axial_angle=math.radians(20),
            tip_radius=13.5,
            root_radius=10.2,
            thinned=thin,
            right_hand=right,
        )

    hob = oversize_hob(thread(0.0), excess=0.0, tip_clearance=0.3, starts=1)
    blank = Blank(centre=66.0, throat=55.5, outside=57.0, face=face, throat_form=10.5)
    wall = HobbedWall(hob, blank, 72, 1, 66.0)
    return FlankMesh(thread(thinned), wall, centre=66.0, pitch=1.5 * math.pi)


@derived("conjugacy: a worm equal to its hob leaves no gap and turns the wheel evenly")
@pytest.mark.parametrize("profile", ["ZA", "ZN", "ZI"])
def test_generating_position_has_no_gap_and_no_transmission_error(profile: Profile) -> None:
    contact = pair_a(profile=profile).contact()
    assert np.abs(contact.plus.turn).max() < 1e-11
    assert np.abs(contact.minus.turn).max() < 1e-11


@derived("a thread thinner by s leaves s of backlash at every phase")
def test_thinned_thread_leaves_its_thinning() -> None:
    assert pair_a(thinned=0.1).contact().backlash == pytest.approx(0.1, abs=1e-10)


@derived("axial shift turns the wheel and leaves the backlash")
def test_axial_shift_moves_both_flanks_alike() -> None:
    contact = pair_a(thinned=0.1).contact(Place(sx=0.03))
    assert contact.backlash == pytest.approx(0.1, abs=1e-10)
    assert contact.plus.turn == pytest.approx(-0.02, abs=1e-10)


@derived("in the limit of no face width each section is a rack and its pinion: 2 da tan(alpha)")
def test_opening_is_the_textbook_law_only_without_face_width() -> None:
    narrow = pair_a(face=0.02).contact(Place(da=0.1)).backlash
    assert narrow == pytest.approx(2 * 0.1 * math.tan(math.radians(20)), rel=2e-4)


@derived("mirror symmetry of a sideways move, and of a left-hand pair")
def test_sideways_moves_and_hands_are_symmetric() -> None:
    mesh, mirrored = pair_a(thinned=0.1), pair_a(thinned=0.1, right=False)
    one = mesh.contact(Place(dz=0.05)).backlash
    assert mesh.contact(Place(dz=-0.05)).backlash.min() == pytest.approx(one.min(), abs=1e-7)
    left = mirrored.contact(Place(dz=-0.05)).backlash
    assert left.min() == pytest.approx(one.min(), abs=1e-7)


@regression(ANOTHER)
@pytest.mark.parametrize(
    ("thinned", "face", "place", "low"),
    [
        (0.0, 14.0, Place(da=0.1), 0.0519),
        (0.0, 8.0, Place(da=0.1), 0.0628),
        (0.1, 14.0, Place(da=-0.1), 0.0259),
        (0.1, 14.0, Place(dz=0.05), 0.0789),
        (0.1, 14.0, Place(skew=-0.001), 0.0839),
        (0.1, 14.0, Place(skew=0.001), 0.0814),
        (0.1, 14.0, Place(tilt=0.001), 0.09998),
    ],
)
def test_moved_worms_agree_with_the_other_model(
    thinned: float, face: float, place: Place, low: float
) -> None:
    backlash = pair_a(thinned=thinned, face=face).contact(place).backlash
    assert backlash.min() == pytest.approx(low, abs=3e-4)


@regression(ANOTHER)
def test_involute_and_archimedean_flanks_differ_by_under_two_microns() -> None:
    r = np.linspace(10.2, 13.5, 50)
    za, zi = pair_a().worm, pair_a(profile="ZI").worm
    flat = np.zeros_like(r)
    apart = np.abs(za.height(r, flat, 1) - zi.height(r, flat, 1))
    assert apart.max() * 1000 == pytest.approx(1.71, abs=0.05)


@derived("one position at a time, and a table of walls four times as fine")
def test_a_batch_gives_what_single_positions_and_a_finer_table_give() -> None:
    mesh = pair_a(thinned=0.1, face=8.0, profile="ZI")
    places = Place(da=np.array([0.03, -0.04, 0.0]), dz=np.array([0.05, 0.0, -0.08]), skew=0.002)
    many = mesh.contacts(places)
    for row in range(3):
        alone = mesh.contact(Place(float(places.da[row]), float(places.dz[row]), skew=0.002))  # type: ignore[index]
        assert np.array_equal(alone.backlash, many.backlash[row])
    fine = FlankMesh(
        mesh.worm, mesh.wall, centre=66.0, pitch=mesh.pitch, across=51, down=57
    ).contacts(places)
    assert many.plus.turn == pytest.approx(fine.plus.turn, abs=1e-6)
    assert many.minus.turn == pytest.approx(fine.minus.turn, abs=1e-6)


@derived("half a turn about the common perpendicular leaves the pair as it is: the wall cut anew")
@pytest.mark.parametrize("teeth", [72, 14])
def test_the_mirrored_wall_is_the_wall_of_the_other_side(teeth: int) -> None:
    pair = PairSizes(
        teeth=teeth,
        starts=2,
        axial_module=1.5,
        axial_angle=math.radians(20),
        worm_d1=24.0,
        kind="oversize-hob",
        hob_excess=0.4,
    )
    mirrored = mesh_of_pair(pair).sides[-1]
    across, down = mirrored.rho.shape
    cut = WallTable(mirrored.wall, -1, across=across, down=down)
    assert mirrored.undercut == (teeth == 14)
    assert mirrored.angle == pytest.approx(cut.angle, abs=1e-11)
    assert mirrored.phase == pytest.approx(cut.phase, abs=1e-8)
    stream = np.random.default_rng(3)
    u, z = stream.uniform(0.05, 1.0, 50), stream.uniform(-7.0, 7.0, 50)
    assert mirrored.angles(u, z, steps=4)[1] == pytest.approx(
        cut.angles(u, z, steps=4)[1], abs=1e-9
    )
    mine, anew = (t.branches(u, z)[2] for t in (mirrored, cut))
    near = anew < 1.0
    assert np.array_equal(near, mine < 1.0)
    assert mine[near] == pytest.approx(anew[near], abs=1e-9)


@derived(
    "a table of walls three times as fine: beyond the corner of the blank the turn rises again"
)
def test_contact_at_the_end_of_the_face_past_the_corner_of_the_blank_is_met() -> None:
    pair = PairSizes(
        teeth=90,
        starts=1,
        axial_module=1.5875,
        axial_angle=math.radians(14.5),
        worm_d1=28.6,
        face=15.0,
    )
    mesh = mesh_of_pair(pair)
    assert 7.0 < mesh.wall.blank.corner < 7.5
    places = Place(da=0.1, dz=np.array([0.1, 0.0]), skew=np.array([0.0, 1e-3]))
    got = mesh.contacts(places, phases=4)
    fine = FlankMesh(
        mesh.worm, mesh.wall, centre=mesh.centre, pitch=mesh.pitch, across=37, down=40
    ).contacts(places, phases=4)
    assert np.abs(got.minus.z).max() == pytest.approx(7.5)
    for mine, best in ((got.plus, fine.plus), (got.minus, fine.minus)):
        off = np.abs(mine.turn - best.turn) / mesh.radius
        assert float(off.max()) < math.radians(0.05 / 3600)


@derived("a worm lifted out of mesh meets nothing")
def test_a_worm_out_of_mesh_is_refused() -> None:
    with pytest.raises(ValueError, match="misses the wheel"):
        pair_a().contact(Place(da=8.0))
