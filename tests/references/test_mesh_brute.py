"""The flank contact against a second formulation that shares no code with it: `brute_mesh`."""

from __future__ import annotations

import math
from functools import cache

import numpy as np
import pytest

from brute_mesh import BruteMesh
from published import derived
from wormwright.core.flank import FlankMesh, Place
from wormwright.core.helicoid import Profile
from wormwright.core.mesh_pair import PairSizes, WheelKind, mesh_of_pair

KINDS: tuple[WheelKind, ...] = ("hob-equal", "oversize-hob", "helical")
PROFILES: tuple[Profile, ...] = ("ZA", "ZN", "ZI")
TEETH = (12, 15, 17, 20, 24, 30, 36, 40, 60, 72, 90, 120, 144, 180)
CASES = 30
BOUND = math.radians(0.1 / 3600)


def pair(number: int, stream: np.random.Generator) -> PairSizes:
    """Pair of one case: every kind with every profile, few teeth to many, 1 to 4 starts."""
    kind, module = KINDS[number % 3], stream.uniform(0.8, 3.0)
    angle, d1 = stream.uniform(14.5, 30.0), module * stream.uniform(10.0, 20.0)
    teeth = TEETH[(5 * number) % len(TEETH)]
    if teeth < 18:
        angle = max(angle, 20.0)  # at less, so few teeth are cut away beyond use
    return PairSizes(
        teeth=teeth,
        starts=1 + number % 4,
        axial_module=module,
        axial_angle=math.radians(angle),
        worm_d1=d1,
        kind=kind,
        profile=PROFILES[(number // 3) % 3],
        right_hand=bool(number // 2 % 2),
        hob_excess=d1 * stream.uniform(0.005, 0.03) if kind == "oversize-hob" else 0.0,
        thinned=0.05 * module,
        edge=0.05 * module,
        shift=stream.uniform(-0.2, 0.2),
    )


def place(module: float, stream: np.random.Generator) -> Place:
    da, dz = stream.uniform(-0.05, 0.07) * module, stream.uniform(-0.06, 0.06) * module
    skew, tilt = stream.uniform(-2e-3, 2e-3, 2)
    return Place(da, dz, stream.uniform(-0.1, 0.1), float(skew), float(tilt))


@cache
def case(number: int) -> tuple[FlankMesh, Place, float]:
    stream = np.random.default_rng(100 + number)
    sizes = pair(number, stream)
    mesh = mesh_of_pair(sizes)
    return mesh, place(sizes.axial_module, stream), float(stream.uniform(0, mesh.pitch))


@derived(
    "clouds of worm points against sampled moments of the cutting, enclosed by ever closer ones"
)
@pytest.mark.parametrize("number", range(CASES))
def test_first_contact_is_that_of_brute_force_within_a_tenth_of_an_arc_second(number: int) -> None:
    mesh, moved, phase = case(number)
    contact = mesh.contacts(moved, phases=np.array([phase]))
    side = 1 if number // 5 % 2 else -1
    exact = float((contact.plus if side > 0 else contact.minus).turn[0, 0])
    assert BruteMesh(mesh).turn(moved, phase, side) == pytest.approx(exact, abs=BOUND * mesh.radius)


def test_the_cases_are_as_mixed_as_the_claim() -> None:
    meshes = [case(number)[0] for number in range(CASES)]
    hobs = [mesh.wall for mesh in meshes]
    assert len({type(wall) for wall in hobs}) == 2
    assert any(getattr(wall, "swivel", 0.0) != 0 for wall in hobs)
    assert {mesh.worm.profile for mesh in meshes} == set(PROFILES)
    assert {math.copysign(1, mesh.worm.lead) for mesh in meshes} == {1, -1}
    assert sum(mesh.sides[1].undercut for mesh in meshes) >= 4
