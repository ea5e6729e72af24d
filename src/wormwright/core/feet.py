"""Packing under four feet: pitch from the lean of the axis, twist from the gaps under the feet.

Feet in order: front left, front right, rear left, rear right; front is the chuck end, left and
right as seen from behind the unit, looking at the work.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

FEET = ("front left", "front right", "rear left", "rear right")

_PITCH = (-0.5, -0.5, 0.5, 0.5)
_TWIST = (0.25, -0.25, -0.25, 0.25)
_ROLL = (0.5, -0.5, 0.5, -0.5)


def twist_of(gaps: Sequence[float]) -> float:
    """How far four feet are out of one plane, from the gaps under them (or their packing).

    Source: geometry: a plane has equal sums across its two diagonals.
    Formula: (front left + rear right) - (front right + rear left); zero: the unit does not rock.
    Inputs: four gaps in the order of FEET, the unit lying free [mm]. Outputs: twist [mm].
    Valid for: four figures. Raises: ValueError otherwise.

    >>> round(twist_of([0.0, 0.06, 0.0, 0.0]), 3)
    -0.06
    """
    if len(gaps) != 4:
        raise ValueError(f"feet: expected four gaps, {', '.join(FEET)}; got {len(gaps)}")
    front_left, front_right, rear_left, rear_right = gaps
    return (front_left + rear_right) - (front_right + rear_left)


def pitch_of(packing: Sequence[float]) -> float:
    """Rear feet less front feet, mean of both sides: what tips the axis.

    Source: geometry. Formula: mean of the rear - mean of the front.
    Inputs: four heights in the order of FEET [mm]. Outputs: pitch [mm]. Valid for: four figures.
    Raises: ValueError otherwise.

    >>> round(pitch_of([0.0, 0.0, 0.03, 0.05]), 3)
    0.04
    """
    if len(packing) != 4:
        raise ValueError(f"feet: expected four heights, got {len(packing)}")
    return (packing[2] + packing[3] - packing[0] - packing[1]) / 2


def packing_under_feet(
    *, lean: float, spacing: float, twist: float
) -> tuple[float, float, float, float]:
    """Packing under each foot that takes the lean and the rock out together, no foot below zero.

    Source: derived here. Four feet move in heave, pitch, roll and twist; pitch and twist are
        wanted, roll turns the unit about its own axis and alters no work, so that one of three
        rolls is taken which needs least packing.
    Formula: t = h + p (-1/2, -1/2, 1/2, 1/2) + w (1, -1, -1, 1)/4 + r (1, -1, 1, -1)/2,
        p = lean * spacing (the axis rises outward: rear feet up), r in {0, w/2, -w/2}, h such that
        the least is zero.
    Inputs: lean of the axis [1], spacing of front and rear feet, twist as `twist_of` [mm].
    Outputs: packing in the order of FEET [mm].
    Valid for: spacing above zero. Raises: ValueError outside.

    >>> [round(t, 3) for t in packing_under_feet(lean=0.00016, spacing=180.0, twist=0.0)]
    [0.0, 0.0, 0.029, 0.029]
    """
    if not spacing > 0:
        raise ValueError(f"feet: expected a spacing above zero, got {spacing} mm")
    pitch = lean * spacing
    tries = [_lowered(pitch, twist, roll) for roll in (0.0, twist / 2, -twist / 2)]
    best = min(tries, key=lambda t: (round(math.fsum(t), 9), sum(one > 1e-9 for one in t)))
    return best[0], best[1], best[2], best[3]


def _lowered(pitch: float, twist: float, roll: float) -> list[float]:
    t = [pitch * p + twist * w + roll * r for p, w, r in zip(_PITCH, _TWIST, _ROLL, strict=True)]
    return [one - min(t) for one in t]


@dataclass(frozen=True, slots=True)
class KeyMove:
    """How far the unit turns at its key or stop; `move` is at the far end, mm, with its u."""

    move: float
    u: float


def move_at_key(*, lean: float, lean_u: float, distance: float) -> KeyMove:
    """Move of the front end against the rear one that takes a plan lean out.

    Source: geometry. Formula: -lean * distance; u = u_lean * distance.
    Inputs: lean in plan [1] with its u, distance from the point it turns about to the key, stop or
        indicator at which the move is read [mm]. Outputs: KeyMove [mm], above zero to machine plus.
    Valid for: distance above zero. Raises: ValueError outside.

    >>> round(move_at_key(lean=-0.407e-3, lean_u=0.02e-3, distance=130.0).move, 3)
    0.053
    """
    if not distance > 0:
        raise ValueError(f"key: expected a distance above zero, got {distance} mm")
    return KeyMove(-lean * distance, lean_u * distance)
