"""What a moved worm does: backlash, transmission error, room at crests, and the gap on each flank.

Frame and signs as in `flank`. A gap is the distance along the common normal, mm.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from wormwright.core.backlash import Floats
from wormwright.core.flank import Contact, FlankContact, FlankMesh, Place
from wormwright.core.flank_meeting import Frame, miss, turn_to_meet
from wormwright.core.wall_table import WallTable

Array = NDArray[np.float64]

ACROSS_FIELD, DOWN_FIELD, PHASES_FIELD = 41, 31, 32
HEIGHTS = 81


class OverAPitch(NamedTuple):
    """Least, mean and most over one pitch of worm advance, one value a place [mm at r2]."""

    least: Array
    mean: Array
    most: Array


class CrestRoom(NamedTuple):
    """Least distance over the face, one value a place [mm]; below zero it has bottomed.

    `worm_crest` stands over the wheel's root, `wheel_crest` over the worm's root.
    """

    worm_crest: Array
    wheel_crest: Array


class GapField(NamedTuple):
    """Least gap at each place of one flank while its tooth passes through the mesh.

    `gap` [mm], infinite where the worm never comes opposite; `z` and `rho` [mm], all of one shape
    (heights, radii); `root_gap` is the room of the worm crest over the root at each height.
    """

    z: Array
    rho: Array
    gap: Array
    root_gap: Array


def backlash_over_a_pitch(contact: Contact) -> OverAPitch:
    """Backlash of each place over one pitch.

    Source: definition. Formula: least, mean and most of minus turn - plus turn over the phases.
    Inputs: Contact of shape (places, phases). Outputs: OverAPitch, shape (places,).
    Valid for: phases spread evenly over one pitch. Raises: nothing.
    """
    backlash = contact.backlash
    return OverAPitch(backlash.min(axis=-1), backlash.mean(axis=-1), backlash.max(axis=-1))


def transmission_error(flank: FlankContact, *, radius: float) -> tuple[Array, Array]:
    """How far the wheel runs from even while one flank drives, and its peak to peak.

    Source: definition. Formula: (turn - mean turn) / r2.
    Inputs: contact of one flank, phases last; r2 [mm].
    Outputs: error [rad], shape of the contact; peak to peak [rad], without the phases.
    Valid for: rigid bodies, no load. Raises: nothing.
    """
    error = (flank.turn - flank.turn.mean(axis=-1, keepdims=True)) / radius
    return error, np.ptp(error, axis=-1)


def crest_room(mesh: FlankMesh, places: Place) -> CrestRoom:
    """Room of both crests for a moved worm, least over the face.

    Source: geometry of the revolved root and crest of the wheel against the worm's cylinders.
    Formula: least over z and polar angle of (distance from the worm axis) - radius of the worm.
    Inputs: places. Outputs: CrestRoom [mm], shape (places,).
    Valid for: skew and tilt up to some degrees. Raises: nothing.
    """
    frame = Frame.of(Place(*mesh.from_run_in(places)), mesh.centre).shaped(1)
    half = mesh.wall.blank.half_face
    z = np.linspace(-half, half, HEIGHTS)
    below = _distance(frame, mesh.wall.root(z), z) - mesh.worm.tip
    above = _distance(frame, mesh.wall.blank.top(z), z) - mesh.worm.root
    return CrestRoom(below.min(axis=-1), above.min(axis=-1))


def _distance(frame: Frame, rho: Array, z: Array) -> Array:
    """Least distance over the polar angle from the circles (rho, z) to the worm axis."""

    def away(beta: Array) -> Array:
        dx = rho * np.sin(beta) - frame.foot[0]
        dy, dz = rho * np.cos(beta) - frame.foot[1], z - frame.foot[2]
        depth = frame.to_wheel[0] * dx + frame.to_wheel[1] * dy + frame.to_wheel[2] * dz
        across = frame.third[0] * dx + frame.third[2] * dz
        return np.hypot(depth, across)

    beta, step = np.zeros(np.broadcast_shapes(frame.foot[0].shape, z.shape)), 0.02
    for _ in range(3):
        left, middle, right = away(beta - step), away(beta), away(beta + step)
        beta = beta + step * (left - right) / (2 * (left - 2 * middle + right))
        step /= 4
    return away(beta)


def gap_field(mesh: FlankMesh, place: Place, side: int) -> GapField:
    """Least gap at each place of one flank of the wheel, that flank held against the worm.

    Source: rigid surfaces brought together by turning the wheel; what blue on the worm sees.
    Formula: least over phase and tooth of (first contact - turn of the place) * slope / |normal|.
    Inputs: one place; side +1 or -1. Outputs: GapField, shape (heights, radii).
    Valid for: a lightly braked turn. Raises: ValueError when no flank is met.
    """
    moved = _numbers(mesh, place)
    table = FlankMesh(
        mesh.worm,
        mesh.wall,
        centre=mesh.centre,
        pitch=mesh.pitch,
        across=ACROSS_FIELD,
        down=DOWN_FIELD,
    ).sides[side]
    contact = mesh.contact(place, phases=PHASES_FIELD)
    first = (contact.plus if side > 0 else contact.minus).turn / mesh.radius
    frame = Frame.of(moved, mesh.centre)
    gap = np.full(table.rho.shape, np.inf)
    for phase, ahead in zip(contact.phase, first, strict=True):
        tooth = np.round((table.phase - float(moved.sx) - phase) / mesh.pitch)
        opposite = _gaps(mesh, table, frame, phase + tooth * mesh.pitch, ahead=float(ahead))
        gap = np.fmin(gap, opposite)
    return GapField(table.heights, table.rho, gap, root_room(mesh, frame, table.z))


def root_room(mesh: FlankMesh, frame: Frame, z: Array) -> Array:
    """Room of the worm crest over the wheel's root at each height [mm]."""
    return _distance(frame, mesh.wall.root(z), z) - mesh.worm.tip


