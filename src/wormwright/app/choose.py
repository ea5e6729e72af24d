"""Choose: the drives of a job side by side, and the card to take to the seller."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

from wormwright.app.folder import Folder
from wormwright.app.problems import document
from wormwright.job.blocks import Block, Paragraph
from wormwright.job.rotary import Job
from wormwright.packet import Document, Style

CARD = "purchase-card.pdf"


def choice_document(folder: Folder, job: Job | None = None) -> Document:
    """Which drive suits the work, and on what that hangs.

    Raises:
        StageRefusal: the job names no work or no drive.
    """
    from wormwright.stages.choose import choose, report  # noqa: PLC0415  (the other verbs do without)

    wanted = job or folder.job
    return document("Choice of drive", folder, report(choose(wanted), wanted))


def card_document(folder: Folder, *, place: Path | None = None) -> Document:
    """The purchase card on one page; with `place` it is written there as a PDF too."""
    card = card_of(folder)
    if place is None:
        return card
    from wormwright.packet import render_pdf  # noqa: PLC0415  (slow)

    style = Style(units=folder.job.units, sheet=folder.job.sheet)
    path = place / CARD
    path.write_bytes(render_pdf(card, style))
    written: Block = Paragraph(f"To print: {path}", strong=True)
    return replace(card, blocks=(*card.blocks, written))


def card_of(folder: Folder, job: Job | None = None) -> Document:
    """The card as a page for paper."""
    from wormwright.stages.choose import purchase_card  # noqa: PLC0415

    wanted = job or folder.job
    return replace(
        document("Purchase card", folder, purchase_card(wanted)),
        unit_id=wanted.rotary.unit_id,
        job=wanted.name,
        date_text=date.today().isoformat(),
    )
