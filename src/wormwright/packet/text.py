"""Plain text for the terminal and for a printer without graphics."""

from __future__ import annotations

import math
import textwrap
import unicodedata
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from wormwright.job.blocks import Cautions, Doubts, Heading, OperationBlock, Paragraph, Steps
from wormwright.job.result import Doubt
from wormwright.packet.document import MADE_UP, Document, Style
from wormwright.packet.plain import Figure, Grid, Plain, plain
from wormwright.packet.wording import DOUBT_WORDS, Shown, clean

NARROWEST = 40
BLANK = "________________"
_GAP = 2
_SHORT_BAR = 16
_RULES = {1: "=", 2: "-"}


def render_text(document: Document, style: Style, width: int = 100) -> str:
    """The document as plain text no wider than `width` columns."""
    if width < NARROWEST:
        raise ValueError(f"width: expected at least {NARROWEST} columns, got {width}")
    head = [clean(document.title), "=" * min(width, displayed(clean(document.title)))]
    head += _wrapped(clean(document.subtitle), width)
    head += _wrapped(clean(document.date_text), width)
    if document.made_up:
        head += _boxed("MADE UP", (MADE_UP,), width)
    parts = ["\n".join(head)]
    for block in document.blocks:
        lines = list(_lines(plain(block, style.units), width))
        parts.append("\n".join(line.rstrip() for line in lines))
    return "\n\n".join(part for part in parts if part) + "\n"


def displayed(text: str) -> int:
    """Columns that the text takes on a terminal: wide characters two, accents none."""
    if text.isascii():
        return len(text)
    return sum(_columns(c) for c in text)


def _columns(character: str) -> int:
    if unicodedata.combining(character) or unicodedata.category(character) in ("Mn", "Cf"):
        return 0
    return 2 if unicodedata.east_asian_width(character) in "WF" else 1


def _wrapped(text: str, width: int, first: str = "", rest: str | None = None) -> list[str]:
    """Lines no wider than `width`; `first` before the first line, `rest` before the others."""
    if not text:
        return [first.rstrip()] if first else []
    indent = " " * displayed(first) if rest is None else rest
    if text.isascii():
        return textwrap.wrap(
            text, max(width, len(indent) + 1), initial_indent=first, subsequent_indent=indent
        )
    return _wrapped_by_columns(text, width, first, indent)


def _wrapped_by_columns(text: str, width: int, first: str, indent: str) -> list[str]:
    lines, line, room = [], first, max(1, width - displayed(first))
    fresh = True
    for word in text.split():
        for piece in _pieces(word, max(2, width - displayed(indent))):
            need = displayed(piece) + (0 if fresh else 1)
            if need > room and not fresh:
                lines.append(line)
                line, room, fresh = indent, max(2, width - displayed(indent)), True
                need = displayed(piece)
            line += piece if fresh else " " + piece
            room, fresh = room - need, False
    return [*lines, line]


def _pieces(word: str, width: int) -> Iterator[str]:
    piece, used = "", 0
    for character in word:
        if used + _columns(character) > width:
            yield piece
            piece, used = "", 0
        piece, used = piece + character, used + _columns(character)
    yield piece


def _boxed(title: str, lines: Iterable[str], width: int) -> list[str]:
    inner = width - 4
    body = [title]
    for line in lines:
        body += _wrapped(line, inner, "! ", "  ")
    rule = "+" + "-" * (width - 2) + "+"
    return [rule, *(f"| {_filled(line, inner)} |" for line in body), rule]


def _filled(text: str, width: int, *, right: bool = False) -> str:
    room = " " * max(0, width - displayed(text))
    return room + text if right else text + room


def _lines(block: Plain, width: int) -> Iterator[str]:
    match block:
        case Heading():
            yield from _heading(block, width)
        case Paragraph():
            mark = ">> " if block.strong else ""
            yield from _wrapped(block.text, width, mark)
        case Cautions():
            if block.lines:
                yield from _boxed("CAUTION", block.lines, width)
        case Doubts():
            for doubt in block.doubts:
                yield from _doubt(doubt, width)
        case Grid():
            yield from _grid(block, width)
        case Steps():
            yield from _steps(block.lines, width, ticks=block.ticks)
        case OperationBlock():
            yield from _operation(block, width)
        case Figure():
            yield from _figure(block, width)


def _heading(block: Heading, width: int) -> Iterator[str]:
    lines = _wrapped(block.text, width)
    yield from lines
    rule = _RULES.get(block.level)
    if rule and lines:
        yield rule * max(displayed(line) for line in lines)


def _doubt(doubt: Doubt, width: int) -> Iterator[str]:
    code = f"{doubt.code}: " if doubt.code else ""
    yield from _wrapped(code + doubt.seen, width, f"[{DOUBT_WORDS[doubt.action]}] ", "    ")
    if doubt.why:
        yield from _wrapped(doubt.why, width, "    Why: ")
    if doubt.do:
        yield from _wrapped(doubt.do, width, "    Do:  ")
    if doubt.rows:
        rows = ", ".join(str(row) for row in doubt.rows)
        yield from _wrapped(rows, width, "    Readings: ")


def _steps(lines: Sequence[str], width: int, *, ticks: bool) -> Iterator[str]:
    size = len(str(len(lines)))
    for number, line in enumerate(lines, start=1):
        box = "[ ] " if ticks else ""
        yield from _wrapped(line, width, f"{box}{number:>{size}}. ")


