"""What follows when a gate fails: where to go back to, what is done again, what becomes stale."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

from wormwright.job.operation import Gate, Operation, SignOff
from wormwright.traveler.order import UNDONE_BY
from wormwright.traveler.staleness import MAKES_STALE

Derived = tuple[Callable[[float, float], float], str, str]

DERIVED: Mapping[str, Derived] = MappingProxyType(
    {
        "ends_apart": (lambda a, b: abs(a - b), "closing_a", "closing_b"),
        "spot_tight": (lambda a, b: abs(b - a), "spot_tight_before", "spot_tight_after"),
        "spot_far": (lambda a, b: abs(b - a), "spot_far_before", "spot_far_after"),
        "drag_after_to_before": (
            lambda a, b: b / a if a > 0 else math.inf,
            "drag_before",
            "drag_after",
        ),
    }
)
"""Gates that are worked out from two others: how, and from which."""


@dataclass(frozen=True, slots=True)
class Branch:
    """The way on from one failed gate.

    `back_to` is the operation to do, `again` the operations of the plan that it undoes (with
    `to_the_end` these are all from the first of them on), `stale` the reading kinds that die when
    it is signed.
    """

    gate: Gate
    back_to: str
    again: tuple[str, ...]
    stale: tuple[str, ...]
    to_the_end: bool = False

    def words(self, known: Mapping[str, Operation]) -> str:
        """The branch in one line; the gate's own words first."""
        if self.back_to not in known or not self.gate.back_to:
            return self.gate.if_failed
        op = known[self.back_to]
        line = f"{self.gate.if_failed} Go back to {op.number} {op.title} ({op.key})."
        numbers = tuple(dict.fromkeys(known[key].number for key in self.again))
        if self.to_the_end and len(numbers) > 1:
            return f"{line} Then again {numbers[0]} and all that follows it."
        return f"{line} Then again: {', '.join(numbers)}." if numbers else line


def inside(gate: Gate, value: float) -> bool:
    """Whether a gate value lies within its limits, ends included; a value that is none does not."""
    low = -math.inf if gate.low is None else gate.low
    high = math.inf if gate.high is None else gate.high
    slack = 1e-9 * max(abs(x) for x in (low, high, 0.0) if math.isfinite(x))
    return low - slack <= value <= high + slack


def derived_values(op: Operation, values: Mapping[str, float]) -> dict[str, float]:
    """The gates of the operation that follow from two others which are given."""
    found: dict[str, float] = {}
    for gate in op.gates:
        if gate.key in DERIVED:
            work_out, first, second = DERIVED[gate.key]
            if first in values and second in values:
                found[gate.key] = work_out(values[first], values[second])
    return found


def failed_gates(op: Operation, sign_off: SignOff) -> tuple[Gate, ...]:
    """The gates outside their limits in a sign-off as it was written down."""
    values = {key: value for key, value, _ in sign_off.gate_values}
    values |= derived_values(op, values)
    return tuple(g for g in op.gates if g.key in values and not inside(g, values[g.key]))


def branch_of(gate: Gate, op: Operation, operations: Sequence[Operation]) -> Branch:
    """Where a failed gate leads to; to the operation itself unless the gate names another."""
    target = gate.back_to or op.key
    again = tuple(o.key for o in operations if target in UNDONE_BY.get(o.key, frozenset()))
    stale = tuple(dict.fromkeys(kind for kind, _ in MAKES_STALE.get(target, ())))
    to_the_end = again == tuple(o.key for o in operations)[len(operations) - len(again) :]
    return Branch(gate, target, again, stale, to_the_end)


def asked_for(operations: Iterable[Operation], sign_offs: Iterable[SignOff]) -> dict[str, SignOff]:
    """Operations that failed gates ask for, each with the sign-off that asks for it last.

    An operation that passed when it was signed again asks no more, unless the work that it asked
    for has been done.
    """
    by_key = {op.key: op for op in operations}
    rows = sorted(sign_offs, key=lambda s: s.seq)
    last = {s.operation: s for s in rows}
    asked: dict[str, SignOff] = {}
    for sign_off in rows:
        op = by_key.get(sign_off.operation)
        if op is None or sign_off.verdict != "failed":
            continue
        for gate in failed_gates(op, sign_off):
            done = gate.back_to in last and last[gate.back_to].seq > sign_off.seq
            if gate.back_to and (done or last[op.key] is sign_off):
                asked[gate.back_to] = sign_off
    return asked
