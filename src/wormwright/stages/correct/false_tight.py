"""Where a bushing shuts the mesh by standing the worm sideways, and how that is told by feel."""

from __future__ import annotations

import math

import numpy as np

from wormwright.core.eccentric import closing_and_sideways
from wormwright.job.corrections import FalseTight
from wormwright.stages.correct.chart import TRUE_DEPTH, TightSpotBacklash
from wormwright.stages.correct.strategy import LEAST_BELIEF
from wormwright.stages.correct.unit import UnitRows

FARTHEST, STEP = math.radians(150), math.radians(0.5)
"""How far round from pointing at the wheel the circle is looked at, and in what steps."""

HALVINGS = 8


def false_tight_places(
    backlash: TightSpotBacklash, unit: UnitRows, *, throw: float, throat: float
) -> tuple[FalseTight, ...]:
    """Each side of the circle and each wheel kind still possible: where it shuts too far out.

    `throat` is where the wheel's throat lies sideways of the factory line, mm.
    """
    found = []
    for mesh in unit.meshes.kinds:
        if mesh.belief < LEAST_BELIEF:
            continue
        for way, toward in ((1.0, "table top"), (-1.0, "table base")):
            circle = _Circle(backlash, mesh.kind, throw, throat, way)
            place = circle.false_tight()
            if place is not None:
                first, last = place
                used, frees = unit.meshes.method(mesh.kind), circle.frees_at(first)
                if frees:
                    first = circle.refined(first)
                short = circle.short_at(first)
                found.append(FalseTight(mesh.kind, toward, first, last, short, used, frees))
    return tuple(found)


class _Circle:
    """One side of the circle of throw for one wheel kind."""

    def __init__(
        self, backlash: TightSpotBacklash, kind: str, throw: float, throat: float, way: float
    ) -> None:
        self.backlash, self.kind = backlash, kind
        self.throw, self.throat, self.way = throw, throat, way

    def place(self, angle: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """Closing and how far off the throat centre at those angles from the wheel."""
        closing, sideways = closing_and_sideways(throw=self.throw, angle=self.way * angle)
        return np.asarray(closing), np.asarray(sideways) - self.throat

    def left(self, angle: np.ndarray) -> np.ndarray:
        """Backlash at the tight spot at those angles, below zero shut."""
        closing, off = self.place(angle)
        return self.backlash.at(self.kind, closing, off)

    def frees_at(self, angle: float) -> bool:
        """Whether the mesh is open a step nearer to the wheel."""
        return float(self.left(np.array([angle - STEP]))[0]) > 0.0

    def false_tight(self) -> tuple[float, float] | None:
        """First and last angle of the false-tight place nearest the wheel."""
        angles = np.arange(0.0, FARTHEST, STEP)
        closing, off = self.place(angles)
        centred = self.backlash.at(self.kind, closing, np.zeros(len(angles)))
        false = (self.backlash.at(self.kind, closing, off) <= 0.0) & (centred > TRUE_DEPTH)
        if not false.any():
            return None
        first = int(np.argmax(false))
        end = first + int(np.argmin(np.append(false[first:], False))) - 1
        return float(angles[first]), float(angles[end])

    def short_at(self, angle: float) -> float:
        """Closing that is missing there until the mesh would shut with the worm centred, mm."""
        closing, _ = self.place(np.array([angle]))
        return self.backlash.room(self.kind, float(closing[0]))

    def refined(self, angle: float) -> float:
        """The angle within a step of this one at which the mesh just shuts, by halving."""
        low, high = angle - STEP, angle
        for _ in range(HALVINGS):
            middle = (low + high) / 2
            is_open = float(self.left(np.array([middle]))[0]) > 0
            low, high = (middle, high) if is_open else (low, middle)
        return high
