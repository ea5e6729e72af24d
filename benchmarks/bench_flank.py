"""Exact backlash of one worm position against the brute force of the tests, in the same run."""

from __future__ import annotations

import importlib
import math
import sys
from collections.abc import Iterator
from pathlib import Path

import numpy as np

from benchmarks.figure import Figure, seconds
from wormwright.core.flank import Place
from wormwright.core.flank_first_order import FirstOrderMesh
from wormwright.core.mesh_pair import PairSizes, mesh_of_pair

POSITIONS, PHASES = 100, 8


def figures() -> Iterator[Figure]:
    sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))
    brute_mesh = importlib.import_module("brute_mesh")

    mesh = mesh_of_pair(
        PairSizes(
            teeth=72,
            starts=1,
            axial_module=1.5,
            axial_angle=math.radians(20),
            worm_d1=24.0,
            kind="oversize-hob",
            hob_excess=0.5,
            thinned=0.1,
        )
    )
    stream = np.random.default_rng(1)
    places = Place(
        da=stream.uniform(-0.05, 0.1, POSITIONS), dz=stream.uniform(-0.1, 0.1, POSITIONS)
    )
    mesh.contact()
    exact = seconds(lambda: mesh.contacts(places, phases=PHASES)) / POSITIONS
    one = Place(float(np.asarray(places.da)[0]), float(np.asarray(places.dz)[0]))
    brute = seconds(lambda: brute_mesh.BruteMesh(mesh).turn(one, 1.0, 1)) * 2 * PHASES
    detail = f"{exact * 1e3:.1f} ms a position against {brute:.1f} s"
    yield Figure("exact contact, both flanks, 8 phases", exact / brute, 0.01, "x", detail)
    first = FirstOrderMesh(mesh, phases=PHASES)
    many = Place(da=np.linspace(-0.1, 0.1, 4096), dz=np.linspace(-0.1, 0.1, 4096))
    first.backlash(many)
    quick = seconds(lambda: first.backlash(many)) / 4096
    detail = f"{quick * 1e6:.0f} µs a position"
    yield Figure("first order against exact, 8 phases", quick / exact, 0.01, "x", detail)
