"""A once-per-turn vector: how far something stands out, and toward which mark of the table."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

CHI_SQUARE_95 = -2 * math.log(0.05)
"""95 % point of chi-square with two degrees of freedom."""

NO_DIRECTION = math.pi / math.sqrt(3)
"""Standard uncertainty of a direction that may be anywhere, rad."""


@dataclass(frozen=True, slots=True)
class TurnVector:
    """Vector in the table's own marks: x toward mark 0, y toward mark 90°, u of each of the two.

    In mm for an offset (half of the indicator's swing), in rad for a tilt.
    """

    x: float
    y: float
    u: float

    def __post_init__(self) -> None:
        """Refuse figures that are none."""
        if not (math.isfinite(self.x) and math.isfinite(self.y) and self.u >= 0):
            raise ValueError(f"turn vector ({self.x}, {self.y}) with u {self.u}: expected numbers")

    @property
    def size(self) -> float:
        """Length of the vector; half of the swing in one turn."""
        return math.hypot(self.x, self.y)

    @property
    def swing(self) -> float:
        """Full swing of the indicator in one turn from this part alone (TIR = 2e)."""
        return 2 * self.size

    @property
    def direction(self) -> float:
        """Mark of the table it points at, rad from 0 to 2 pi."""
        return math.atan2(self.y, self.x) % (2 * math.pi)

    @property
    def direction_u(self) -> float:
        """Standard uncertainty of the direction, rad; 104° when it may be anywhere."""
        return min(self.u / self.size, NO_DIRECTION) if self.size > 0 else NO_DIRECTION

    @property
    def stands_out(self) -> bool:
        """Whether it is proven not to be zero (95 %)."""
        return self.size**2 > CHI_SQUARE_95 * self.u**2

    def times(self, factor: float) -> TurnVector:
        """The vector and its doubt multiplied by a factor; below zero turns it half round."""
        return TurnVector(factor * self.x, factor * self.y, abs(factor) * self.u)

    def plus(self, other: TurnVector) -> TurnVector:
        """Sum with another, read independently."""
        return TurnVector(self.x + other.x, self.y + other.y, math.hypot(self.u, other.u))

    def minus(self, other: TurnVector) -> TurnVector:
        """Difference from another, read independently."""
        return self.plus(other.times(-1.0))


def vector_from_swing(swing: float, *, direction: float | None, u: float) -> TurnVector:
    """Vector from a full indicator swing and the mark of its high point.

    Source: geometry; a circle off centre by e swings the indicator by 2e.
    Formula: e = swing/2 toward the mark.
    Inputs: swing (TIR) [mm]; direction, mark of the high point [rad] or None; u of each component
        [mm].
    Outputs: TurnVector [mm].
    Valid for: a swing without lobes. A swing without its angle is refused: two equal swings may
        hide a tilt.
    Raises: ValueError without the angle or for a swing below zero.

    >>> round(vector_from_swing(0.02, direction=math.pi / 2, u=0.001).y, 4)
    0.01
    """
    if direction is None:
        raise ValueError(
            "a swing without the mark of its high point: expected its angle as well; two planes "
            "with equal swings may still hide a tilt, so read the angle and write it down"
        )
    if not swing >= 0:
        raise ValueError(f"swing must not be below zero, got {swing} mm")
    return TurnVector(swing / 2 * math.cos(direction), swing / 2 * math.sin(direction), u)


def largest_u(covariance: NDArray[np.float64]) -> float:
    """Standard uncertainty along the worst direction of a 2 by 2 covariance."""
    return math.sqrt(max(float(np.linalg.eigvalsh(covariance)[-1]), 0.0))
