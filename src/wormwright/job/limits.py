"""A size with its limit deviations. Lengths mm."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Limits:
    """A size with its two limit deviations: `size + lower` .. `size + upper`."""

    size: float
    upper: float
    lower: float
    fit: str = ""

    def __post_init__(self) -> None:
        """Refuse crossed limits."""
        if not self.size > 0:
            raise ValueError(f"a size must be above zero, got {self.size}")
        if self.upper < self.lower:
            raise ValueError(f"limits of {self.size}: upper {self.upper} below lower {self.lower}")
