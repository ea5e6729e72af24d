"""What the taken plan buys step by step, and which doubt matters most, as report blocks."""

from __future__ import annotations

from wormwright.job.blocks import Block, Cell, Paragraph, Table
from wormwright.job.corrections import CORRECTIONS, Bought, Remedy
from wormwright.stages.correct.wording import arc, hours, money, percent


def buys_table(remedy: Remedy) -> list[Block]:
    """What each step takes off of what the duty feels, and from which causes."""
    if not remedy.buys:
        return []
    costs = any(b.cost is not None for b in remedy.buys)
    columns = ("work", "takes off", "from", "hours", *(("cost",) if costs else ()))
    rows = tuple(_row(b, costs=costs) for b in remedy.buys)
    caption = (
        "What each step takes off, in the order of work, at the loosest place as the duty feels it"
    )
    return [Table(caption, columns, rows, key="buys")]


def _row(bought: Bought, *, costs: bool) -> tuple[Cell, ...]:
    names = " + ".join(CORRECTIONS[key] for key in bought.keys)
    causes = ", ".join(f"{label} {arc(size)}" for label, size in bought.causes if size > 0)
    cells = (
        Cell(names),
        Cell(arc(bought.taken_off)),
        Cell(causes or "swing round the turn"),
        Cell(hours(bought.minutes)),
    )
    return (*cells, Cell(money(bought.cost))) if costs else cells


def error_line(remedy: Remedy) -> list[Block]:
    """The one doubt that the result hangs on most, for the first screen."""
    if not remedy.error_shares:
        return []
    most = remedy.error_shares[0]
    words = f"What the result hangs on most: {most.label} ({percent(most.share)} of its variance)."
    return [Paragraph(words)]


def errors_table(remedy: Remedy) -> list[Block]:
    """Each doubt with the share of the variance that would go with it."""
    if not remedy.error_shares:
        return []
    rows = tuple((Cell(e.label), Cell(percent(e.share))) for e in remedy.error_shares)
    caption = (
        "What the result hangs on: the share of its variance that would go if that one doubt were "
        "taken away, all else alike"
    )
    return [Table(caption, ("doubt", "share"), rows, key="error shares")]
