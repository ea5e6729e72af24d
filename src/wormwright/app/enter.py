"""Enter readings: one, a series, a table, or in place of a wrong one. Nothing is overwritten."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path

from wormwright.app.folder import Folder
from wormwright.app.measure import row_doubts
from wormwright.app.problems import document
from wormwright.app.refused import Refused, nearest, refused
from wormwright.app.series import Series
from wormwright.app.table_file import entries_of_file, with_unit
from wormwright.job.blocks import Block, Cell, Doubts, Paragraph, Table
from wormwright.job.kind import ReadingKind
from wormwright.job.reading import Reading
from wormwright.job.result import Doubt
from wormwright.job.sheet import KINDS
from wormwright.packet import Document
from wormwright.quantities import shown
from wormwright.store.entry import ReadingText
from wormwright.store.fault import JobFolderError

CONFIRMED_NOTE = "confirmed"
_ENTRY = re.compile(r"entry (\d+): (.*)")


@dataclass(frozen=True, slots=True)
class Typed:
    """What was typed beside the reading itself."""

    table_angle: str = ""
    worm_angle: str = ""
    station: str = ""
    conditions: Mapping[str, str] = field(default_factory=dict)
    kind: str = ""
    unit: str = ""
    u: str = ""
    instrument: str = ""
    note: str = ""


def one(folder: Folder, kind: str, text: str, typed: Typed) -> Document:
    """Store one reading and read it back with what looks wrong about it."""
    _known(kind)
    stored = folder.append_readings([_pattern(kind, text, typed)])
    return _read_back(folder, stored)


def instead(folder: Folder, seq: int, text: str, typed: Typed) -> Document:
    """Store a reading that supersedes row `seq`; whatever is not typed anew is taken from it."""
    old = folder.entry_of(seq)
    entry = replace(
        old,
        raw=text,
        supersedes=seq,
        when="",
        note=typed.note,
        table_angle=typed.table_angle or old.table_angle,
        worm_angle=typed.worm_angle or old.worm_angle,
        station=typed.station or old.station,
        u=typed.u or old.u,
        instrument=typed.instrument or old.instrument,
        column_unit=typed.unit or old.column_unit,
        conditions={**old.conditions, **typed.conditions},
    )
    return _read_back(folder, folder.append_readings([entry]))


def confirm(folder: Folder, seq: int) -> Document:
    """Say that a row is right, and read it back."""
    by_hand = edited_by_hand(folder, seq)
    rows = settled(folder, seq)
    if by_hand:
        said = f"Row {seq} is confirmed as it stands; it counts from now on."
        return document("Confirmed", folder, (Paragraph(said, strong=True),))
    return _read_back(folder, rows)


def edited_by_hand(folder: Folder, seq: int) -> bool:
    """Whether the files ask about that row because it is not as it was written."""
    return any(fault.seq == seq and fault.action == "ask" for fault in folder.problems)


def settled(folder: Folder, seq: int, *, when: str = "") -> tuple[Reading, ...]:
    """Say that a row is right: one that was edited by hand, or one that a check asks about.

    A hand-edited row is confirmed in the file. A row that a check asks about is written once
    more, word for word, with the note that it was confirmed, and supersedes the first; `when` is
    the moment at which that was said. Gives the readings that count from now on.

    Raises:
        Refused: nothing is asked about that row.
    """
    if edited_by_hand(folder, seq):
        folder.confirm(seq)
        return tuple(reading for reading in folder.readings if reading.seq == seq)
    asked = [doubt for doubt in row_doubts(folder, {seq}) if doubt.action == "ask"]
    if not asked:
        raise refused(
            f"confirm {seq}",
            expected="a row that was edited by hand or that a check asks about",
            got=f"row {seq}, about which nothing is asked",
            do="look for the rows that ask with `wormwright measure DIR`",
        )
    return folder.append_readings([_once_more(folder, seq, when)])


def _once_more(folder: Folder, seq: int, when: str) -> ReadingText:
    """Row `seq` word for word, as one that was looked at and is right."""
    old = folder.entry_of(seq)
    note = f"{old.note}; {CONFIRMED_NOTE}" if old.note else CONFIRMED_NOTE
    return replace(old, supersedes=seq, when=when, note=note)


def table(folder: Folder, path: Path, typed: Typed) -> Document:
    """Store every row of a CSV file, or none if anything in it is wrong."""
    if typed.kind:
        _known(typed.kind)
    rows = entries_of_file(path, kind=typed.kind, unit=typed.unit, conditions=typed.conditions)
    entries = [_completed(entry, typed) for _, entry in rows]
    try:
        stored = folder.append_readings(entries)
    except JobFolderError as error:
        raise with_lines(error, path, [line for line, _ in rows]) from None
    return _read_back(folder, stored)


def series(folder: Folder, kind: str, typed: Typed) -> Series:
    """A series of that kind, ready to ask for its first value."""
    known = _known(kind)
    angles = typed.table_angle if known.needs_table_angle else typed.worm_angle
    places = _places(angles) if known.needs_table_angle or known.needs_worm_angle else ()
    pattern = _pattern(kind, "", typed)
    if known.needs_table_angle:
        pattern = replace(pattern, table_angle="")
    elif known.needs_worm_angle:
        pattern = replace(pattern, worm_angle="")
    return Series(known, pattern, lambda entry: _next_of_series(folder, entry), places)


def _next_of_series(folder: Folder, entry: ReadingText) -> Reading:
    try:
        return folder.append_readings([entry])[0]
    except JobFolderError as error:
        words = [f"{f.field}: expected {f.expected}, got {f.got}; {f.do}" for f in error.faults]
        raise ValueError(" / ".join(words)) from None


def after_series(folder: Folder, taken: Series) -> Document:
    """What was stored in a series, with what looks wrong about it."""
    return _read_back(folder, tuple(reading for _, reading in taken.rows))


def _known(kind: str) -> ReadingKind:
    if kind not in KINDS:
        raise refused("kind", expected="a kind of reading", got=repr(kind), do=nearest(kind, KINDS))
    return KINDS[kind]


def _pattern(kind: str, text: str, typed: Typed) -> ReadingText:
    return ReadingText(
        kind=kind,
        raw=text,
        table_angle=typed.table_angle,
        worm_angle=typed.worm_angle,
        station=typed.station,
        instrument=typed.instrument,
        conditions=typed.conditions,
        note=typed.note,
        column_unit=typed.unit,
        u=typed.u,
    )


def _completed(entry: ReadingText, typed: Typed) -> ReadingText:
    """The row of a file with what was typed once for all rows."""
    return replace(
        entry,
        table_angle=entry.table_angle or typed.table_angle,
        worm_angle=entry.worm_angle or typed.worm_angle,
        station=entry.station or typed.station,
        instrument=entry.instrument or typed.instrument,
        note=entry.note or typed.note,
        u=entry.u or typed.u,
    )


def _places(angles: str) -> tuple[str, ...]:
    """`0, 32, 60 deg` as three angles; the last unit holds for those without one.

    Example:
        >>> _places("0, 32, 60 deg")
        ('0 deg', '32 deg', '60 deg')
    """
    pieces = [piece.strip() for piece in angles.split(",") if piece.strip()]
    unit = re.sub(r"^[0-9.\s]+", "", pieces[-1]) if pieces else ""
    return tuple(with_unit(piece, unit) for piece in pieces)


def with_lines(error: JobFolderError, path: Path, lines: Sequence[int]) -> Refused:
    """The store's faults, with the lines of the user's own file."""
    doubts = []
    for fault in error.faults:
        entry = _ENTRY.fullmatch(fault.field)
        line = lines[int(entry[1]) - 1] if entry else lines[0]
        name = entry[2] if entry else fault.field
        seen = f"{path.name}, line {line}, {name}: expected {fault.expected}, got {fault.got}."
        do = f"{fault.do[:1].upper()}{fault.do[1:]}."
        doubts.append(Doubt("refuse", "", seen, "No row of the file was stored.", do))
    return Refused(f"{path.name}: nothing was stored", doubts)


def _read_back(folder: Folder, stored: Sequence[Reading]) -> Document:
    """The stored rows as understood, and the doubts about them."""
    if not stored:
        return document("Stored", folder, (Paragraph("Nothing was stored."),))
    columns = ("row", "reading", "as typed", "understood as", "where", "remarks")
    rows = tuple(_row(reading, folder) for reading in stored)
    blocks: list[Block] = [Table(f"{len(stored)} stored", columns, rows)]
    doubts = row_doubts(folder, {reading.seq for reading in stored})
    if doubts:
        blocks.append(Doubts(doubts))
    return document("Stored", folder, tuple(blocks))


def _row(reading: Reading, folder: Folder) -> tuple[Cell, ...]:
    kind = KINDS[reading.kind]
    angles = [
        f"{name} {shown(angle, 'angle', units=folder.job.units)}"
        for name, angle in (("table", reading.table_angle), ("worm", reading.worm_angle))
        if angle is not None
    ]
    if reading.value is None:
        understood = Cell(reading.word or "not usable")
    else:
        understood = Cell(shown(reading.value, kind.dimension, units=folder.job.units))
    remarks = list(reading.flags)
    if reading.supersedes is not None:
        remarks.append(f"supersedes row {reading.supersedes}")
    where = ", ".join([*([reading.station] if reading.station else []), *angles])
    return (
        Cell(str(reading.seq)),
        Cell(kind.label),
        Cell(reading.raw),
        understood,
        Cell(where),
        Cell(", ".join(remarks)),
    )
