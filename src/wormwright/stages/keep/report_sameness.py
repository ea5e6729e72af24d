"""Report blocks of a unit against a guide: the answer first, then row by row."""

from __future__ import annotations

from wormwright.job.blocks import Block, Cautions, Cell, Doubts, Heading, Paragraph, Table
from wormwright.job.guide import Compared, Guide, SamenessFound
from wormwright.job.result import Estimate
from wormwright.job.sheet import KINDS

ANSWERS = {
    "same": "The same: as far as was read, this unit is what the guide was made for.",
    "not the same": "Not the same: do not cut metal by this guide for this unit.",
    "cannot tell": "Cannot tell: do not cut metal by this guide before the open rows are read.",
}
K = 2.0


def sameness_blocks(found: SamenessFound) -> tuple[Block, ...]:
    """The answer with its first failed row, the rows still open, and every row compared."""
    blocks: list[Block] = [
        Paragraph(f"Compared with: {found.guide.named} ({found.guide.unit})."),
        Paragraph(ANSWERS[found.answer], strong=True),
    ]
    failed = found.first_failed
    if failed is not None:
        blocks.append(
            Paragraph(
                f"First row that differs: {failed.label}. On it hangs: {failed.row.needs}.",
                strong=True,
            )
        )
    if found.doubts:
        blocks.append(Doubts(found.doubts))
    open_rows = [c for c in found.rows if c.answer == "cannot tell" and c.row.compulsory]
    if open_rows:
        blocks.append(Heading("Still open", 2))
        blocks.append(
            Table(
                "What would settle it",
                ("row", "what hangs on it", "what to do"),
                tuple((Cell(c.label), Cell(c.row.needs), Cell(c.do)) for c in open_rows),
                key="open rows",
            )
        )
    columns = ("row", "this unit", "from", "to", "chance it lies within", "answer")
    rows = tuple(_row(c) for c in found.rows)
    blocks.append(Table("Row by row, in the order of the guide", columns, rows, key="sameness"))
    blocks.append(
        Paragraph(
            "Limits are those of the guide; the doubt is that of the instruments named with the "
            "readings. A unit with one size outside its limits is called the same in at most 1 "
            "case of 20; so is a unit within all its limits called not the same."
        )
    )
    if found.answer == "same":
        blocks.append(
            Cautions(("What wear and setting change is not compared: read it and reckon it anew.",))
        )
    return tuple(blocks)


def _row(c: Compared) -> tuple[Cell, ...]:
    answer = c.answer if c.row.compulsory else f"{c.answer} (does not decide)"
    strong = c.answer == "not the same"
    if c.row.word:
        read = Cell(c.word or "not read")
        return (
            Cell(c.label),
            read,
            Cell(c.row.word),
            Cell(""),
            Cell(""),
            Cell(answer, strong=strong),
        )
    ends = tuple(
        Cell(number=end, dimension=c.row.dimension, resolution=_step(c)) for end in _ends(c)
    )
    chance = "" if c.chance is None else _chance(c.chance)
    return (Cell(c.label), _read(c), *ends, Cell(chance), Cell(answer, strong=strong))


def _ends(c: Compared) -> tuple[float, float]:
    return (c.row.low or 0.0, c.row.high or 0.0)


def _step(c: Compared) -> float:
    return 1.0 if c.row.dimension == "count" else 0.001


def _read(c: Compared) -> Cell:
    if c.value is None:
        return Cell("not read")
    if not c.u:
        return Cell(number=c.value, dimension=c.row.dimension, resolution=1.0)
    low, high = c.value - K * c.u, c.value + K * c.u
    return Cell(estimate=Estimate(c.value, c.u, low, high, c.row.dimension, "pooled readings"))


def _chance(chance: float) -> str:
    if chance > 0.995:
        return "over 99%"
    return "under 1%" if chance < 0.005 else f"{chance:.0%}"


def guide_blocks(guide: Guide) -> tuple[Block, ...]:
    """The guide itself: what it is for, its rows with limits, its parts and its order of work."""
    rows = tuple(_guide_row(guide, place) for place in range(len(guide.rows)))
    columns = ("row", "end", "from", "to", "what hangs on it", "decides")
    blocks: list[Block] = [
        Paragraph(f"{guide.named}: {guide.unit}.", strong=True),
        Table("What a unit must measure", columns, rows, key="guide rows"),
    ]
    if guide.parts:
        parts = tuple(
            (Cell(part.name), Cell(label), Cell(size))
            for part in guide.parts
            for label, size in part.sizes
        )
        blocks.append(Table("Parts as made for the first unit", ("part", "size", "as made"), parts))
    if guide.steps:
        steps = tuple((Cell(s.number), Cell(s.title)) for s in guide.steps)
        blocks.append(Table("Order of work", ("no.", "operation"), steps))
    return tuple(blocks)


def _guide_row(guide: Guide, place: int) -> tuple[Cell, ...]:
    row = guide.rows[place]
    decides = "yes" if row.compulsory else "no"
    label, station = Cell(KINDS[row.kind].label), Cell(row.station)
    if row.word:
        return (label, station, Cell(row.word), Cell(""), Cell(row.needs), Cell(decides))
    step = 1.0 if row.dimension == "count" else 0.001
    ends = tuple(
        Cell(number=end or 0.0, dimension=row.dimension, resolution=step)
        for end in (row.low, row.high)
    )
    return (label, station, *ends, Cell(row.needs), Cell(decides))
