"""Exact flank contact against the brute force of the tests, fast model, map and growth of time."""

from __future__ import annotations

import importlib
import math
import sys
import tracemalloc
from collections.abc import Generator, Iterator
from pathlib import Path
from typing import Any

import numpy as np

from benchmarks.figure import Figure, ratio, seconds
from wormwright.core.flank import FlankMesh, Place
from wormwright.core.flank_first_order import FirstOrderMesh
from wormwright.core.mesh_pair import PairSizes, mesh_of_pair
from wormwright.core.round_the_wheel import even_turn

POSITIONS, PHASES = 100, 8
TABLE, WORM = 64, 8
ECCENTRIC = 0.02, 0.01
"""Of wheel and worm in the map [mm]."""
ARCSEC = math.radians(1 / 3600)
AGREED = 0.1
"""Both formulations may differ by so many arc seconds at the table."""


def figures() -> Iterator[Figure]:
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
    exact = yield from _against_brute_force(mesh)
    yield from _first_order(mesh, exact)
    yield from _map(mesh, exact)
    yield from _growth(mesh)


def _positions(count: int) -> Place:
    stream = np.random.default_rng(1)
    return Place(da=stream.uniform(-0.05, 0.1, count), dz=stream.uniform(-0.1, 0.1, count))


def _against_brute_force(mesh: FlankMesh) -> Generator[Figure, None, float]:
    """Seconds a position at equal accuracy; hands back those of the exact contact."""
    sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))
    brute: Any = importlib.import_module("brute_mesh").BruteMesh(mesh)
    places = _positions(POSITIONS)
    mesh.contact()
    exact = seconds(lambda: mesh.contacts(places, phases=PHASES)) / POSITIONS
    one = Place(*(float(np.atleast_1d(v)[0]) for v in places))
    advance = mesh.pitch / PHASES
    slow = seconds(lambda: brute.turn(one, advance, 1)) * 2 * PHASES
    yield Figure(
        "exact contact over brute force, both flanks, 8 phases",
        exact / slow,
        0.01,
        "x",
        f"{exact * 1e3:.1f} ms a position in batches of {POSITIONS} against {slow:.1f} s",
    )
    contact = mesh.contact(one, phases=PHASES)
    off = max(
        abs(float(flank.turn[1]) - float(brute.turn(one, advance, side)))
        for side, flank in ((1, contact.plus), (-1, contact.minus))
    )
    yield Figure(
        "exact contact and brute force differ at the table",
        off / mesh.radius / ARCSEC,
        AGREED,
        "″",
        "so the two are compared at equal accuracy",
    )
    return exact


def _first_order(mesh: FlankMesh, exact: float) -> Iterator[Figure]:
    first = FirstOrderMesh(mesh, phases=PHASES)
    many = Place(da=np.linspace(-0.1, 0.1, 4096), dz=np.linspace(-0.1, 0.1, 4096))
    first.backlash(many)
    quick = seconds(lambda: first.backlash(many)) / 4096
    detail = f"{quick * 1e6:.0f} µs a position in batches"
    yield Figure("first order over exact, 8 phases", quick / exact, 0.01, "x", detail)


def _map(mesh: FlankMesh, exact: float) -> Iterator[Figure]:
    """Every table angle with every worm angle, each at the one phase the worm has there."""
    phi, psi = (grid.ravel() for grid in np.meshgrid(even_turn(TABLE), even_turn(WORM)))
    wheel, worm = ECCENTRIC
    places = Place(da=wheel * np.cos(phi) + worm * np.cos(psi), dz=worm * np.sin(psi))
    advance = (psi / (2 * math.pi) * mesh.pitch)[:, None]
    took = seconds(lambda: mesh.contacts(places, phases=advance))
    yield Figure(
        f"map of {TABLE} table by {WORM} worm angles, a phase each, over {TABLE * WORM} positions "
        "of 8 phases",
        took / (TABLE * WORM * exact),
        0.5,
        "x",
        f"{took:.2f} s",
    )


def _growth(mesh: FlankMesh) -> Iterator[Figure]:
    """More positions: as much longer and no more memory."""
    few, many = _positions(POSITIONS // 4), _positions(POSITIONS)
    yield ratio(
        "time of 4 times the positions",
        product=lambda: mesh.contacts(many, phases=PHASES),
        floor=lambda: mesh.contacts(few, phases=PHASES),
        limit=5.0,
        runs=3,
    )
    peaks = [_peak(mesh, places) for places in (many, _positions(3 * POSITIONS))]
    yield Figure(
        "memory of 3 times the positions",
        peaks[1] / peaks[0],
        1.3,
        "x",
        f"{peaks[0] / 1e6:.0f} MB, then {peaks[1] / 1e6:.0f} MB",
    )


def _peak(mesh: FlankMesh, places: Place) -> int:
    tracemalloc.start()
    mesh.contacts(places, phases=PHASES)
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    return peak
