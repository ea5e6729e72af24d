"""A reading: one row of the bench sheet, with the raw text kept beside the parsed value."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

STYLUS_CORRECTED = "stylus corrected"
"""Flag of a value that is the reading times the cosine of the stylus; the raw text stays."""
NO_CONDITIONS: Mapping[str, float | str] = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class Reading:
    """One reading as written at the bench, parsed into core units.

    `value` is None for readings that are words (`word`) or unusable (`flags` then says why).
    Angles in rad. `u` is the standard uncertainty of `value` in core units when the machinist
    typed one or the instrument gives one; None means "use the kind's usual noise".
    `conditions` hold core units under the condition's key (see `ReadingKind.conditions`).
    """

    seq: int
    kind: str
    raw: str
    value: float | None = None
    word: str | None = None
    unit: str = ""
    u: float | None = None
    table_angle: float | None = None
    worm_angle: float | None = None
    station: str = ""
    instrument: str = ""
    conditions: Mapping[str, float | str] = field(default_factory=lambda: NO_CONDITIONS)
    flags: tuple[str, ...] = ()
    note: str = ""
    when: str = ""
    supersedes: int | None = None

    def __post_init__(self) -> None:
        """Refuse impossible values."""
        if self.seq < 1:
            raise ValueError(f"reading {self.kind}: seq must be 1 or more, got {self.seq}")
        for name in ("value", "u", "table_angle", "worm_angle"):
            number = getattr(self, name)
            if number is not None and not math.isfinite(number):
                raise ValueError(f"reading {self.seq} ({self.kind}): {name} is not a finite number")
        if self.u is not None and self.u <= 0:
            raise ValueError(f"reading {self.seq} ({self.kind}): u must be above zero")

    def number(self, condition: str) -> float | None:
        """The numeric condition of that key, or None if absent or a word."""
        got = self.conditions.get(condition)
        return got if isinstance(got, float) else None

    def said(self, condition: str) -> str | None:
        """The word given for that condition, or None if absent or a number."""
        got = self.conditions.get(condition)
        return got if isinstance(got, str) else None
