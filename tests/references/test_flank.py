"""Exact flank contact: invariants that hold for any pair, and the figures of another model."""

from __future__ import annotations

import math

import numpy as np
import pytest

from published import derived, regression
from wormwright.core.flank import FlankMesh, Place
from wormwright.core.helicoid import Profile, oversize_hob, worm_thread
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
    return FlankMesh(thread(thinned), wall, centre=66.0, pitch=1.5 * math.pi, across=25, down=32)


@derived("conjugacy: a worm equal to its hob leaves no gap and turns the wheel evenly")
@pytest.mark.parametrize("profile", ["ZA", "ZN", "ZI"])
def test_generating_position_has_no_gap_and_no_transmission_error(profile: Profile) -> None:
    contact = pair_a(profile=profile).contact()
    assert np.abs(contact.plus.turn).max() < 1e-8
    assert np.abs(contact.minus.turn).max() < 1e-8


@derived("a thread thinner by s leaves s of backlash at every phase")
def test_thinned_thread_leaves_its_thinning() -> None:
    assert pair_a(thinned=0.1).contact().backlash == pytest.approx(0.1, abs=1e-8)


@derived("axial shift turns the wheel and leaves the backlash")
def test_axial_shift_moves_both_flanks_alike() -> None:
    contact = pair_a(thinned=0.1).contact(Place(sx=0.03))
    assert contact.backlash == pytest.approx(0.1, abs=1e-8)
    assert contact.plus.turn == pytest.approx(-0.02, abs=1e-8)


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
        (0.1, 14.0, Place(skew=0.001), 0.0839),
        (0.1, 14.0, Place(skew=-0.001), 0.0814),
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


@derived("brute force: closest approach of both surfaces by bisection on a fine grid of points")
def test_brute_force_gives_the_same_backlash() -> None:
    mesh, place = pair_a(thinned=0.1), Place(da=0.04, dz=0.03)
    from wormwright.core.wheel_wall import wall_angles  # noqa: PLC0415

    z = np.linspace(-7, 7, 57)
    low, high = mesh.wall.root(z), mesh.wall.blank.top(z)
    rho = low[:, None] + np.linspace(0.02, 1, 120) * (high - low)[:, None]
    heights = np.broadcast_to(z[:, None], rho.shape)
    ends = []
    for side in (1, -1):
        angle, _ = wall_angles(mesh.wall, rho, heights, side)
        best = -np.inf
        for tooth in range(-3, 4):
            beta_low = angle - 0.01 + tooth * 2 * math.pi / 72
            beta_high = beta_low + 0.02
            for _ in range(40):
                beta = (beta_low + beta_high) / 2
                x, y = rho * np.sin(beta), rho * np.cos(beta)
                depth, across = 66.0 + place.da - y, heights - place.dz
                beyond = x - tooth * mesh.pitch - mesh.worm.height(depth, across, side)
                beta_low = np.where(beyond < 0, beta, beta_low)
                beta_high = np.where(beyond < 0, beta_high, beta)
            radius = np.hypot(depth, across)
            turn = side * (beta - angle - tooth * 2 * math.pi / 72)
            best = max(best, float(np.where(radius <= 13.5, turn, -np.inf).max()))
        ends.append(side * best * 54.0)
    exact = mesh.contact(place, phases=1).backlash[0]
    assert exact == pytest.approx(ends[1] - ends[0], abs=3e-5)
