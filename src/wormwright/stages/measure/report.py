"""The sheet as report blocks."""

from __future__ import annotations

from collections.abc import Sequence

from wormwright.core.blue_mark import BlueFinding
from wormwright.job.blocks import Block, Cell, Doubts, Heading, Paragraph, Table
from wormwright.job.kind import ReadingKind
from wormwright.job.rotary import Units
from wormwright.job.sheet import KINDS
from wormwright.quantities import shown
from wormwright.stages.measure.nouns import KindLine, PurposeLine, Sheet

KEY = (
    "done: read. part: an end or station is still open. doubtful: a row is refused or asked "
    "about. stale: an operation since has changed it. missing: not read."
)

_AXES = {"Z": " (+Z is toward the table top)", "Y": " (+Y is from the wheel to the worm)"}


def report(sheet: Sheet) -> tuple[Block, ...]:
    """Headline, what each purpose still wants, the sheet itself, and every doubt."""
    blocks: list[Block] = [
        Heading("The bench sheet"),
        Paragraph(_headline(sheet), strong=True),
        _purposes(sheet.purposes),
        _lines(sheet),
    ]
    if sheet.blue is not None:
        blocks.append(_blue(sheet.blue))
    if sheet.doubts:
        blocks += [Heading("Readings to look at", 2), Doubts(sheet.doubts)]
    if sheet.kept_out:
        rows = ", ".join(str(seq) for seq in sheet.kept_out)
        blocks.append(Paragraph(f"Kept out of every fit until replaced: row {rows}."))
    return tuple(blocks)


def _headline(sheet: Sheet) -> str:
    done = sum(line.state == "done" for line in sheet.lines)
    asked = sum(d.action != "warn" for d in sheet.doubts)
    served = [p.key for p in sheet.purposes if p.complete]
    words = f"{done} of {len(sheet.lines)} kinds read"
    words += f"; enough for: {', '.join(served)}" if served else "; not yet enough for any purpose"
    if asked:
        words += f"; {asked} question{'s' if asked > 1 else ''} to settle first"
    if sheet.minutes_left >= 1:
        words += f"; about {sheet.minutes_left:.0f} min at the bench for all of it"
    return words + "."


def _purposes(purposes: Sequence[PurposeLine]) -> Table:
    rows = tuple(
        (
            Cell(p.key),
            Cell(p.question),
            Cell("enough" if p.complete else _labels(p.missing)),
            Cell("" if p.complete else f"{p.minutes_left:.0f}"),
        )
        for p in purposes
    )
    return Table("What the sheet is enough for", ("For", "Question", "Still to read", "Min"), rows)


def _blue(found: BlueFinding) -> Paragraph:
    """What the marks say, why, and the move; never how far, which only the next trial tells."""
    part, way = found.move
    words = f"The blue: {found.cause}; {found.why}."
    if way == "none":
        return Paragraph(words)
    axis = next((told for letter, told in _AXES.items() if letter in way), "")
    return Paragraph(f"{words} Next move: the {part} {way}{axis}.")


def _labels(kinds: Sequence[str]) -> str:
    return ", ".join(KINDS[kind].label.lower() for kind in kinds)


def _lines(sheet: Sheet) -> Table:
    rows = tuple(
        (
            Cell(str(KINDS[line.kind].row)),
            Cell(KINDS[line.kind].label),
            Cell(line.kind),
            Cell(_state(line)),
            _value(line, sheet.job.units),
            Cell(str(len(line.rows)) if line.rows else ""),
            Cell(f"{KINDS[line.kind].minutes:.0f}" if line.state in ("missing", "stale") else ""),
        )
        for line in sheet.lines
    )
    columns = ("Row", "Reading", "Name to type", "State", "Read", "Rows", "Min")
    return Table("Baseline sheet", columns, rows, key=KEY)


def _state(line: KindLine) -> str:
    if line.state == "part":
        return f"part: {', '.join(line.stations_missing)} open"
    if line.state == "doubtful":
        return f"doubtful: row {', '.join(str(seq) for seq in line.doubtful)}"
    if line.stale:
        operations = ", ".join(dict.fromkeys(operation for _, operation in line.stale))
        return f"{line.state}; {len(line.stale)} stale by {operations}"
    return line.state


def _value(line: KindLine, units: Units) -> Cell:
    kind = KINDS[line.kind]
    if line.word:
        return Cell(line.word)
    if line.figure is not None and kind.noise is None:
        return Cell(f"{line.figure.value:.0f}")
    if line.figure is not None:
        return Cell(estimate=line.figure, dimension=kind.dimension)
    if line.span is None:
        return Cell()
    low, high = (shown(x, kind.dimension, resolution=_digit(kind), units=units) for x in line.span)
    return Cell(low if low == high else f"{low} to {high}")


def _digit(kind: ReadingKind) -> float:
    return max(kind.noise or 0.0, kind.noise_share * (kind.usual_low or 0.0)) / 2
