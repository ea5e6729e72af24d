"""Measure: the sheet of a job, the doubts about single rows, and which rows may enter a fit."""

from __future__ import annotations

from collections.abc import Set as AbstractSet
from dataclasses import dataclass

from wormwright.app.folder import Folder
from wormwright.app.problems import document
from wormwright.app.remembered import Remembered
from wormwright.job.blocks import Block, Doubts, Paragraph
from wormwright.job.reading import Reading
from wormwright.job.result import Doubt
from wormwright.packet import Document
from wormwright.stages.measure import Sheet, measure, report
from wormwright.traveler import live_readings, stale_readings


@dataclass(frozen=True, slots=True)
class Sound:
    """The readings that may enter a fit, and the doubts that keep others out."""

    readings: tuple[Reading, ...]
    kept_out: tuple[Doubt, ...]

    def blocks(self) -> tuple[Block, ...]:
        """What the reader must know: which rows were left out, and why."""
        if not self.kept_out:
            return ()
        rows = sorted({row for doubt in self.kept_out for row in doubt.rows})
        words = f"Left out until they are settled: row{'s' if len(rows) > 1 else ''} "
        return (Paragraph(f"{words}{', '.join(map(str, rows))}."), Doubts(self.kept_out))


_SHEETS: Remembered[Sheet] = Remembered()


def sheet_of(folder: Folder) -> Sheet:
    """The sheet as it stands: done, in part, doubtful, stale, missing."""
    of = (folder.job, folder.readings, folder.sign_offs)
    known = _SHEETS.get(folder, of)
    if known is None:
        known = _sheet_of(folder)
        _SHEETS.keep(folder, of, known)
    return known


def _sheet_of(folder: Folder) -> Sheet:
    live = live_readings(folder.readings, folder.sign_offs)
    stale = stale_readings(folder.readings, folder.sign_offs)
    return measure(folder.job, live, all_readings=folder.readings, stale=stale)


def sheet_document(folder: Folder) -> Document:
    """The sheet for the reader."""
    return document("Bench sheet", folder, report(sheet_of(folder)))


def sound(folder: Folder, readings: tuple[Reading, ...]) -> Sound:
    """Those among `readings` that no check refuses and about which no question is open.

    A value that is perhaps ten times too large must not pull the answer while nobody has said
    whether it is right.
    """
    if readings == live_readings(folder.readings, folder.sign_offs):
        sheet = sheet_of(folder)
    else:
        sheet = measure(folder.job, readings, all_readings=folder.readings)
    kept = tuple(d for d in sheet.doubts if d.rows and d.action != "warn")
    asked = {row for doubt in kept for row in doubt.rows}
    return Sound(tuple(r for r in sheet.usable if r.seq not in asked), kept)


def row_doubts(folder: Folder, rows: AbstractSet[int]) -> tuple[Doubt, ...]:
    """The doubts about any of these rows."""
    return tuple(doubt for doubt in sheet_of(folder).doubts if rows & set(doubt.rows))
