"""Back to the first day: every changed thing in reverse order, with what tells the old part."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from wormwright.job.blocks import Block, Cautions, Cell, Heading, Paragraph, Table
from wormwright.job.operation import Operation, SignOff
from wormwright.job.reading import Reading
from wormwright.job.sheet import KINDS
from wormwright.traveler.staleness import readings_as_found

MOST_ROWS = 3
"""Readings of one kind and place that are written out; of more only the number is."""
NOT_READ = "not read"


def restore_list(
    operations: Sequence[Operation], *, readings: Iterable[Reading], sign_offs: Iterable[SignOff]
) -> tuple[Block, ...]:
    """The restore list: what the plan changes, latest change first, and what stays changed."""
    signed = tuple(sign_offs)
    found = readings_as_found(readings, signed)
    changing = _latest_first(operations, signed)
    if not changing:
        return ()
    rows = tuple(
        (
            Cell(op.number),
            Cell(thing.thing),
            Cell(thing.old_part),
            Cell(thing.mark),
            Cell(sizes_at_baseline(thing.sizes, found)),
            Cell(op.go_back),
            Cell("changed" if any(s.operation == op.key for s in signed) else "not yet"),
        )
        for op in changing
        for thing in op.restores
    )
    blocks: list[Block] = [
        Heading("Back to the first day"),
        Paragraph(
            "To take the work back, go down this list. Keep every old part until the proof is "
            "signed. Afterwards everything that was felt or moved is read anew."
        ),
    ]
    lasting = tuple(f"{op.number} {op.title}: {op.lasting}" for op in changing if op.lasting)
    if lasting:
        blocks.append(Cautions(("Cannot be undone:", *lasting)))
    columns = ("no.", "thing", "old part", "mark", "read at the baseline", "way back", "state")
    blocks.append(Table("Latest change first", columns, rows, "restore"))
    return tuple(blocks)


def _latest_first(
    operations: Sequence[Operation], signed: tuple[SignOff, ...]
) -> tuple[Operation, ...]:
    """Operations that change something: those still to come, then those done, each reversed."""
    last = {s.operation: s.seq for s in sorted(signed, key=lambda s: s.seq)}
    changing = [op for op in operations if op.restores]
    still = [op for op in changing if op.key not in last]
    done = sorted((op for op in changing if op.key in last), key=lambda op: last[op.key])
    return (*reversed(still), *reversed(done))


def sizes_at_baseline(kinds: Iterable[str], found: Iterable[Reading]) -> str:
    """What was read of these kinds as the unit was found, as it was written."""
    rows = tuple(found)
    said = []
    for kind in kinds:
        label = KINDS[kind].label.lower() if kind in KINDS else kind
        mine = [r for r in rows if r.kind == kind]
        said.append(f"{label} {_written(mine)}")
    return "; ".join(said) or "nothing to read"


def _written(rows: Sequence[Reading]) -> str:
    stations = dict.fromkeys(r.station for r in rows)
    parts = []
    for station in stations:
        raws = [r.raw for r in rows if r.station == station]
        some = ", ".join(raws) if len(raws) <= MOST_ROWS else f"{len(raws)} readings on the sheet"
        parts.append(f"{station} {some}".strip())
    return " / ".join(parts) or NOT_READ
