"""A rebuild guide: what a unit must measure before the parts of another may be made for it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from wormwright.job.result import Doubt
from wormwright.quantities import Dimension

LimitsBy = Literal["author", "proposed"]
"""Who set the limits: the author of the guide, or wormwright as a first proposal."""


@dataclass(frozen=True, slots=True)
class GuideRow:
    """One size or word that a unit is compared by; core units.

    A size has limits, a word has `word`. `needs` says what hangs on it. A row that is not
    `compulsory` is shown but does not decide.
    """

    kind: str
    station: str
    dimension: Dimension
    nominal: float | None
    low: float | None
    high: float | None
    word: str
    needs: str
    compulsory: bool = True

    def __post_init__(self) -> None:
        """Refuse a row that nothing can be compared with."""
        if self.word:
            return
        ends = (self.low, self.high)
        if any(end is None or not math.isfinite(end) for end in ends):
            raise ValueError(f"guide row {self.kind}: expected both limits, or a word")
        if self.low is not None and self.high is not None and self.low > self.high:
            raise ValueError(f"guide row {self.kind}: low {self.low} is above high {self.high}")


@dataclass(frozen=True, slots=True)
class GuidePart:
    """A part of the guide: what it is, and its sizes as shown on its drawing."""

    name: str
    sizes: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class GuideStep:
    """One operation of the guide's order of work."""

    number: str
    key: str
    title: str


@dataclass(frozen=True, slots=True)
class Guide:
    """A rebuild guide for one kind of unit. `seal` is the hash of its content."""

    title: str
    unit: str
    version: str
    plan: str
    limits_by: LimitsBy
    rows: tuple[GuideRow, ...]
    parts: tuple[GuidePart, ...] = ()
    steps: tuple[GuideStep, ...] = ()
    made_up: bool = False
    seal: str = ""

    def __post_init__(self) -> None:
        """Refuse a guide that cannot be told from another, or compares nothing."""
        if not (self.title.strip() and self.version.strip()):
            raise ValueError("guide: title and version must not be empty")
        if not any(row.compulsory for row in self.rows):
            raise ValueError("guide: expected at least one compulsory row to compare by")

    @property
    def named(self) -> str:
        """Title, version and the first signs of its seal."""
        return f"{self.title}, version {self.version}, seal {self.seal[:12]}"


@dataclass(frozen=True, slots=True)
class Compared:
    """One row of a guide against the unit: what was read, the answer, and why."""

    row: GuideRow
    label: str
    value: float | None
    u: float | None
    word: str
    answer: Literal["same", "not the same", "cannot tell"]
    chance: float | None
    do: str
    seqs: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class SamenessFound:
    """The answer for a unit: the same as the guide's, not the same, or it cannot be told."""

    guide: Guide
    unit_id: str
    answer: Literal["same", "not the same", "cannot tell"]
    rows: tuple[Compared, ...]
    doubts: tuple[Doubt, ...] = ()

    @property
    def first_failed(self) -> Compared | None:
        """The first compulsory row, in the order of the guide, that is not the same."""
        return next((c for c in self.rows if c.row.compulsory and c.answer == "not the same"), None)
