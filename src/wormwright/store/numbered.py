"""Rows sorted by their running number: doubles, unreadable numbers and confirmations found."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace

from wormwright.store.fault import FileFault, clipped
from wormwright.store.row_file import Row, RowFile

LARGEST_SEQ = 999_999_999


@dataclass(slots=True)
class Numbered:
    """The rows of one file by seq; `confirmed` holds, by seq, the check values confirmed."""

    file: str
    rows: dict[int, Row] = field(default_factory=dict)
    confirmed: dict[int, set[str]] = field(default_factory=dict)
    faults: list[FileFault] = field(default_factory=list)

    def fault(self, seq: int | None, field: str, expected: str, got: str, do: str) -> FileFault:
        """A fault in the row of that seq, noted and handed back."""
        line = self.rows[seq].line if seq is not None and seq in self.rows else None
        found = FileFault(self.file, line, field, expected, got, do, seq=seq)
        self.faults.append(found)
        return found

    def hand_edited(self, seq: int, column: str, reads: str) -> bool:
        """True, with a question put, if the row is not as written and nobody has confirmed it."""
        row = self.rows[seq]
        if row.check in self.confirmed.get(seq, ()):
            return False
        told = self.fault(
            seq,
            column,
            "the row as it was written",
            f"a hand-edited row that now reads {reads}",
            f"compare it with the paper, then confirm row {seq} or supersede it",
        )
        self.faults[-1] = replace(told, action="ask")
        return True


def whole(text: str) -> int | None:
    """The running number in a cell, or None."""
    clean = text.strip()
    if clean.isascii() and clean.isdigit() and len(clean) < 10 and int(clean) > 0:
        return int(clean)
    return None


def numbered(found: RowFile, taken: set[int]) -> Numbered:
    """The file's rows by seq. A seq that is in `taken` already is refused; `taken` grows."""
    sheet = Numbered(found.name, faults=list(found.faults))
    place = found.columns.index("confirms")
    confirmations: list[tuple[int, Row]] = []
    for row in found.rows:
        seq = whole(row.texts[0])
        if seq is None:
            sheet.faults.append(_bad_seq(found.name, row))
        elif seq in taken:
            sheet.faults.append(_double(found.name, row, seq))
        else:
            taken.add(seq)
            if row.texts[place].strip():
                confirmations.append((seq, row))
            else:
                sheet.rows[seq] = row
    _take_confirmations(sheet, confirmations, place)
    return sheet


def _take_confirmations(
    sheet: Numbered, confirmations: Iterable[tuple[int, Row]], place: int
) -> None:
    for seq, row in confirmations:
        words = row.texts[place].split()
        of = whole(words[0]) if len(words) == 2 else None
        if row.sound and of in sheet.rows:
            sheet.confirmed.setdefault(of, set()).add(words[1])
        else:
            sheet.faults.append(
                FileFault(
                    sheet.file,
                    row.line,
                    "confirms",
                    "the seq and check value of a row of this file, as written",
                    clipped(row.texts[place]),
                    "confirm that row again; this line counts for nothing",
                    seq=seq,
                )
            )


def _bad_seq(file: str, row: Row) -> FileFault:
    return FileFault(
        file,
        row.line,
        "seq",
        f"a whole number from 1 to {LARGEST_SEQ}",
        clipped(row.texts[0]),
        "take the line out and enter what it says again",
    )


def _double(file: str, row: Row, seq: int) -> FileFault:
    return FileFault(
        file,
        row.line,
        "seq",
        "a number that no other row has",
        f"{seq} a second time",
        "take the line out and enter what it says again; the first row of that number counts",
    )
