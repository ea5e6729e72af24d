"""Back to the first day: every changed thing in reverse order, with what tells the old part."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from wormwright.job.blocks import Block, Cautions, Cell, Paragraph, Table
from wormwright.job.operation import Operation, SignOff
from wormwright.job.reading import Reading
from wormwright.job.sheet import KINDS
from wormwright.traveler.planning import ALL
from wormwright.traveler.staleness import readings_as_found

RESTORE = "Back to the first day"
MOST_ROWS = 3
"""Readings of one kind and place that are written out; of more only the number is."""
NOT_READ = "not read"


def restore_list(
    operations: Sequence[Operation], *, readings: Iterable[Reading], sign_offs: Iterable[SignOff]
) -> tuple[Block, ...]:
    """The restore list: what is changed, latest change first, and what stays changed.

    Every operation that was signed off is on it, whatever its verdict and whether or not the plan
    still asks for it; those of `operations` that are still to come stand first.
    """
    signed = tuple(sign_offs)
    found = readings_as_found(readings, signed)
    last = {s.operation: s for s in sorted(signed, key=lambda s: s.seq)}
    changing = _latest_first(operations, last)
    if not changing:
        return ()
    columns = ("no.", "put back", "by the mark", "as found", "how", "state")
    rows = tuple(row for op in changing for row in _rows(op, last.get(op.key), signed, found))
    blocks: list[Block] = [
        Paragraph(
            "To take the work back, go down this list. Keep every old part until the proof is "
            "signed. Afterwards everything that was felt or moved is read anew."
        ),
    ]
    lasting = tuple(f"{op.number} {op.title}: {op.lasting}" for op in changing if op.lasting)
    if lasting:
        blocks.append(Cautions(("Cannot be undone:", *lasting)))
    return (*blocks, Table("Latest change first", columns, rows, "restore"))


def _rows(
    op: Operation,
    done: SignOff | None,
    signed: tuple[SignOff, ...],
    found: tuple[Reading, ...],
) -> Iterable[tuple[Cell, ...]]:
    """One row for each thing that an operation changes."""
    notes = [s.note for s in signed if s.operation == op.key and s.note]
    how = " ".join([op.go_back, *(f"Noted: {note}." for note in notes)])
    state = f"changed, signed {done.initials}" if done else "not yet"
    for thing in op.restores:
        put_back = f"{thing.thing}: {thing.old_part}"
        sizes = sizes_at_baseline(thing.sizes, found)
        yield tuple(Cell(text) for text in (op.number, put_back, thing.mark, sizes, how, state))


def _latest_first(
    operations: Sequence[Operation], last: Mapping[str, SignOff]
) -> tuple[Operation, ...]:
    """Operations that change something: those still to come, then those done, each reversed."""
    known = {op.key: op for op in (*ALL.values(), *operations)}
    still = [op for op in operations if op.restores and op.key not in last]
    done = [known[key] for key in sorted(last, key=lambda k: last[k].seq) if key in known]
    return (*reversed(still), *reversed([op for op in done if op.restores]))


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
