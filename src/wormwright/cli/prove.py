"""`wormwright prove`: is the finished axis as good as it must be."""

from __future__ import annotations

from pathlib import Path

import click

from wormwright.cli.show import folder_argument, opened, show


@click.command("prove", short_help="Is the finished axis as good as it must be.")
@folder_argument
def command(folder: Path) -> None:
    """What the readings taken on the finished axis of DIR show, with their uncertainty.

    Uses the live readings only. Enter them like any other reading, a whole run as one series:

    \b
    wormwright measure DIR --series position_error --at "0, 46.3, 90 deg" --unit arcsec
        --with approach=forward --with run=1
    """
    from wormwright.app.prove import proof_document  # noqa: PLC0415  (--help stays light)

    job = opened(folder)
    show(proof_document(job), job)
