"""What a re-check of a finished axis shows: change, trend, date, what to adjust."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from wormwright.job.result import Doubt, Estimate

StillGood = Literal["still good", "adjust", "cannot tell"]
Moved = Literal["more", "less", "no change shown"]


@dataclass(frozen=True, slots=True)
class PlaceChange:
    """Change at one place since the first check: core unit of the kind, or rad for a rock."""

    place: str
    change: Estimate
    stands_out: bool


@dataclass(frozen=True, slots=True)
class KindChange:
    """One kind of reading over the checks: first, last, mean change over the same places."""

    kind: str
    label: str
    places: int
    first: Estimate
    last: Estimate
    change: Estimate
    moved: Moved
    by_place: tuple[PlaceChange, ...] = ()


@dataclass(frozen=True, slots=True)
class CheckDay:
    """One check: the day it was begun, hours run if told, and how many readings it has."""

    day: str
    hours: float | None
    readings: int


@dataclass(frozen=True, slots=True)
class Ahead:
    """The trend of the mean rock and when to check again; `unit` of time is h or d.

    `rate` is rad per 1000 h or per year. `reaches` is where the prediction meets the limit, None
    when the rise is not proven. `next_check` is the time of the next check, `why` what sets it.
    """

    unit: Literal["h", "d"]
    times: tuple[float, ...]
    means: tuple[float, ...]
    rate: Estimate | None
    reaches: float | None
    next_check: float
    next_day: str
    why: str


@dataclass(frozen=True, slots=True)
class Adjust:
    """What to adjust and by how much: a closing of the mesh, a thinner worm shim."""

    what: str
    by: Estimate
    how: str


@dataclass(frozen=True, slots=True)
class Recheck:
    """The answer of a re-check, with everything it stands on.

    `allowed` is the rock that the duty allows, rad; None when the duty does not feel the rock.
    """

    answer: StillGood
    loosest: Estimate
    loosest_at: str
    allowed: float | None
    checks: tuple[CheckDay, ...]
    changes: tuple[KindChange, ...]
    ahead: Ahead | None
    adjust: tuple[Adjust, ...]
    repeat: tuple[str, ...]
    doubts: tuple[Doubt, ...]
