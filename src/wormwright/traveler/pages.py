"""The traveler as report blocks: what comes next, each operation with its boxes, the way back."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from wormwright.job.blocks import Block, Cell, Heading, OperationBlock, Paragraph, Table
from wormwright.job.operation import Gate, Operation, SignOff
from wormwright.job.parts import Part
from wormwright.job.reading import Reading
from wormwright.job.rotary import Job, Units
from wormwright.job.sheet import KINDS, ROCKS
from wormwright.quantities import shown
from wormwright.traveler.branches import DERIVED, branch_of
from wormwright.traveler.hours import hours, in_hours
from wormwright.traveler.limits import ARCMIN
from wormwright.traveler.materials import tools_and_materials
from wormwright.traveler.planning import ALL
from wormwright.traveler.restore import RESTORE, restore_list
from wormwright.traveler.staleness import stale_readings
from wormwright.traveler.standing import Step, labels, progress

BLANK = "______"


def report(
    operations: Sequence[Operation],
    *,
    readings: Iterable[Reading],
    sign_offs: Iterable[SignOff],
    job: Job,
    parts: Sequence[Part] = (),
) -> tuple[Block, ...]:
    """The order of work: hours, tools and materials, the operations, stale readings, the way back.

    `parts` are those that the plan makes.
    """
    rows, signed = tuple(readings), tuple(sign_offs)
    steps = progress(operations, rows, signed)
    wanted = [step for step in steps if step.state != "not needed"]
    needed = tuple(step.operation for step in wanted)
    blocks: list[Block] = [
        *_head(steps),
        *hours(needed),
        *tools_and_materials(needed, job=job, parts=parts),
        Heading("The operations"),
        *(_block(step, operations, job.units) for step in wanted),
    ]
    idle = [step.operation for step in steps if step.state == "not needed"]
    if idle:
        names = ", ".join(f"{op.number} {op.title.lower()}" for op in idle)
        blocks.append(Paragraph(f"Not needed for this plan: {names}."))
    stale = _stale_table(rows, signed)
    if stale:
        blocks.append(stale)
    back = restore_list(needed, readings=rows, sign_offs=signed)
    return (*blocks, *((Heading(RESTORE), *back) if back else ()))


def overview(
    operations: Sequence[Operation],
    *,
    readings: Iterable[Reading],
    sign_offs: Iterable[SignOff],
    job: Job,
) -> tuple[Block, ...]:
    """Where the work stands: all operations in one table, and the page of the one to do now."""
    rows, signed = tuple(readings), tuple(sign_offs)
    steps = progress(operations, rows, signed)
    wanted = [step for step in steps if step.state != "not needed"]
    table = tuple(
        (
            Cell(step.operation.number),
            Cell(step.operation.title),
            Cell(step.operation.key),
            Cell(in_hours(step.operation.minutes)),
            Cell(_in_short(step)),
        )
        for step in wanted
    )
    columns = ("no.", "operation", "key", "time", "state")
    now = _now(steps)
    return (
        *_head(steps),
        Table("Operations of the plan", columns, table, "operations"),
        *((_block(now, operations, job.units),) if now else ()),
    )


def way_back(readings: Iterable[Reading], sign_offs: Iterable[SignOff]) -> tuple[Block, ...]:
    """What to put back, in which order, of what has been signed off so far."""
    return restore_list((), readings=readings, sign_offs=sign_offs) or (
        Paragraph("Nothing has been changed yet: there is nothing to put back.", strong=True),
    )


def _head(steps: Sequence[Step]) -> tuple[Block, ...]:
    wanted = [step for step in steps if step.state != "not needed"]
    time = in_hours(sum(step.operation.minutes for step in wanted))
    return (
        Heading("Order of work"),
        Paragraph(what_next(steps), strong=True),
        Paragraph(
            f"{len(wanted)} operations, about {time} at bench and machine. Do them in this "
            "order; sign each one before the next. Whatever an operation makes stale is read anew."
        ),
    )


def _in_short(step: Step) -> str:
    """The state of an operation in a few words."""
    if step.state == "waiting":
        return f"waits for {', '.join(dict.fromkeys(ALL[key].number for key in step.on))}"
    signed = step.signed
    if signed is None or step.state == "done":
        return step.why if step.state == "done" else step.state
    return f"{'failed' if step.state == 'blocked' else 'do again'}, number {signed.seq}"


def _now(steps: Sequence[Step]) -> Step | None:
    """The operation to do now: one that a failed gate asks for, the failed one, or the next."""
    blocked = next((step for step in steps if step.state == "blocked"), None)
    ready = [step for step in steps if step.state == "next"]
    if blocked is None:
        return ready[0] if ready else None
    return next((step for step in ready if step.operation.key in blocked.on), blocked)


def what_next(steps: Sequence[Step]) -> str:
    """One sentence: the operation to do now, or what stands in the way."""
    step = _now(steps)
    if step is None:
        return "Every operation is signed off."
    op = step.operation
    blocked = next((s.operation for s in steps if s.state == "blocked"), None)
    if blocked is op:
        return f"Stopped at {op.number} {op.title}: {step.why}"
    stopped = f"Stopped at {blocked.number} {blocked.title}. " if blocked else ""
    more = "" if step.why == "free to start" else f" ({step.why})"
    return f"{stopped}Next: {op.number} {op.title}{more}."


def _block(step: Step, operations: Sequence[Operation], units: Units) -> OperationBlock:
    op = step.operation
    values = {key: raw for key, _, raw in step.signed.gate_values} if step.signed else {}
    return OperationBlock(
        number=op.number,
        title=op.title,
        state=_in_short(step) if step.state == "blocked" else f"{step.state}: {step.why}",
        cautions=op.cautions,
        tools=op.tools,
        do=op.do,
        read=_read(op),
        gates=tuple(
            (
                f"{gate.label} ({gate.key}). {gate.how}",
                limit_text(gate, units),
                values.get(gate.key, BLANK),
            )
            for gate in op.gates
        ),
        makes_stale=_stale_kinds(op),
        go_back=op.go_back,
        sign=sign_command(op),
        if_failed=_ways_on(op, operations),
    )


def _stale_kinds(op: Operation) -> str:
    kinds = (kind for kind, _ in op.makes_stale if kind not in ROCKS)
    rock = ("table rock",) if any(kind in ROCKS for kind, _ in op.makes_stale) else ()
    return "; ".join((*rock, *(KINDS[kind].label.lower() for kind in kinds))) or "nothing"


def _ways_on(op: Operation, operations: Sequence[Operation]) -> tuple[str, ...]:
    """What to do when a gate fails, one line for all gates that share it."""
    lines: dict[str, list[str]] = {}
    for gate in op.gates:
        if gate.low is not None or gate.high is not None:
            words = branch_of(gate, op, operations).words(ALL)
            lines.setdefault(words, []).append(gate.key)
    return tuple(f"{', '.join(keys)}: {words}" for words, keys in lines.items())


def sign_command(op: Operation) -> str:
    """The command that signs the operation off, with a place for every gate value."""
    typed = (gate.key for gate in op.gates if gate.key not in DERIVED)
    gates = (f'--gate {key}="..."' for key in typed)
    return " ".join([f"wormwright sign DIR {op.key} --initials ..", *gates])


def limit_text(gate: Gate, units: Units = "mm") -> str:
    """The limits of a gate in words and the job's units."""
    if gate.dimension == "none":
        return "yes"
    if gate.low is None and gate.high is None:
        return "written down"
    low = None if gate.low is None else _shown(gate, gate.low, units)
    high = None if gate.high is None else _shown(gate, gate.high, units)
    if gate.low is not None and gate.high is not None and gate.low == -gate.high:
        return f"within ± {high}"
    if low is not None and high is not None:
        return f"{low} to {high}"
    return f"at least {low}" if high is None else f"at most {high}"


