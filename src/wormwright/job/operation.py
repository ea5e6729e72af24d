"""Operations of the traveler, their gates, and the sign-offs that close them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from wormwright.quantities import Dimension

Verdict = Literal["passed", "failed", "done"]


@dataclass(frozen=True, slots=True)
class Gate:
    """A value that must lie within limits before the operation may be signed off (core units).

    Without limits the value is only written down. Dimension "none" is a tick: 1 for yes, 0 for no.
    `back_to` is the operation to go back to when it fails; "" means this operation again.
    """

    key: str
    label: str
    dimension: Dimension
    low: float | None
    high: float | None
    how: str
    if_failed: str
    back_to: str = ""


@dataclass(frozen=True, slots=True)
class Bound:
    """What live readings of a kind must stay under before an operation may be signed at all.

    `high` in core units; `code` is the trap that it keeps the machinist out of.
    """

    kind: str
    code: str
    high: float
    why: str
    do: str


@dataclass(frozen=True, slots=True)
class Watch:
    """A gate value that passes but is worth a warning when it lies outside `low`..`high`."""

    gate: str
    code: str
    low: float | None
    high: float | None
    say: str


@dataclass(frozen=True, slots=True)
class Restore:
    """One thing that an operation changes, and how it is told apart on the way back.

    `sizes` are the reading kinds that say what it measured at the baseline.
    """

    thing: str
    old_part: str
    mark: str
    sizes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Operation:
    """One operation of the job. `after` names operations that must come first.

    `makes_stale` holds (reading kind, station) pairs; station "" means every station. `wants` are
    readings that must be live before it is signed; "kind:station" asks for one station.
    `spot_check` kinds are read at two places before and after the tightening. `lasting` says what
    of it cannot be undone. `machine_minutes` of `minutes` are spent at lathe or mill.
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
    lasting: str = ""
    machine_minutes: float = 0.0
    restores: tuple[Restore, ...] = ()
    bounds: tuple[Bound, ...] = ()
    watch: tuple[Watch, ...] = ()


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
