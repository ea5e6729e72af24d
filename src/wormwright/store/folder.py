"""The job folder: job.toml, readings.csv and signoffs.csv, opened, added to and saved."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import Self

from wormwright.job.kind import ReadingKind
from wormwright.job.operation import Gate, SignOff
from wormwright.job.reading import Reading
from wormwright.job.rotary import Job
from wormwright.job.sheet import KINDS
from wormwright.store.contents import COLUMNS, job_bytes, new_contents, read_all
from wormwright.store.entry import NO_TEXTS, EntryError, ReadingText, reading_of
from wormwright.store.fault import ChangedMeanwhileError, FileFault, JobFolderError
from wormwright.store.job_edit import Value, difference, edited
from wormwright.store.job_file import JOB, is_closed, job_of, source_of
from wormwright.store.lock import PATIENCE_S, folder_lock
from wormwright.store.numbered import LARGEST_SEQ, Numbered
from wormwright.store.reading_rows import READINGS, entry_in, texts_of
from wormwright.store.row_file import header_line
from wormwright.store.safe_write import append_to_file, replace_file
from wormwright.store.sheets import (
    no_more_numbers,
    read_sheets,
    set_torn_aside,
    stamp_of,
    unusable,
)
from wormwright.store.signoff_rows import SIGN_OFFS, sign_off_of, sign_off_texts

_BOM = b"\xef\xbb\xbf"


def now() -> str:
    """The time on this computer's clock, with its offset, to the second."""
    return datetime.now().astimezone().isoformat(timespec="seconds")


