"""A figure as a person entered it: one number, or the range it lies in."""

from __future__ import annotations

import math
from dataclasses import dataclass

from wormwright.job.result import Estimate
from wormwright.quantities import Dimension


def refuse_unless_positive(owner: str, **numbers: float | None) -> None:
    """Refuse numbers that are given and not above zero."""
    for name, number in numbers.items():
        if number is not None and not (math.isfinite(number) and number > 0):
            raise ValueError(f"{owner}: {name} must be above zero, got {number}")


@dataclass(frozen=True, slots=True)
class Given:
    """A figure between two ends, in core units; equal ends for a plain one."""

    value: float
    low: float
    high: float

    def __post_init__(self) -> None:
        """Refuse ends that do not hold the figure."""
        numbers = (self.low, self.value, self.high)
        if any(math.isnan(x) for x in numbers) or not self.low <= self.value <= self.high:
            raise ValueError(f"a figure must lie between its ends, got {numbers}")

    @classmethod
    def plain(cls, value: float) -> Given:
        """A figure without a range."""
        return cls(value, value, value)

    @property
    def is_plain(self) -> bool:
        """Whether it was given without a range."""
        return self.low == self.high

    def estimate(self, dimension: Dimension, method: str = "as entered") -> Estimate:
        """The same as an estimate: a rectangle between its ends (JCGM 100:2008, 4.3.7)."""
        u = (self.high - self.low) / math.sqrt(12)
        return Estimate(self.value, u, self.low, self.high, dimension, method)
