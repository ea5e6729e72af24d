"""Report blocks of the verdict, of each part of the unit, and of what to read next."""

from __future__ import annotations

import math

from wormwright.job.blocks import Block, Cell, Heading, Paragraph, Steps, Table
from wormwright.job.findings import Diagnosis, Figured, Judged, NextReading, Runout, Unseparated
from wormwright.stages.diagnose.next_reading import DECIDED

VERDICTS = {
    "leave it as it is": "Verdict: leave it as it is. It meets its duty.",
    "normal": "Verdict: normal for such a unit.",
    "fix it at home": "Verdict: fix it at home.",
    "send it back": "Verdict: send it back, or take it only as spare parts.",
    "read more first": "Verdict: read more first; the readings do not settle it.",
}

NEXT_SHOWN = 5

WORTH_ITS_NAME = 0.1
"""Gain from which a reading is worth calling the next most useful one."""


def verdict_blocks(found: Diagnosis) -> list[Block]:
    """The verdict with its reasons."""
    verdict = found.verdict
    if verdict is None:
        return []
    return [Paragraph(VERDICTS[verdict.word], strong=True), Steps(verdict.reasons)]


def not_curable_blocks(found: Diagnosis) -> list[Block]:
    """What no work at home will cure, and what these readings say of it."""
    if found.verdict is None:
        return []
    return [Heading("What cannot be cured at home", 2), Steps(found.verdict.cannot_cure)]


def unseparated_blocks(found: Diagnosis) -> list[Block]:
    """Groups of causes that read alike, and causes that no reading fixes."""
    if not found.unseparated:
        return []
    groups = tuple(_first(u.words) for u in found.unseparated if len(u.causes) > 1)
    alone = tuple(_left_open(u) for u in found.unseparated if len(u.causes) == 1)
    blocks: list[Block] = [Heading("What these readings cannot tell apart", 2)]
    if groups:
        blocks.append(Steps(groups))
    if alone:
        caption = "No reading fixes these; the usual range of the trade stands in"
        columns = ("cause", "leaves open at the table, ±", "out by as much the other way")
        blocks.append(Table(caption, columns, alone, key="left open"))
    return blocks


def _left_open(one: Unseparated) -> tuple[Cell, ...]:
    size = 1.96 * one.size
    open_ = Cell(number=size, dimension="angle", resolution=10.0 ** math.floor(math.log10(size)))
    return (Cell(one.causes[0]), open_, Cell(one.against))


def part_blocks(found: Diagnosis) -> list[Block]:
    """Drag, runouts and the findings about each part."""
    blocks: list[Block] = [*_drag_blocks(found), *_runout_blocks(found.runouts)]
    for finding in found.findings:
        if finding.figures:
            blocks.append(_figures(finding.title, finding.figures, f"part {finding.key}"))
        else:
            blocks.append(Heading(finding.title, 2))
        blocks.extend(Paragraph(line) for line in finding.words)
    return blocks


def _drag_blocks(found: Diagnosis) -> list[Block]:
    drag = found.drag_apart
    if drag is None:
        return []
    rows = [(Cell(p.label), Cell(estimate=p.estimate)) for p in drag.parts]
    if drag.peak_over_median is not None:
        sharp = Cell(estimate=drag.peak_over_median)
        rows.append((Cell("drag round the turn, peak over median"), sharp))
    if drag.peak_at is not None:
        rows.append((Cell("table angle of the highest drag"), Cell(estimate=drag.peak_at)))
    table = Table("Drag taken apart", ("what", "value"), tuple(rows), key="drag")
    return [table, *(Paragraph(line) for line in drag.words)]


def _runout_blocks(runouts: tuple[Runout, ...]) -> list[Block]:
    if not runouts:
        return []
    caption = "Runout taken apart; directions are the table angle of the high place"
    columns = ("surface", "whole swing", "off centre, half of TIR", "high at", "lean", "leans at")
    rows = tuple(_runout_row(r) for r in runouts)
    blocks: list[Block] = [Table(caption, columns, rows, key="runout")]
    lobes = tuple(row for r in runouts for row in _lobe_rows(r))
    if lobes:
        heads = ("surface", "lobes a turn", "amplitude, half of the swing", "first high at")
        blocks.append(Table("Form: lobes that stand out", heads, lobes, key="lobes"))
    blocks.append(Steps(tuple(f"{_first(r.surface)}: {r.do}" for r in runouts)))
    return blocks


