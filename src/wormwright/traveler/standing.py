"""Where the work stands, and whether an operation may be signed off."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from wormwright.job.operation import Gate, Operation, SignOff, Verdict
from wormwright.job.reading import Reading
from wormwright.job.sheet import KINDS, ROCKS
from wormwright.traveler.branches import (
    DERIVED,
    Branch,
    asked_for,
    branch_of,
    derived_values,
    failed_gates,
    inside,
)
from wormwright.traveler.order import UNDONE_BY, why_before
from wormwright.traveler.planning import ALL, REMAKES
from wormwright.traveler.staleness import live_readings
from wormwright.traveler.work_traps import refusals, warnings

State = Literal["done", "next", "waiting", "blocked", "not needed"]


@dataclass(frozen=True, slots=True)
class Step:
    """One operation and where it stands.

    `on` names the operations it waits for, or those that its failed gates ask for.
    """

    operation: Operation
    state: State
    why: str
    on: tuple[str, ...] = ()
    signed: SignOff | None = None


@dataclass(frozen=True, slots=True)
class Signing:
    """What a sign-off comes to: the verdict, the gates outside their limits, what to do next.

    Each gate outside has its branch; `warnings` are of what passed and is doubtful all the same.
    """

    operation: str
    verdict: Verdict
    outside: tuple[Gate, ...]
    next_steps: tuple[str, ...]
    values: tuple[tuple[str, float], ...]
    branches: tuple[Branch, ...] = ()
    warnings: tuple[str, ...] = ()


class SignOffError(ValueError):
    """The operation may not be signed off now; the text says why and what to do."""


def progress(
    operations: Sequence[Operation],
    readings: Iterable[Reading],
    sign_offs: Iterable[SignOff],
) -> tuple[Step, ...]:
    """Where each operation stands: those of the plan in order, then those not needed."""
    signed = tuple(sign_offs)
    live = live_readings(readings, signed)
    now = _Now(_last(signed), asked_for(operations, signed), live, tuple(operations))
    done: set[str] = set()
    steps: list[Step] = []
    for op in operations:
        step = _step(op, now, done)
        if step.state == "done" or _stands(op, now, step):
            done.add(op.key)
        steps.append(step)
    unneeded = (op for key, op in ALL.items() if key not in {o.key for o in operations})
    idle = tuple(Step(op, "not needed", _why_idle(op)) for op in unneeded)
    return (*steps, *idle)


@dataclass(frozen=True, slots=True)
class _Now:
    """Where the job stands: last sign-offs, what failed gates ask for, live readings, the plan."""

    last: Mapping[str, SignOff]
    asked: Mapping[str, SignOff]
    live: tuple[Reading, ...]
    operations: tuple[Operation, ...]

    def asks(self, key: str) -> SignOff | None:
        """The failed sign-off that asks for this operation and has not been answered yet."""
        by = self.asked.get(key)
        mine = self.last.get(key)
        return by if by and (mine is None or mine.seq < by.seq) else None


def _step(op: Operation, now: _Now, done: set[str]) -> Step:
    mine = now.last.get(op.key)
    planned = {o.key for o in now.operations}
    waits = tuple(k for k in op.after if k in planned and k not in done and not _mine(k, mine, now))
    if waits:
        names = "; ".join(f"{_name(key)}: {why_before(key, op.key)}" for key in waits)
        return Step(op, "waiting", f"first {names}", waits, mine)
    if mine is not None:
        return _signed_step(op, mine, now)
    return Step(op, "next", _first_time(op, now))


def _signed_step(op: Operation, mine: SignOff, now: _Now) -> Step:
    again = _undone_by(op.key, mine, now.last)
    if again:
        return Step(op, "next", f"do again: {_name(again)} was done after it", (), mine)
    if mine.verdict == "failed":
        branches = [branch_of(gate, op, now.operations) for gate in failed_gates(op, mine)]
        return Step(op, "blocked", _ways_out(branches), _asked(op, branches), mine)
    by = now.asks(op.key)
    if by:
        return Step(op, "next", f"do again: {_name(by.operation)} failed", (), mine)
    return Step(op, "done", f"signed {mine.initials}, number {mine.seq}", (), mine)


def _first_time(op: Operation, now: _Now) -> str:
    by, missing = now.asks(op.key), _missing(op, now.live)
    if missing:
        return f"read first: {missing}"
    return f"{_name(by.operation)} failed and asks for it" if by else "free to start"


def _mine(key: str, mine: SignOff | None, now: _Now) -> bool:
    """Whether a forerunner is only there because of my own failed gate: I may be read again."""
    by = now.asks(key)
    return by is not None and by is mine


def _stands(op: Operation, now: _Now, step: Step) -> bool:
    """Whether what was signed still stands, although a failed gate further on asks for it again."""
    mine = step.signed
    if mine is None or mine.verdict == "failed" or step.state != "next":
        return False
    return _undone_by(op.key, mine, now.last) is None


def _why_idle(op: Operation) -> str:
    return (
        "only after a failed gate" if op.key in REMAKES else "the chosen plan does not ask for it"
    )


def sign(
    key: str,
    values: Mapping[str, float],
    *,
    operations: Sequence[Operation],
    readings: Iterable[Reading],
    sign_offs: Iterable[SignOff],
    note: str = "",
) -> Signing:
    """Judge a sign-off: gate values (core units, by gate key) against the gates.

    A `note` can answer what a trap asks. Raises SignOffError for an operation that is not in the
    plan, whose forerunners are not signed off, whose compulsory readings are missing or stale, or
    with gate values missing or unknown.
    """
    signed = tuple(sign_offs)
    rows = tuple(readings)
    op = next((o for o in operations if o.key == key), None)
    if op is None:
        raise SignOffError(_not_in_plan(key, operations))
    steps = progress(operations, rows, signed)
    step = next(s for s in steps if s.operation.key == key)
    if step.state == "waiting":
        now = next(s.operation.key for s in steps if s.state in ("next", "blocked"))
        raise SignOffError(
            f"{_name(key)} cannot be signed yet: {step.why}. The work stands at {_name(now)}: "
            "sign that off first, or mend it."
        )
    missing = _missing(op, live_readings(rows, signed))
    if missing:
        raise SignOffError(
            f"{_name(key)} needs a reading that is missing or stale: {missing}. Take it now and "
            "enter it with `wormwright measure`."
        )
    given = _with_derived(op, values)
    _check_names(op, given)
    refused = refusals(op, given, live_readings(rows, signed), note)
    if refused:
        raise SignOffError(f"{_name(key)} cannot be signed: {' '.join(refused)}")
    outside = tuple(gate for gate in op.gates if not inside(gate, given[gate.key]))
    verdict: Verdict = "failed" if outside else ("passed" if op.gates else "done")
    branches = tuple(branch_of(gate, op, operations) for gate in outside)
    ordered = tuple((gate.key, given[gate.key]) for gate in op.gates)
    return Signing(
        key,
        verdict,
        outside,
        tuple(dict.fromkeys(branch.words(ALL) for branch in branches)) or _to_read(op),
        ordered,
        branches,
        warnings(op, given),
    )


def _with_derived(op: Operation, values: Mapping[str, float]) -> dict[str, float]:
    """Gate values with those that are worked out from others; a typed one must agree."""
    found = derived_values(op, values)
    for key, value in found.items():
        if not math.isclose(abs(values.get(key, value)), value, abs_tol=5e-4):
            _, first, second = DERIVED[key]
            raise SignOffError(
                f"{_name(op.key)}: {key} does not agree with {first} and {second}; "
                "leave it out, it is worked out from them"
            )
    return {**values, **found}


def _check_names(op: Operation, given: Mapping[str, float]) -> None:
    wanted = [gate.key for gate in op.gates]
    missing = [key for key in wanted if key not in given]
    missing = [key for key in missing if not set(DERIVED.get(key, ())) & set(missing)]
    unknown = [key for key in given if key not in wanted]
    if missing:
        raise SignOffError(f"{_name(op.key)}: gate values missing: {', '.join(missing)}.")
    endless = [key for key in wanted if not math.isfinite(given[key])]
    if endless:
        raise SignOffError(f"{_name(op.key)}: expected a number for {', '.join(endless)}.")
    if unknown:
        raise SignOffError(
            f"{_name(op.key)}: no such gate: {', '.join(unknown)}; "
            f"it has {', '.join(wanted) or 'none'}."
        )


def _missing(op: Operation, live: tuple[Reading, ...]) -> str:
    """Labels of the compulsory readings that have no live row; a rock on two pins is a rock."""
    read = [r for r in live if r.value is not None or r.word is not None]
    have = {r.kind for r in read} | {f"{r.kind}:{r.station}" for r in read}
    wanted = [k for k in op.wants if not have & set(ROCKS if k in ROCKS else (k,))]
    return labels(wanted)


def _to_read(op: Operation) -> tuple[str, ...]:
    """What to read once the operation is signed: what it reads of what it has made stale."""
    stale = {kind for kind, _ in op.makes_stale}
    anew = labels(k for k in op.read if k in stale)
    return (f"Read anew: {anew}.",) if anew else ()


def labels(kinds: Iterable[str]) -> str:
    """Names of reading kinds in a row; either kind of rock will do where a rock is named."""
    either = "table rock (one pin, or better two opposite pins)"
    return "; ".join(either if k == "rock" else _label(k) for k in kinds)


def _label(kind: str) -> str:
    key, _, station = kind.partition(":")
    label = KINDS[key].label.lower() if key in KINDS else key
    return f"{label} ({station})" if station else label


def _ways_out(branches: Iterable[Branch]) -> str:
    ways = dict.fromkeys(branch.words(ALL) for branch in branches)
    return " ".join(ways) or "A gate failed; mend it and sign this operation again."


def _asked(op: Operation, branches: Iterable[Branch]) -> tuple[str, ...]:
    """Other operations that failed gates of this one ask for."""
    return tuple(dict.fromkeys(b.back_to for b in branches if b.back_to != op.key))


def _undone_by(key: str, mine: SignOff, last: Mapping[str, SignOff]) -> str | None:
    """The latest operation done after this one that undoes it, if any."""
    later = [
        last[a] for a in UNDONE_BY.get(key, frozenset()) if a in last and last[a].seq > mine.seq
    ]
    return max(later, key=lambda s: s.seq).operation if later else None


def _last(sign_offs: Iterable[SignOff]) -> dict[str, SignOff]:
    return {s.operation: s for s in sorted(sign_offs, key=lambda s: s.seq)}


def _name(key: str) -> str:
    return f"operation {ALL[key].number} ({key})" if key in ALL else key


def _not_in_plan(key: str, operations: Sequence[Operation]) -> str:
    planned = ", ".join(op.key for op in operations)
    reason = "the chosen plan does not need it" if key in ALL else "there is no such operation"
    return f"{key}: {reason}; the plan has {planned}"