def _grid(grid: Grid, width: int) -> Iterator[str]:
    yield from _wrapped(grid.caption, width)
    cells = [[cell.line for cell in row] for row in grid.rows]
    right = numeric_columns(grid)
    widths = _column_widths([list(grid.columns), *cells], width)
    yield from _row(list(grid.columns), widths, right)
    yield (" " * _GAP).join("-" * size for size in widths)
    for row in cells:
        yield from _row(row, widths, right)
    if grid.note:
        yield from _wrapped(grid.note, width)


def numeric_columns(grid: Grid) -> tuple[bool, ...]:
    """Which columns hold figures only, and so stand to the right."""
    return tuple(
        any(row[i].figure for row in grid.rows)
        and all(row[i].figure or not row[i].primary for row in grid.rows)
        for i in range(len(grid.columns))
    )


def _column_widths(cells: list[list[str]], width: int) -> list[int]:
    """Natural widths; if too wide, headings break into words and the widest columns give way."""
    wanted = [max(1, *(displayed(row[i]) for row in cells)) for i in range(len(cells[0]))]
    room = max(width - _GAP * (len(wanted) - 1), len(wanted))
    if sum(wanted) <= room:
        return wanted
    words = [max((displayed(word) for word in name.split()), default=1) for name in cells[0]]
    wanted = [
        max(1, words[i], *(displayed(row[i]) for row in cells[1:])) for i in range(len(words))
    ]
    if sum(wanted) <= room:
        return wanted
    cap = max(wanted)
    while sum(min(size, cap) for size in wanted) > room and cap > 1:
        cap -= 1
    sizes = [min(size, cap) for size in wanted]
    spare = room - sum(sizes)
    for i, size in enumerate(wanted):
        more = min(spare, size - sizes[i], 1)
        sizes[i], spare = sizes[i] + more, spare - more
    return sizes


def _row(cells: list[str], widths: list[int], right: tuple[bool, ...]) -> Iterator[str]:
    columns = [_wrapped(cell, size) or [""] for cell, size in zip(cells, widths, strict=True)]
    for i in range(max(len(column) for column in columns)):
        yield (
            (" " * _GAP)
            .join(
                _filled(column[i] if i < len(column) else "", size, right=at_right)
                for column, size, at_right in zip(columns, widths, right, strict=True)
            )
            .rstrip()
        )


def _operation(block: OperationBlock, width: int) -> Iterator[str]:
    yield "-" * width
    state = f"  ({block.state})" if block.state else ""
    yield from _wrapped(f"{block.number}  {block.title}{state}", width, "OPERATION ")
    yield "-" * width
    if block.cautions:
        yield from _boxed("CAUTION", block.cautions, width)
    if block.tools:
        yield from _wrapped(", ".join(block.tools), width, "Tools: ")
    for title, lines in (("Do", block.do), ("Read", block.read)):
        if lines:
            yield f"{title}:"
            yield from (f"  {line}" for line in _steps(lines, width - 2, ticks=True))
    if block.gates:
        yield from _grid(gate_grid(block), width)
    if block.if_failed:
        yield "If a gate fails:"
        yield from (
            f"  {line}" for text in block.if_failed for line in _wrapped(text, width - 2, "- ")
        )
    if block.makes_stale:
        yield from _wrapped(block.makes_stale, width, "Makes stale: ")
    if block.go_back:
        yield from _wrapped(block.go_back, width, "To go back: ")
    yield from _wrapped(block.sign or f"Signed {BLANK}  Date {BLANK}", width)


def gate_grid(block: OperationBlock) -> Grid:
    """The gates of an operation: what, its limit, and the value read or a blank for it."""
    return Grid(
        "Gate: do not go on until every value is inside its limit",
        ("What", "Must be", "Read"),
        tuple((Shown(a), Shown(b), Shown(c or BLANK)) for a, b, c in block.gates),
    )


def _figure(figure: Figure, width: int) -> Iterator[str]:
    yield from _wrapped(figure.caption, width)
    if figure.bars:
        yield from _bars(figure, width)
    elif not figure.numbers.rows:
        yield from _wrapped(figure.says, width)
    else:
        yield from _grid(replace(figure.numbers, caption=""), width)


def _bars(figure: Figure, width: int) -> Iterator[str]:
    """Bars with their figures behind them, or under them where the lines are short."""
    label = min(max(displayed(bar.label) for bar in figure.bars), width // 3)
    figures = max(displayed(words) for b in figure.bars for words in (b.words, b.predicted_words))
    room = width - label - _GAP
    behind = room - _GAP - figures
    for bar in figure.bars:
        names = _wrapped(bar.label, label) or [""]
        rows = list(_bar("#", bar.found, bar.words, room, behind))
        if bar.predicted is not None:
            rows.extend(_bar("=", bar.predicted, bar.predicted_words, room, behind))
        for i in range(max(len(names), len(rows))):
            name = names[i] if i < len(names) else ""
            length = rows[i] if i < len(rows) else ""
            yield f"{_filled(name, label)}{' ' * _GAP}{length}"
    foreseen = any(bar.predicted is not None for bar in figure.bars)
    key = ("# found", "= predicted" if foreseen else "", figure.limit)
    yield from _wrapped("   ".join(word for word in key if word), width)


def _bar(ink: str, length: float, words: str, room: int, behind: int) -> Iterator[str]:
    longest = behind if behind >= _SHORT_BAR else room
    bar = ink * max(1, math.floor(length * longest))
    if longest == behind:
        yield bar + " " * _GAP + words
    else:
        yield bar
        yield from _wrapped(words, room)
