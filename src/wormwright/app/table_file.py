"""Readings from a CSV file: the whole file is checked before anything is stored."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from wormwright.app.refused import Refused
from wormwright.job.result import Doubt
from wormwright.job.sheet import KINDS
from wormwright.store.entry import ReadingText

MOST_ROWS = 10_000
MOST_BYTES = 2_000_000
OWN_COLUMNS = (
    "kind",
    "reading",
    "table_angle",
    "worm_angle",
    "station",
    "instrument",
    "note",
    "u",
)
"""Columns of a file of readings; every other column must be a condition of the kinds in it."""
DITTO = frozenset(('"', "''", "″", "do", "do.", "same", "〃"))
_HEAD = re.compile(r"\s*([A-Za-z_ ]+?)\s*(?:[\[(]\s*(.*?)\s*[\])])?\s*")
_BARE = re.compile(r"[+\-−]?\s*[0-9.][0-9./ ½¼¾-]*")


@dataclass(frozen=True, slots=True)
class _Column:
    name: str
    unit: str


def entries_of_file(
    path: Path,
    *,
    kind: str = "",
    unit: str = "",
    conditions: Mapping[str, str] | None = None,
    other_names: Mapping[str, str] | None = None,
) -> tuple[tuple[int, ReadingText], ...]:
    """Line number and entry of every filled row of the file.

    The first line names the columns (see OWN_COLUMNS); a unit may stand behind a name in square
    brackets, `table_angle [deg]`, and then holds for every bare number below. `kind` and `unit`
    stand in for a missing kind column and for the unit of bare readings, `conditions` for missing
    condition columns; `other_names` are further names of columns. A row without a reading is passed
    over; a ditto mark repeats the cell above.

    Raises:
        Refused: the file cannot be read as such a table.
    """
    lines = _lines(path)
    columns = _columns(path, lines[0][1], unit, other_names or {})
    if not kind and not any(column.name == "kind" for column in columns):
        raise _wrong(path, 1, "a column named kind", "none", "add it, or give --kind KIND")
    found = []
    above: dict[str, str] = {}
    for number, cells in lines[1:]:
        if len(cells) > len(columns):
            raise _wrong(
                path,
                number,
                f"{len(columns)} cells",
                f"{len(cells)}",
                "put quotes round a cell that holds the separator",
            )
        row, copied = _row(columns, cells, above)
        above = row
        if row.get("reading", "").strip():
            found.append((number, _entry(row, columns, kind, dict(conditions or {}), copied)))
    if not found:
        raise _wrong(path, 2, "at least one filled reading", "none", "fill in the reading column")
    return tuple(found)


def _lines(path: Path) -> list[tuple[int, list[str]]]:
    if path.stat().st_size > MOST_BYTES:
        raise _wrong(path, 1, f"at most {MOST_BYTES} bytes", "a larger file", "split it")
    try:
        text = path.read_bytes().decode("utf-8-sig")
    except UnicodeDecodeError as error:
        do = "save it as CSV in UTF-8"
        raise _wrong(path, 1, "text in UTF-8", f"byte {error.start} is not", do) from None
    first = text.partition("\n")[0]
    separator = max(",;\t", key=first.count)
    try:
        rows = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)
        lines = [(rows.line_num, cells) for cells in rows if any(c.strip() for c in cells)]
    except csv.Error as error:
        raise _wrong(path, 1, "a table of cells", str(error), "mend the quotes") from None
    if not lines:
        raise _wrong(path, 1, "a line that names the columns", "an empty file", "write it")
    if len(lines) > MOST_ROWS:
        raise _wrong(path, 1, f"at most {MOST_ROWS} rows", f"{len(lines)}", "split the file")
    return lines


def heads_of_file(path: Path) -> tuple[str, ...]:
    """Names of the columns as the file writes them, without units, in small letters."""
    return tuple(_name(cell) for cell in _lines(path)[0][1])


def _name(cell: str) -> str:
    head = _HEAD.fullmatch(cell)
    return head[1].strip().lower().replace(" ", "_") if head else cell


def _columns(
    path: Path, cells: list[str], unit: str, other_names: Mapping[str, str]
) -> tuple[_Column, ...]:
    known = {*OWN_COLUMNS, *(c.key for kind in KINDS.values() for c in kind.conditions)}
    columns: list[_Column] = []
    for cell in cells:
        head = _HEAD.fullmatch(cell)
        name = other_names.get(_name(cell), _name(cell))
        if name not in known or any(column.name == name for column in columns):
            raise _wrong(
                path,
                1,
                f"columns among {', '.join(OWN_COLUMNS)} and conditions such as pin_radius",
                repr(cell[:40]),
                "take the column out or correct its name; each column once",
            )
        declared = (head[2] or "") if head else ""
        columns.append(_Column(name, declared or (unit if name == "reading" else "")))
    if not any(column.name == "reading" for column in columns):
        raise _wrong(path, 1, "a column named reading", "none", "name the column of readings so")
    return tuple(columns)


def _row(
    columns: tuple[_Column, ...], cells: list[str], above: Mapping[str, str]
) -> tuple[dict[str, str], bool]:
    """The cells by column name, ditto marks filled from the row above."""
    row, copied = {}, False
    for column, cell in zip(columns, cells, strict=False):
        text = cell.strip()
        if text.casefold() in DITTO and column.name in above:
            copied = copied or column.name == "reading"
            text = above[column.name]
        row[column.name] = text
    return row, copied


def _entry(
    row: Mapping[str, str],
    columns: tuple[_Column, ...],
    kind: str,
    conditions: dict[str, str],
    copied: bool,
) -> ReadingText:
    units = {column.name: column.unit for column in columns}

    def cell(name: str) -> str:
        return with_unit(row.get(name, ""), units.get(name, ""))

    key = row.get("kind", "") or kind
    known = {c.key for c in KINDS[key].conditions} if key in KINDS else set(conditions)
    given = {name: text for name, text in conditions.items() if name in known}
    given |= {
        c.name: cell(c.name) for c in columns if c.name not in OWN_COLUMNS and row.get(c.name)
    }
    note = row.get("note", "")
    return ReadingText(
        kind=key,
        raw=row["reading"],
        table_angle=cell("table_angle"),
        worm_angle=cell("worm_angle"),
        station=row.get("station", ""),
        instrument=row.get("instrument", ""),
        conditions=given,
        note=f"{note} (copied from the row above)".strip() if copied else note,
        column_unit=units["reading"],
        u=cell("u"),
    )


def with_unit(text: str, unit: str) -> str:
    """The text with the column's unit behind it if it is a bare number.

    Example:
        >>> with_unit("30", "deg"), with_unit("30°", "deg"), with_unit("", "deg")
        ('30 deg', '30°', '')
    """
    return f"{text} {unit}" if unit and _BARE.fullmatch(text.strip()) else text


def _wrong(path: Path, line: int, expected: str, got: str, do: str) -> Refused:
    seen = f"{path.name}, line {line}: expected {expected}, got {got}."
    doubt = Doubt("refuse", "", seen, "Nothing was stored.", f"{do[:1].upper()}{do[1:]}.")
    return Refused(f"{path.name}: nothing was stored", (doubt,))
