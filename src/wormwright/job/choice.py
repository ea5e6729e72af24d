"""What choosing hands back: the loads of the work, each drive against its needs, the verdict."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from wormwright.job.drive import Drive
from wormwright.job.findings import Figured
from wormwright.job.result import Doubt, Estimate
from wormwright.job.work import Task
from wormwright.quantities import Dimension

Status = Literal["met", "not met", "cannot tell"]
Standing = Literal["meets every need", "fails", "cannot tell"]
ChoiceWord = Literal[
    "keep what you have", "take this one", "any of these", "none of these", "no verdict yet"
]


@dataclass(frozen=True, slots=True)
class Load:
    """What one kind of work asks of the axis, in core units.

    `force` along the cut at its highest, `mean_force` of it; `torque` at the table with unbalance;
    `swings` says that the force changes its way while it cuts.
    """

    cut: Task
    force: Estimate
    mean_force: Estimate
    torque: Estimate
    swings: bool
    figures: tuple[Figured, ...]
    words: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Need:
    """One need of one work against one drive: what it gets, and the limit it is judged by.

    `at_most` says that the figure must stay at or below the limit, else at or above.
    """

    key: str
    work: str
    label: str
    got: Estimate
    limit: Estimate
    at_most: bool
    status: Status


@dataclass(frozen=True, slots=True)
class ErrorParts:
    """What makes the error of one work on one drive, mm at its radius, and what is allowed."""

    work: str
    parts: tuple[tuple[str, float], ...]
    error: Estimate
    allowed: float | None


@dataclass(frozen=True, slots=True)
class Side:
    """One drive as judged. `pulses` of a motor turn as proposed, `setting` what is to be set."""

    drive: Drive
    pulses: int
    figures: tuple[Figured, ...]
    needs: tuple[Need, ...]
    errors: tuple[ErrorParts, ...]
    standing: Standing
    back_driving: str
    curve: tuple[tuple[float, float], ...] = ()
    cost: Estimate | None = None
    setting: str = ""
    words: tuple[str, ...] = ()

    @property
    def unmet(self) -> tuple[Need, ...]:
        """Needs that it does not meet, or may not."""
        return tuple(need for need in self.needs if need.status != "met")


@dataclass(frozen=True, slots=True)
class Change:
    """One entered figure, what it is now, and from where on something else holds.

    `upward` says which way it changes; `share` is the change as a part of the figure; `then` is
    what holds from there on.
    """

    what: str
    now: float
    turns_at: float
    upward: bool
    dimension: Dimension
    share: float
    then: str


@dataclass(frozen=True, slots=True)
class Way:
    """How one drive that does not meet the needs would: one change of one need, or none alone."""

    drive: str
    changes: tuple[Change, ...]
    unmet: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Choice:
    """Which drive suits the work, and on what that hangs."""

    loads: tuple[Load, ...]
    sides: tuple[Side, ...]
    word: ChoiceWord
    chosen: tuple[str, ...]
    reasons: tuple[str, ...]
    ways: tuple[Way, ...] = ()
    flips: tuple[Change, ...] = ()
    doubts: tuple[Doubt, ...] = ()
