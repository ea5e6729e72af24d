"""What is wrong with a file or an entry, and the errors that carry it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from wormwright.job.result import Action


@dataclass(frozen=True, slots=True)
class FileFault:
    """One fault: where it stands, what was expected there, what came, and the one thing to do.

    `line` counts from 1; None when the fault belongs to no line (a missing file). `action` is
    "refuse" (not used until mended), "ask" (a person must confirm) or "warn" (only told).
    `seq` names the row of readings.csv or signoffs.csv if it has a number.
    """

    file: str
    line: int | None
    field: str
    expected: str
    got: str
    do: str
    action: Action = "refuse"
    seq: int | None = None

    def __str__(self) -> str:
        """One line in the form `file:line: field: expected …, got …; do`."""
        place = self.file if self.line is None else f"{self.file}:{self.line}"
        field = f"{self.field}: " if self.field else ""
        return f"{place}: {field}expected {self.expected}, got {self.got}; {self.do}"


class JobFolderError(ValueError):
    """The job folder, or an entry for it, is refused; nothing was changed. Carries every fault."""

    def __init__(self, faults: Iterable[FileFault]) -> None:
        self.faults = tuple(faults)
        super().__init__("\n".join(str(fault) for fault in self.faults))


class FolderBusyError(JobFolderError):
    """Another program holds the folder's lock and did not let go in time."""


class ChangedMeanwhileError(JobFolderError):
    """job.toml is no longer what was read. `difference` is a unified diff, as read to as it is."""

    def __init__(self, fault: FileFault, difference: str) -> None:
        super().__init__((fault,))
        self.difference = difference

    def __str__(self) -> str:
        """The fault, and the difference below it."""
        return f"{self.faults[0]}\n{self.difference}"


def clipped(got: object, longest: int = 60) -> str:
    """What came, quoted and kept short enough for one line of a message."""
    shown = repr(got)
    return shown if len(shown) <= longest else f"{shown[: longest - 4]}...{shown[-1]}"