class JobFolder:
    """One job on disk. Reading it needs no lock; every change is made under the folder's lock."""

    def __init__(
        self,
        path: Path,
        kinds: Mapping[str, ReadingKind],
        clock: Callable[[], str],
        patience_s: float,
    ) -> None:
        self.path = path
        self._kinds = kinds
        self._clock = clock
        self._patience_s = patience_s
        self._told: tuple[FileFault, ...] = ()
        self._data, self._job, self._sheets = read_all(path, kinds)

    @classmethod
    def open(
        cls,
        path: Path | str,
        *,
        kinds: Mapping[str, ReadingKind] = KINDS,
        clock: Callable[[], str] = now,
        patience_s: float = PATIENCE_S,
    ) -> Self:
        """Open a job folder. A line that a broken write left behind is set aside and told.

        Raises:
            JobFolderError: with every fault of every file, if job.toml or a first line is unusable.
        """
        folder = cls(Path(path), kinds, clock, patience_s)
        if folder._sheets.torn:
            folder._tidy()
        return folder

    @classmethod
    def create(
        cls,
        path: Path | str,
        *,
        from_example: Path | str | None = None,
        kinds: Mapping[str, ReadingKind] = KINDS,
        clock: Callable[[], str] = now,
        patience_s: float = PATIENCE_S,
    ) -> Self:
        """Make a new folder, empty or as a copy of an example, and open it.

        Raises:
            JobFolderError: there is something at `path` already, or the example is not sound.
        """
        place = Path(path)
        if place.exists() and (not place.is_dir() or any(place.iterdir())):
            do = "choose another name; nothing was written"
            got = "something there already"
            raise JobFolderError([FileFault(str(place), None, "", "a new folder", got, do)])
        contents = new_contents(place, from_example, kinds)
        try:
            place.mkdir(parents=True, exist_ok=True)
            for name, data in contents.items():  # job.toml last: without it this is no job folder
                replace_file(place / name, data)
        except OSError as problem:
            raise JobFolderError([unusable(str(place), problem)]) from problem
        return cls.open(place, kinds=kinds, clock=clock, patience_s=patience_s)

    @property
    def job(self) -> Job:
        """What job.toml says."""
        return self._job

    @property
    def readings(self) -> tuple[Reading, ...]:
        """Every readable reading in order of seq, superseded ones too.

        One that was changed by hand and not confirmed has no value and the flag "hand-edited".
        """
        return self._sheets.readings

    @property
    def sign_offs(self) -> tuple[SignOff, ...]:
        """Every sign-off in order of seq, without those changed by hand and not confirmed."""
        return self._sheets.sign_offs

    @property
    def problems(self) -> tuple[FileFault, ...]:
        """What is wrong in the CSV files: rows not used, rows to confirm, and what was mended."""
        return self._told + self._sheets.faults

    def append_reading(
        self,
        kind: str,
        raw: str,
        *,
        table_angle: str | None = None,
        worm_angle: str | None = None,
        station: str = "",
        instrument: str = "",
        conditions: Mapping[str, str] = NO_TEXTS,
        note: str = "",
        supersedes: int | None = None,
        column_unit: str | None = None,
        u: str | None = None,
        when: str = "",
    ) -> Reading:
        """Add one reading as typed; on disk when this returns. Arguments as in `ReadingText`."""
        entry = ReadingText(
            kind=kind,
            raw=raw,
            table_angle=table_angle or "",
            worm_angle=worm_angle or "",
            station=station,
            instrument=instrument,
            conditions=conditions,
            note=note,
            supersedes=supersedes,
            column_unit=column_unit or "",
            u=u or "",
            when=when,
        )
        return self.append_readings([entry])[0]

    def append_readings(self, entries: Sequence[ReadingText]) -> tuple[Reading, ...]:
        """Add a series: all of it, or none of it if anything in it is wrong.

        Raises:
            JobFolderError: with every fault of every entry; nothing was written.
        """
        if not entries:
            return ()
        with folder_lock(self.path, patience_s=self._patience_s):
            self._refuse_if_closed()
            self._refresh()
            first = self._next_seq(len(entries))
            faults = self._supersede_faults(entries)
            rows: list[tuple[str, ...]] = []
            for place, typed in enumerate(entries):
                entry = replace(typed, when=typed.when or self._clock())
                try:
                    reading = reading_of(
                        entry, seq=first + place, kinds=self._kinds, units=self._job.units
                    )
                except EntryError as error:
                    faults += _entry_faults(READINGS, error, place, len(entries))
                else:
                    rows.append(texts_of(reading, entry, self._kinds[entry.kind]))
            if faults:
                raise JobFolderError(faults)
            self._append(READINGS, rows)
        return tuple(reading for reading in self.readings if reading.seq >= first)

    def entry_of(self, seq: int) -> ReadingText:
        """The texts of one row of readings.csv as typed, to supersede it with another value.

        Raises:
            JobFolderError: there is no such row, or it cannot be read.
        """
        row = self._sheets.rows[READINGS].rows.get(seq)
        entry = None if row is None else entry_in(Numbered(READINGS, {seq: row}), seq, row)
        if entry is None:
            expected, do = "the seq of a row of readings.csv", "look it up with `measure DIR`"
            raise JobFolderError([FileFault(READINGS, None, "seq", expected, str(seq), do)])
        return entry

    def append_sign_off(
        self,
        operation: str,
        *,
        initials: str,
        verdict: str,
        gates: Sequence[tuple[Gate, str]] = (),
        note: str = "",
        when: str = "",
    ) -> SignOff:
        """Add one sign-off; each gate comes with the text read for it.

        Raises:
            JobFolderError: with everything that is wrong in it; nothing was written.
        """
        with folder_lock(self.path, patience_s=self._patience_s):
            self._refuse_if_closed()
            self._refresh()
            try:
                signed = sign_off_of(
                    operation,
                    seq=self._next_seq(1),
                    when=when or self._clock(),
                    initials=initials,
                    verdict=verdict,
                    gates=gates,
                    note=note,
                    units=self._job.units,
                )
            except EntryError as error:
                raise JobFolderError(_entry_faults(SIGN_OFFS, error, 0, 1)) from None
            self._append(SIGN_OFFS, [sign_off_texts(signed, gates)])
        return self._signed(signed.seq)

    def confirm(self, seq: int) -> Reading | SignOff:
        """Say that a hand-edited row is right as it now stands; adds a row that says so.

        Raises:
            JobFolderError: that row asks for nothing.
        """
        with folder_lock(self.path, patience_s=self._patience_s):
            self._refresh()
            question = self._sheets.asks(seq)
            if question is None:
                do = "look at the problems of the folder for rows that ask"
                expected = "a row that asks to be confirmed"
                raise JobFolderError([FileFault(READINGS, None, "seq", expected, str(seq), do)])
            name = question.file
            row = self._sheets.rows[name].rows[seq]
            texts = dict.fromkeys(COLUMNS[name][:-1], "")
            texts.update(
                seq=str(self._next_seq(1)), when=self._clock(), confirms=f"{seq} {row.check}"
            )
            self._append(name, [tuple(texts.values())])
        if name == SIGN_OFFS:
            return self._signed(seq)
        return next(reading for reading in self.readings if reading.seq == seq)

    def save_job(self, changes: Mapping[str, Value]) -> Job:
        """Set keys of job.toml (`{"duty.error": "0.02 mm"}`); comments and order stay.

        Raises:
            ChangedMeanwhileError: the file is not what was read; carries the difference.
            JobFolderError: with every fault that the change would bring; nothing was written.
        """
        with folder_lock(self.path, patience_s=self._patience_s):
            source = source_of(self._data)
            data = job_bytes(self.path)
            if data != self._data:
                raise _changed(source, data)
            text = edited(source, changes)
            job = job_of(text)
            written = (_BOM if data.startswith(_BOM) else b"") + text.encode()
            if written != data:
                self._write(JOB, lambda: replace_file(self.path / JOB, written))
            self._data, self._job = written, job
        return job

    def refresh(self) -> None:
        """Read again whatever another program has changed since."""
        if stamp_of(self.path) == self._sheets.stamp and self._same_job():
            return
        self._data, self._job, self._sheets = read_all(self.path, self._kinds)
        if self._sheets.torn:
            self._tidy()

    def _refuse_if_closed(self) -> None:
        """A closed job takes no rows; another program may have closed it. Hold the lock."""
        data = job_bytes(self.path)
        if self._job.closed if data == self._data else is_closed(data):
            do = "open it again: wormwright keep DIR --reopen; nothing was written"
            raise JobFolderError(
                [FileFault(JOB, None, "closed", "an open job", "a closed one", do)]
            )

    def _same_job(self) -> bool:
        try:
            return job_bytes(self.path) == self._data
        except JobFolderError:
            return False

    def _refresh(self) -> None:
        """The CSV files as they are now, with nothing torn in them. Hold the lock."""
        if stamp_of(self.path) != self._sheets.stamp:
            self._sheets = read_sheets(self.path, self._kinds)
        if self._sheets.torn:
            told = set_torn_aside(self.path, self._sheets)
            self._told += told
            self._sheets = read_sheets(self.path, self._kinds)

    def _tidy(self) -> None:
        """Set torn lines aside, if this folder can be written; a writer at work is waited for."""
        try:
            with folder_lock(self.path, patience_s=self._patience_s):
                self._sheets = read_sheets(self.path, self._kinds)
                self._refresh()
        except (JobFolderError, OSError) as problem:
            got = "a torn last line that could not be set aside"
            do = f"the whole rows are read; {problem}"
            self._told += (FileFault(READINGS, None, "", "whole lines", got, do, "warn"),)

    def _next_seq(self, count: int) -> int:
        first = self._sheets.next_seq
        if first + count - 1 > LARGEST_SEQ:
            raise JobFolderError([no_more_numbers(first)])
        return first

    def _append(self, name: str, rows: Iterable[Sequence[str]]) -> None:
        """Write the rows, wait for the disk, and read the file back. Hold the lock."""
        found = self._sheets.files[name]
        path = self.path / name
        if found.missing:
            self._write(name, lambda: replace_file(path, header_line(found.columns)))
        data = found.lines_of(rows)
        self._write(name, lambda: append_to_file(path, data))
        self._sheets = read_sheets(self.path, self._kinds, self._sheets)

    def _write(self, name: str, write: Callable[[], None]) -> None:
        try:
            write()
        except OSError as problem:
            raise JobFolderError([unusable(name, problem)]) from problem

    def _signed(self, seq: int) -> SignOff:
        return next(signed for signed in self.sign_offs if signed.seq == seq)

    def _supersede_faults(self, entries: Sequence[ReadingText]) -> list[FileFault]:
        gone = set(self._sheets.superseded)
        faults = []
        for place, entry in enumerate(entries):
            old = entry.supersedes
            if old is None:
                continue
            field = _numbered_field("supersedes", place, len(entries))
            if old not in self._sheets.rows[READINGS].rows:
                do = "look up the seq of the row that is wrong"
                expected = "the seq of a row of readings.csv"
                faults.append(FileFault(READINGS, None, field, expected, str(old), do))
            elif old in gone:
                do = "supersede the row that took its place"
                expected = "a row that is not superseded yet"
                faults.append(FileFault(READINGS, None, field, expected, str(old), do))
            gone.add(old)
        return faults


def _changed(source: str, data: bytes) -> ChangedMeanwhileError:
    fault = FileFault(
        JOB,
        None,
        "",
        "the file as it was read",
        "a file that was changed meanwhile",
        "open the folder again and make the change there; nothing was written",
    )
    return ChangedMeanwhileError(
        fault, difference(source, data.decode("utf-8-sig", errors="replace"))
    )


def _entry_faults(file: str, error: EntryError, place: int, count: int) -> list[FileFault]:
    return [
        FileFault(file, None, _numbered_field(field, place, count), expected, got, do)
        for field, expected, got, do in error.wrongs
    ]


def _numbered_field(field: str, place: int, count: int) -> str:
    return f"entry {place + 1}: {field}" if count > 1 else field
