"""Backlash of a moved worm to first order, from contact lines that the exact model found once.

Each contact line keeps its supporting points: where on the worm, how far the wheel stood from
contact there, and how each move of the worm changes that. Tens of thousands of places then cost one
matrix product.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from wormwright.core.backlash import Floats
from wormwright.core.flank import FlankMesh, Place
from wormwright.core.flank_meeting import Frame, miss
from wormwright.core.flank_search import contact_lines
from wormwright.core.wall_table import WallTable

Array = NDArray[np.float64]

ACROSS, DOWN = 41, 40
ROWS = 512
"""Places worked at once, to bound the memory."""
FAR = 0.05
"""Points farther than this many modules from contact, and all their kind, are left out."""


class FirstOrderMesh:
    """First-order advance on cached contact lines, as a `MeshModel`.

    Source: derived. A worm flank moved a little advances along X, where it touches, by
        A = sx + skew Z + tilt h - X_Y (da + tilt X) - X_Z (dz - skew X),
        h the depth of the place below the worm axis; the wheel follows by A r2 / slope.
    Formula: turn of each flank = most over its points of side (turn at rest + A r2 / slope).
    Valid for: moves up to about 0.1 modules and 2 mrad; the error against the exact model is
        stated in docs/explanation/exact-mesh.md and grows with the square of the move.
    """

    def __init__(self, mesh: FlankMesh, *, phases: int = 8) -> None:
        """Find the contact lines of a mesh at the place where its pair fits."""
        self.radius, self.phases, self.run_in = mesh.radius, phases, mesh.run_in
        plus = WallTable(mesh.wall, 1, across=ACROSS, down=DOWN)
        self._lines = {t.side: _supporting_points(mesh, t, phases) for t in (plus, plus.mirrored())}
        rest = np.zeros((1, 5))
        self.at_rest = float(self._backlash(rest).min())

    def backlash(self, places: Place) -> Array:
        """Backlash at r2 by phase [mm], shape (places, phases)."""
        counted = (np.atleast_1d(v - r) for v, r in zip(places, self.run_in, strict=True))
        moves = np.stack(np.broadcast_arrays(*counted), axis=1).astype(np.float64)
        parts = [self._backlash(moves[i : i + ROWS]) for i in range(0, len(moves), ROWS)]
        result: Array = np.concatenate(parts)
        return result

    def turns(self, places: Place, side: int) -> Array:
        """Turn of the wheel at contact of one side by phase [mm at r2], shape (places, phases)."""
        counted = (np.atleast_1d(v - r) for v, r in zip(places, self.run_in, strict=True))
        moves = np.stack(np.broadcast_arrays(*counted), axis=1).astype(np.float64)
        return side * self._most(moves, side)

    def _backlash(self, moves: Array) -> Array:
        result: Array = -self._most(moves, -1) - self._most(moves, 1)
        return result

    def _most(self, moves: Array, side: int) -> Array:
        rest, gain = self._lines[side]
        reached = moves @ gain
        reached += rest
        result: Array = reached.reshape(len(moves), self.phases, -1).max(axis=-1)
        return result

    def backlash_change(
        self, *, da: Floats, dz: Floats = 0.0, skew: Floats = 0.0, tilt: Floats = 0.0
    ) -> Floats:
        """Change of the least backlash at r2 [mm] from the position where the pair fits."""
        shape = np.broadcast_shapes(*(np.shape(v) for v in (da, dz, skew, tilt)))
        da_, dz_, skew_, tilt_ = (
            np.broadcast_to(np.asarray(v, float), shape).ravel() for v in (da, dz, skew, tilt)
        )
        change = self.backlash(Place(da_, dz_, 0.0, skew_, tilt_)).min(axis=1) - self.at_rest
        return float(change[0]) if shape == () else change.reshape(shape)


def _supporting_points(mesh: FlankMesh, table: WallTable, phases: int) -> tuple[Array, Array]:
    """Turn at rest of each point [mm at r2, times side], and its gain by each of the five moves."""
    side = table.side
    frame = Frame.of(Place(*(np.zeros(1) for _ in range(5))), mesh.centre)
    phase = np.arange(phases, dtype=float)[None, :] * (mesh.pitch / phases)
    turn, u, advance = (
        a[0]
        for a in contact_lines(table, mesh.worm, frame, phase, radius=mesh.radius, pitch=mesh.pitch)
    )
    z = np.broadcast_to(table.z, u.shape)
    met = np.isfinite(turn) & (turn * mesh.radius > turn.max() * mesh.radius - FAR * mesh.pitch)
    rho, angle = table.angles(np.where(met, u, 0.5), z, steps=4)
    beta = angle + advance / mesh.radius + side * np.where(met, turn, 0.0)
    frame = frame.shaped(2)
    _, slope, _, _ = miss(mesh.worm, frame, rho, z, beta=beta, side=side)
    x, depth = rho * np.sin(beta), mesh.centre - rho * np.cos(beta)
    _, down, aside = mesh.worm.height_and_slopes(depth, z, side)
    advance_gain = np.stack([down, -aside, np.ones_like(x), z + aside * x, depth + down * x])
    gain = side * advance_gain * (mesh.radius / slope)
    rest = np.where(met, turn * mesh.radius, -np.inf)
    return rest.reshape(1, -1), np.where(met, gain, 0.0).reshape(5, -1)
