"""`wormwright new`: start a job folder."""

from __future__ import annotations

from pathlib import Path

import click

from wormwright.cli.show import FolderPath, show


@click.command("new", short_help="Start a job folder.")
@click.argument("folder", metavar="[DIR]", type=FolderPath(), required=False)
@click.option("--from", "example", metavar="EXAMPLE", help="Copy the example of that name.")
@click.option("--list", "listing", is_flag=True, help="List the examples.")
def command(folder: Path | None, example: str | None, listing: bool) -> None:
    """Start a job folder DIR: empty, with its questions, or a copy of an example.

    \b
    wormwright new --list
    wormwright new my-rotary
    wormwright new demo --from EXAMPLE
    """
    from wormwright.app import new  # noqa: PLC0415  (--help must stay light)

    if listing:
        show(new.list_examples())
    elif folder is None:
        raise click.UsageError("name the folder to start, or use --list to see the examples")
    else:
        from wormwright.store import JobFolder  # noqa: PLC0415

        show(new.start_job(folder, example, JobFolder.create))
