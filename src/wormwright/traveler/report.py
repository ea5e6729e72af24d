"""The traveler as report blocks: what comes next, each operation with its boxes, stale readings."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from wormwright.job.blocks import Block, Cell, Heading, OperationBlock, Paragraph, Table
from wormwright.job.operation import Gate, Operation, SignOff
from wormwright.job.parts import Part
from wormwright.job.reading import Reading
from wormwright.job.rotary import Job, Units
from wormwright.job.sheet import KINDS
from wormwright.quantities import shown
from wormwright.traveler.branches import DERIVED
from wormwright.traveler.hours import hours, in_hours
from wormwright.traveler.limits import ARCMIN
from wormwright.traveler.materials import tools_and_materials
from wormwright.traveler.planning import ALL
from wormwright.traveler.progress import Step, labels, progress
from wormwright.traveler.restore import restore_list
from wormwright.traveler.staleness import stale_readings

BLANK = "______"


def report(
    operations: Sequence[Operation],
    *,
    readings: Iterable[Reading],
    sign_offs: Iterable[SignOff],
    job: Job,
    parts: Sequence[Part] = (),
) -> tuple[Block, ...]:
    """The order of work with its state, stale readings, hours, tools and materials, restore list.

    `parts` are those that the plan makes.
    """
    rows, signed = tuple(readings), tuple(sign_offs)
    steps = progress(operations, rows, signed)
    wanted = [step for step in steps if step.state != "not needed"]
    needed = tuple(step.operation for step in wanted)
    time = in_hours(sum(op.minutes for op in needed))
    blocks: list[Block] = [
        Heading("Order of work"),
        Paragraph(what_next(steps), strong=True),
        Paragraph(
            f"{len(wanted)} operations, about {time} at bench and machine. Do them in this "
            "order; sign each one before the next. Whatever an operation makes stale is read anew."
        ),
        *(_block(step, job.units) for step in wanted),
    ]
    idle = [step.operation for step in steps if step.state == "not needed"]
    if idle:
        names = ", ".join(f"{op.number} {op.title.lower()}" for op in idle)
        blocks.append(Paragraph(f"Not needed for this plan: {names}."))
    stale = _stale_table(rows, signed)
    if stale:
        blocks.append(stale)
    blocks += hours(needed)
    blocks += tools_and_materials(needed, job=job, parts=parts)
    return (*blocks, *restore_list(needed, readings=rows, sign_offs=signed))


def what_next(steps: Sequence[Step]) -> str:
    """One sentence: the operation to do now, or what stands in the way."""
    for step in steps:
        if step.state == "blocked":
            op = step.operation
            return f"Stopped at {op.number} {op.title}: {step.why}"
    for step in steps:
        op = step.operation
        if step.state == "next":
            more = "" if step.why == "free to start" else f" ({step.why})"
            return f"Next: {op.number} {op.title}{more}."
    return "Every operation is signed off."


def _block(step: Step, units: Units) -> OperationBlock:
    op = step.operation
    values = {key: raw for key, _, raw in step.signed.gate_values} if step.signed else {}
    return OperationBlock(
        number=op.number,
        title=op.title,
        state=f"{step.state}: {step.why}",
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
        makes_stale=labels(k for k, _ in op.makes_stale if k != "rock_pins") or "nothing",
        go_back=op.go_back,
        sign=sign_command(op),
    )


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
    """A limit to the two figures it is judged by; a finished size to the micrometre."""
    if value == 0:
        return "0"
    unit = ARCMIN if gate.dimension == "angle" else 1.0
    size = abs(value) / unit
    step = unit * 10.0 ** (math.floor(math.log10(size) + 1e-9) - 1)
    if gate.dimension == "length":
        step = min(step, 0.001) if size > 1 else step
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
