"""The unit before and after the work: the same readings at the same places."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from wormwright.job.result import Estimate

Change = Literal["less", "more", "no change proven"]


@dataclass(frozen=True, slots=True)
class Compared:
    """One kind of reading before and after, as the mean over the places that both have.

    `change` is after less before; `told` says which way it is proven at 95 %. `places` counts the
    places, `rows` are the running numbers behind it.
    """

    kind: str
    label: str
    where: str
    places: int
    before: Estimate
    after: Estimate
    change: Estimate
    told: Change
    rows: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class NotCompared:
    """Readings that stand on both sides but must not be compared, and why."""

    label: str
    why: str
    do: str


@dataclass(frozen=True, slots=True)
class Comparison:
    """Everything that was read before and after; `single` holds the rocks place by place."""

    compared: tuple[Compared, ...]
    single: tuple[Compared, ...]
    refused: tuple[NotCompared, ...]
