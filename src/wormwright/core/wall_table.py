"""The wall of one side of a tooth space, tabled once and then exact at any place on it.

A place is named by its height z and by `u`, 0 at the root to 1 at the crest. The wall is the
farthest angle that any moment of the cutting reaches: a flank (the hob passes by), or a fillet (the
hob tip turns back). Near undercut two maxima stand side by side and both are kept.
"""

from __future__ import annotations

from collections.abc import Callable
from copy import copy

import numpy as np
from numpy.typing import NDArray

from wormwright.core.impossible_pair import ImpossiblePairError
from wormwright.core.wheel_wall import Wall

Array = NDArray[np.float64]

MOMENTS = 65
"""Moments of the cutting looked at for each place of the table."""
UNDERCUT = 0.25
"""A wall whose flank begins higher than this above the root may have a corner within reach."""
FEET, BELOW, HIGHEST_FOOT = 31, 2, 0.8
"""Places at which the foot of the flank is looked for, places kept below it, highest foot."""


class WallTable:
    """One side of the tooth space. `across` heights over the face, `down` radii in each."""

    def __init__(self, wall: Wall, side: int, *, across: int, down: int) -> None:
        """Cut the wall at the places of the table."""
        self.wall, self.side = wall, side
        half = wall.blank.half_face
        self.z: Array = np.linspace(-half, half, across)
        self.low, high = wall.root(self.z), wall.blank.top(self.z)
        if np.any(high - self.low <= 0):
            raise ImpossiblePairError(
                got="the hob does not reach below the wheel's crest over the whole face",
                expected="a tooth space all over the face",
                do="check throat, centre distance and face width",
            )
        self._half = half
        self.foot: Array = self._foot()
        self.step: Array = (1 - self.foot) / (down - 1 - BELOW)
        self._lowest: Array = np.maximum(self.foot - BELOW * self.step, 0.0)
        self.step = (1 - self._lowest) / (down - 1)
        self.u: Array = self._lowest[:, None] + np.arange(down) * self.step[:, None]
        self.rho: Array = self.radius(self.u, self.z[:, None])
        self.heights: Array = np.broadcast_to(self.z[:, None], self.rho.shape).copy()
        seeds = self._scanned(self.rho, self.heights)
        self.has_flank: NDArray[np.bool_] = ~np.isnan(seeds[0])
        self._seeds = [_filled(seed) for seed in seeds if not np.isnan(seed).all()]
        fillet, self.angle, self.cut_at = self._at(self.rho, self.heights, self._seeds)
        self._near_fillet: Array = _spread(np.maximum(fillet, ~np.isnan(seeds[1])))
        self.undercut = bool(self.foot.max() > UNDERCUT)
        self.behind: Array | None = None
        if self.undercut:
            self.behind = self.branches(self.u, self.heights)[2]
        self.phase: Array = (self.cut_at - self.angle) / self.wall.turn_per_mm

    def mirrored(self) -> WallTable:
        """The other side: half a turn about the worm's common perpendicular brings it here."""
        other = copy(self)
        other.side = -self.side
        for name in ("low", "foot", "step", "_lowest", "u", "rho", "has_flank", "_near_fillet"):
            setattr(other, name, np.ascontiguousarray(getattr(self, name)[::-1]))
        for name in ("angle", "cut_at", "phase"):
            setattr(other, name, np.ascontiguousarray(-getattr(self, name)[::-1]))
        other._seeds = [np.ascontiguousarray(-seed[::-1]) for seed in self._seeds]
        if self.behind is not None:
            # first and last moment of the reach change places
            other.behind = np.ascontiguousarray(self.behind[[0, 1, 3, 2], ::-1])
        return other

    def _foot(self) -> Array:
        """Where the flank begins at each height: above it no end of the reach cuts the wall."""
        z = np.broadcast_to(self.z[:, None], (len(self.z), FEET))
        u = np.broadcast_to(np.linspace(0.0, 1.0, FEET), z.shape)
        fillet = self._is_fillet(u, z)
        last = FEET - 1 - np.argmax(fillet[:, ::-1], axis=1)
        low = np.where(fillet.any(axis=1), last / (FEET - 1), 0.0)
        high = np.minimum(low + 1 / (FEET - 1), 1.0)
        for _ in range(10):
            middle = (low + high) / 2
            below = self._is_fillet(middle[:, None], self.z[:, None])[:, 0]
            low, high = np.where(below, middle, low), np.where(below, high, middle)
        return np.minimum(high, HIGHEST_FOOT)

    def _is_fillet(self, u: Array, z: Array) -> NDArray[np.bool_]:
        rho = self.radius(u, z)
        return self._at(rho, z, self._scanned(rho, z))[0] > 0

    def radius(self, u: Array, z: Array) -> Array:
        """Wheel radius at u [mm]."""
        low = self.wall.root(z)
        result: Array = low + (1e-9 + u * (1 - 1e-9)) * (self.wall.blank.top(z) - low)
        return result

    def line(self, z: float, *, count: int = 401) -> tuple[Array, Array, Array, NDArray[np.bool_]]:
        """The profile at one height: radius, angle, where it was cut, and whether it is flank."""
        u = np.linspace(0.0, 1.0, count)[None, :]
        heights = np.full_like(u, z)
        rho = self.radius(u, heights)
        fillet, angle, cut_at = self._at(rho, heights, self._scanned(rho, heights))
        return rho[0], angle[0], cut_at[0], fillet[0] == 0

    def branches(self, u: Array, z: Array) -> tuple[Array, Array, Array]:
        """Wheel radius, wall angle, and how far each branch of the wall lies behind it [rad].

        Branches, first axis: up to two moments at which the flank is cut, the farther first, then
        the first and last moment of the reach. Each runs on smoothly where another takes over the
        wall; a branch that is missing lies infinitely far behind.
        """
        rho = self.radius(u, z)
        cut = self.side * self._moments(rho, z, self._scanned(rho, z))[1]
        cut = np.where(np.isnan(cut), -np.inf, cut)
        farthest = cut.max(axis=0)
        return rho, self.side * farthest, farthest - cut

    def _scanned(self, rho: Array, z: Array) -> Array:
        """Polar angles of up to two moments that cut a flank here, farthest first, or no number."""
        side = self.side
        first, last = self.wall.ends(rho, z)
        share = np.linspace(0.0, 1.0, MOMENTS).reshape(-1, *(1,) * rho.ndim)
        beta = first + share * (last - first)
        value = side * self.wall.cut(beta, rho, z, side)[0]
        middle = value[1:-1]
        height = np.where((middle > value[:-2]) & (middle >= value[2:]), middle, -np.inf)
        seeds = []
        for _ in range(2):
            best = np.argmax(height, axis=0)[None]
            there = np.isfinite(np.take_along_axis(height, best, axis=0)[0])
            seed = np.take_along_axis(beta[1:-1], best, axis=0)[0]
            seed = self._stationary(seed, rho, z, steps=6)
            seeds.append(np.where(there, seed, np.nan))
            np.put_along_axis(height, best, -np.inf, axis=0)
        return np.stack(seeds)

    def _at(self, rho: Array, z: Array, seeds: Array | list[Array]) -> tuple[Array, Array, Array]:
        """Whether an end of the reach cuts here, the wall's angle, and where it was cut."""
        beta, angle = self._moments(rho, z, seeds)
        cut = np.where(np.isnan(angle), -np.inf, self.side * angle)
        best = np.argmax(cut, axis=0)[None]
        angle, at = (np.take_along_axis(a, best, axis=0)[0] for a in (angle, beta))
        return (best[0] >= len(seeds)).astype(float), angle, at

    def _moments(self, rho: Array, z: Array, seeds: Array | list[Array]) -> tuple[Array, Array]:
        """Polar angle and wall angle of each flank moment, then of both ends of the reach."""
        first, last = self.wall.ends(rho, z)
        betas = [
            np.clip(self._stationary(np.clip(seed, first, last), rho, z, steps=4), first, last)
            for seed in seeds
        ]
        beta = np.stack([*betas, first, last])
        return beta, self.wall.cut(beta, rho, z, self.side)[0]

    def _stationary(self, beta: Array, rho: Array, z: Array, *, steps: int) -> Array:
        """Polar angle of the flank's maximum near beta: secant steps on the slope."""
        h = 1e-5
        for _ in range(steps):
            here = self.wall.cut(beta, rho, z, self.side)[1]
            bend = (self.wall.cut(beta + h, rho, z, self.side)[1] - here) / h
            step = np.where(self.side * bend < 0, -here / np.where(bend == 0, 1.0, bend), 0.0)
            beta = beta + np.clip(step, -0.05, 0.05)
        return beta

    def angles(self, u: Array, z: Array, *, steps: int = 2) -> tuple[Array, Array]:
        """Wheel radius [mm] and angle of the wall [rad] at any places (u, z) of one shape.

        Source: envelope of the hob; the table only says where to begin.
        Formula: side * max over beta of side * cut(beta).
        Inputs: u [1] in 0..1, z [mm] within the face. Outputs: rho [mm], angle [rad].
        Valid for: places of this wheel. Raises: nothing.
        """
        rho = self.radius(u, z)
        mix = self._mixer(u, z)
        best = np.full(rho.shape, -np.inf)
        starts = [mix(seeds) for seeds in self._seeds]
        for start in starts:
            beta = self._stationary(start, rho, z, steps=steps)
            best = np.maximum(best, self.side * self.wall.cut(beta, rho, z, self.side)[0])
        near = mix(self._near_fillet) > 0
        if near.any():
            r, h = rho[near], z[near]
            best[near] = self.side * self._at(r, h, [start[near] for start in starts])[1]
        return rho, self.side * best

    def _mixer(self, u: Array, z: Array) -> Callable[[Array], Array]:
        """Takes a table to its values between the places of the table, linear in u and z."""
        across, down = self.rho.shape
        i, a = _cell((z / self._half + 1) / 2, across)
        lowest = self._lowest[i] * (1 - a) + self._lowest[i + 1] * a
        j, b = _cell((u - lowest) / (1 - lowest), down)
        spot = i * down + j

        def mixed(table: Array) -> Array:
            flat = table.ravel()
            left = flat[spot] * (1 - b) + flat[spot + 1] * b
            right = flat[spot + down] * (1 - b) + flat[spot + down + 1] * b
            result: Array = left * (1 - a) + right * a
            return result

        return mixed


