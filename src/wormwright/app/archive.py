"""A job put away: closed, opened again, packed into one file, read back, brought up to date."""

from __future__ import annotations

from pathlib import Path

from wormwright.app.folder import Folder
from wormwright.app.problems import document
from wormwright.job.blocks import Block, Cell, Paragraph, Steps, Table
from wormwright.packet import Document
from wormwright.store.archive import archive_job, unpack_job
from wormwright.store.migrate import migrate_job


def close(folder: Folder, *, closed: bool) -> Document:
    """Close the job, so that it takes no more readings and sign-offs, or open it again."""
    folder.save_job({"closed": closed})
    words = "closed: it takes no more readings and sign-offs" if closed else "open again"
    steps = () if not closed else (f"Open it again: wormwright keep {folder.path} --reopen",)
    blocks: list[Block] = [Paragraph(f"The job is {words}.", strong=True)]
    if steps:
        blocks.append(Steps(steps))
    return document("Job put away" if closed else "Job opened again", folder, tuple(blocks))


def archived(folder: Path, file: Path) -> Document:
    """Everything of the job in one file, read back before this returns."""
    return _files("Job archived", f"{folder} was packed into {file}", archive_job(folder, file))


def unpacked(file: Path, folder: Path) -> Document:
    """The job of that file in a new folder, byte for byte."""
    return _files("Job unpacked", f"{file} was unpacked into {folder}", unpack_job(file, folder))


def _files(title: str, what: str, names: tuple[str, ...]) -> Document:
    rows = tuple((Cell(name),) for name in names)
    blocks: tuple[Block, ...] = (
        Paragraph(f"{what}; every byte was checked.", strong=True),
        Table(f"{len(names)} files", ("file",), rows),
        Paragraph("The packet is not in it: it is made afresh from the rest."),
    )
    return Document(title, what, False, blocks)


def migrated_document(folder: Path) -> Document:
    """job.toml in today's form; the old one kept beside it."""
    form, backup = migrate_job(folder)
    words = "It is in the form of today already; nothing was written."
    if backup is not None:
        words = (
            f"job.toml was in form {form} and is in the form of today. The old one: {backup.name}"
        )
    return Document("Form of the job", str(folder), False, (Paragraph(words, strong=True),))
