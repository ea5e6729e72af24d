"""Commission: settings of the control from the live readings, with sheet and test programmes."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from wormwright.app.correct import planned
from wormwright.app.folder import Folder
from wormwright.app.measure import sound
from wormwright.app.problems import document
from wormwright.job.blocks import Block, Paragraph
from wormwright.job.result import StageRefusal
from wormwright.job.rotary import Job
from wormwright.packet import Document
from wormwright.traveler import live_readings

if TYPE_CHECKING:
    from wormwright.stages.commission import Moved

PLACE = "commission"
SHEET = "parameter-sheet.txt"


def commission_document(folder: Folder, *, write: bool = False) -> Document:
    """Settings, speeds, feeds and programmes; with `write` sheet and programmes as files.

    Raises:
        StageRefusal: the ratio or the pulses of the motor are not known.
    """
    paper, texts = commission_papers(folder, folder.job)
    if not write:
        return paper
    for name, text in texts:
        path = folder.path / name
        path.parent.mkdir(exist_ok=True)
        path.write_text(text, encoding="utf-8", newline="\n")
    names = ", ".join(Path(name).name for name, _ in texts)
    written = Paragraph(f"Written into {folder.path / PLACE}: {names}.", strong=True)
    return replace(paper, blocks=(*paper.blocks, written))


def commission_papers(folder: Folder, job: Job) -> tuple[Document, tuple[tuple[str, str], ...]]:
    """The document in the units of that job, and sheet and programmes by the name of their file.

    Raises:
        StageRefusal: the ratio or the pulses of the motor are not known.
    """
    from wormwright.stages.commission import (  # noqa: PLC0415  (the other verbs do without)
        commission,
        report,
        sheet_text,
    )

    kept = sound(folder, live_readings(folder.readings, folder.sign_offs))
    found = commission(job, kept.readings, moved=_moved(folder))
    blocks: tuple[Block, ...] = (*kept.blocks(), *report(found, job))
    texts = ((SHEET, sheet_text(found, job)), *((f"{p.name}.nc", p.text) for p in found.programmes))
    files = tuple((f"{PLACE}/{name}", text) for name, text in texts)
    return document("Commission", folder, blocks), files


def _moved(folder: Folder) -> Moved | None:
    """Where the chosen plan takes the worm to, for the plate that follows it."""
    if folder.job.plate is None:
        return None
    from wormwright.stages.commission import Moved  # noqa: PLC0415

    try:
        picture = planned(folder).remedy.picture
    except StageRefusal:
        return None
    if picture is None:
        return None
    angle = picture.chosen_angle
    return Moved(picture.throw * math.cos(angle), abs(picture.throw * math.sin(angle)))
