"""Before and after as report blocks."""

from __future__ import annotations

from wormwright.job.blocks import Block, Cell, Heading, Paragraph, Steps, Table
from wormwright.job.proof import Proof
from wormwright.job.proof_compared import Compared

COLUMNS = ("reading", "where", "before", "after", "after less before", "proven")


def compared_blocks(proof: Proof) -> tuple[Block, ...]:
    """What the work changed, each reading against itself; what may not be compared, and why."""
    found = proof.compared
    if found is None:
        return ()
    blocks: list[Block] = [Heading("Before and after the work", 2)]
    if found.compared:
        blocks.append(Paragraph(_headline(found.compared), strong=True))
        blocks.append(_table("The same readings at the same places", found.compared, "compared"))
    if len(found.single) > 1:
        blocks.append(_table("The rock, place by place", found.single, "rock compared"))
    if found.refused:
        blocks.append(Paragraph("Not compared, because the readings are not alike:"))
        blocks.append(Steps(tuple(f"{r.label}: {r.why}. {r.do}" for r in found.refused)))
    return tuple(blocks)


def _headline(rows: tuple[Compared, ...]) -> str:
    said = [
        f"{word} is proven for {', '.join(labels)}"
        for word in ("less", "more")
        if (labels := [r.label[:1].lower() + r.label[1:] for r in rows if r.told == word])
    ]
    if not said:
        return "No change is proven: every difference is smaller than its doubt."
    words = "; ".join(said)
    return f"{words[:1].upper()}{words[1:]}."


def _table(caption: str, rows: tuple[Compared, ...], key: str) -> Table:
    alike = len({r.kind for r in rows}) == 1
    return Table(caption, COLUMNS, tuple(_row(r) for r in rows), key=key, one_unit=alike)


def _row(one: Compared) -> tuple[Cell, ...]:
    return (
        Cell(one.label),
        Cell(one.where),
        Cell(estimate=one.before),
        Cell(estimate=one.after),
        Cell(estimate=one.change),
        Cell(one.told, strong=one.told != "no change proven"),
    )
