"""Where runout comes from: table, adapter or chuck; offset and tilt of a bar; skim and shim.

Vectors are in the table's own marks. Runout is seen from the axis of rotation, so it says nothing
of how that axis stands on the machine.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from wormwright.core.turn_vector import TurnVector


@dataclass(frozen=True, slots=True)
class BarAxis:
    """Axis of a bar against the axis of rotation: offset where z is 0 (mm) and tilt (rad)."""

    near: TurnVector
    far: TurnVector
    near_z: float
    far_z: float

    @property
    def tilt(self) -> TurnVector:
        """Lean of the bar, rad, toward the mark it leans to going outward."""
        return self.far.minus(self.near).times(1 / (self.far_z - self.near_z))

    def offset_at(self, z: float) -> TurnVector:
        """Offset of the bar at a distance z, mm; beyond the two planes its doubt grows."""
        share = (z - self.near_z) / (self.far_z - self.near_z)
        return self.near.times(1 - share).plus(self.far.times(share))


def bar_axis(*, near: TurnVector, far: TurnVector, near_z: float, far_z: float) -> BarAxis:
    """Offset and tilt of a bar from its eccentricity in two planes.

    Source: vector algebra; needs the direction in both planes, equal swings may hide a tilt.
    Formula: tilt = (e2 - e1)/(z2 - z1), e(z) = e1 + tilt (z - z1),
        u(tilt) = hypot(u1, u2)/(z2 - z1).
    Inputs: near, far [mm]; near_z, far_z, distance from the chuck [mm].
    Outputs: BarAxis.
    Valid for: a straight bar, planes apart. Raises: ValueError for far_z not above near_z.

    >>> bar = bar_axis(near=TurnVector(0.01, 0.0, 0.001), far=TurnVector(0.0, 0.01, 0.001),
    ...                near_z=0.0, far_z=100.0)
    >>> round(math.degrees(bar.tilt.size) * 3600, 2), round(math.degrees(bar.tilt.direction), 1)
    (29.17, 135.0)
    """
    if not far_z > near_z:
        raise ValueError(f"planes at {near_z} and {far_z} mm: expected the far one farther out")
    return BarAxis(near, far, near_z, far_z)


def tilt_limits_from_swings(
    *, near_swing: float, far_swing: float, distance: float
) -> tuple[float, float]:
    """Least and most tilt that two swings without angles leave open.

    Source: triangle inequality. Formula: |e2 - e1|/dz to (e1 + e2)/dz with e = swing/2.
    Inputs: swings (TIR), distance between the planes [mm]. Outputs: (least, most) [rad].
    Valid for: swings not below zero. Raises: ValueError outside.

    >>> tilt_limits_from_swings(near_swing=0.02, far_swing=0.02, distance=100)
    (0.0, 0.0002)
    """
    if not (near_swing >= 0 and far_swing >= 0 and distance > 0):
        raise ValueError(f"swings {near_swing}, {far_swing}, distance {distance}: out of range")
    return (
        abs(far_swing - near_swing) / 2 / distance,
        (near_swing + far_swing) / 2 / distance,
    )


def face_slope(axial: TurnVector, *, radius: float, radius_u: float = 0.0) -> TurnVector:
    """Slope of a face from its once-per-turn runout at a radius; points at the high mark.

    Source: geometry. Formula: slope = c/rho; u² = (u_c/rho)² + (c u_rho/rho²)².
    Inputs: axial, once-per-turn vector of the face readings [mm]; radius, radius_u [mm].
    Outputs: TurnVector [rad].
    Valid for: radius above zero, face flat within the lobes taken out.
    Raises: ValueError outside.

    >>> face_slope(TurnVector(0.01, 0.0, 0.001), radius=50.0).x
    0.0002
    """
    if not (radius > 0 and radius_u >= 0):
        raise ValueError(f"radius {radius} mm with u {radius_u}: expected above zero")
    u = math.hypot(axial.u / radius, axial.size * radius_u / radius**2)
    return TurnVector(axial.x / radius, axial.y / radius, u)


@dataclass(frozen=True, slots=True)
class RunoutPart:
    """What one part adds: offset (mm) or slope (rad) against the part it sits on."""

    part: str
    vector: TurnVector


def slopes_by_part(
    *,
    table_face: TurnVector | None,
    adapter_face: TurnVector | None,
    bar_tilt: TurnVector | None,
) -> tuple[RunoutPart, ...]:
    """Slope added by the table face, by the adapter and by the chuck with its grip.

    Source: small rotations add; a face high toward a mark leans the bar on it away from that mark.
    Formula: table = f_T; adapter = f_A - f_T; chuck = -t - f_A (as a slope of its seat).
        Without a reading between, the two parts beside it are named together.
    Inputs: slopes of the faces [rad, toward the high mark]; bar_tilt t [rad], or None if not read.
    Outputs: parts in order from the table outward [rad, toward the high mark of that part].
    Valid for: readings taken on one set-up without re-seating. Raises: ValueError for none.

    >>> still = TurnVector(0.0, 0.0, 1e-6)
    >>> parts = slopes_by_part(table_face=still, adapter_face=TurnVector(2e-4, 0.0, 1e-6),
    ...                        bar_tilt=TurnVector(-2e-4, 0.0, 1e-6))
    >>> [(p.part, round(p.vector.size, 6)) for p in parts]
    [('table face', 0.0), ('adapter', 0.0002), ('chuck and grip', 0.0)]
    """
    seat = None if bar_tilt is None else bar_tilt.times(-1.0)
    return _by_part(
        (("table face", table_face), ("adapter", adapter_face), ("chuck and grip", seat))
    )


def offsets_by_part(
    *,
    table_bore: TurnVector | None,
    register: TurnVector | None,
    bar_at_register: TurnVector | None,
) -> tuple[RunoutPart, ...]:
    """Offset added by the table bore, by the adapter's register and by the chuck with its grip.

    Source: offsets add as vectors in one plane across the axis.
    Formula: table = e_T; adapter = e_R - e_T; chuck = e_bar(z of the register) - e_R.
        Without a reading between, the two parts beside it are named together.
    Inputs: eccentricities [mm], or None if not read. Outputs: parts from the table outward [mm].
    Valid for: readings taken on one set-up without re-seating. Raises: ValueError for none.

    >>> parts = offsets_by_part(table_bore=TurnVector(0.01, 0.0, 0.001), register=None,
    ...                         bar_at_register=TurnVector(0.03, 0.0, 0.001))
    >>> [(p.part, round(p.vector.x, 3)) for p in parts]
    [('table bore', 0.01), ('adapter + chuck and grip', 0.02)]
    """
    return _by_part(
        (("table bore", table_bore), ("adapter", register), ("chuck and grip", bar_at_register))
    )


def _by_part(chain: Sequence[tuple[str, TurnVector | None]]) -> tuple[RunoutPart, ...]:
    parts: list[RunoutPart] = []
    below: TurnVector | None = None
    names: list[str] = []
    for name, seen in chain:
        names.append(name)
        if seen is None:
            continue
        added = seen if below is None else seen.minus(below)
        parts.append(RunoutPart(" + ".join(names), added))
        below, names = seen, []
    if not parts:
        raise ValueError("no runout vector at all: expected the face, the register or a bar")
    return tuple(parts)


def shims_under_bolts(
    slope: TurnVector, *, bolt_radius: float, bolt_marks: ArrayLike
) -> NDArray[np.float64]:
    """Shim thickness at each bolt that levels a sloping seat; the thinnest is zero.

    Source: plane geometry. Formula: s_i = R |slope| (-cos(mark_i - high)) less the least of them.
    Inputs: slope of the seat, toward its high mark [rad]; bolt_radius R [mm]; bolt_marks
        [rad, (n,)].
    Outputs: thickness [mm, (n,)].
    Valid for: three bolts or more, shims at the bolt circle. Raises: ValueError outside.

    >>> shims_under_bolts(TurnVector(2e-4, 0.0, 0.0), bolt_radius=50.0,
    ...                   bolt_marks=np.radians([0, 90, 180, 270])).round(3).tolist()
    [0.0, 0.01, 0.02, 0.01]
    """
    marks = np.asarray(bolt_marks, dtype=np.float64)
    if marks.ndim != 1 or len(marks) < 3 or not bolt_radius > 0:
        raise ValueError(f"{marks.size} bolts at {bolt_radius} mm: expected three or more")
    height = -bolt_radius * (slope.x * np.cos(marks) + slope.y * np.sin(marks))
    result: NDArray[np.float64] = height - height.min()
    return result


def skim_to_level(slope: TurnVector, *, face_radius: float) -> float:
    """Least depth of cut that makes a sloping face true, taken off at its high mark.

    Source: plane geometry; the skim starts at the high mark and just cleans up opposite.
    Formula: 2 rho |slope|, the full swing at the outer edge.
    Inputs: slope [rad]; face_radius rho, outer edge of the face [mm]. Outputs: depth [mm].
    Valid for: rho above zero. Raises: ValueError outside.

    >>> skim_to_level(TurnVector(2e-4, 0.0, 0.0), face_radius=60.0)
    0.024
    """
    if not face_radius > 0:
        raise ValueError(f"face radius must be above zero, got {face_radius} mm")
    return 2 * face_radius * slope.size
