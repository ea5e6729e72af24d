"""Exact flank contact of a worm with the wheel its hob cut, wherever the worm stands.

Moves of the worm (model frame): `da` along Y (above zero apart), `dz` along Z, `sx` along X,
`skew` about +Y, `tilt` about +Z, from the generating position. Backlash is circumferential at the
wheel pitch radius, mm.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from wormwright.core.flank_meeting import Frame, Met, Place
from wormwright.core.flank_search import first_contact
from wormwright.core.helicoid import Helicoid
from wormwright.core.wall_table import WallTable
from wormwright.core.wheel_wall import Wall

Array = NDArray[np.float64]

ACROSS, DOWN = 13, 14
FINER = 25, 40
"""Table of an undercut wall."""
BATCH = 800
"""Positions times phases worked at once: bounds the memory."""


@dataclass(frozen=True, slots=True)
class FlankContact:
    """First contact of one flank.

    `turn` is how far the wheel stands from the ideal angle at contact, mm at r2; `rho`, `z` where
    on the wheel [mm], `u` the same place from root 0 to crest 1; `advance` is that of the worm
    tooth in contact [mm].
    """

    turn: Array
    rho: Array
    z: Array
    u: Array
    advance: Array


@dataclass(frozen=True, slots=True)
class Contact:
    """Both flanks by worm phase [mm of worm advance], shape (phases,) or (places, phases)."""

    phase: Array
    plus: FlankContact
    minus: FlankContact

    @property
    def backlash(self) -> Array:
        """Backlash at r2 by phase [mm]; below zero the worm cannot stand there."""
        return self.minus.turn - self.plus.turn


class FlankMesh:
    """A worm and the wheel of a given hob; the wheel wall is worked out once and kept.

    `pitch` is the axial pitch; `run_in` the place, from nominal centres, where the flanks fit as if
    just cut; `across` and `down` are the numbers of heights over the face and of
    radii in each.
    """

    def __init__(
        self,
        worm: Helicoid,
        wall: Wall,
        *,
        centre: float,
        pitch: float,
        across: int = ACROSS,
        down: int = DOWN,
        run_in: Place = Place(),  # noqa: B008
    ) -> None:
        """Cut the wheel and keep its walls."""
        self.worm, self.wall, self.centre, self.pitch = worm, wall, centre, pitch
        self.run_in = run_in
        self.radius = 1 / wall.turn_per_mm
        plus = WallTable(wall, 1, across=across, down=down)
        if plus.undercut and down < FINER[1]:
            plus = WallTable(wall, 1, across=FINER[0], down=FINER[1])
        self.sides = {1: plus, -1: plus.mirrored()}

    def contact(self, place: Place = Place(), *, phases: int = 8) -> Contact:  # noqa: B008
        """First contact of both flanks over one pitch of worm advance; see `contacts`."""
        many = self.contacts(place, phases=phases)
        plus, minus = (
            FlankContact(f.turn[0], f.rho[0], f.z[0], f.u[0], f.advance[0])
            for f in (many.plus, many.minus)
        )
        return Contact(many.phase[0], plus, minus)

    def contacts(self, places: Place, *, phases: int | Array = 8) -> Contact:
        """First contact of both flanks for many places of the worm.

        Source: contact of rigid surfaces; meshing needs no condition here because the wheel wall
            is compared point by point with the moved worm flank.
        Formula: on the + side the wheel must stand at least max(beta_w - wall) ahead, on the -
            side at most min(beta_w - wall), beta_w the polar angle of the worm flank there.
        Inputs: places, each move a number or an array of n [mm, rad]; phases: their number over
            one pitch, or the worm advance [mm], shape (m,) or (n, m).
        Outputs: Contact, shape (n, m). Time grows with n m, memory does not.
        Valid for: moves small against the tooth. Raises: ValueError when no flank is met.
        """
        moves = self.from_run_in(places)
        count = len(moves[0])
        if isinstance(phases, int):
            phases = np.arange(phases, dtype=float) * (self.pitch / phases)
        phase = np.broadcast_to(phases, (count, np.shape(phases)[-1]))
        rows = max(1, BATCH // phase.shape[1])
        found: dict[int, list[Met]] = {1: [], -1: []}
        for start in range(0, count, rows):
            part = slice(start, start + rows)
            frame = Frame.of(Place(*(move[part] for move in moves)), self.centre)
            for side, table in self.sides.items():
                found[side].append(
                    first_contact(
                        table, self.worm, frame, phase[part], radius=self.radius, pitch=self.pitch
                    )
                )
        return Contact(phase, self._joined(found[1]), self._joined(found[-1]))

    def from_run_in(self, places: Place) -> tuple[Array, ...]:
        """The moves as arrays of one length, counted from where the pair has bedded in."""
        counted = (
            np.atleast_1d(np.asarray(v - r, dtype=float))
            for v, r in zip(places, self.run_in, strict=True)
        )
        return tuple(np.broadcast_arrays(*counted))

    def _joined(self, parts: list[Met]) -> FlankContact:
        met = Met(*(np.concatenate(column) for column in zip(*parts, strict=True)))
        return FlankContact(met.turn * self.radius, met.rho, met.z, met.u, met.advance)


__all__ = ["Contact", "FlankContact", "FlankMesh", "Place"]
