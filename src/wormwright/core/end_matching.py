"""How nearly the two eccentric bushings of one worm must stand at the same angle."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

Look = Literal["toward the wheel", "along the table axis"]


def skew_that_costs(*, backlash: float, r1: float, tan_face: float) -> float:
    """Skew of the worm that takes up a stated backlash.

    Source: derived, docs/explanation/mesh-closed-forms.md: the contact at the edge of the face
        closes by skew·r1·tan(th) on each flank.
    Formula: skew = j / (2 r1 tan(th)).
    Inputs: backlash j it may cost at r2 [mm]; worm reference radius r1 [mm]; tan(th) of half the
        face, sin(th) = face/(2 r1) [1].
    Outputs: skew [rad].
    Valid for: all above zero; a worm at or outside the depth its wheel was cut for. A plain helical
        wheel bears more. Raises: ValueError outside.

    >>> round(skew_that_costs(backlash=0.002, r1=11.0, tan_face=0.65) * 1e6)
    140
    """
    if not (backlash > 0 and r1 > 0 and tan_face > 0):
        raise ValueError(
            f"skew: expected backlash, worm radius and face above zero, "
            f"got {backlash}, {r1}, {tan_face}"
        )
    return backlash / (2.0 * r1 * tan_face)


@dataclass(frozen=True, slots=True)
class EndsMatch:
    """How far two bushings may differ, and what indicators beside them would show of it.

    `turn` is the difference of the two angles [rad]; `toward_wheel` and `along_table` the
    differences of two indicators set that way [mm]; `look` is the way that shows more.
    """

    turn: float
    toward_wheel: float
    along_table: float
    look: Look

    @property
    def reading(self) -> float:
        """Largest difference of the two indicators that are set the way of `look`, mm."""
        return self.toward_wheel if self.look == "toward the wheel" else self.along_table


MOST_TURN = math.radians(5)
"""Square to the wheel an unequal angle skews nothing; more than this is a fault all the same."""


def ends_match(*, throw: float, angle: float, span: float, skew: float) -> EndsMatch:
    """Difference of the bushing angles that skews the worm by no more than is allowed.

    Source: geometry, `misalignment_of_unequal_angles` to first order in the difference.
    Formula: turn = skew·L / (e |cos phi|), at most 5 degrees; toward the wheel an indicator shows
        e |sin phi|·turn, along the table axis e |cos phi|·turn.
    Inputs: throw e [mm], angle phi from pointing at the wheel [rad], bearing span L [mm], allowed
        skew [rad]. Outputs: EndsMatch.
    Valid for: e, L, skew above zero. Pointing at the wheel the indicator toward the wheel is blind.
    Raises: ValueError outside.

    >>> m = ends_match(throw=0.2, angle=0.0, span=60.0, skew=1e-4)
    >>> m.look, round(m.along_table, 6), m.toward_wheel
    ('along the table axis', 0.006, 0.0)
    """
    if not (throw > 0 and span > 0 and skew > 0):
        raise ValueError(
            f"matching the ends: expected throw, span and skew above zero, "
            f"got {throw}, {span}, {skew}"
        )
    beside, toward = throw * abs(math.cos(angle)), throw * abs(math.sin(angle))
    turn = min(MOST_TURN, skew * span / beside) if beside > 0 else MOST_TURN
    look: Look = "toward the wheel" if toward >= beside else "along the table axis"
    return EndsMatch(turn, toward * turn, beside * turn, look)
