"""Traps of the work that a sign-off can fall into: refused, or let pass with a warning."""

from __future__ import annotations

import statistics
from collections.abc import Mapping

from wormwright.job.operation import Operation
from wormwright.job.reading import Reading
from wormwright.traveler.branches import inside

WHOLE_SWING = "whole swing"
"""Words of the note that answer E-16: the value is the whole swing of the needle."""


def refusals(
    op: Operation, values: Mapping[str, float], live: tuple[Reading, ...], note: str
) -> tuple[str, ...]:
    """Reasons why the operation may not be signed off at all."""
    meant = WHOLE_SWING in note.casefold()
    return (*_out_of_bounds(op, live), *(() if meant else _half_swing(op, values)))


def _out_of_bounds(op: Operation, live: tuple[Reading, ...]) -> tuple[str, ...]:
    """Live readings that say the operation comes too early (E-14, E-44)."""
    found = []
    for bound in op.bounds:
        rows = [r for r in live if r.kind == bound.kind and r.value is not None]
        values = [r.value for r in rows if r.value is not None]
        if values and statistics.fmean(values) > bound.high:
            read = ", ".join(r.raw for r in rows)
            found.append(f"{bound.code}: {bound.why} (read: {read}). {bound.do}")
    return tuple(found)


def _half_swing(op: Operation, values: Mapping[str, float]) -> tuple[str, ...]:
    """The throw written where the whole swing of the needle is asked for (E-16)."""
    return tuple(
        f"E-16: {gate.label}: this is half of what the drawing gives, as the throw itself would "
        "be. Write the whole swing of the needle. If it is the whole swing, the throw came out "
        f'half of what was meant: say so with --note "{WHOLE_SWING}" and it is written down as '
        "failed."
        for gate in op.gates
        if gate.key.startswith("swing")
        and gate.key in values
        and gate.low is not None
        and gate.high is not None
        and not inside(gate, values[gate.key])
        and gate.low / 2 <= values[gate.key] <= gate.high / 2
    )


def warnings(op: Operation, values: Mapping[str, float]) -> tuple[str, ...]:
    """What passes and is worth a warning all the same."""
    found = []
    for watch in op.watch:
        value = values.get(watch.gate)
        if value is None:
            continue
        below = watch.low is not None and value < watch.low
        above = watch.high is not None and value > watch.high
        if below or above:
            found.append(f"{watch.code}: {watch.say}")
    return (*found, *_false_tight(op, values), *_closing_used_up(op, values))


def _false_tight(op: Operation, values: Mapping[str, float]) -> tuple[str, ...]:
    """The play is gone although the worm is not as near as planned (E-19, E-20)."""
    gates = {gate.key: gate for gate in op.gates}
    rock, ends = gates.get("rock_locked"), [gates.get("closing_a"), gates.get("closing_b")]
    if rock is None or rock.high is None or values.get("rock_locked", rock.high + 1) > rock.high:
        return ()
    short = [g for g in ends if g and g.low and values.get(g.key, g.low) < g.low]
    if not short:
        return ()
    return (
        "E-19: the play is gone before the planned depth is reached. Either the worm stands off "
        "the throat of the wheel (it loosens as the edges bed in: blue it, 7c), or its crest "
        "touches the root.",
    )


def _closing_used_up(op: Operation, values: Mapping[str, float]) -> tuple[str, ...]:
    """Play is left although the worm stands as near as the plan allows (E-44)."""
    gates = {gate.key: gate for gate in op.gates}
    rock, end = gates.get("rock_locked"), gates.get("closing_a")
    if rock is None or end is None or rock.high is None or end.high is None:
        return ()
    if values.get("rock_locked", 0.0) <= rock.high or values.get("closing_a", 0.0) < end.high:
        return ()
    return (
        "E-44: play is left and the planned closing is used up. What is left is not the mesh: do "
        "not close further; read worm end play, worm float and table play, and cure those.",
    )
