"""`wormwright commission`: what is typed into the control, and what the motor will do."""

from __future__ import annotations

from pathlib import Path

import click

from wormwright.cli.show import folder_argument, opened, show


@click.command("commission", short_help="What is typed into the control.")
@folder_argument
@click.option(
    "--write",
    is_flag=True,
    help="Write the parameter sheet and the test programmes into the folder commission as well.",
)
def command(folder: Path, write: bool) -> None:
    """Exact steps for a degree, safe speed and acceleration, feeds, limits, test programmes.

    From the live readings (teeth, starts, drag at the tight spot, warmth) and the sections
    [motor], [control], [chuck] and [[work]] of job.toml. What would do harm is refused.
    """
    from wormwright.app.commission import commission_document  # noqa: PLC0415

    job = opened(folder)
    show(commission_document(job, write=write), job)
