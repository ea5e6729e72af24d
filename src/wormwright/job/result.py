"""What a computation hands back: values with their doubt, and what is wrong with the input."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from wormwright.quantities import Dimension

Action = Literal["refuse", "ask", "warn"]
"""What a doubt asks for: refuse to go on, ask the machinist to confirm, or only warn."""


@dataclass(frozen=True, slots=True)
class Estimate:
    """A value with its standard uncertainty and 95 % interval, in core units.

    `low` and `high` may be unequal about `value` (a play cannot be negative).
    """

    value: float
    u: float
    low: float
    high: float
    dimension: Dimension
    method: str

    def __post_init__(self) -> None:
        """Refuse numbers that cannot be an estimate."""
        if not all(math.isfinite(x) for x in (self.value, self.u, self.low, self.high)):
            raise ValueError(f"an estimate needs finite numbers, got {self!r}")
        if self.u < 0 or self.low > self.high:
            raise ValueError(f"an estimate needs u >= 0 and low <= high, got {self!r}")

    @classmethod
    def normal(cls, value: float, u: float, dimension: Dimension, method: str) -> Estimate:
        """A value with the 95 % interval of the normal law."""
        return cls(value, u, value - 1.96 * u, value + 1.96 * u, dimension, method)

    def scaled(self, factor: float, dimension: Dimension) -> Estimate:
        """The same estimate times a positive factor (for example mm at r2 into rad)."""
        return Estimate(
            self.value * factor,
            self.u * factor,
            self.low * factor,
            self.high * factor,
            dimension,
            self.method,
        )


@dataclass(frozen=True, slots=True)
class Doubt:
    """One thing that looks wrong: what was seen, why it matters, and the one thing to do next."""

    action: Action
    code: str
    seen: str
    why: str
    do: str
    rows: tuple[int, ...] = ()


class StageRefusal(ValueError):  # noqa: N818  (a refusal is an answer, not a fault)
    """A stage cannot answer honestly from what it was given; the doubts say what to do."""

    def __init__(self, stage: str, doubts: tuple[Doubt, ...]) -> None:
        """Carry the doubts that stopped the stage."""
        self.stage = stage
        self.doubts = doubts
        super().__init__(f"{stage}: " + "; ".join(f"{d.seen} {d.do}" for d in doubts))