def _runout_row(one: Runout) -> tuple[Cell, ...]:
    is_face = one.slope is not None
    return (
        Cell(one.surface),
        Cell(number=one.swing, dimension="length", resolution=one.eccentricity.u),
        Cell("") if is_face else Cell(estimate=one.eccentricity),
        Cell(estimate=one.high_at) if one.high_at else Cell("within the noise"),
        Cell(estimate=one.slope) if one.slope else Cell(""),
        Cell(estimate=one.slope_at) if one.slope_at else Cell(""),
    )


def _lobe_rows(one: Runout) -> list[tuple[Cell, ...]]:
    return [
        (
            Cell(one.surface),
            Cell(str(lobes.order)),
            Cell(estimate=lobes.size),
            Cell(estimate=lobes.first_high),
        )
        for lobes in one.lobes
    ]


def _figures(title: str, figures: tuple[Figured, ...], key: str) -> Table:
    rows = tuple((Cell(f.label), _figure(f)) for f in figures)
    return Table(title, ("what", "value"), rows, key=key)


def _figure(one: Figured) -> Cell:
    """The figure; a share as its range in per cent."""
    e = one.estimate
    if e.dimension == "ratio" and one.key.startswith("share"):
        return Cell(f"{e.low:.0%} to {e.high:.0%}")
    return Cell(estimate=e)


def next_blocks(found: Diagnosis) -> list[Block]:
    """The next most useful reading, and the others that would help, with their minutes."""
    if not found.next_readings:
        return [Paragraph("No further reading on the sheet would narrow the answer.", strong=True)]
    best = found.next_readings[0]
    head = f"Next most useful reading: {found.next_reading}."
    if best.gain < WORTH_ITS_NAME:
        head = f"No reading left narrows the answer much. The best of them: {found.next_reading}."
    settled = _settled(found)
    rows = tuple(_next_row(n, settled=settled) for n in found.next_readings[:NEXT_SHOWN])
    columns = (
        "reading",
        "minutes",
        "doubt of the closing left",
        "doubt of the duty left",
        "gain a minute",
        "what it would tell",
    )
    table = Table("What could be read next, most useful first", columns, rows, key="next readings")
    return [Paragraph(head, strong=True), table]


def _settled(found: Diagnosis) -> bool:
    """Whether no reading can change the answer to the duty any more."""
    verdict = found.verdict
    return verdict is not None and not DECIDED < verdict.chance_meets_duty < 1 - DECIDED


def _next_row(one: NextReading, *, settled: bool) -> tuple[Cell, ...]:
    return (
        Cell(one.label),
        Cell(f"{one.minutes:.0f}"),
        Cell(f"{one.closing_left:.0%}"),
        Cell("settled" if settled else f"{one.duty_left:.0%}"),
        Cell(f"{one.gain_per_minute:.1%}"),
        Cell(_first(one.tells).rstrip(".")),
    )


def judged_blocks(found: Diagnosis) -> list[Block]:
    """Every figure read against its usual range, with the source of the range."""
    if found.verdict is None or not found.verdict.judged:
        return []
    rows = tuple(_judged_row(j) for j in found.verdict.judged)
    columns = ("figure", "as read", "usual from", "usual to", "it lies", "source of the range")
    return [Table("Against what such units show", columns, rows, key="usual ranges")]


def _judged_row(one: Judged) -> tuple[Cell, ...]:
    dimension = one.estimate.dimension
    step = 10.0 ** (math.floor(math.log10(one.usual[1])) - 1)
    ends = tuple(Cell(number=end, dimension=dimension, resolution=step) for end in one.usual)
    where = "too close to call" if one.where == "open" else one.where
    return (Cell(one.label), Cell(estimate=one.estimate), *ends, Cell(where), Cell(one.source))


def _first(text: str) -> str:
    return text[:1].upper() + text[1:]
