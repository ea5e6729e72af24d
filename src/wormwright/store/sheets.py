"""readings.csv and signoffs.csv read together: one running number, one list of faults."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

from wormwright.job.kind import ReadingKind
from wormwright.job.operation import SignOff
from wormwright.job.reading import Reading
from wormwright.store.fault import FileFault, JobFolderError
from wormwright.store.numbered import LARGEST_SEQ, Numbered, numbered
from wormwright.store.reading_rows import (
    CONFIRMED,
    HAND_EDITED,
    NOTHING_READ,
    READING_COLUMNS,
    READINGS,
    read_readings,
)
from wormwright.store.row_file import Row, RowFile, read_row_file
from wormwright.store.safe_write import cut_file, replace_file
from wormwright.store.signoff_rows import SIGN_OFF_COLUMNS, SIGN_OFFS, read_sign_offs


@dataclass(frozen=True, slots=True)
class Sheets:
    """Both files as last read. `stamp` tells whether they have changed since."""

    files: Mapping[str, RowFile]
    rows: Mapping[str, Numbered]
    readings: tuple[Reading, ...]
    superseded: frozenset[int]
    sign_offs: tuple[SignOff, ...]
    faults: tuple[FileFault, ...]
    next_seq: int
    stamp: tuple[object, ...]

    @property
    def torn(self) -> bool:
        """Whether a line is still in its file that a broken write left behind."""
        return any(found.torn for found in self.files.values())

    def sound(self) -> Mapping[Row, Reading]:
        """The readings of rows that are as they were written, by their row."""
        rows = self.rows[READINGS].rows
        return {
            rows[r.seq]: r
            for r in self.readings
            if rows[r.seq].sound and not {HAND_EDITED, CONFIRMED} & set(r.flags)
        }

    def asks(self, seq: int) -> FileFault | None:
        """The question put about that row, if there is one."""
        return next((f for f in self.faults if f.seq == seq and f.action == "ask"), None)


def stamp_of(folder: Path, names: Iterable[str] = (READINGS, SIGN_OFFS)) -> tuple[object, ...]:
    """Size, time and identity of the files, both sheets unless others are named: a cheap sign of
    change.
    """
    marks: list[object] = []
    for name in names:
        try:
            stat = (folder / name).stat()
        except FileNotFoundError:
            marks.append(None)
        else:
            marks += [stat.st_size, stat.st_mtime_ns, stat.st_ino]
    return tuple(marks)


def read_sheets(
    folder: Path, kinds: Mapping[str, ReadingKind], before: Sheets | None = None
) -> Sheets:
    """Read both files; every fault of either is kept. Rows that stood in them `before` are known.

    Raises:
        JobFolderError: a file cannot be used at all (size, first line); both are looked at.
    """
    stamp = stamp_of(folder)
    files: dict[str, RowFile] = {}
    refused: list[FileFault] = []
    for name, columns in ((READINGS, READING_COLUMNS), (SIGN_OFFS, SIGN_OFF_COLUMNS)):
        try:
            files[name] = read_row_file(folder / name, columns)
        except JobFolderError as error:
            refused += error.faults
        except OSError as problem:
            refused.append(unusable(name, problem))
    if refused:
        raise JobFolderError(refused)
    taken: set[int] = set()
    rows = {name: numbered(found, taken) for name, found in files.items()}
    read = read_readings(rows[READINGS], kinds, before.sound() if before else NOTHING_READ)
    sign_offs, sign_off_faults = read_sign_offs(rows[SIGN_OFFS])
    seen = [seq for found in files.values() for seq in found.seen_seqs]
    return Sheets(
        files,
        rows,
        read.readings,
        read.superseded,
        sign_offs,
        _in_order(read.faults + sign_off_faults),
        max(seen, default=0) + 1,
        stamp,
    )


def _in_order(faults: tuple[FileFault, ...]) -> tuple[FileFault, ...]:
    return tuple(sorted(faults, key=lambda fault: (fault.file, fault.line or 0)))


def set_torn_aside(folder: Path, sheets: Sheets) -> tuple[FileFault, ...]:
    """Move what a broken write left at the end of a file into `<file>.torn-<n>`. Hold the lock.

    The piece is safe on disk before the file is shortened.
    """
    told = []
    for name, found in sheets.files.items():
        if not found.torn:
            continue
        place = _free_name(folder, name)
        replace_file(place, found.torn)
        cut_file(folder / name, found.sound_size)
        told.append(
            FileFault(
                name,
                None,
                "",
                "a whole last line",
                f"{len(found.torn)} bytes of a line that was never finished",
                f"it is kept in {place.name}; if it was a reading, enter it again",
                "warn",
            )
        )
    return tuple(told)


def _free_name(folder: Path, name: str) -> Path:
    number = 1
    while (folder / f"{name}.torn-{number}").exists():
        number += 1
    return folder / f"{name}.torn-{number}"


def unusable(name: str, problem: OSError) -> FileFault:
    """A fault for a file that the disk does not give or take."""
    got = problem.strerror or str(problem)
    do = "check the disk, the rights and the room left; nothing was changed"
    return FileFault(name, None, "", "a file that can be read and written", got, do)


def no_more_numbers(seq: int) -> FileFault:
    """A fault for a running number that has been spoilt by hand."""
    do = "look for a row whose seq was changed by hand and put it right"
    return FileFault(READINGS, None, "seq", f"numbers up to {LARGEST_SEQ}", str(seq), do)
