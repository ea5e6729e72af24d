"""Work in a chuck: how far to move which jaw, and the runout to expect at a distance."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from wormwright.core.linear_fit import linear_fit
from wormwright.core.turn_vector import TurnVector


@dataclass(frozen=True, slots=True)
class JawMove:
    """Work moved along one pair of jaws: `back` is eased, `in_` follows; move [mm] with its u."""

    back: int
    in_: int
    move: float
    u: float


def offset_of_readings(angles: ArrayLike, readings: ArrayLike, *, reading_u: float) -> TurnVector:
    """How far the work stands off, and toward which mark, from readings at any three angles.

    Source: least squares on r = r0 + x cos a + y sin a. Formula: as `linear_fit`.
    Inputs: angles, marks of the table under the needle [rad, (n,)]; readings, plus when the work
        comes toward the needle [mm, (n,)]; reading_u [mm]. Outputs: TurnVector [mm].
    Valid for: three angles or more that are not alike. Raises: ValueError otherwise.

    >>> a = np.radians([10, 100, 190, 280])
    >>> v = offset_of_readings(a, 0.05 * np.cos(a - 0.6), reading_u=0.002)
    >>> round(v.size, 4), round(v.direction, 3)
    (0.05, 0.6)
    """
    a = np.asarray(angles, np.float64)
    if a.ndim != 1 or len(a) < 3:
        raise ValueError(f"four-jaw: expected readings at three angles or more, got {a.size}")
    design = np.column_stack([np.ones_like(a), np.cos(a), np.sin(a)])
    fit = linear_fit(design, readings, u=reading_u, names=("needle", "toward 0°", "toward 90°"))
    u = math.sqrt(float(np.linalg.eigvalsh(fit.covariance[1:, 1:])[-1]))
    return TurnVector(float(fit.values[1]), float(fit.values[2]), u)


def jaw_moves(offset: TurnVector, *, first_jaw: float, jaws: int = 4) -> tuple[JawMove, ...]:
    """How far the work must go along each pair of jaws to run true.

    Source: geometry: the work goes against its offset, taken along the two pairs of jaws.
    Formula: along jaw 1 the offset is e cos(d - j1), along jaw 2 e sin(d - j1); each is taken out.
    Inputs: offset of the work; first_jaw, mark of the table at jaw 1 [rad], the others following
        counter-clockwise as the marks count; jaws, 4. Outputs: one JawMove for each pair.
    Valid for: four jaws that move one by one. Raises: ValueError for another number.

    >>> moves = jaw_moves(TurnVector(0.03, -0.04, 0.002), first_jaw=0.0)
    >>> [(m.back, m.in_, round(m.move, 3)) for m in moves]
    [(3, 1, 0.03), (2, 4, 0.04)]
    """
    if jaws != 4:
        raise ValueError(f"{jaws} jaws: only four jaws that move one by one can be dialled so")
    turned = offset.direction - first_jaw
    found = []
    for pair, part in (((1, 3), math.cos(turned)), ((2, 4), math.sin(turned))):
        along = offset.size * part
        toward, away = pair if along >= 0 else pair[::-1]
        found.append(JawMove(back=away, in_=toward, move=abs(along), u=offset.u))
    return tuple(found)


def offset_at(
    *, near: TurnVector, far: TurnVector, near_at: float, far_at: float, at: float
) -> TurnVector:
    """Offset of a straight bar at a distance, from two planes, each with its direction.

    Source: geometry: the axis of the bar is straight. Formula: e(z) = e1 + (e2 - e1)(z - z1)/
        (z2 - z1), as vectors; u of both planes carried along.
    Inputs: offsets near and far, their distances and the wanted one [mm]. Outputs: TurnVector [mm].
    Valid for: planes apart. Raises: ValueError otherwise.

    >>> e = offset_at(near=TurnVector(0.01, 0, 0.001), far=TurnVector(0, 0.01, 0.001),
    ...               near_at=0.0, far_at=100.0, at=200.0)
    >>> round(e.x, 3), round(e.y, 3)
    (-0.01, 0.02)
    """
    if far_at == near_at:
        raise ValueError(f"bar: expected two planes apart, got both at {near_at} mm")
    share = (at - near_at) / (far_at - near_at)
    u = math.hypot((1 - share) * near.u, share * far.u)
    x, y = ((1 - share) * a + share * b for a, b in ((near.x, far.x), (near.y, far.y)))
    return TurnVector(x, y, u)


def wedge_of_tilt(*, tilt: TurnVector, radius: float) -> TurnVector:
    """Wedge over the radius of the adapter that takes a tilt of the work out.

    Source: geometry. Formula: -tilt radius; the low side wants as much shim as twice its size.
    Inputs: tilt [rad], radius of the seat [mm]. Outputs: TurnVector [mm].
    Valid for: radius above zero. Raises: ValueError outside.

    >>> round(wedge_of_tilt(tilt=TurnVector(1e-3, 0.0, 1e-5), radius=60.0).x, 3)
    -0.06
    """
    if not radius > 0:
        raise ValueError(f"seat radius must be above zero, got {radius}")
    return tilt.times(-radius)


@dataclass(frozen=True, slots=True)
class ColletLimit:
    """Runout (TIR) of a test arbor in a collet: bore from (over) to, distance, classes [mm]."""

    over: float
    to: float
    distance: float
    class_1: float
    class_2: float


def collet_limit(diameter: float, table: Sequence[ColletLimit]) -> ColletLimit:
    """The row of the table for a diameter gripped.

    Source: the table handed in. Formula: over < d <= to. Inputs: diameter [mm]; table.
    Outputs: ColletLimit. Valid for: diameters in the table. Raises: ValueError outside.

    >>> rows = [ColletLimit(6, 10, 25, 0.010, 0.015), ColletLimit(10, 18, 40, 0.015, 0.020)]
    >>> collet_limit(10.0, rows).distance
    25
    """
    for row in table:
        if row.over < diameter <= row.to or (row is table[0] and diameter == row.over):
            return row
    raise ValueError(f"collet for {diameter:g} mm: the table has none; take a chuck")
