"""One append-only CSV file: read with every fault collected, rows found to be as they were written.

Knows columns, check values, torn ends and what spreadsheets do to a file; knows no readings.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path
from typing import NamedTuple

from wormwright.store.cells import cell_of, check_of, escaped, unescaped, unguarded
from wormwright.store.fault import FileFault, JobFolderError, clipped

LARGEST_FILE = 64 * 1024 * 1024
"""Bytes; a larger file is no bench sheet."""
CHECK = "check"
VALUE = "value"
"""The one column outside the check: it follows from the raw text, and spreadsheets reshape it."""
_NOT_TEXT = re.compile("[\ud800-\udfff]")
_BOM = b"\xef\xbb\xbf"


class Row(NamedTuple):
    """One row: its line, its texts by column, and whether its check value holds."""

    line: int
    texts: tuple[str, ...]
    sound: bool
    check: str


@dataclass(slots=True)
class RowFile:
    """What was found in one CSV file."""

    name: str
    columns: tuple[str, ...]
    rows: list[Row] = field(default_factory=list)
    faults: list[FileFault] = field(default_factory=list)
    seen_seqs: list[int] = field(default_factory=list)
    delimiter: str = ","
    newline: str = "\n"
    end_missing: bool = False
    torn: bytes = b""
    sound_size: int = 0
    all_text: bool = True
    """False when some bytes of the file are no UTF-8."""
    missing: bool = False
    """True when the first line has still to be written."""

    def lines_of(self, rows: Iterable[Sequence[str]]) -> bytes:
        """The rows (texts without the check) as bytes to append, in the manner of this file."""
        out = io.StringIO()
        write = csv.writer(out, delimiter=self.delimiter, lineterminator=self.newline).writerow
        for texts in rows:
            write([*map(cell_of, texts), _check(self.columns, list(map(escaped, texts)))])
        start = self.newline if self.end_missing else ""
        return (start + out.getvalue()).encode()

    def _row(self, line: int, cells: Sequence[str]) -> Row:
        return Row(line, *_read(self.columns, tuple(cells)))

    def _fault(self, line: int, column: str, expected: str, got: str, do: str) -> None:
        self.faults.append(FileFault(self.name, line, column, expected, got, do))


def _check(columns: tuple[str, ...], cells: list[str]) -> str:
    """The check value of these unguarded cells, whose last may be an old check."""
    checked = cells[: len(columns) - 1]
    if VALUE in columns:
        del checked[columns.index(VALUE)]
    return check_of(checked)


@lru_cache(maxsize=8192)
def _read(columns: tuple[str, ...], cells: tuple[str, ...]) -> tuple[tuple[str, ...], bool, str]:
    """The texts of a row, whether its check value holds, and what that should be."""
    bare = unguarded(cells)
    check = _check(columns, bare)
    return tuple(map(unescaped, bare)), cells[-1].strip() == check, check


def header_line(columns: Sequence[str]) -> bytes:
    """The first line of a new file."""
    return (",".join(columns) + "\n").encode()


def read_row_file(path: Path, columns: tuple[str, ...]) -> RowFile:
    """Read the file. A torn end and damaged rows are put aside and told; the rest is read.

    Raises:
        JobFolderError: the file is too large, or its first line does not hold these columns.
    """
    found = RowFile(path.name, columns)
    if not path.exists():
        found.missing = True
        return found
    if path.stat().st_size > LARGEST_FILE:
        raise JobFolderError([_too_large(path)])
    data = path.read_bytes()
    body, mark, tail = data.rpartition(b"\n")
    header = header_line(columns)
    if not mark and header.startswith(data) and data != header.rstrip():
        found.torn, found.missing = data, True  # cut off while the first line was written
        return found
    records = _records(found, body if mark else tail)
    if not records or not _header_fits(found, records[0][1]):
        raise JobFolderError([_wrong_columns(found, records[0][1] if records else [])])
    found.sound_size = len(data)
    _take_rows(found, records[1:], data)
    if mark and tail:
        _take_tail(found, tail, len(data), line=body.count(b"\n") + 2)
    elif not mark:
        found.end_missing = True
    _tell_if_resaved(found, data)
    return found


def _records(found: RowFile, data: bytes) -> list[tuple[int, list[str]]]:
    """Every record with its first line; an unclosed quote costs its own line, not the file."""
    width = len(found.columns)
    text = data.removeprefix(_BOM).decode("utf-8", "surrogateescape")
    found.all_text = _is_text(text)
    lines = text.split("\n")
    found.newline = "\r\n" if lines[0].endswith("\r") else "\n"
    found.delimiter = ";" if ";" in lines[0] and "," not in lines[0] else ","
    records: list[tuple[int, list[str]]] = []
    at = 0
    while at < len(lines):
        end, cells = at + 1, _cells(lines[at], found.delimiter)
        if lines[at].count('"') % 2:
            last = next((n + 1 for n in range(at + 1, len(lines)) if lines[n].count('"') % 2), end)
            joined = _cells("\n".join(lines[at:last]), found.delimiter)
            if len(joined) == width:
                end, cells = last, joined
        while len(cells) > width and not cells[-1]:
            cells.pop()  # a spreadsheet's empty columns
        if any(cells):
            records.append((at + 1, cells))
        at = end
    return records


def _cells(record: str, delimiter: str) -> list[str]:
    record = record.removesuffix("\r")
    if '"' not in record:
        return record.split(delimiter)
    try:
        return next(csv.reader(io.StringIO(record, newline=""), delimiter=delimiter), [])
    except csv.Error:
        return [record]


def _header_fits(found: RowFile, cells: list[str]) -> bool:
    return tuple(cell.strip() for cell in cells) == found.columns


def _take_rows(found: RowFile, records: list[tuple[int, list[str]]], data: bytes) -> None:
    width = len(found.columns)
    last_line = data.count(b"\n")
    for line, cells in records:
        if len(cells) == width:
            _take_row(found, line, cells)
        elif line == last_line and len(cells) < width and data.endswith(b"\n"):
            start = data[:-1].rfind(b"\n") + 1
            found.torn, found.sound_size = data[start:], start
        else:
            _seen(found, cells[0])
            found._fault(
                line,
                "",
                f"{width} cells",
                f"{len(cells)} cells",
                "mend the line by hand (delimiters and quotes), or take it out and enter it again",
            )


def _take_row(found: RowFile, line: int, cells: list[str]) -> None:
    _seen(found, cells[0])
    if not found.all_text and not all(map(_is_text, cells)):
        do = 'mend the cell, or save the sheet again as "CSV UTF-8"'
        found._fault(line, "", "UTF-8 text", "other bytes", do)
        return
    found.rows.append(found._row(line, cells))


def _take_tail(found: RowFile, tail: bytes, size: int, *, line: int) -> None:
    """The last line, which has no line end: whole if its check holds, else torn."""
    cells = _cells(tail.decode("utf-8", "surrogateescape"), found.delimiter)
    if len(cells) == len(found.columns) and all(map(_is_text, cells)):
        row = found._row(line, cells)
        if row.sound:
            _seen(found, cells[0])
            found.rows.append(row)
            found.end_missing = True
            return
    found.torn, found.sound_size = tail, size - len(tail)


def _is_text(text: str) -> bool:
    return text.isascii() or _NOT_TEXT.search(text) is None


def _seen(found: RowFile, cell: str) -> None:
    number = cell.strip()
    if number.isascii() and number.isdigit() and len(number) < 10:
        found.seen_seqs.append(int(number))


def _too_large(path: Path) -> FileFault:
    return FileFault(
        path.name,
        None,
        "",
        f"at most {LARGEST_FILE // 1024**2} MB",
        f"{path.stat().st_size / 1024**2:.0f} MB",
        "this is no bench sheet; put the right file back from a copy",
    )


def _wrong_columns(found: RowFile, cells: list[str]) -> FileFault:
    got = [cell.strip() for cell in cells]
    lacking = [name for name in found.columns if name not in got]
    strange = [name for name in got if name not in found.columns]
    parts = [f"no column {', '.join(lacking)}"] if lacking else []
    parts += [f"unknown column {clipped(', '.join(strange))}"] if strange else []
    return FileFault(
        found.name,
        1,
        "",
        f"the columns {','.join(found.columns)}",
        "; ".join(parts) or ("another order of columns" if got else "an empty file"),
        "put the first line back as documented; nothing was read or changed",
    )


def _tell_if_resaved(found: RowFile, data: bytes) -> None:
    marks = ["a byte order mark"] if data.startswith(_BOM) else []
    marks += ["the delimiter ;"] if found.delimiter == ";" else []
    marks += ["line ends CR LF"] if found.newline == "\r\n" else []
    if marks:
        found.faults.append(
            FileFault(
                found.name,
                1,
                "",
                "the file as wormwright writes it",
                f"{', '.join(marks)}: hand-edited, another program has saved it",
                "look through the rows that ask to be confirmed; the rest is as it was",
                "warn",
            )
        )
