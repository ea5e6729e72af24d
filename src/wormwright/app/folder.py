"""What the use cases need of a job folder; whatever offers this can stand behind them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Protocol

from wormwright.job.operation import Gate, SignOff
from wormwright.job.reading import Reading
from wormwright.job.rotary import Job
from wormwright.store.entry import ReadingText
from wormwright.store.fault import FileFault
from wormwright.store.job_edit import Value


class Folder(Protocol):
    """One job: what it is, what was read, what was signed off, and what is wrong in the files."""

    path: Path

    @property
    def job(self) -> Job:
        """What job.toml says."""

    @property
    def readings(self) -> tuple[Reading, ...]:
        """Every reading in order of seq, superseded ones too."""

    @property
    def sign_offs(self) -> tuple[SignOff, ...]:
        """Every sign-off in order of seq."""

    @property
    def problems(self) -> tuple[FileFault, ...]:
        """What is wrong in the CSV files."""

    def entry_of(self, seq: int) -> ReadingText:
        """The texts of one row of readings, as typed."""

    def append_readings(self, entries: Sequence[ReadingText]) -> tuple[Reading, ...]:
        """Add readings: all of them, or none if anything is wrong."""

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

    def confirm(self, seq: int) -> Reading | SignOff:
        """Say that a row is right as it now stands."""

    def save_job(self, changes: Mapping[str, Value]) -> Job:
        """Set keys of job.toml; comments and order stay."""
