"""Where a moved worm first meets one side of the wheel: whole profile first, then across the face.

The body of `first_contact` is one chain of array steps and longer than elsewhere because splitting
it would only pass a dozen arrays about. Everything is worked for all positions, phases and teeth at
once; the caller keeps the batch small enough for the cache.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from wormwright.core.helicoid import Helicoid
from wormwright.core.wall_table import WallTable

Array = NDArray[np.float64]

CANDIDATES = 3
"""Places followed to the end for each position, phase and side."""
ROUNDS = 4
SHRINK = 3.0
BEYOND = 0.5
"""Share of a pitch beyond the path of contact in which edges are looked for."""


class Place(NamedTuple):
    """Where the worm stands, from the generating position [mm, rad]; numbers or arrays."""

    da: Array | float = 0.0
    dz: Array | float = 0.0
    sx: Array | float = 0.0
    skew: Array | float = 0.0
    tilt: Array | float = 0.0


class Met(NamedTuple):
    """First contact of one side: wheel turn [rad], radius and height on the wheel [mm], tooth."""

    turn: Array
    rho: Array
    z: Array
    u: Array
    advance: Array


class Frame(NamedTuple):
    """The moved worm: unit vectors of its axis, of the way to the wheel and of the third way."""

    axis: tuple[Array, Array, Array]
    to_wheel: tuple[Array, Array, Array]
    third: tuple[Array, Array, Array]
    foot: tuple[Array, Array, Array]

    @classmethod
    def of(cls, place: Place, centre: float) -> Frame:
        """The frame of a worm at a place, its foot on the common perpendicular."""
        da, dz, sx, skew, tilt = (np.asarray(v, dtype=np.float64) for v in place)
        cs, ss, ct, st = np.cos(skew), np.sin(skew), np.cos(tilt), np.sin(tilt)
        return cls(
            (cs * ct, st, -ss * ct),
            (cs * st, -ct, -ss * st),
            (ss, np.zeros_like(ss), cs),
            (sx, centre + da, dz),
        )

    def shaped(self, extra: int) -> Frame:
        """The same with `extra` axes behind."""

        def widened(v: tuple[Array, Array, Array]) -> tuple[Array, Array, Array]:
            a, b, c = (np.asarray(p).reshape(np.shape(p) + (1,) * extra) for p in v)
            return a, b, c

        return Frame(*(widened(v) for v in self))

    def at(self, rows: NDArray[np.intp]) -> Frame:
        """The frames of the given rows."""
        return Frame(*((v[0][rows], v[1][rows], v[2][rows]) for v in self))


def miss(
    worm: Helicoid, frame: Frame, rho: Array, z: Array, *, beta: Array, side: int
) -> tuple[Array, Array, Array, Array]:
    """How far a wheel point lies beyond the worm flank along the worm, its slope along beta.

    Also the radius of the point about the worm and the squared length of the flank's normal.
    """
    px, py = rho * np.sin(beta), rho * np.cos(beta)
    (a1, a2, a3), (b1, b2, b3), (c1, _, c3), (f1, f2, f3) = frame
    dx, dy, dz = px - f1, py - f2, z - f3
    depth = b1 * dx + b2 * dy + b3 * dz
    across = c1 * dx + c3 * dz
    height, down, aside = worm.height_and_slopes(depth, across, side)
    beyond = a1 * dx + a2 * dy + a3 * dz - height
    slope = (a1 - down * b1 - aside * c1) * py - (a2 - down * b2) * px
    normal = 1 + down * down + aside * aside
    return beyond, slope, np.sqrt(depth * depth + across * across), normal


def turn_to_meet(
    worm: Helicoid,
    frame: Frame,
    rho: Array,
    z: Array,
    *,
    angle: Array,
    advance: Array,
    side: int,
    radius: float,
    steps: int,
) -> tuple[Array, Array]:
    """Wheel turn from ideal at which a wall point meets the worm flank [rad], and its worm radius.

    Newton steps on one number; where they do not settle the turn is not a number.
    """
    ideal = angle + advance / radius
    beta = ideal + frame.foot[0] / radius
    step = np.zeros(1)
    for _ in range(steps):
        beyond, slope, r, _ = miss(worm, frame, rho, z, beta=beta, side=side)
        step = (beyond - advance) / slope
        beta = beta - step
    turn: Array = np.where(np.abs(step) < 2e-3, beta - ideal, np.nan)
    return turn, r


def first_contact(
    table: WallTable,
    worm: Helicoid,
    frame: Frame,
    phase: Array,
    *,
    radius: float,
    pitch: float,
) -> Met:
    """First contact on one side for every position and phase.

    Source: contact of rigid surfaces; the wheel must stand at least max(side * turn) off.
    Formula: max over teeth, heights and radii of side * (beta where the point meets the worm
        flank - wall angle - advance / r2).
    Inputs: frames of n positions, phase [mm], shape (n, m). Outputs: Met, shape (n, m).
    Valid for: moves small against the tooth. Raises: ValueError when no flank is met.
    """
    side = table.side
    tooth = _teeth(table, phase + frame.foot[0][:, None], pitch)
    advance = phase[:, :, None, None] + tooth * pitch
    with np.errstate(invalid="ignore", divide="ignore", over="ignore"):
        turn, r = turn_to_meet(
            worm,
            frame.shaped(4),
            table.rho,
            table.heights,
            angle=table.angle,
            advance=advance[..., None],
            side=side,
            radius=radius,
            steps=2,
        )
        best, u = _along_profile(side * turn, r, worm.tip, table.u[0], table.u[1] - table.u[0])
        picked = _candidates(best)
        met = _sharpen(table, worm, frame, (best, u, advance), picked, radius=radius)
    if not np.all(np.isfinite(met.turn)):
        raise ValueError("the worm misses the wheel: no flank is met; check the place given")
    return met


def _teeth(table: WallTable, phase: Array, pitch: float) -> Array:
    """Numbers of the teeth that can touch, by position, phase, tooth and height."""
    shown = np.where(table.has_flank, table.phase, np.nan)
    low, high = np.nanmin(shown, axis=1), np.nanmax(shown, axis=1)
    count = math.ceil(float((high - low).max()) / pitch + 2 * BEYOND)
    start = np.ceil((low - phase[..., None]) / pitch - BEYOND)
    result: Array = start[:, :, None, :] + np.arange(count)[:, None]
    return result


def _along_profile(
    value: Array, r: Array, tip: float, first: Array | float, step: Array | float
) -> tuple[Array, Array]:
    """Most of `value` along the last axis where the worm reaches (r <= tip), and where it is.

    A parabola through the best point and its neighbours; `first` is u of the first point.
    """
    count = value.shape[-1]
    reached = np.where((r <= tip) & np.isfinite(value), value, -np.inf)
    best = np.argmax(reached, axis=-1)[..., None]
    top = np.take_along_axis(reached, best, axis=-1)[..., 0]
    middle = np.clip(best, 1, count - 2)
    (v0, v1, v2), (r0, r1, r2) = (
        tuple(np.take_along_axis(a, middle + k, axis=-1)[..., 0] for k in (-1, 0, 1))
        for a in (value, r)
    )
    s = _vertex(v0, v1, v2)
    # the worm ends at its tip: r falls as u grows, so s may not go below where r is the tip
    fall, bend = (r2 - r0) / 2, (r2 - 2 * r1 + r0) / 2
    least = (tip - r1) / fall
    least = (tip - r1 - bend * least * least) / fall
    at_best = (best - middle)[..., 0]
    low = np.where(at_best == 0, np.maximum(least, -1.0), np.maximum(least, at_best - 0.5))
    low = np.where(np.isfinite(low), low, -1.0)
    s = np.clip(np.where(np.isnan(s), at_best, s), np.minimum(low, 1.0), 1.0)
    value_at = v1 + s * ((v2 - v0) / 2 + s * (v2 - 2 * v1 + v0) / 2)
    value_at = np.where(np.isfinite(value_at), value_at, top)
    return np.where(np.isfinite(top), value_at, -np.inf), first + (middle[..., 0] + s) * step


def _vertex(v0: Array, v1: Array, v2: Array) -> Array:
    """Where the parabola through three even points is highest, in steps from the middle one."""
    bend = v0 - 2 * v1 + v2
    steep = (v2 - v0) / 2
    uphill = np.where(steep == 0, 0.0, np.sign(steep) * np.inf)
    result: Array = np.where(bend < -1e-15, -steep / np.where(bend == 0, 1.0, bend), uphill)
    return result


def _candidates(best: Array) -> NDArray[np.intp]:
    """The highest local maxima across the face over all teeth, as flat (tooth, height) numbers."""
    n, m = best.shape[:2]
    edge = np.full((*best.shape[:-1], 1), -np.inf)
    left = np.concatenate([edge, best[..., :-1]], axis=-1)
    right = np.concatenate([best[..., 1:], edge], axis=-1)
    peak = np.where((best >= left) & (best >= right), best, -np.inf).reshape(n, m, -1)
    highest = np.argpartition(peak, -CANDIDATES, axis=-1)[..., -CANDIDATES:]
    most = np.argmax(peak, axis=-1)[..., None]
    there = np.isfinite(np.take_along_axis(peak, highest, axis=-1))
    result: NDArray[np.intp] = np.where(there, highest, most)
    return result


def _sharpen(
    table: WallTable,
    worm: Helicoid,
    frame: Frame,
    coarse: tuple[Array, Array, Array],
    picked: NDArray[np.intp],
    *,
    radius: float,
) -> Met:
    """Parabola steps about each candidate; the best exact value wins."""
    best, u_line, advance_all = coarse
    n, m, _, across = best.shape
    height = picked % across

    def of(array: Array, shift: int) -> Array:
        flat = array.reshape(n, m, -1)
        spot = picked + np.clip(height + shift, 0, across - 1) - height
        return np.take_along_axis(flat, spot, axis=-1).ravel()

    rows = np.repeat(np.arange(n), m * CANDIDATES)
    moved = frame.at(rows).shaped(2)
    half, side = table.z[-1], table.side
    z, u, advance = table.z[height].ravel(), of(u_line, 0), of(advance_all, 0)
    lean = _lean(of(u_line, -1), of(u_line, 1), height.ravel(), across)
    lean = lean / (table.z[1] - table.z[0])
    hz, hu = (table.z[1] - table.z[0]) * 0.7, 0.07
    value = np.full(z.shape, -np.inf)
    offsets = np.array([-1.0, 0.0, 1.0])
    for round_ in range(ROUNDS + 1):
        last = round_ == ROUNDS
        middle = np.clip(z, -half + hz, half - hz)
        zs = z[:, None] if last else middle[:, None] + offsets * hz
        start = np.clip(u[:, None] + lean[:, None] * (zs - z[:, None]), hu, 1 - hu) - hu
        us = start[..., None] + np.arange(3) * hu
        heights = np.broadcast_to(zs[..., None], us.shape)
        rho, angle = table.angles(us, heights, steps=2)
        turn, r = turn_to_meet(
            worm,
            moved,
            rho,
            heights,
            angle=angle,
            advance=advance[:, None, None],
            side=side,
            radius=radius,
            steps=3,
        )
        level, crest = _along_profile(side * turn, r, worm.tip, start, hu)
        if last:
            value, u = level[:, 0], crest[:, 0]
            break
        top = np.argmax(np.where(np.isnan(level), -np.inf, level), axis=1) - 1.0
        s = _vertex(level[:, 0], level[:, 1], level[:, 2])
        s = np.clip(np.where(np.isnan(s), top, s), top - 0.6, top + 0.6)
        z_new = np.clip(middle + s * hz, -half, half)
        at = (z_new - middle) / hz
        change = (crest[:, 2] - crest[:, 0]) / 2
        u = crest[:, 1] + at * (change + at * (crest[:, 2] - 2 * crest[:, 1] + crest[:, 0]) / 2)
        z, lean, hz, hu = z_new, change / hz, hz / SHRINK, hu / SHRINK
    shape = (n, m, CANDIDATES)
    ahead = np.argmax(np.where(np.isfinite(value), value, -np.inf).reshape(shape), axis=-1)[
        ..., None
    ]

    def chosen(array: Array) -> Array:
        return np.take_along_axis(array.reshape(shape), ahead, axis=-1)[..., 0]

    u_at, z_at = chosen(u), chosen(z)
    return Met(side * chosen(value), table.radius(u_at, z_at), z_at, u_at, chosen(advance))


def _lean(left: Array, right: Array, height: NDArray[np.intp], across: int) -> Array:
    """Change of u from one height of the table to the next."""
    both = np.where((height > 0) & (height < across - 1), 2.0, 1.0)
    result: Array = (right - left) / both
    return np.where(np.abs(result) < 0.5, result, 0.0)
