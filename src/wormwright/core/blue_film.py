"""The mark that a film of marking blue leaves on a wheel flank, quickly, for many places of a worm.

Blue goes where the gap, while the tooth passes through the mesh, falls below the film. `gap_field`
looks at the whole passage; here each place of the flank is looked at only about the moment at which
it was cut, where its gap is least. Frame and signs as in `flank`.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from wormwright.core.blue_mark import BlueMark, Sketch
from wormwright.core.flank import FlankMesh, Place
from wormwright.core.flank_meeting import Frame, miss, turn_to_meet
from wormwright.core.mesh_results import GapField, root_room
from wormwright.core.wall_table import WallTable
from wormwright.core.wheel_wall import HelicalWall

Array = NDArray[np.float64]

FILM = 0.008
"""Thickness of a thin film of marking blue [mm]: five to ten micrometres (common practice)."""
PHASES = 10
"""Moments looked at in each pitch of worm advance."""
ABOUT = 4
"""Moments looked at before and after the one at which a place was cut."""
ACROSS_POINT, DOWN_POINT = 49, 14
"""Places looked at on a plain helical wheel, which marks in a narrow patch."""
TO_EDGE = 0.3
"""The mark lies to an edge when its middle lies so far out, as a share of half the face."""
LINE = 0.8
"""The mark is a line when so much of it lies in the upper or lower third of the tooth."""
FULL = 0.85
"""Share of the swept flank that is a full face."""


class BlueFilm:
    """Both flanks of a wheel, ready to be marked by a worm at any place."""

    def __init__(self, mesh: FlankMesh) -> None:
        """Take the places of the mesh; finer across the face for a wheel that marks narrowly."""
        self.mesh, self.tables = mesh, mesh.sides
        if isinstance(mesh.wall, HelicalWall):
            plus = WallTable(mesh.wall, 1, across=ACROSS_POINT, down=DOWN_POINT)
            self.tables = {1: plus, -1: plus.mirrored()}

    def gaps(self, place: Place, side: int) -> GapField:
        """Least gap at each place of one flank while its tooth passes.

        Source: as `gap_field`; a place comes nearest about when it was cut (envelope).
        Formula: least over phases of (first contact - turn of the place) * slope / |normal|, first
            contact being the most over the same places.
        Inputs: one place of the worm; side +1 or -1. Outputs: GapField, shape (heights, radii).
        Valid for: moves small against the tooth; within about 2 µm of `gap_field` where the gap is
            below 20 µm. Raises: ValueError when no flank is met.
        """
        mesh, table = self.mesh, self.tables[side]
        frame = Frame.of(Place(*(float(v[0]) for v in mesh.from_run_in(place))), mesh.centre)
        step = mesh.pitch / PHASES
        nearest = np.round((table.phase - frame.foot[0]) / step)
        moment = nearest[..., None] + np.arange(-ABOUT, ABOUT + 1)
        turn, scale = _turn_and_scale(mesh, table, frame, moment * step)
        ahead = side * turn
        phase = (moment % PHASES).astype(np.intp)
        first = np.array([ahead[phase == k].max(initial=-np.inf) for k in range(PHASES)])
        if not np.all(np.isfinite(first)):
            raise ValueError("the worm misses the wheel: no flank is met; check the place given")
        reached = np.isfinite(ahead)
        gap = np.where(reached, first[phase] - np.where(reached, ahead, 0.0), np.inf) * scale
        room = root_room(mesh, frame, table.z)
        return GapField(table.heights, table.rho, gap.min(axis=-1), room)


def _turn_and_scale(
    mesh: FlankMesh, table: WallTable, frame: Frame, advance: Array
) -> tuple[Array, Array]:
    """Turn at which each place meets the worm [rad], and how much gap a turn away from it is [mm].

    Where the worm does not reach, the turn is infinitely far from contact.
    """
    rho, z, angle = table.rho[..., None], table.heights[..., None], table.angle[..., None]
    with np.errstate(invalid="ignore", divide="ignore"):
        turn, r = turn_to_meet(
            mesh.worm,
            frame,
            rho,
            z,
            angle=angle,
            advance=advance,
            side=table.side,
            radius=mesh.radius,
            steps=3,
        )
        met = (r <= mesh.worm.tip) & np.isfinite(turn)
        beta = angle + advance / mesh.radius + np.where(met, turn, 0.0)
        _, slope, _, normal = miss(mesh.worm, frame, rho, z, beta=beta, side=table.side)
        scale = np.abs(slope) / np.sqrt(normal)
    return np.where(met, turn, -table.side * np.inf), scale


def sketch_of_film(field: GapField, *, film: float = FILM) -> Sketch:
    """The sketch that comes nearest to the blue on a flank, as one would pick it at the bench.

    Source: the sketches of `blue_mark`. Formula: middle of the blue across the face, and its shares
        by thirds of face and height.
    Inputs: gaps [mm]; film [mm]. Outputs: Sketch.
    Valid for: fields with some gap below the film. Raises: ValueError when nothing is marked.
    """
    swept = np.isfinite(field.gap)
    blue = swept & (field.gap < film)
    if not blue.any():
        raise ValueError(f"blue: a film of {film} mm marks nothing; expected a few micrometres")
    if blue.sum() > FULL * swept.sum():
        return "full face"
    across = (field.z / np.abs(field.z).max())[blue]
    depth = field.rho - field.rho[:, :1]
    up = (depth / depth.max(axis=1, keepdims=True))[blue]
    outer = np.abs(across) > 1 / 3
    if np.mean(outer & (across > 0)) > np.mean(~outer) < np.mean(outer & (across < 0)):
        return "both edges"
    if abs(across.mean()) > TO_EDGE:
        return "plus edge" if across.mean() > 0 else "minus edge"
    if np.mean(up > 2 / 3) > LINE:
        return "tip line"
    return "root line" if np.mean(up < 1 / 3) > LINE else "centred patch"


def share_of_face(field: GapField, *, film: float = FILM) -> float:
    """Share of the face over which a flank is blue at some radius [1]."""
    return float(np.mean(np.any(field.gap < film, axis=1)))


def mark_of_film(blue: BlueFilm, place: Place, *, film: float = FILM) -> BlueMark:
    """The mark of both flanks in the words of `blue_mark`, whose plus flank the -X side drives.

    Source: definition. Inputs: wheel, place of the worm, film [mm]. Outputs: BlueMark.
    Valid for: one place of the wheel. Raises: as `gaps` and `sketch_of_film`.
    """
    plus, minus = blue.gaps(place, -1), blue.gaps(place, 1)
    sketches = sketch_of_film(plus, film=film), sketch_of_film(minus, film=film)
    return BlueMark(*sketches)
