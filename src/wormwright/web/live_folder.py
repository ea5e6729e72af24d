"""A job folder for many hands at once, and the same folder as it stood at one moment."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from threading import Lock, RLock
from typing import Any, TypeVar, cast

from wormwright.job.operation import Gate, SignOff
from wormwright.job.reading import Reading
from wormwright.job.rotary import Job
from wormwright.store import JobFolder
from wormwright.store.entry import ReadingText
from wormwright.store.fault import FileFault
from wormwright.store.job_edit import Value

Answer = TypeVar("Answer")


class LiveFolder:
    """A job folder that several threads use: read as it was last seen, written one at a time."""

    def __init__(self, store: JobFolder, lock: RLock) -> None:
        self.path = store.path
        self._store, self._lock = store, lock

    @property
    def job(self) -> Job:
        """What job.toml says."""
        return self._store.job

    @property
    def readings(self) -> tuple[Reading, ...]:
        """Every reading in order of seq, superseded ones too."""
        return self._store.readings

    @property
    def sign_offs(self) -> tuple[SignOff, ...]:
        """Every sign-off in order of seq."""
        return self._store.sign_offs

    @property
    def problems(self) -> tuple[FileFault, ...]:
        """What is wrong in the CSV files."""
        return self._store.problems

    def entry_of(self, seq: int) -> ReadingText:
        """The texts of one row of readings, as typed."""
        return self._store.entry_of(seq)

    def append_readings(self, entries: Sequence[ReadingText]) -> tuple[Reading, ...]:
        """Add readings: all of them, or none if anything is wrong."""
        with self._lock:
            return self._store.append_readings(entries)

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
        """Add one sign-off; `when` is now if left empty."""
        with self._lock:
            return self._store.append_sign_off(
                operation, initials=initials, verdict=verdict, gates=gates, note=note, when=when
            )

    def confirm(self, seq: int) -> Reading | SignOff:
        """Say that a row is right as it now stands."""
        with self._lock:
            return self._store.confirm(seq)

    def save_job(self, changes: Mapping[str, Value]) -> Job:
        """Set keys of job.toml; comments and order stay."""
        with self._lock:
            return self._store.save_job(changes)


class Snapshot(LiveFolder):
    """The folder as it stood at one moment, with the answers that were made from it.

    `number` grows from one snapshot of a job to the next; `mark` is the sign of its files.
    """

    def __init__(self, store: JobFolder, lock: RLock, mark: str, number: int) -> None:
        super().__init__(store, lock)
        self.mark, self.number = mark, number
        self._job, self._readings = store.job, store.readings
        self._sign_offs, self._problems = store.sign_offs, store.problems
        self._answers: dict[str, object] = {}
        self._makers: dict[str, Lock] = {}

    @property
    def job(self) -> Job:
        """What job.toml said."""
        return self._job

    @property
    def readings(self) -> tuple[Reading, ...]:
        """Every reading that there was."""
        return self._readings

    @property
    def sign_offs(self) -> tuple[SignOff, ...]:
        """Every sign-off that there was."""
        return self._sign_offs

    @property
    def problems(self) -> tuple[FileFault, ...]:
        """What was wrong in the CSV files."""
        return self._problems

    def kept(self, key: str, make: Callable[[Any], Answer]) -> Answer:
        """An answer about the job as it stood, made once whoever asks first."""
        with self._makers.setdefault(key, Lock()):
            if key not in self._answers:
                self._answers[key] = make(self)
            return cast("Answer", self._answers[key])
