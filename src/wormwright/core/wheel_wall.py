"""The walls of a wheel's tooth space, as its hob leaves them: envelope, fillet and undercut.

Fixed frame: X along the nominal worm axis, Y from the wheel centre to the worm, Z the table
axis. Here wheel angles are measured from Y toward +X (`beta`), so that the worm side of the wheel
moves with +X when beta grows; the table angle of the rest of the tool is minus beta.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from wormwright.core.helicoid import Helicoid
from wormwright.core.impossible_pair import ImpossiblePairError

Array = NDArray[np.float64]


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
            raise ImpossiblePairError(
                got=f"the wheel's throat radius is {self.throat:.4g} mm, its outside radius "
                f"{self.outside:.4g} mm",
                expected="a throat above zero and not above the outside",
                do="measure throat and outside of the wheel again",
            )
        if not 0 <= 2 * self.edge < self.face:
            raise ImpossiblePairError(
                got=f"broken edges of {self.edge:.4g} mm leave nothing of {self.face:.4g} mm face",
                expected="edges of less than half the face",
                do="read the edge break as the width along the face, at one edge",
            )
        if math.isfinite(self.throat_form) and self.half_face >= self.throat_form:
            raise ImpossiblePairError(
                got=f"a face of {self.face:.4g} mm is wider than its hollow of radius "
                f"{self.throat_form:.4g} mm allows",
                expected=f"a face below {2 * self.throat_form:.4g} mm",
                do="check face width and throat",
            )

    @property
    def half_face(self) -> float:
        """Half of the face that bears [mm]."""
        return self.face / 2 - self.edge

    @property
    def corner(self) -> float:
        """Height at which hollow and outside meet [mm]; infinite when the face ends before."""
        deep = self.centre - self.outside
        if not math.isfinite(self.throat_form) or abs(deep) >= self.throat_form:
            return math.inf
        return math.sqrt(self.throat_form**2 - deep**2)

    def top(self, z: Array) -> Array:
        """Radius of the wheel's crest at height z [mm]."""
        if not math.isfinite(self.throat_form):
            return np.full_like(z, self.throat)
        hollow = self.centre - np.sqrt(np.maximum(self.throat_form**2 - z**2, 0.0))
        return np.minimum(hollow, self.outside)


@dataclass(frozen=True, slots=True)
class HobbedWall:
    """Tooth-space walls cut by a hob at its centre distance, its axis swung from X to Z."""

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
        return self._deepest(z)[0]

    def ends(self, rho: Array, z: Array) -> tuple[Array, Array]:
        """First and last polar angle at which the hob can reach radius rho at height z [rad]."""
        root, middle = self._deepest(z)
        half = np.arccos(np.clip(root / rho, -1.0, 1.0))
        if self.swivel == 0.0:
            return -half, half
        return self._reached(rho, z, middle - half), self._reached(rho, z, middle + half)

    def _deepest(self, z: Array) -> tuple[Array, Array]:
        """Root radius and the polar angle at which the hob tip leaves it."""
        cos_s, sin_s = math.cos(self.swivel), math.sin(self.swivel)
        x = np.zeros_like(z)
        for _ in range(3 if sin_s else 1):
            across = z * cos_s - x * sin_s
            depth = np.sqrt(np.maximum(self.hob.tip**2 - across**2, 1e-12))
            y = self.hob_centre - depth
            x = y * across * sin_s / depth
        return np.sqrt(x * x + y * y), np.arctan2(x, y)

    def _reached(self, rho: Array, z: Array, beta: Array) -> Array:
        """Polar angle near beta at which the point lies on the tip cylinder of the hob."""
        cos_s, sin_s = math.cos(self.swivel), math.sin(self.swivel)
        for _ in range(3):
            x, y = rho * np.sin(beta), rho * np.cos(beta)
            depth, across = self.hob_centre - y, z * cos_s - x * sin_s
            over = depth * depth + across * across - self.hob.tip**2
            slope = 2 * (depth * x - across * y * sin_s)
            small = np.abs(slope) < 1e-6
            beta = beta - np.where(small, 0.0, over / np.where(small, 1.0, slope))
        return beta

    def cut(self, beta: Array, rho: Array, z: Array, side: int) -> tuple[Array, Array]:
        """Wheel-fixed angle of the point cut at polar angle beta, and its slope along beta."""
        x, y = rho * np.sin(beta), rho * np.cos(beta)
        cos_s, sin_s = math.cos(self.swivel), math.sin(self.swivel)
        along, across = x * cos_s + z * sin_s, z * cos_s - x * sin_s
        height, down, aside = self.hob.height_and_slopes(self.hob_centre - y, across, side)
        rate = y * cos_s - down * x + aside * y * sin_s
        return beta - self.turn_per_mm * (along - height), 1 - self.turn_per_mm * rate


@dataclass(frozen=True, slots=True)
class HelicalWall:
    """Walls of a plain helical wheel: the straight mid-plane rack of the worm rolled on a helix.

    `helix` is the tangent of the helix angle at the pitch radius, below zero for a right-hand worm.
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

    def ends(self, rho: Array, z: Array) -> tuple[Array, Array]:
        """First and last polar angle at which the rack can reach radius rho [rad]."""
        half = np.arccos(np.clip(self.root(z) / rho, -1.0, 1.0))
        return -half, half

    def cut(self, beta: Array, rho: Array, z: Array, side: int) -> tuple[Array, Array]:
        """Wheel-fixed angle of the point cut at polar angle beta, and its slope along beta."""
        t = math.tan(self.rack_angle)
        x, y = rho * np.sin(beta), rho * np.cos(beta)
        flank = side * (self.rack_thickness / 2 - (self.pitch_radius - y) * t)
        turned = (x - flank - self.helix * z) / self.pitch_radius
        return beta - turned, 1 - (y + side * t * x) / self.pitch_radius


Wall = HobbedWall | HelicalWall