def _filled(seed: Array) -> Array:
    """Seeds for places without a maximum of their own: those of the place nearest above."""
    filled = seed.copy()
    for j in range(seed.shape[1] - 2, -1, -1):
        filled[:, j] = np.where(np.isnan(filled[:, j]), filled[:, j + 1], filled[:, j])
    for j in range(1, seed.shape[1]):
        filled[:, j] = np.where(np.isnan(filled[:, j]), filled[:, j - 1], filled[:, j])
    return np.nan_to_num(filled)


def _cell(share: Array, count: int) -> tuple[NDArray[np.intp], Array]:
    """Number of the cell that a share 0..1 of the table falls in, and how far into it."""
    at = np.clip(share, 0.0, 1.0) * (count - 1)
    cell = np.minimum(at.astype(np.intp), count - 2)
    return cell, at - cell


def _spread(fillet: Array) -> Array:
    """The places marked, the root, and the next place each way: there the wall is looked for."""
    marked = fillet.copy()
    marked[:, 0] = 1.0
    wide = marked.copy()
    wide[:, 1:] = np.maximum(wide[:, 1:], marked[:, :-1])
    wide[:, :-1] = np.maximum(wide[:, :-1], marked[:, 1:])
    marked = wide.copy()
    wide[1:] = np.maximum(wide[1:], marked[:-1])
    wide[:-1] = np.maximum(wide[:-1], marked[1:])
    return wide
