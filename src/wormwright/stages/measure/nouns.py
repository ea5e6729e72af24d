"""What the sheet looks like now: the state of every reading kind and of every purpose."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from wormwright.core.blue_mark import BlueFinding
from wormwright.job.reading import Reading
from wormwright.job.result import Doubt, Estimate
from wormwright.job.rotary import Job

State = Literal["done", "part", "doubtful", "stale", "missing"]
"""done: read at every station; part: some stations; doubtful: a row is refused or asked about."""


@dataclass(frozen=True, slots=True)
class KindLine:
    """One kind on the sheet. `figure` pools the repeats, `span` is the range of a map."""

    kind: str
    state: State
    rows: tuple[int, ...]
    doubtful: tuple[int, ...]
    stale: tuple[tuple[int, str], ...]
    stations_missing: tuple[str, ...] = ()
    figure: Estimate | None = None
    span: tuple[float, float] | None = None
    word: str = ""


@dataclass(frozen=True, slots=True)
class PurposeLine:
    """How far the least set of one purpose has been read, and the bench time left for it."""

    key: str
    question: str
    complete: bool
    missing: tuple[str, ...]
    minutes_left: float


@dataclass(frozen=True, slots=True)
class Sheet:
    """The baseline sheet as it stands.

    `usable` are the live readings that may enter a fit: all but the refused ones and plays that
    come out below zero. Asked rows stay in until they are corrected. `blue` is what the blue marks
    of both flanks say, None until both were looked at.
    """

    job: Job
    lines: tuple[KindLine, ...]
    purposes: tuple[PurposeLine, ...]
    doubts: tuple[Doubt, ...]
    usable: tuple[Reading, ...]
    kept_out: tuple[int, ...]
    minutes_left: float
    blue: BlueFinding | None = None

    def line(self, kind: str) -> KindLine:
        """The line of that kind."""
        return next(line for line in self.lines if line.kind == kind)

    def purpose(self, key: str) -> PurposeLine:
        """The line of that purpose."""
        return next(line for line in self.purposes if line.key == key)