def _numbers(mesh: FlankMesh, place: Place) -> Place:
    da, dz, sx, skew, tilt = (float(v[0]) for v in mesh.from_run_in(place))
    return Place(da, dz, sx, skew, tilt)


def _gaps(
    mesh: FlankMesh, table: WallTable, frame: Frame, advance: Array, *, ahead: float
) -> Array:
    """Gap along the normal at every place of the table, the wheel standing `ahead` of ideal."""
    with np.errstate(invalid="ignore", divide="ignore"):
        turn, r = turn_to_meet(
            mesh.worm,
            frame,
            table.rho,
            table.heights,
            angle=table.angle,
            advance=advance,
            side=table.side,
            radius=mesh.radius,
            steps=4,
        )
        beta = table.angle + advance / mesh.radius + turn
        _, slope, _, normal = miss(
            mesh.worm, frame, table.rho, table.heights, beta=beta, side=table.side
        )
        gap = table.side * (ahead - turn) * slope / np.sqrt(normal)
    result: Array = np.where(r <= mesh.worm.tip, gap, np.nan)
    return result


class ExactMesh:
    """The exact contact as a `MeshModel`: the least backlash over one pitch."""

    def __init__(self, mesh: FlankMesh, *, phases: int = 8) -> None:
        """Keep the mesh; its backlash where the pair fits is found with the first places asked."""
        self.mesh, self.phases = mesh, phases
        self._at_rest: float | None = None

    def backlash_change(
        self, *, da: Floats, dz: Floats = 0.0, skew: Floats = 0.0, tilt: Floats = 0.0
    ) -> Floats:
        """Change of the least backlash at r2 [mm] from the position where the pair fits."""
        moves = np.broadcast_arrays(*(np.asarray(v, float) for v in (da, dz, skew, tilt)))
        shape = moves[0].shape
        places = [move.ravel() for move in moves]
        first = 0
        if self._at_rest is None:  # one batch costs hardly more than one place
            rest = self.mesh.run_in
            fits = (rest.da, rest.dz, rest.skew, rest.tilt)
            places = [np.append(fit, move) for fit, move in zip(fits, places, strict=True)]
            first = 1
        da_, dz_, skew_, tilt_ = places
        sx = self.mesh.run_in.sx
        least = self.mesh.contacts(
            Place(da_, dz_, sx, skew_, tilt_), phases=self.phases
        ).backlash.min(axis=1)
        if self._at_rest is None:
            self._at_rest = float(least[0])
        change = least[first:] - self._at_rest
        return float(change[0]) if shape == () else change.reshape(shape)
