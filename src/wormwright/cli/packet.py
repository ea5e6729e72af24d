"""`wormwright packet`: everything on paper."""

from __future__ import annotations

from pathlib import Path
from typing import get_args

import click

from wormwright.cli.show import folder_argument, opened, show
from wormwright.job.rotary import Sheet, Units


@click.command("packet", short_help="Traveler, report and part drawings on paper.")
@folder_argument
@click.option("--sheet", type=click.Choice(get_args(Sheet)), help="Paper; else that of job.toml.")
@click.option("--units", type=click.Choice(get_args(Units)), help="The bold units on paper.")
def command(folder: Path, sheet: Sheet | None, units: Units | None) -> None:
    """Write the shop packet of the job in DIR into DIR/packet.

    Traveler and report as PDF, HTML and text, the results as JSON, the setting chart as CSV, and
    a dimensioned drawing of every part to make as DXF, SVG and PDF. The folder is made afresh
    and is safe to delete.
    """
    from wormwright.app.packet import packet_document  # noqa: PLC0415  (--help stays light)

    job = opened(folder)
    show(packet_document(job, sheet=sheet, units=units), job)
