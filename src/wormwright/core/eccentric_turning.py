"""Setting work over in the lathe to bore it off centre: what the indicator must show."""

from __future__ import annotations

import math
from dataclasses import dataclass


def four_jaw_tir(throw: float) -> float:
    """Full indicator reading on the outside when the work stands off centre by the throw.

    Source: geometry: the outside swings from -e to +e in one turn.
    Formula: TIR = 2 e.
    Inputs: throw e [mm]. Outputs: TIR [mm].
    Valid for: e above zero and an indicator that stays on the work (travel over 2 e).
    Raises: ValueError outside.

    >>> four_jaw_tir(0.3)
    0.6
    """
    if not throw > 0:
        raise ValueError(f"throw must be above zero, got {throw} mm")
    return 2 * throw


@dataclass(frozen=True, slots=True)
class SetOver:
    """Throw that a set-up stands at and how far its axis leans to the spindle axis (mm per mm)."""

    throw_at_face: float
    lean: float


def set_over_from_two_stations(
    *, tir_near: float, tir_far: float, near: float, far: float
) -> SetOver:
    """Throw at the face and lean of the work from the TIR at two stations along it.

    Source: geometry; both TIR taken with the high point at the same mark, as in a four-jaw chuck.
    Formula: throw = TIR/2 at each station, straight line between.
    Inputs: tir_near, tir_far [mm]; near, far, distances from the outer face [mm], near < far.
    Outputs: SetOver: throw at the face [mm], lean = slope of the throw [1].
    Valid for: TIR not below zero and the same high mark at both stations.
    Raises: ValueError outside.

    >>> over = set_over_from_two_stations(tir_near=0.600, tir_far=0.610, near=2, far=22)
    >>> round(over.throw_at_face, 4), round(over.lean, 6)
    (0.2995, 0.00025)
    """
    if not (tir_near >= 0 and tir_far >= 0 and 0 <= near < far):
        raise ValueError(
            f"TIR {tir_near} and {tir_far} mm at {near} and {far} mm: expected TIR not below zero "
            "and the near station nearer to the face than the far one"
        )
    lean = (tir_far - tir_near) / 2 / (far - near)
    return SetOver(tir_near / 2 - lean * near, lean)


def packing_after_trial(
    *, packing: float, tir_seen: float, throw: float, work_radius: float
) -> float:
    """Second packing under one jaw of a three-jaw chuck after the first was indicated.

    Source: derived here: step of the line-contact packing law, added to the trial packing, so that
        what the jaws really do (line, flat, worn) stays in the trial.
    Formula: t + p(e) - p(TIR/2) with p(x) = 1.5 x + sqrt(R^2 - 0.75 x^2) - R.
    Inputs: packing t in place, tir_seen with it, wanted throw e, work_radius R [mm].
    Outputs: packing to try next [mm].
    Valid for: e and TIR/2 above zero and below R.
    Raises: ValueError outside.

    >>> round(packing_after_trial(packing=0.45, tir_seen=0.590, throw=0.3, work_radius=15), 4)
    0.4574
    """
    seen = tir_seen / 2
    if not (0 < seen < work_radius and 0 < throw < work_radius and packing > 0):
        raise ValueError(
            f"packing {packing}, TIR {tir_seen}, throw {throw}, radius {work_radius} mm: expected "
            "all above zero and the offsets below the radius"
        )

    def law(x: float) -> float:
        return 1.5 * x + math.sqrt(work_radius**2 - 0.75 * x**2) - work_radius

    return packing + law(throw) - law(seen)
