"""`wormwright diagnose`: where the lost motion comes from."""

from __future__ import annotations

from pathlib import Path

import click

from wormwright.cli.show import folder_argument, opened, show


@click.command("diagnose", short_help="Where the lost motion comes from.")
@folder_argument
def command(folder: Path) -> None:
    """Take the lost motion of the rotary in DIR apart: causes, tight spot, next reading.

    Uses the live readings only: what was superseded, or made stale by work done since, stays on
    file and is left out.
    """
    from wormwright.app.diagnose import diagnosis_document  # noqa: PLC0415  (--help stays light)

    job = opened(folder)
    show(diagnosis_document(job), job)
