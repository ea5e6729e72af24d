"""The library face: one job, its stages and its papers, for scripts and notebooks.

Stable names: what stands in `__all__` here keeps its name and meaning within a major version. An
`Answer` shows itself as a page in a notebook and as text in a terminal; its `result` holds the
numbers, in core units (mm, rad, N, N·mm, °C).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Generic, TypeVar

from wormwright.app import correct, diagnose, enter, measure, new, packet, prove, recheck, sign
from wormwright.job.corrections import Remedy
from wormwright.job.findings import Diagnosis
from wormwright.job.proof import Proof
from wormwright.job.recheck import Recheck
from wormwright.job.rotary import Job
from wormwright.packet import Document, Style, render_text
from wormwright.stages.measure import Sheet
from wormwright.store import JobFolder

__all__ = ["Answer", "OpenJob", "new_job", "open_job"]

Result = TypeVar("Result")
WIDTH = 100
"""Columns of an answer in a terminal."""


@dataclass(frozen=True, slots=True)
class Answer(Generic[Result]):
    """What a stage says: `result` in numbers, `document` as it is printed."""

    result: Result
    document: Document
    style: Style

    def __str__(self) -> str:
        """The text that the command line prints."""
        return render_text(self.document, self.style, WIDTH)

    __repr__ = __str__

    def _repr_html_(self) -> str:
        """The page that a notebook shows, pictures included."""
        from html import escape  # noqa: PLC0415

        from wormwright.packet import render_html  # noqa: PLC0415  (heavy)

        page = escape(render_html(self.document, self.style), quote=True)
        return f'<iframe srcdoc="{page}" sandbox="" width="100%" height="640"></iframe>'


class OpenJob:
    """One job folder with its readings, and every stage over it."""

    def __init__(self, folder: JobFolder) -> None:
        self._folder = folder

    @property
    def job(self) -> Job:
        """What job.toml says."""
        return self._folder.job

    def read(
        self, kind: str, text: str, *, conditions: dict[str, str] | None = None, **texts: str
    ) -> Answer[tuple[int, ...]]:
        """Store one reading as written, with its unit; its row number and what looks wrong.

        `texts` are table_angle, worm_angle, station, instrument, note, u, unit.

        Raises:
            JobFolderError: it is no reading of that kind; nothing was written.
        """
        before = {reading.seq for reading in self._folder.readings}
        said = enter.one(
            self._folder, kind, text, enter.Typed(conditions=conditions or {}, **texts)
        )
        rows = tuple(r.seq for r in self._folder.readings if r.seq not in before)
        return self._answer(rows, said)

    def measure(self) -> Answer[Sheet]:
        """The sheet: what is read, what is missing, what looks wrong."""
        return self._answer(measure.sheet_of(self._folder), measure.sheet_document(self._folder))

    def diagnose(self) -> Answer[Diagnosis]:
        """Where the lost motion comes from.

        Raises:
            StageRefusal: the readings are not enough to answer honestly.
        """
        found = diagnose.diagnosed(self._folder).diagnosis
        return self._answer(found, diagnose.diagnosis_document(self._folder))

    def correct(self) -> Answer[Remedy]:
        """What to make, and whether it will be enough.

        Raises:
            StageRefusal: the readings are not enough to plan on.
        """
        found = correct.planned(self._folder).remedy
        return self._answer(found, correct.remedy_document(self._folder, full=True))

    def prove(self) -> Answer[Proof]:
        """Whether the finished axis is as good as it must be.

        Raises:
            StageRefusal: nothing was read on the finished axis.
        """
        return self._answer(prove.proved(self._folder)[0], prove.proof_document(self._folder))

    def keep(self) -> Answer[Recheck]:
        """Whether the axis is still as good as at its first check.

        Raises:
            StageRefusal: no rock was read since the unit was last worked on.
        """
        return self._answer(
            recheck.rechecked(self._folder)[0], recheck.recheck_document(self._folder)
        )

    def traveler(self) -> Answer[None]:
        """Where the work stands, and every operation with its gates."""
        return self._answer(None, sign.traveler_document(self._folder, full=True))

    def packet(self) -> Answer[Path]:
        """Write the packet; the folder it lies in.

        Raises:
            StageRefusal: the readings are not enough even for a diagnosis.
        """
        said = packet.packet_document(self._folder)
        return self._answer(self._folder.path / packet.PACKET, said)

    def _answer(self, result: Result, said: Document) -> Answer[Result]:
        job = self._folder.job
        return Answer(result, said, Style(units=job.units, sheet=job.sheet))


def open_job(place: Path | str) -> OpenJob:
    """Open a job folder.

    Raises:
        JobFolderError: with every fault of every file.
    """
    return OpenJob(JobFolder.open(place))


def new_job(place: Path | str, *, example: str | None = None) -> OpenJob:
    """Start a job folder, empty or as a copy of an example, and open it.

    Raises:
        Refused: there is no such example.
        JobFolderError: there is something at that place already.
    """
    create: Callable[..., JobFolder] = JobFolder.create
    new.start_job(Path(place), example, create)
    return open_job(place)
