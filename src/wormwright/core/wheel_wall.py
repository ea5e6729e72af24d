"""The walls of a wheel's tooth space, as its hob leaves them: envelope, fillet and undercut.

Fixed frame: X along the nominal worm axis, Y from the wheel centre to the worm, Z the table
axis. Here wheel angles are measured from Y toward +X (`beta`), so that the worm side of the wheel
moves with +X when beta grows; the table angle of the rest of the tool is minus beta.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from wormwright.core.helicoid import Helicoid

Array = NDArray[np.float64]

COARSE = 33
REFINE = 6


@dataclass(frozen=True, slots=True)
class Blank:
    """The wheel before its teeth are cut.

    `centre` is the centre distance at which its hollow is turned, `throat_form` the radius of the
    hollow (infinite for a straight face), `throat` and `outside` its radii, `face` the width,
    `edge` the broken edge at both ends [mm].
    """

    centre: float
    throat: float
    outside: float
    face: float
    edge: float = 0.0
    throat_form: float = math.inf

    def __post_init__(self) -> None:
        """Refuse a blank that cannot be."""
        if not 0 < self.throat <= self.outside:
            raise ValueError(
                f"wheel: the throat radius {self.throat:.4g} mm must lie above zero and not above "
                f"the outside radius {self.outside:.4g} mm"
            )
        if not 0 <= 2 * self.edge < self.face:
            raise ValueError(f"wheel: edges of {self.edge} mm leave nothing of {self.face} mm face")
        if math.isfinite(self.throat_form) and self.half_face >= self.throat_form:
            raise ValueError(
                f"wheel: a face of {self.face:.4g} mm is wider than its hollow of radius "
                f"{self.throat_form:.4g} mm allows; check face width and throat"
            )

    @property
    def half_face(self) -> float:
        """Half of the face that bears [mm]."""
        return self.face / 2 - self.edge

    def top(self, z: Array) -> Array:
        """Radius of the wheel's crest at height z [mm]."""
        if not math.isfinite(self.throat_form):
            return np.full_like(z, self.throat)
        hollow = self.centre - np.sqrt(np.maximum(self.throat_form**2 - z**2, 0.0))
        return np.minimum(hollow, self.outside)


@dataclass(frozen=True, slots=True)
class HobbedWall:
    """Tooth-space walls cut by a hob at its centre distance, swivelled about Y by `swivel`."""

    hob: Helicoid
    blank: Blank
    teeth: int
    starts: int
    hob_centre: float
    swivel: float = 0.0

    @property
    def turn_per_mm(self) -> float:
        """Wheel turn per mm of hob advance [rad/mm]."""
        return self.starts / (self.teeth * abs(self.hob.lead))

    def root(self, z: Array) -> Array:
        """Radius of the root that the hob tip leaves at height z [mm]."""
        return self.hob_centre - np.sqrt(np.maximum(self.hob.tip**2 - z**2, 0.0))

    def span(self, rho: Array, z: Array) -> Array:
        """Half of the polar angles at which the hob can reach radius rho at height z [rad]."""
        widest = np.arccos(np.clip(self.root(z) / rho, -1.0, 1.0))
        return np.minimum(widest, math.pi / 3) + 1e-9 + 2 * abs(self.swivel)

    def cut_angle(self, beta: Array, rho: Array, z: Array, side: int) -> Array:
        """Wheel-fixed angle of the point cut at polar angle beta; -side inf where none reaches."""
        x, y = rho * np.sin(beta), rho * np.cos(beta)
        cos_s, sin_s = math.cos(self.swivel), math.sin(self.swivel)
        along, across = x * cos_s + z * sin_s, z * cos_s - x * sin_s
        depth = self.hob_centre - y
        advance = along - self.hob.height(depth, across, side)
        reach = (depth * depth + across * across <= self.hob.tip**2 * (1 + 1e-12)) & (depth > 0)
        result: Array = np.where(reach, beta - self.turn_per_mm * advance, -side * np.inf)
        return result


