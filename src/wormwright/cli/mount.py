"""`wormwright mount`: the axis on the machine."""

from __future__ import annotations

from pathlib import Path

import click

from wormwright.cli.show import folder_argument, opened, show


@click.command("mount", short_help="How it stands on the machine; what to pack.")
@folder_argument
def command(folder: Path) -> None:
    """Set the finished rotary in DIR on its machine: tram, packing, heights, room, plate, chuck.

    Uses the live readings taken on the machine (bar_line, foot_gap, over_bar ...) and the sections
    [machine] and [mount] of job.toml; says what it lacks for the rest.
    """
    from wormwright.app.mount import mounting_document  # noqa: PLC0415  (--help stays light)

    job = opened(folder)
    show(mounting_document(job), job)
