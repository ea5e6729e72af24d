"""Exact flank contact of a worm with the wheel its hob cut, wherever the worm stands.

Moves of the worm (model frame): `da` along Y (above zero apart), `dz` along Z, `sx` along X,
`skew` about +Y, `tilt` about +Z, from the generating position. Backlash is circumferential at the
wheel pitch radius, mm.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from wormwright.core.helicoid import Helicoid
from wormwright.core.wheel_wall import Wall, sharpened_wall, wall_angles

Array = NDArray[np.float64]


class Place(NamedTuple):
    """Where the worm stands, from the generating position [mm, rad]."""

    da: float = 0.0
    dz: float = 0.0
    sx: float = 0.0
    skew: float = 0.0
    tilt: float = 0.0


@dataclass(frozen=True, slots=True)
class FlankContact:
    """First contact of one flank, by worm phase [mm of worm advance over one pitch].

    `turn` is how far the wheel stands from the ideal angle at contact, mm at r2; `rho`, `z` where
    on the wheel [mm].
    """

    turn: Array
    rho: Array
    z: Array


@dataclass(frozen=True, slots=True)
class Contact:
    """Both flanks of one place of the worm. `phase` in mm of worm advance, shape (phases,)."""

    phase: Array
    plus: FlankContact
    minus: FlankContact

    @property
    def backlash(self) -> Array:
        """Backlash at r2 by phase [mm]; below zero the worm cannot stand there."""
        return self.minus.turn - self.plus.turn


class _Side(NamedTuple):
    """The cached wall of one side: places, wall angle and the polar angle where it was cut."""

    rho: Array
    z: Array
    angle: Array
    cut_at: Array


class FlankMesh:
    """A worm and the wheel of a given hob; the wheel wall is worked out once and kept.

    `across` and `down` are the numbers of heights over the face and of radii in each.
    """

    def __init__(
        self, worm: Helicoid, wall: Wall, *, centre: float, pitch: float, across: int, down: int
    ) -> None:
        """Cut the wheel and keep its walls."""
        self.worm, self.wall, self.centre, self.pitch = worm, wall, centre, pitch
        self.radius = 1 / wall.turn_per_mm
        z = np.linspace(-wall.blank.half_face, wall.blank.half_face, across)
        low, high = wall.root(z), wall.blank.top(z)
        if np.any(high - low <= 0):
            raise ValueError(
                "wheel: the hob does not reach below the crest over the whole face; "
                "check throat, centre distance and face width"
            )
        u = np.linspace(1e-6, 1.0, down)
        rho = low[:, None] + u * (high - low)[:, None]
        heights = np.broadcast_to(z[:, None], rho.shape)
        self._sides = {
            side: _Side(rho, heights, *wall_angles(wall, rho, heights, side)) for side in (1, -1)
        }
        self._grid = (z[1] - z[0], 1.0 / (down - 1))
        self._teeth = np.arange(-self._reach(), self._reach() + 1)

    def _reach(self) -> int:
        """How many teeth to each side of the middle one can touch the worm."""
        depth = float((self.wall.blank.top(np.zeros(1)) - self.wall.root(np.zeros(1)))[0])
        half = math.sqrt(2 * self.radius * depth) + self.pitch
        return min(math.ceil(half / self.pitch), 12)

    def contact(self, place: Place = Place(), *, phases: int = 8) -> Contact:  # noqa: B008
        """First contact of both flanks over one pitch of worm advance.

        Source: contact of rigid surfaces; meshing needs no condition here because the wheel wall
            is compared point by point with the moved worm flank.
        Formula: on the + side the wheel must stand at least max(beta_w - wall) ahead, on the -
            side at most min(beta_w - wall), beta_w the polar angle of the worm flank there.
        Inputs: place of the worm; phases over one pitch.
        Outputs: Contact, shape (phases,).
        Valid for: moves small against the tooth. Raises: ValueError when no flank is met.
        """
        phase: Array = np.arange(phases, dtype=float) * (self.pitch / phases)
        advance = (phase[:, None] + self._teeth * self.pitch).ravel()
        found = {}
        for side in (1, -1):
            found[side] = self._first_contact(place, advance, side, phases)
        return Contact(phase, found[1], found[-1])

    def _first_contact(self, place: Place, advance: Array, side: int, phases: int) -> FlankContact:
        cached = self._sides[side]
        turn = self._turn(
            place, advance[:, None, None], cached.rho, cached.z, side=side, angle=cached.angle
        )
        flat = turn.reshape(len(advance), -1)
        best = np.argmax(side * flat, axis=1)
        by_tooth = np.take_along_axis(flat, best[:, None], axis=1)[:, 0].reshape(phases, -1)
        tooth = np.argmax(side * by_tooth, axis=1)
        row = np.arange(phases) * len(self._teeth) + tooth
        spot = best[row]
        if not np.all(np.isfinite(flat[row, spot])):
            raise ValueError("the worm misses the wheel: no flank is met; check the place given")
        return self._sharpen(place, advance[row], side, spot)

    def _sharpen(self, place: Place, advance: Array, side: int, spot: Array) -> FlankContact:
        """Close in on the contact: small grids about it, each a third of the one before."""
        cached, (dz, du) = self._sides[side], self._grid
        z, cut_at = cached.z.ravel()[spot], cached.cut_at.ravel()[spot]
        low, high = self._limits(z)
        u = (cached.rho.ravel()[spot] - low) / (high - low)
        half = self.wall.blank.half_face
        oz, ou = (o.ravel()[None, :] for o in np.meshgrid(*(np.linspace(-1, 1, 5),) * 2))
        step, sharp = np.full(len(z), 0.02), None
        for _ in range(7):
            zs = np.clip(z[:, None] + oz * dz, -half, half)
            us = np.clip(u[:, None] + ou * du, 1e-9, 1.0)
            low, high = self._limits(zs)
            rho = low + us * (high - low)
            angle, at = sharpened_wall(
                self.wall,
                rho,
                zs,
                side,
                centre=np.broadcast_to(cut_at[:, None], zs.shape),
                step=np.broadcast_to(step[:, None], zs.shape),
            )
            turn = self._turn(place, advance[:, None], rho, zs, side=side, angle=angle)
            best = np.argmax(side * turn, axis=1)[:, None]
            z, u, cut_at, sharp = (
                np.take_along_axis(array, best, axis=1)[:, 0] for array in (zs, us, at, turn)
            )
            dz, du, step = dz * 0.5, du * 0.5, step * 0.5
        assert sharp is not None
        low, high = self._limits(z)
        return FlankContact(sharp * self.radius, low + u * (high - low), z)

    def _limits(self, z: Array) -> tuple[Array, Array]:
        return self.wall.root(z), self.wall.blank.top(z)

    def _turn(
        self, place: Place, advance: Array, rho: Array, z: Array, *, side: int, angle: Array
    ) -> Array:
        """Wheel turn from ideal at which the wall point meets the moved worm flank [rad]."""
        beta = angle + advance / self.radius
        inside = np.ones(np.broadcast_shapes(beta.shape, rho.shape), bool)
        for _ in range(6):
            miss, slope, r = self._miss(place, advance, rho, z, side=side, beta=beta)
            beta = beta - miss / slope
        inside = (r <= self.worm.tip) & (r >= 0.9 * self.worm.root) & (np.abs(miss) < 1e-3)
        result: Array = np.where(inside, beta - angle - advance / self.radius, -side * np.inf)
        return result

    def _miss(
        self, place: Place, advance: Array, rho: Array, z: Array, *, side: int, beta: Array
    ) -> tuple[Array, Array, Array]:
        """How far the wall point stands beyond the worm flank along its axis, and d/d beta."""
        x, y = rho * np.sin(beta), rho * np.cos(beta)
        dx, dy, dz = x - place.sx, y - self.centre - place.da, z - place.dz
        (a1, a2, a3), (b1, b2, b3), (c1, c2, c3) = _axes(place)
        along = a1 * dx + a2 * dy + a3 * dz
        depth = b1 * dx + b2 * dy + b3 * dz
        across = c1 * dx + c2 * dy + c3 * dz
        height, fx, fz = self.worm.height_and_slopes(depth, across, side)
        vx, vy = y, -x
        slope = (a1 * vx + a2 * vy) - fx * (b1 * vx + b2 * vy) - fz * (c1 * vx + c2 * vy)
        return along - height - advance, slope, np.hypot(depth, across)


def _axes(place: Place) -> tuple[tuple[float, ...], tuple[float, ...], tuple[float, ...]]:
    """Unit vectors of the moved worm: its axis, the direction to the wheel, the third."""
    cs, ss = math.cos(place.skew), math.sin(place.skew)
    ct, st = math.cos(place.tilt), math.sin(place.tilt)
    axis = (cs * ct, st, -ss * ct)
    to_wheel = (cs * st, -ct, -ss * st)
    third = (ss, 0.0, cs)
    return axis, to_wheel, third