@dataclass(frozen=True, slots=True)
class HelicalWall:
    """Walls of a plain helical wheel: the straight mid-plane rack of the worm rolled on a helix.

    `helix` is the tangent of the helix angle at the pitch radius, signed by hand.
    """

    rack_angle: float
    rack_thickness: float
    rack_tip: float
    blank: Blank
    pitch_radius: float
    helix: float

    @property
    def turn_per_mm(self) -> float:
        """Wheel turn per mm of rack advance [rad/mm]."""
        return 1 / self.pitch_radius

    def root(self, z: Array) -> Array:
        """Radius of the root [mm]."""
        return np.full_like(z, self.pitch_radius - self.rack_tip)

    def span(self, rho: Array, z: Array) -> Array:
        """Half of the polar angles at which the rack can reach radius rho [rad]."""
        result: Array = np.arccos(np.clip(self.root(z) / rho, -1.0, 1.0)) + 1e-9
        return result

    def cut_angle(self, beta: Array, rho: Array, z: Array, side: int) -> Array:
        """Wheel-fixed angle of the point cut at polar angle beta; -side inf where none reaches."""
        depth = self.pitch_radius - rho * np.cos(beta)
        flank = side * (self.rack_thickness / 2 - depth * math.tan(self.rack_angle))
        turned = (rho * np.sin(beta) - flank - self.helix * z) / self.pitch_radius
        reach = depth <= self.rack_tip * (1 + 1e-12)
        result: Array = np.where(reach, beta - turned, -side * np.inf)
        return result


Wall = HobbedWall | HelicalWall


def wall_angles(wall: Wall, rho: Array, z: Array, side: int) -> tuple[Array, Array]:
    """Angle of the wall at (rho, z), and the polar angle at which it was cut [rad].

    Source: the wall is the envelope of the hob; every place (rho, z) keeps the farthest angle that
        any moment of the cutting reaches. Near undercut two maxima stand side by side; the farther
        one is what the hob leaves.
    Formula: side * max over beta of side * cut_angle(beta).
    Inputs: rho [mm] and z [mm] of one shape; side +1 or -1.
    Outputs: angle and beta [rad], shape of rho.
    Valid for: rho between root and crest. Raises: nothing.
    """
    span = wall.span(rho, z)
    grid = np.linspace(-1.0, 1.0, COARSE).reshape((COARSE,) + (1,) * rho.ndim) * span
    best = np.argmax(side * wall.cut_angle(grid, rho, z, side), axis=0)
    centre = np.take_along_axis(grid, best[None], axis=0)[0]
    return sharpened_wall(wall, rho, z, side, centre=centre, step=span * (2 / (COARSE - 1)))


def sharpened_wall(
    wall: Wall, rho: Array, z: Array, side: int, *, centre: Array, step: Array
) -> tuple[Array, Array]:
    """The wall again, sharpened about the polar angle near which it is known to be cut."""

    def cut(beta: Array) -> Array:
        return side * wall.cut_angle(beta, rho, z, side)

    offsets = np.linspace(-1.0, 1.0, 7).reshape((7,) + (1,) * rho.ndim)
    for _ in range(REFINE):
        beta = centre + offsets * step
        best = np.argmax(cut(beta), axis=0)
        centre = np.take_along_axis(beta, best[None], axis=0)[0]
        step = step / 3
    return side * _vertex(cut, centre, step), centre


def _vertex(cut: Callable[[Array], Array], centre: Array, step: Array) -> Array:
    """Top of the parabola through three even points; the middle one where an end is cut off."""
    left, middle, right = cut(centre - step), cut(centre), cut(centre + step)
    with np.errstate(invalid="ignore", divide="ignore"):
        bend = left - 2 * middle + right
        top = middle - (right - left) ** 2 / (8 * bend)
    usable = np.isfinite(bend) & (bend < 0)
    result: Array = np.where(usable, np.maximum(top, middle), middle)
    return result
