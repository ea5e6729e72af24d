"""Where the work stands, and whether an operation may be signed off."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from wormwright.job.operation import Gate, Operation, SignOff, Verdict
from wormwright.job.reading import Reading
from wormwright.job.sheet import KINDS, ROCKS
from wormwright.traveler.order import UNDONE_BY, why_before
from wormwright.traveler.planning import ALL
from wormwright.traveler.staleness import live_readings

State = Literal["done", "next", "waiting", "blocked", "not needed"]


@dataclass(frozen=True, slots=True)
class Step:
    """One operation and where it stands. `on` names the operations it waits for."""

    operation: Operation
    state: State
    why: str
    on: tuple[str, ...] = ()
    signed: SignOff | None = None


@dataclass(frozen=True, slots=True)
class Signing:
    """What a sign-off comes to: the verdict, the gates outside their limits, what to do next."""

    operation: str
    verdict: Verdict
    outside: tuple[Gate, ...]
    next_steps: tuple[str, ...]
    values: tuple[tuple[str, float], ...]


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
    last = _last(signed)
    done: set[str] = set()
    steps: list[Step] = []
    for op in operations:
        step = _step(op, last, done, {o.key for o in operations}, live)
        if step.state == "done":
            done.add(op.key)
        steps.append(step)
    unneeded = (op for key, op in ALL.items() if key not in {o.key for o in operations})
    idle = tuple(Step(op, "not needed", "the chosen plan does not ask for it") for op in unneeded)
    return (*steps, *idle)


def _step(
    op: Operation,
    last: Mapping[str, SignOff],
    done: set[str],
    planned: set[str],
    live: tuple[Reading, ...],
) -> Step:
    mine = last.get(op.key)
    waits = tuple(key for key in op.after if key in planned and key not in done)
    if waits:
        names = "; ".join(f"{_name(key)}: {why_before(key, op.key)}" for key in waits)
        return Step(op, "waiting", f"first {names}", waits, mine)
    if mine is not None:
        again = _undone_by(op.key, mine, last)
        if again:
            return Step(op, "next", f"do again: {_name(again)} was done after it", (), mine)
        if mine.verdict == "failed":
            return Step(op, "blocked", " ".join(_ways_out(op, mine)), (), mine)
        return Step(op, "done", f"signed {mine.initials}, number {mine.seq}", (), mine)
    missing = _missing(op, live)
    return Step(op, "next", f"read first: {missing}" if missing else "free to start")


def sign(
    key: str,
    values: Mapping[str, float],
    *,
    operations: Sequence[Operation],
    readings: Iterable[Reading],
    sign_offs: Iterable[SignOff],
) -> Signing:
    """Judge a sign-off: gate values (core units, by gate key) against the gates.

    Raises SignOffError for an operation that is not in the plan, whose forerunners are not signed
    off, whose compulsory readings are missing or stale, or with gate values missing or unknown.
    """
    signed = tuple(sign_offs)
    rows = tuple(readings)
    op = next((o for o in operations if o.key == key), None)
    if op is None:
        raise SignOffError(_not_in_plan(key, operations))
    step = next(s for s in progress(operations, rows, signed) if s.operation.key == key)
    if step.state == "waiting":
        raise SignOffError(
            f"{_name(key)} cannot be signed yet: {step.why}. Sign that off first, or mend it."
        )
    missing = _missing(op, live_readings(rows, signed))
    if missing:
        raise SignOffError(f"{_name(key)} needs a reading that is missing or stale: {missing}.")
    given = _with_derived(op, values)
    _check_names(op, given)
    outside = tuple(gate for gate in op.gates if not inside(gate, given[gate.key]))
    verdict: Verdict = "failed" if outside else ("passed" if op.gates else "done")
    next_steps = tuple(gate.if_failed for gate in outside) or _to_read(op)
    ordered = tuple((gate.key, given[gate.key]) for gate in op.gates)
    return Signing(key, verdict, outside, next_steps, ordered)


def inside(gate: Gate, value: float) -> bool:
    """Whether a gate value lies within its limits, ends included; a value that is none does not."""
    low = -math.inf if gate.low is None else gate.low
    high = math.inf if gate.high is None else gate.high
    slack = 1e-9 * max(abs(x) for x in (low, high, 0.0) if math.isfinite(x))
    return low - slack <= value <= high + slack


def _with_derived(op: Operation, values: Mapping[str, float]) -> dict[str, float]:
    """Gate values with the difference of the two ends worked out; a typed one must agree."""
    apart = _ends_apart(op, values)
    if apart is None:
        return dict(values)
    typed = abs(values.get("ends_apart", apart))
    if not math.isclose(typed, apart, abs_tol=5e-4):
        raise SignOffError(
            f"{_name(op.key)}: ends_apart does not agree with closing_a and closing_b; "
            "leave it out, it is worked out from them"
        )
    return {**values, "ends_apart": apart}


def _ends_apart(op: Operation, values: Mapping[str, float]) -> float | None:
    """Difference of the closings at the two ends, if the operation asks for it and has both."""
    a, b = values.get("closing_a"), values.get("closing_b")
    wanted = any(gate.key == "ends_apart" for gate in op.gates)
    return abs(a - b) if wanted and a is not None and b is not None else None


def _check_names(op: Operation, given: Mapping[str, float]) -> None:
    wanted = [gate.key for gate in op.gates]
    missing = [key for key in wanted if key not in given]
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
    have = {r.kind for r in live if r.value is not None or r.word is not None}
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
    return "; ".join(either if k == "rock" else KINDS[k].label.lower() for k in kinds)


def _ways_out(op: Operation, failed: SignOff) -> tuple[str, ...]:
    values = {key: value for key, value, _ in failed.gate_values}
    apart = _ends_apart(op, values)
    if apart is not None:
        values["ends_apart"] = apart
    ways = (g.if_failed for g in op.gates if g.key in values and not inside(g, values[g.key]))
    return tuple(ways) or ("A gate failed; mend it and sign this operation again.",)


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
