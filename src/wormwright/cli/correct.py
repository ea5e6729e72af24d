"""`wormwright correct`: what to make, and whether it will be enough."""

from __future__ import annotations

from pathlib import Path

import click

from wormwright.cli.show import folder_argument, opened, show


@click.command("correct", short_help="What to make, and will it be enough.")
@folder_argument
@click.option(
    "--plan",
    metavar="KEY",
    help="Choose the plan of that key; it is written into job.toml. Without it the least work "
    "that meets the duty is chosen.",
)
@click.option(
    "--full", is_flag=True, help="Everything: sizes, steps, setting chart and every part."
)
def command(folder: Path, plan: str | None, full: bool) -> None:
    """Plans from doing nothing to doing all of it, with what each is expected to give.

    Shows the verdict, the plans with their chance of meeting the duty in job.toml, what to make,
    what limits it and what is in doubt; with --full also sizes, fits, set-ups, the setting chart
    and every part.
    """
    from wormwright.app.correct import remedy_document  # noqa: PLC0415  (--help stays light)

    job = opened(folder)
    show(remedy_document(job, plan, full=full), job)
