"""Operations of the traveler, their gates, and the sign-offs that close them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from wormwright.quantities import Dimension

Verdict = Literal["passed", "failed", "done"]


@dataclass(frozen=True, slots=True)
class Gate:
    """A value that must lie within limits before the operation may be signed off (core units)."""

    key: str
    label: str
    dimension: Dimension
    low: float | None
    high: float | None
    how: str
    if_failed: str


@dataclass(frozen=True, slots=True)
class Operation:
    """One operation of the job. `after` names operations that must come first.

    `makes_stale` holds (reading kind, station) pairs; station "" means every station.
    """

    key: str
    number: str
    title: str
    cautions: tuple[str, ...]
    tools: tuple[str, ...]
    do: tuple[str, ...]
    read: tuple[str, ...]
    gates: tuple[Gate, ...]
    makes_stale: tuple[tuple[str, str], ...]
    spot_check: tuple[str, ...]
    go_back: str
    after: tuple[str, ...]
    minutes: float
    wants: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class SignOff:
    """An operation signed off at the bench. `gate_values` in core units under the gate's key."""

    seq: int
    operation: str
    when: str
    initials: str
    gate_values: tuple[tuple[str, float, str], ...]
    verdict: Verdict
    note: str = ""
