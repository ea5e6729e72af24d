"""The sheet around the views: border, title block, how to make and check."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import NamedTuple

from wormwright.drawings import style
from wormwright.drawings.canvas import Canvas, Pen
from wormwright.drawings.frames import projection_symbol
from wormwright.drawings.lettering import fitted_height, wrapped
from wormwright.drawings.style import Box, Paper, SheetStyle, scale_text

STRIP = 76.0
TITLE_WIDTH = 106.0
BANNER = "MADE-UP EXAMPLE: no such unit was measured"
_PAD = 2.0
_LABEL = 1.7
_VALUE = 2.4
_ROW = 7.6


@dataclass(frozen=True, slots=True)
class TitleBlock:
    """What the job says about a drawing. `made_up` prints the banner; no clock is read."""

    unit_id: str
    job: str
    drawing_number: str
    date_text: str = ""
    sheet_text: str = "1 of 1"
    made_up: bool = False


@dataclass(frozen=True, slots=True)
class PartText:
    """What the part says about itself on the sheet.

    `notes` are (heading, lines); a line that begins with a number or a box hangs from it.
    """

    name: str
    material: str
    quantity: int
    fits: tuple[str, ...]
    surface: str
    general: str
    edges: str
    notes: tuple[tuple[str, tuple[str, ...]], ...]


@dataclass(frozen=True, slots=True)
class Room:
    """Where things go on a sheet of paper."""

    views: Box
    notes: Box
    title: Box


def rooms(paper: Paper) -> Room:
    """Views on top, notes below at the left, title block below at the right."""
    b = paper.border
    shelf = b.bottom + STRIP
    wall = b.right - TITLE_WIDTH
    return Room(
        Box(b.left, shelf, b.right, b.top),
        Box(b.left, b.bottom, wall, shelf),
        Box(wall, b.bottom, b.right, shelf),
    )


def draw_sheet(
    canvas: Canvas, paper: Paper, title: TitleBlock, text: PartText, style_: SheetStyle
) -> None:
    """Everything on the sheet but the views."""
    room = rooms(paper)
    _box(canvas.pen, paper.border, style.BORDER)
    _box(canvas.pen, room.title, style.BORDER)
    canvas.pen.line(
        (room.notes.left, room.notes.top), (room.notes.right, room.notes.top), style.THIN
    )
    _title_block(canvas.pen, room.title, title, text, style_=style_, scale=canvas.scale)
    write_notes(canvas.pen, room.notes, text.notes)


def _box(pen: Pen, box: Box, layer: str) -> None:
    pen.path(
        (
            (box.left, box.bottom),
            (box.right, box.bottom),
            (box.right, box.top),
            (box.left, box.top),
        ),
        layer,
        closed=True,
    )


def _banner(pen: Pen, box: Box) -> None:
    """Across the title block: the figures on this sheet were invented."""
    _box(pen, box, style.ACCENT)
    height = fitted_height(BANNER, box.width - 4, 2.8, bold=True)
    base = (box.bottom + box.top - height) / 2
    middle = (box.left + box.right) / 2
    pen.text(BANNER, (middle, base), height, bold=True, align="centre", layer=style.ACCENT)


def _cell(pen: Pen, box: Box, label: str, value: str, *, bold: bool = False) -> None:
    """A labelled cell of the title block; the value shrinks to its width if it must."""
    _box(pen, box, style.THIN)
    pen.text(label, (box.left + 1.2, box.top - 1 - _LABEL), _LABEL, layer=style.OTHER_UNIT)
    room = box.width - 2.4
    wanted = 3.0 if bold else _VALUE
    height = max(fitted_height(value, room, wanted, bold=bold), style.SMALL_HEIGHT)
    line = (*wrapped(value, room, height, bold=bold), "")[0]
    pen.text(line, (box.left + 1.2, box.bottom + 1.4), height, bold=bold)


def _title_block(
    pen: Pen,
    box: Box,
    title: TitleBlock,
    text: PartText,
    *,
    style_: SheetStyle,
    scale: Fraction,
) -> None:
    height = fitted_height(text.name, box.width - 2 * _PAD, 4.5, bold=True)
    pen.text(text.name, (box.left + _PAD, box.top - 7.2), height, bold=True)
    row = box.top - 9.5
    if title.made_up:
        _banner(pen, Box(box.left + 1, row - 4.8, box.right - 1, row + 0.2))
        row -= 6.0
    row = _row(
        pen, box, row, (("Material", text.material, 0.8), ("Quantity", str(text.quantity), 0.2))
    )
    _words(
        pen,
        Box(box.left, box.bottom + 3 * _ROW, box.right, row),
        (
            ("Fits and limits", text.fits),
            ("Surface", (text.surface,)),
            ("Sizes without limits", (text.general,)),
            ("Edges", (text.edges,)),
        ),
    )
    _foot(pen, box, title, style_=style_, scale=scale)


def _foot(pen: Pen, box: Box, title: TitleBlock, *, style_: SheetStyle, scale: Fraction) -> None:
    """The lower rows of the title block: units, scale, projection, whose and which drawing."""
    units = "mm, inch in [ ]" if style_.units == "mm" else "inch, mm in [ ]"
    angle = "first angle" if style_.first_angle else "third angle"
    bottom = box.bottom
    _row(
        pen,
        box,
        bottom + 3 * _ROW,
        (("Units", units, 0.34), ("Scale", scale_text(scale), 0.2), ("Projection", "", 0.46)),
    )
    left = box.right - 0.46 * box.width
    projection_symbol(pen, (left + 15.0, bottom + 2.5 * _ROW), first_angle=style_.first_angle)
    pen.text(angle, (left + 31.0, bottom + 2.5 * _ROW - 1.1), 2.2)
    _row(
        pen, box, bottom + 2 * _ROW, (("Unit", title.unit_id, 0.5), ("Date", title.date_text, 0.5))
    )
    _row(
        pen,
        box,
        bottom + _ROW,
        (
            ("Drawing", title.drawing_number, 0.5),
            ("Sheet", title.sheet_text, 0.2),
            ("Job", title.job, 0.3),
        ),
    )


def _row(pen: Pen, box: Box, top: float, cells: tuple[tuple[str, str, float], ...]) -> float:
    left = box.left
    for label, value, share in cells:
        right = left + share * box.width
        _cell(
            pen,
            Box(left, top - _ROW, right, top),
            label,
            value,
            bold=label in ("Scale", "Drawing"),
        )
        left = right
    return top - _ROW


def _words(pen: Pen, box: Box, groups: tuple[tuple[str, tuple[str, ...]], ...]) -> None:
    """Labelled lines of words, at the largest lettering at which they all fit the box."""
    indent, between = 23.0, 1.0
    width = box.width - indent - _PAD
    for height in (2.0, 1.9, 1.8, 1.7, 1.6):
        pitch = 1.5 * height
        folded = [
            (label, [part for line in lines for part in wrapped(line, width, height)])
            for label, lines in groups
        ]
        used = sum(len(lines) for _, lines in folded) * pitch + len(groups) * between
        if used <= box.height - 1.0:
            break
    else:
        raise ValueError("fits and notes do not fit the title block; shorten their words")
    y = box.top - 1.2 - height
    for label, lines in folded:
        pen.text(label, (box.left + 1.2, y), _LABEL, layer=style.OTHER_UNIT)
        for line in lines:
            pen.text(line, (box.left + indent, y), height)
            y -= pitch
        y -= between


class NoteLine(NamedTuple):
    """One printed line of the notes; `mark` is the number or tick box it hangs from."""

    words: str
    indent: float = 0.0
    bold: bool = False
    mark: str = ""


def write_notes(pen: Pen, box: Box, notes: tuple[tuple[str, tuple[str, ...]], ...]) -> None:
    """The notes in two columns, at the largest lettering at which they all fit."""
    column = (box.width - 3 * _PAD) / 2
    for shrink in (1.15, 1.1, 1.05, 1.0, 0.95, 0.9, 0.85, 0.8):
        height, pitch = style.NOTE_HEIGHT * shrink, style.NOTE_PITCH * shrink
        lines = _note_lines(notes, column, height)
        rows = int((box.height - 2 * _PAD) / pitch)
        split = _break(lines, rows)
        if split is not None:
            break
    else:
        raise ValueError(
            f"{len(lines)} lines of notes do not fit the sheet; shorten material and bearing text"
        )
    for number, run in enumerate((lines[:split], lines[split:])):
        left = box.left + _PAD + number * (column + _PAD)
        for place, line in enumerate(run):
            y = box.top - _PAD - height - place * pitch
            pen.text(line.mark, (left, y), height)
            pen.text(line.words, (left + line.indent, y), height, bold=line.bold)


def _break(lines: list[NoteLine], rows: int) -> int | None:
    """Where the second column begins: at a heading if both columns hold it, else evenly."""
    headings = [at for at, line in enumerate(lines) if line.bold and at > 0]
    for at in sorted(headings, key=lambda place: abs(len(lines) / 2 - place)):
        if at <= rows and len(lines) - at <= rows:
            return at
    split = max((len(lines) + 1) // 2, len(lines) - rows)
    while split < min(len(lines), rows) and not _starts(lines, split):
        split += 1
    return split if split <= rows else None


def _starts(lines: list[NoteLine], at: int) -> bool:
    return (lines[at].indent == 0.0 or lines[at].mark != "") and not lines[at - 1].bold


def _note_lines(
    notes: tuple[tuple[str, tuple[str, ...]], ...], column: float, height: float
) -> list[NoteLine]:
    lines: list[NoteLine] = []
    for heading, paragraphs in notes:
        lines.append(NoteLine(heading, bold=True))
        for paragraph in paragraphs:
            lines.extend(_hanging(paragraph, column, height))
    return lines


def _hanging(paragraph: str, column: float, height: float) -> list[NoteLine]:
    mark, _, rest = paragraph.partition(" ")
    if not (mark.isdigit() or mark == "☐"):
        return [NoteLine(line) for line in wrapped(paragraph, column, height)]
    indent = 2.0 * height
    first, *others = wrapped(rest, column - indent, height)
    return [
        NoteLine(first, indent, mark=mark),
        *(NoteLine(line, indent) for line in others),
    ]
