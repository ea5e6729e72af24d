"""The wall of one side of a tooth space, tabled once and then exact at any place on it.

A place is named by its height z and by `u`, 0 at the root to 1 at the crest. The wall is the
farthest angle that any moment of the cutting reaches: a flank (the hob passes by), or a fillet (the
hob tip turns back). Near undercut two maxima stand side by side and both are kept.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from wormwright.core.wheel_wall import Wall

Array = NDArray[np.float64]

MOMENTS = 65
"""Moments of the cutting looked at for each place of the table."""


class WallTable:
    """One side of the tooth space. `across` heights over the face, `down` radii in each."""

    def __init__(self, wall: Wall, side: int, *, across: int, down: int) -> None:
        """Cut the wall at the places of the table."""
        self.wall, self.side = wall, side
        half = wall.blank.half_face
        self.z: Array = np.linspace(-half, half, across)
        self.u: Array = np.linspace(0.0, 1.0, down)
        self.low, high = wall.root(self.z), wall.blank.top(self.z)
        if np.any(high - self.low <= 0):
            raise ValueError(
                "wheel: the hob does not reach below the crest over the whole face; "
                "check throat, centre distance and face width"
            )
        self._half = half
        self.rho: Array = self.radius(self.u[None, :], self.z[:, None])
        self.heights: Array = np.broadcast_to(self.z[:, None], self.rho.shape).copy()
        self._scan()

    def radius(self, u: Array, z: Array) -> Array:
        """Wheel radius at u [mm]."""
        low = self.wall.root(z)
        result: Array = low + (1e-9 + u * (1 - 1e-9)) * (self.wall.blank.top(z) - low)
        return result

    def _scan(self) -> None:
        rho, z, side = self.rho, self.heights, self.side
        first, last = self.wall.ends(rho, z)
        share = np.linspace(0.0, 1.0, MOMENTS)[:, None, None]
        beta = first + share * (last - first)
        value = side * self.wall.cut(beta, rho, z, side)[0]
        middle = value[1:-1]
        peak = (middle > value[:-2]) & (middle >= value[2:])
        branches: list[Array] = []
        self.has_flank: NDArray[np.bool_] = np.any(peak, axis=0)
        height = np.where(peak, middle, -np.inf)
        for _ in range(2):
            best = np.argmax(height, axis=0)[None]
            there = np.isfinite(np.take_along_axis(height, best, axis=0)[0])
            seed = np.where(there, np.take_along_axis(beta[1:-1], best, axis=0)[0], np.nan)
            if branches and not there.any():
                break
            branches.append(self._filled(seed))
            np.put_along_axis(height, best, -np.inf, axis=0)
        self._seeds = branches
        self._near_fillet: Array = np.ones_like(rho)
        self._near_fillet, self.angle, self.cut_at = self._at(rho, z, branches)
        self._any_fillet = bool(self._near_fillet.any())
        self.phase: Array = (self.cut_at - self.angle) / self.wall.turn_per_mm

    def _filled(self, seed: Array) -> Array:
        """Seeds for places without a maximum of their own: those of the place nearest above."""
        filled = seed.copy()
        for j in range(seed.shape[1] - 2, -1, -1):
            filled[:, j] = np.where(np.isnan(filled[:, j]), filled[:, j + 1], filled[:, j])
        for j in range(1, seed.shape[1]):
            filled[:, j] = np.where(np.isnan(filled[:, j]), filled[:, j - 1], filled[:, j])
        return np.nan_to_num(filled)

    def _at(self, rho: Array, z: Array, seeds: list[Array]) -> tuple[Array, Array, Array]:
        """Whether an end of the reach cuts here, the wall's angle, and where it was cut."""
        side, (first, last) = self.side, self.wall.ends(rho, z)
        best, at = np.full(rho.shape, -np.inf), np.zeros(rho.shape)
        for seed in seeds:
            beta = np.clip(seed, first, last)
            beta = np.clip(self._stationary(beta, rho, z, steps=4), first, last)
            value = side * self.wall.cut(beta, rho, z, side)[0]
            better = value > best
            best, at = np.where(better, value, best), np.where(better, beta, at)
        fillet = np.zeros(rho.shape)
        for beta in (first, last):
            value = side * self.wall.cut(beta, rho, z, side)[0]
            better = value > best
            fillet = np.where(better, 1.0, fillet)
            best, at = np.where(better, value, best), np.where(better, beta, at)
        return fillet, side * best, at

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
        near = mix(self._near_fillet) > 0 if self._any_fillet else np.zeros(rho.shape, bool)
        r, h = rho[near], z[near]
        first, last = self.wall.ends(r, h)
        best = np.full(rho.shape, -np.inf)
        for seeds in self._seeds:
            beta = self._stationary(mix(seeds), rho, z, steps=steps)
            beta[near] = np.clip(beta[near], first, last)
            best = np.maximum(best, self.side * self.wall.cut(beta, rho, z, self.side)[0])
        for beta in (first, last):
            best[near] = np.maximum(best[near], self.side * self.wall.cut(beta, r, h, self.side)[0])
        return rho, self.side * best

    def _mixer(self, u: Array, z: Array) -> Callable[[Array], Array]:
        """Takes a table to its values between the places of the table, linear in u and z."""
        across, down = self.rho.shape
        i, a = _cell((z / self._half + 1) / 2, across)
        j, b = _cell(u, down)
        spot = i * down + j

        def mixed(table: Array) -> Array:
            flat = table.ravel()
            left = flat[spot] * (1 - b) + flat[spot + 1] * b
            right = flat[spot + down] * (1 - b) + flat[spot + down + 1] * b
            result: Array = left * (1 - a) + right * a
            return result

        return mixed


def _cell(share: Array, count: int) -> tuple[NDArray[np.intp], Array]:
    """Number of the cell that a share 0..1 of the table falls in, and how far into it."""
    at = np.clip(share, 0.0, 1.0) * (count - 1)
    cell = np.minimum(at.astype(np.intp), count - 2)
    return cell, at - cell
