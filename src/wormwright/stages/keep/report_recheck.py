"""Report blocks of a re-check: the answer, what to adjust, what has moved, when to look again."""

from __future__ import annotations

import numpy as np

from wormwright.job.blocks import (
    Block,
    Cautions,
    Cell,
    Doubts,
    Heading,
    Paragraph,
    Plot,
    Steps,
    Table,
    Trace,
)
from wormwright.job.recheck import Ahead, KindChange, Recheck
from wormwright.quantities import shown

ANSWERS = {
    "still good": "Still good: the loosest place lies within what the duty allows.",
    "adjust": "Adjust: the loosest place is beyond what the duty allows.",
    "cannot tell": "Cannot tell: the loosest place lies too near the limit for these readings.",
}
NOT_FELT = {
    "still good": "Still good: nothing that was read has more play than at the first check.",
    "cannot tell": "Cannot tell: play has grown that this duty does not feel while it goes one way "
    "or rests on the table bearing. Prove it on the part, or adjust.",
}
CAUTION = (
    "Switch off and lock out before hands go near the worm. A worm drive is no brake: take the "
    "load off the table before the mesh is opened."
)


def recheck_blocks(found: Recheck) -> tuple[Block, ...]:
    """Everything a re-check has to say."""
    answer = ANSWERS[found.answer] if found.allowed is not None else NOT_FELT[found.answer]
    blocks: list[Block] = [Paragraph(answer, strong=True), _judged(found)]
    if found.doubts:
        blocks.append(Doubts(found.doubts))
    if found.adjust:
        blocks += [
            Heading("What to adjust", 2),
            Cautions((CAUTION,)),
            Table(
                "Without taking the unit down",
                ("what", "by", "how"),
                tuple(
                    (Cell(a.what), Cell(estimate=a.by, both=True), Cell(a.how))
                    for a in found.adjust
                ),
                key="adjust",
            ),
        ]
    if found.changes:
        blocks += [Heading("What has changed since the first check", 2), _changes(found.changes)]
        blocks += _places(found.changes)
    if found.repeat:
        blocks.append(Paragraph(f"Only these need reading again: {', '.join(found.repeat)}."))
    if found.ahead is not None:
        blocks += _ahead(found.ahead)
    blocks.append(_days(found))
    return tuple(blocks)


def _judged(found: Recheck) -> Table:
    at = f"loosest rock, at {found.loosest_at}" if found.loosest_at else "loosest rock"
    allowed = Cell("not felt by the duty")
    if found.allowed is not None:
        allowed = Cell(number=found.allowed, dimension="angle", resolution=found.loosest.u)
    return Table(
        "Against the duty",
        ("what", "today", "allowed"),
        ((Cell(at), Cell(estimate=found.loosest), allowed),),
        key="recheck",
    )


def _changes(changes: tuple[KindChange, ...]) -> Table:
    columns = ("reading", "same places", "first check", "this check", "change", "says")
    rows = tuple(
        (
            Cell(c.label),
            Cell(str(c.places)),
            Cell(estimate=c.first),
            Cell(estimate=c.last),
            Cell(estimate=c.change),
            Cell(c.moved, strong=c.moved == "more"),
        )
        for c in changes
    )
    return Table("Means over the places that both checks have", columns, rows, key="changes")


def _places(changes: tuple[KindChange, ...]) -> list[Block]:
    """Places that have changed otherwise than the rest: local wear, or a mark that was moved."""
    odd = [(c, p) for c in changes for p in c.by_place if p.stands_out]
    lines = tuple(
        f"{c.label} at {p.place} changed by "
        f"{shown(p.change.value, p.change.dimension, u=p.change.u)}, unlike the other places. More "
        "play there is local wear, of the sector that is used most: set the mesh where the wheel "
        "is least worn."
        for c, p in odd
    )
    return [Steps(lines)] if odd else []


def _ahead(ahead: Ahead) -> list[Block]:
    unit = "h" if ahead.unit == "h" else "days"
    again = f"{ahead.next_check:.0f} {unit}" + (f" ({ahead.next_day})" if ahead.next_day else "")
    words = [f"Check again at {again}: {ahead.why}."]
    if ahead.next_check <= ahead.times[-1]:
        words = [
            f"Adjust first: {ahead.why}. Check 10 h and 50 h after the new setting, then each "
            "half year."
        ]
    if ahead.rate is not None:
        per = "1000 h" if ahead.unit == "h" else "year"
        rate = shown(ahead.rate.value, "angle", u=ahead.rate.u)
        doubt = shown(2 * ahead.rate.u, "angle", u=ahead.rate.u)
        words.append(f"The mean rock changes by {rate} in a {per}, give or take {doubt}.")
    if ahead.reaches is not None:
        words.append(
            f"Until {ahead.reaches:.0f} {unit} a reading stays under the limit with 95% chance."
        )
    blocks: list[Block] = [
        Heading("When to look again", 2),
        Paragraph(" ".join(words), strong=True),
    ]
    if len(ahead.times) > 1:
        trace = Trace("mean rock of a check", np.array(ahead.times), np.array(ahead.means), "dots")
        blocks.append(
            Plot(
                "Mean rock over the checks, same places",
                f"{len(ahead.times)} checks over {ahead.times[-1] - ahead.times[0]:.0f} {unit}.",
                f"{'hours run' if ahead.unit == 'h' else 'days since the first check'}",
                "count",
                "mean rock",
                "angle",
                (trace,),
            )
        )
    return blocks


def _days(found: Recheck) -> Table:
    rows = tuple(
        (
            Cell(c.day or "no day"),
            Cell("not told" if c.hours is None else f"{c.hours:.0f}"),
            Cell(str(c.readings)),
        )
        for c in found.checks
    )
    return Table("Checks on file since the last work", ("begun", "hours run", "readings"), rows)
