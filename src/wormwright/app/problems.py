"""What is wrong in the files of a job, as a block for the head of every document."""

from __future__ import annotations

from wormwright.app.folder import Folder
from wormwright.job.blocks import Block, Doubts
from wormwright.job.result import Doubt
from wormwright.packet import Document

_WHY = {
    "refuse": "This row is not used until it is mended.",
    "ask": "This row is not used until a person has confirmed it.",
    "warn": "The rest of the file was read.",
}


def file_doubts(folder: Folder) -> tuple[Block, ...]:
    """One block that lists every fault in the job's files, or nothing."""
    doubts = []
    for fault in folder.problems:
        where = fault.file if fault.line is None else f"{fault.file} line {fault.line}"
        field = f", {fault.field}" if fault.field else ""
        doubts.append(
            Doubt(
                fault.action,
                "",
                f"{where}{field}: expected {fault.expected}, got {fault.got}.",
                _WHY[fault.action],
                f"{fault.do[:1].upper()}{fault.do[1:]}.",
                () if fault.seq is None else (fault.seq,),
            )
        )
    return (Doubts(tuple(doubts)),) if doubts else ()


def document(title: str, folder: Folder, blocks: tuple[Block, ...]) -> Document:
    """A document about this job, its file faults first."""
    job = folder.job
    subtitle = f"{job.name}: {job.rotary.marked}"
    return Document(title, subtitle, job.made_up, (*file_doubts(folder), *blocks))
