"""Backlash by brute force: worm surface points, hob moments and a closing zoom, nothing else.

A second formulation that shares no code with the product. The worm flank is a cloud of points swept
from its generating line; each is carried by rotation matrices to where it stands, and compared with
the wheel wall at its radius and height. The wall is the farthest angle over densely sampled moments
of the cutting. The best few points are enclosed by ever smaller clouds until the answer stands.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from wormwright.core.flank import Place

Array = NDArray[np.float64]

TEETH_EACH_WAY, FOLLOWED = 3, 2
ROWS, COLUMNS, MOMENTS = 15, 31, 31
FINEST = 3e-5
"""Size of the last cloud [mm]."""


@dataclass(frozen=True)
class Thread:
    """Generating line of one flank: radius, turn and height of its points, screwed by `lead`."""

    profile: str
    lead: float
    radius: float
    thickness: float
    axial_angle: float

    def height(self, r: Array, side: int) -> Array:
        """Axial place of the flank where it crosses the plane theta = 0."""
        g = math.atan(abs(self.lead) / self.radius)
        t = math.tan(self.axial_angle)
        half = self.thickness / 2
        if self.profile == "ZA":
            return side * (half - (r - self.radius) * t)
        n = math.atan(t * math.cos(g))
        if self.profile == "ZN":
            # straight line through the reference point, in the plane square to the thread
            ways = np.array([math.cos(n), math.sin(g) * math.sin(n), -math.cos(g) * math.sin(n)])
            a, b = ways[0] ** 2 + ways[1] ** 2, 2 * self.radius * ways[0]
            s = (-b + np.sqrt(b * b - 4 * a * (self.radius**2 - r * r))) / (2 * a)
            x, y, z = self.radius + s * ways[0], s * ways[1], s * ways[2]
            return np.asarray(side * (half + z - abs(self.lead) * np.arctan2(y, x)), float)
        # straight line tangent to the base cylinder, at the base lead angle to the cross plane
        base = abs(self.lead) / math.tan(math.acos(math.cos(g) * math.cos(n)))
        along = np.sqrt(r * r - base * base)
        turned = along / base - np.arctan(along / base)
        here = math.sqrt(self.radius**2 - base * base)
        at_reference = here / base - math.atan(here / base)
        return side * (half - abs(self.lead) * (turned - at_reference))


def turned(axis: str, angle: float) -> Array:
    c, s = math.cos(angle), math.sin(angle)
    if axis == "y":
        return np.array([[c, 0, s], [0, 1, 0], [-s, 0, c]])
    return np.array([[c, -s, 0], [s, c, 0], [0, 0, 1]])


def thread_of(helicoid: Any) -> Thread:
    h = helicoid
    return Thread(h.profile, h.lead, h.radius, h.thickness, h.axial_angle)


@dataclass(frozen=True)
class Case:
    """Where the worm stands, how far it has turned [mm of advance], and which flank is asked."""

    place: Place
    phase: float
    side: int


class BruteMesh:
    """The same pair as a `FlankMesh`, worked the long way."""

    def __init__(self, mesh: Any) -> None:
        self.mesh, self.wall, self.blank = mesh, mesh.wall, mesh.wall.blank
        self.worm = thread_of(mesh.worm)
        self.hobbed = hasattr(mesh.wall, "hob")
        self.points = 0

    def turn(self, place: Place, phase: float, side: int) -> float:
        """Wheel turn at first contact of one side [mm at r2]."""
        case = Case(place, phase, side)
        r = np.linspace(self.mesh.worm.root, self.mesh.worm.tip, ROWS)
        z = np.linspace(-self.blank.half_face, self.blank.half_face, COLUMNS)
        best: list[tuple[float, int, float, float]] = []
        for tooth in range(-TEETH_EACH_WAY, TEETH_EACH_WAY + 1):
            value = self._ahead(case, tooth, r[:, None], z[None, :], again=0)
            wide = np.pad(value, 1, constant_values=-np.inf)
            around = [wide[i : i + ROWS, j : j + COLUMNS] for i in (0, 1, 2) for j in (0, 1, 2)]
            peaks = np.argwhere((value >= np.max(around, axis=0)) & np.isfinite(value))
            best += [(float(value[i, j]), tooth, r[i], z[j]) for i, j in peaks]
        best = sorted(best, reverse=True)[:FOLLOWED]
        steps = float(r[1] - r[0]), float(z[1] - z[0])
        return side * max(self._zoomed(case, start, steps) for start in best)

    def _zoomed(
        self,
        case: Case,
        start: tuple[float, int, float, float],
        steps: tuple[float, float],
    ) -> float:
        """Ever closer heights; at each of them, ever closer radii."""
        _, tooth, r_start, z = start
        half, low, high = self.blank.half_face, self.mesh.worm.root, self.mesh.worm.tip
        value, step_z, shape = -math.inf, steps[1], np.linspace(-1.2, 1.2, 7)[:, None]
        while step_z > FINEST:
            zs = np.clip(z + shape[:, 0] * step_z, -half, half)
            r, step_r = np.full(7, r_start), 2 * steps[0]
            best = np.full(7, -np.inf)
            while step_r > FINEST:
                rs = np.clip(r + shape * step_r, low, high)
                ahead = self._ahead(case, tooth, rs, np.broadcast_to(zs, rs.shape), again=5)
                best = np.maximum(best, ahead.max(axis=0))
                r = np.take_along_axis(rs, np.argmax(ahead, axis=0)[None], axis=0)[0]
                step_r *= 0.4
            i = int(np.argmax(best))
            value, r_start, z = max(value, float(best[i])), float(r[i]), float(zs[i])
            step_z *= 0.4 if 0 < i < 6 or abs(z) >= half else 0.9
        return value

    def _ahead(self, case: Case, tooth: int, r: Array, height: Array, *, again: int) -> Array:
        """Side times (turn of the wheel that lets its wall touch each worm point), mm at r2."""
        r, height = np.broadcast_arrays(r, height)
        place, side = case.place, case.side
        advance = case.phase + tooth * self.mesh.pitch
        way = turned("y", float(place.skew)) @ turned("z", float(place.tilt))
        aside = np.zeros(r.shape)
        for _ in range(5):
            theta = np.arcsin(np.clip((height - aside) / r, -0.99, 0.99))
            along = self.worm.height(r, side) + self.worm.lead * theta + advance
            own = np.stack([along, -r * np.cos(theta), r * np.sin(theta)])
            x, y, z = np.tensordot(way, own, axes=1)
            aside = z + place.dz - r * np.sin(theta)
        x, y, z = x + place.sx, y + self.mesh.centre + place.da, z + place.dz
        rho, beta = np.hypot(x, y), np.arctan2(x, y)
        met = (np.abs(z - height) < 1e-7) & (rho <= self._crest(z)) & (np.abs(beta) < 1)
        result = np.full(rho.shape, -np.inf)
        if met.any():
            self.points += int(met.sum())
            wall = self._farthest(rho[met], z[met], side, again)
            turn = beta[met] - wall - advance / self.mesh.radius
            result[met] = side * turn * self.mesh.radius
        return result

    def _crest(self, z: Array) -> Array:
        form = self.blank.throat_form
        if math.isinf(form):
            return np.full(z.shape, self.blank.throat)
        crest: Array = np.minimum(
            self.blank.centre - np.sqrt(np.maximum(form**2 - z * z, 0)), self.blank.outside
        )
        return crest

    def _farthest(self, rho: Array, z: Array, side: int, again: int) -> Array:
        """Wall angle: the farthest over sampled moments, sampled again about the best two."""
        low, high = self._reach(rho, z, -1), self._reach(rho, z, 1)
        share = np.linspace(0.0, 1.0, MOMENTS)[:, None]
        cut = side * self._cut(low + share * (high - low), rho, z, side)
        result = np.max(cut, axis=0)
        ends = np.full((1, rho.size), -np.inf)
        left, right = np.concatenate([ends, cut[:-1]]), np.concatenate([cut[1:], ends])
        peak = np.where((cut >= left) & (cut >= right), cut, -np.inf)
        for spot in np.argsort(peak, axis=0)[-2:]:
            at, width = share[spot, 0], share[1, 0]
            for _ in range(again):
                near = np.clip(at + width * np.linspace(-1, 1, 9)[:, None], 0.0, 1.0)
                cut = side * self._cut(low + near * (high - low), rho, z, side)
                best = np.argmax(cut, axis=0)
                at = np.take_along_axis(near, best[None], axis=0)[0]
                result = np.maximum(result, cut.max(axis=0))
                width /= 4
        return np.asarray(side * result, float)

    def _cut(self, beta: Array, rho: Array, z: Array, side: int) -> Array:
        """Wheel angle of the point that the cutter's flank touches at polar angle beta."""
        x, y = rho * np.sin(beta), rho * np.cos(beta)
        wall = self.wall
        if not self.hobbed:
            rack = side * (
                wall.rack_thickness / 2 - (wall.pitch_radius - y) * math.tan(wall.rack_angle)
            )
            return np.asarray(beta - (x - rack - wall.helix * z) / wall.pitch_radius, float)
        hob = thread_of(wall.hob)
        way = turned("y", -wall.swivel).T
        along, height, across = (
            way[i, 0] * x + way[i, 1] * (y - wall.hob_centre) + way[i, 2] * z for i in range(3)
        )
        theta = np.arctan2(across, -height)
        r = np.sqrt(height**2 + across**2)
        advance = along - hob.lead * theta - hob.height(r, side)
        return np.asarray(beta - advance / (abs(hob.lead) * wall.teeth / wall.starts), float)

    def _reach(self, rho: Array, z: Array, end: int) -> Array:
        """Polar angle at which the tip of the cutter enters or leaves radius rho, by halving."""
        wall = self.wall
        if not self.hobbed:
            depth = wall.pitch_radius - wall.rack_tip
            return np.asarray(end * np.arccos(np.clip(depth / rho, -1, 1)), float)
        if wall.swivel == 0:
            tip = np.sqrt(np.maximum(wall.hob.tip**2 - z * z, 0))
            return np.asarray(end * np.arccos(np.clip((wall.hob_centre - tip) / rho, -1, 1)), float)
        c, s = math.cos(wall.swivel), math.sin(wall.swivel)

        def outside(beta: Array) -> Array:
            across = z * c - rho * np.sin(beta) * s
            far: Array = np.hypot(wall.hob_centre - rho * np.cos(beta), across) - wall.hob.tip
            return far

        tries = np.linspace(-0.3, 0.3, 25)[:, None]
        middle = tries[np.argmin(outside(tries), axis=0), 0]
        near, far = middle, middle + end * 1.5
        for _ in range(32):
            half = (near + far) / 2
            beyond = outside(half) > 0
            near, far = np.where(beyond, near, half), np.where(beyond, half, far)
        return np.asarray(near, float)
