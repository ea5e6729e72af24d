"""`wormwright choose`: which drive suits the work, before anything is bought."""

from __future__ import annotations

from pathlib import Path

import click

from wormwright.cli.show import folder_argument, opened, show


@click.command("choose", short_help="Which drive suits the work, before it is bought.")
@folder_argument
@click.option(
    "--card",
    is_flag=True,
    help="The purchase card instead: 20 minutes at the seller's bench, on one page; written into "
    "the folder as a PDF too.",
)
def command(folder: Path, card: bool) -> None:
    """The drives of job.toml side by side against its work, with the verdict and what flips it.

    Needs no readings: [[work]] says what is cut, where, how fast and how true, [[drive]] what each
    drive gives. Every need is met, not met or cannot be told, where the entered ranges overlap.
    """
    from wormwright.app.choose import card_document, choice_document  # noqa: PLC0415

    job = opened(folder)
    show(card_document(job, place=folder) if card else choice_document(job), job)
