"""A moved worm and the places of the wheel it is brought to: frames, and the turn to their meeting.

Everything is worked for all positions, phases and teeth at once.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from wormwright.core.helicoid import Helicoid
from wormwright.core.profile_crest import profile_crest
from wormwright.core.wall_table import WallTable

Array = NDArray[np.float64]


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


class Lines(NamedTuple):
    """Nearest place of every profile, by position, phase, tooth and height.

    `ahead` is side * turn [rad] (-inf where the worm does not reach), then u, and the advance of
    the tooth [mm].
    """

    ahead: Array
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


class Near(NamedTuple):
    """Worms, each with its tooth, to be brought near any places of the wall."""

    table: WallTable
    worm: Helicoid
    frame: Frame
    advance: Array
    radius: float

    def at(self, rows: NDArray[np.intp]) -> Near:
        """Some of the worms."""
        frame, advance = self.frame.at(rows), self.advance[rows]
        return Near(self.table, self.worm, frame, advance, self.radius)

    def met(self, u: Array, z: Array, *, steps: int) -> tuple[Array, Array, Array | None]:
        """Side * turn [rad] at u, worm radius, and how far behind the branches of the wall lie."""
        table = self.table
        heights = np.broadcast_to(z[..., None], u.shape)
        behind: Array | None = None
        if table.undercut:
            rho, angle, behind = table.branches(u, heights)
        else:
            rho, angle = table.angles(u, heights, steps=steps)
        turn, r = turn_to_meet(
            self.worm,
            self.frame,
            rho,
            heights,
            angle=angle,
            advance=self.advance,
            side=table.side,
            radius=self.radius,
            steps=3,
        )
        return table.side * turn, r, behind

    def crest(self, first: Array, z: Array, *, step: Array, steps: int) -> tuple[Array, Array]:
        """Most of side * turn along each profile within two steps of `first`, and its u."""
        step = step[:, None]
        us = first[..., None] + np.arange(3) * step[..., None]
        turned, r, behind = self.met(us, z, steps=steps)
        level, crest = profile_crest(
            turned,
            r,
            tip=self.worm.tip,
            first=first,
            step=step,
            beyond=np.minimum((1 - first) / step, 4.0) - 2.0,
            behind=behind,
        )
        if behind is None:
            return level, crest
        # near a corner the parabolas only say where to look
        there = self.met(crest[..., None], z, steps=steps)[0][..., 0]
        seen = np.where((r <= self.worm.tip) & np.isfinite(turned), turned, -np.inf)
        best = np.argmax(seen, axis=-1)[..., None]
        u_seen, seen = (np.take_along_axis(a, best, axis=-1)[..., 0] for a in (us, seen))
        better = np.isfinite(level) & (there >= seen)
        return np.where(better, there, seen), np.where(better, crest, u_seen)
