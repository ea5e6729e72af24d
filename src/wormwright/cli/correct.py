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
def command(folder: Path, plan: str | None) -> None:
    """Plans from doing nothing to doing all of it, with what each is expected to give.

    Sizes, fits and set-ups of the parts to make, the setting chart, and the probability of
    meeting the duty in job.toml.
    """
    from wormwright.app.correct import remedy_document  # noqa: PLC0415  (--help stays light)

    job = opened(folder)
    show(remedy_document(job, plan), job)