def _shown(gate: Gate, value: float, units: Units) -> str:
    """A limit to the two figures it is judged by; a size with two limits to the micrometre."""
    if value == 0:
        return "0"
    unit = ARCMIN if gate.dimension == "angle" else 1.0
    size = abs(value) / unit
    step = unit * 10.0 ** (math.floor(math.log10(size) + 1e-9) - 1)
    if gate.dimension == "length" and size > 1 and gate.low is not None and gate.high is not None:
        step = min(step, 0.001)
    return shown(value, gate.dimension, resolution=step, units=units)


def _read(op: Operation) -> tuple[str, ...]:
    """What to read, told apart by when its row is entered: before signing, or anew after it."""
    stale = {kind for kind, _ in op.makes_stale}
    before = labels(kind for kind in op.read if kind not in stale)
    after = labels(kind for kind in op.read if kind in stale)
    spot = labels(op.spot_check)
    lines = (
        f"Before signing: {before}" if before else "",
        f"Enter anew after signing: {after}" if after else "",
        f"Spot check at two places or more: {spot}" if spot else "",
    )
    return tuple(line for line in lines if line)


def _stale_table(readings: tuple[Reading, ...], sign_offs: tuple[SignOff, ...]) -> Table | None:
    killed_by = stale_readings(readings, sign_offs)
    rows = tuple(
        (
            Cell(str(reading.seq)),
            Cell(KINDS[reading.kind].label if reading.kind in KINDS else reading.kind),
            Cell(reading.raw),
            Cell(_operation(killed_by[reading.seq])),
        )
        for reading in readings
        if reading.seq in killed_by
    )
    if not rows:
        return None
    columns = ("number", "reading", "as written", "made stale by")
    return Table("Stale readings: kept, but no longer counted", columns, rows, "stale")


def _operation(key: str) -> str:
    return f"{ALL[key].number} {ALL[key].title}" if key in ALL else key
