"""The last steps to first contact: each likely place is enclosed more and more closely.

A crest across the face may be smooth, or a corner where the worm's tip, the blank's edge or an
undercut takes over; so what is looked at shrinks only once the crest is seen inside it.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from wormwright.core.flank_meeting import Frame, Lines, Met, Near
from wormwright.core.helicoid import Helicoid
from wormwright.core.profile_crest import vertex
from wormwright.core.wall_table import WallTable

Array = NDArray[np.float64]

CANDIDATES = 3
"""Places followed to the end for each position, phase and side."""
SMOOTH, CORNERED = (3.0, 80.0), (2.0, 4000.0)
"""How much finer each round is, and the last; for a smooth wall and for one with a corner."""
MOST_ROUNDS = 48
FLAT = 1e-10
"""Change of the turn across the face that tells nothing of where its most lies [rad]."""
LAST = 1e-3
"""Half of the length of profile looked at, at last."""
WIDEST = 0.07
"""Half of the length of profile looked at, at first; the whole profile is 1."""
AT_END = 0.02
"""The same at the end of the face, where the crest line is only foreseen."""
STEEP = 2.0
"""Most change of u for each mm along the face that is taken for one crest line."""


def _beside(array: Array, advance: Array, shift: int, empty: float) -> Array:
    """The value of the next height of the same tooth one way, `empty` where there is none."""
    moved = np.full(array.shape, empty)
    here, there = (
        (slice(1, None), slice(None, -1)) if shift < 0 else (slice(None, -1), slice(1, None))
    )
    same = advance[..., here] == advance[..., there]
    moved[..., here] = np.where(same, array[..., there], empty)
    return moved


def _candidates(best: Array, advance: Array) -> NDArray[np.intp]:
    """The highest local maxima across the face of each tooth, as flat (tooth, height) numbers."""
    n, m = best.shape[:2]
    left, right = (_beside(best, advance, shift, -np.inf) for shift in (-1, 1))
    peak = np.where((best >= left) & (best >= right), best, -np.inf).reshape(n, m, -1)
    highest = np.argpartition(peak, -CANDIDATES, axis=-1)[..., -CANDIDATES:]
    most = np.argmax(peak, axis=-1)[..., None]
    there = np.isfinite(np.take_along_axis(peak, highest, axis=-1))
    result: NDArray[np.intp] = np.where(there, highest, most)
    return result


class Trail(NamedTuple):
    """Places followed: z, u, change of u along the face each way, half of what is looked at."""

    z: Array
    u: Array
    left: Array
    right: Array
    hz: Array
    hu: Array

    def at(self, rows: NDArray[np.intp]) -> Trail:
        """Some of them."""
        return Trail(*(column[rows] for column in self))

    def put(self, rows: NDArray[np.intp], moved: Trail) -> None:
        """Write them back."""
        for column, new in zip(self, moved, strict=True):
            column[rows] = new

    def first(self, zs: Array) -> Array:
        """First of three places along each profile, about where the crest line is expected."""
        away = zs - self.z[:, None]
        along = self.u[:, None] + away * np.where(away < 0, self.left[:, None], self.right[:, None])
        step = self.hu[:, None]
        result: Array = np.clip(along, step, 1 - step) - step
        return result


def sharpened(
    table: WallTable, worm: Helicoid, frame: Frame, lines: Lines, *, radius: float
) -> Met:
    """First contact of each position and phase from the nearest places of every profile.

    Source: derived. Formula: parabola steps across the face and along the profile about the
        highest candidates until each is enclosed closely; the highest of them.
    Inputs: wall, worm, its frames, its nearest places; r2 [mm]. Outputs: Met, shape (n, m).
    Valid for: any wall. Raises: nothing; where nothing is met the turn is infinite.
    """
    picked = _candidates(lines.ahead, lines.advance)
    n, m, _, across = lines.ahead.shape

    def of(array: Array) -> Array:
        return np.take_along_axis(array.reshape(n, m, -1), picked, axis=-1).ravel()

    rows = np.repeat(np.arange(n), m * CANDIDATES)
    dz = float(table.z[1] - table.z[0])
    z, u, advance = table.z[picked % across].ravel(), of(lines.u), of(lines.advance)
    left, right = (
        (of(_beside(lines.u, lines.advance, shift, np.nan)) - u) / (shift * dz) for shift in (-1, 1)
    )
    trail = Trail(z, u, *_leans(left, right), np.full(z.shape, 0.7 * dz), np.full(z.shape, WIDEST))
    near = Near(table, worm, frame.at(rows).shaped(2), advance[:, None, None], radius)
    shrink, finer = CORNERED if table.undercut else SMOOTH
    for _ in range(MOST_ROUNDS):
        going = np.flatnonzero(trail.hz > 0.7 * dz / finer)
        if going.size == 0:
            break
        trail.put(going, _closer(near.at(going), trail.at(going), shrink))
    zs = np.stack([trail.z, _at_corner(trail.z, table.wall.blank.corner, 3 * trail.hz)], axis=1)
    level, crest = _last_look(near, trail.first(zs), zs, trail.hu)
    level, crest, zs = _at_end_too(near, trail, (level, crest, zs), dz)
    shape = (n, m, 3 * CANDIDATES)
    ahead = np.argmax(level.reshape(shape), axis=-1)[..., None]
    value, u_at, z_at, advance_at = (
        np.take_along_axis(a.reshape(shape), ahead, axis=-1)[..., 0]
        for a in (level, crest, zs, np.repeat(advance, 3))
    )
    return Met(table.side * value, table.radius(u_at, z_at), z_at, u_at, advance_at)


def _closer(near: Near, trail: Trail, shrink: float) -> Trail:
    """One round: three heights, the crest of the profile at each, and a step to the highest."""
    half = near.table.z[-1]
    hz, hu = trail.hz, trail.hu
    middle = np.clip(trail.z, -half + hz, half - hz)
    zs = middle[:, None] + np.array([-1.0, 0.0, 1.0]) * hz[:, None]
    start = trail.first(zs)
    level, crest = near.crest(start, zs, step=hu, steps=2)
    top = np.argmax(np.where(np.isnan(level), -np.inf, level), axis=1) - 1.0
    s = vertex(level[:, 0], level[:, 1], level[:, 2])
    s = np.clip(np.where(np.isnan(s), top, s), top - 0.6, top + 0.6)
    z = np.clip(middle + s * hz, -half, half)
    left, right = (crest[:, 1] - crest[:, 0]) / hz, (crest[:, 2] - crest[:, 1]) / hz
    u = crest[:, 1] + (z - middle) * np.where(z < middle, left, right)
    # a crest found at the end of what was looked at is not yet enclosed
    inside = np.abs(crest - start - hu[:, None]) < 0.99 * hu[:, None]
    inside |= (crest <= 1e-9) | (crest >= 1 - 1e-9) | ~np.isfinite(level)
    seen = np.all(inside, axis=1)
    flat = np.ptp(level, axis=1) < FLAT
    enclosed = flat | (seen & ((np.abs(s) < 1) | (np.abs(z) >= half)))
    finer = np.where(enclosed, 1 / shrink, 1.0)
    hu = np.where(seen, hu * finer, np.minimum(2 * hu, WIDEST))
    return Trail(z, u, left, right, hz * finer, hu)


def _last_look(near: Near, first: Array, zs: Array, hu: Array) -> tuple[Array, Array]:
    """Crest of each profile found once more close by, and the exact value there."""
    level, crest = near.crest(first, zs, step=hu, steps=6)
    close = np.minimum(hu, LAST)
    level, crest = near.crest(
        np.clip(crest, close[:, None], 1 - close[:, None]) - close[:, None], zs, step=close, steps=6
    )
    there = near.met(crest[..., None], zs, steps=6)[0][..., 0]
    return np.where(np.isfinite(level) & np.isfinite(there), there, -np.inf), crest


def _at_end_too(
    near: Near, trail: Trail, looked: tuple[Array, Array, Array], dz: float
) -> tuple[Array, Array, Array]:
    """The end of the face beside each place nearer to it than a step of the table.

    Past the corner of the blank the turn may rise again, within less than a step.
    """
    half = near.table.z[-1]
    away = half - np.abs(trail.z)
    rows = np.flatnonzero((away > 0) & (away < dz))
    end = np.copysign(half, trail.z)[:, None]
    level, crest = np.full(end.shape, -np.inf), np.zeros(end.shape)
    if rows.size:
        wide = np.full(rows.size, AT_END)
        there = trail.at(rows)._replace(hu=wide)
        level[rows], crest[rows] = _last_look(
            near.at(rows), there.first(end[rows]), end[rows], wide
        )
    added = (level, crest, end)
    first, second, third = (
        np.concatenate([old, new], axis=1) for old, new in zip(looked, added, strict=True)
    )
    return first, second, third


def _leans(left: Array, right: Array) -> tuple[Array, Array]:
    """Change of u each way along the face; where one way shows none, that of the other."""
    left, right = (np.where(np.abs(v) < STEEP, v, np.nan) for v in (left, right))
    left, right = np.where(np.isnan(left), right, left), np.where(np.isnan(right), left, right)
    return np.nan_to_num(left), np.nan_to_num(right)


def _at_corner(z: Array, corner: float, near: Array) -> Array:
    """Heights moved onto the corner of the blank, where hollow and outside meet, if near it."""
    at = np.copysign(corner, z)
    return np.where(np.abs(z - at) < near, at, z)
