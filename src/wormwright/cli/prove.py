"""`wormwright prove`: is the finished axis as good as it must be."""

from __future__ import annotations

from pathlib import Path

import click

from wormwright.cli.show import folder_argument, opened, show


@click.command("prove", short_help="Is the finished axis as good as it must be.")
@folder_argument
@click.option(
    "--import",
    "table",
    metavar="FILE",
    type=click.Path(exists=True, dir_okay=False, path_type=Path),
    help="Store a positioning test from a CSV file with the columns target, run, approach and "
    "reading (the angle as shown) or error; all of it, or nothing if a line is wrong.",
)
@click.option(
    "--fine", is_flag=True, help="The file, or the plan, is a sweep within a turn of the worm."
)
def command(folder: Path, table: Path | None, fine: bool) -> None:
    """What the readings taken on the finished axis of DIR show, with their uncertainty.

    Uses the live readings only. Enter them like any other reading, a whole run as one series, or
    from a file:

    \b
    wormwright measure DIR --series position_error --at "0, 46.3, 90 deg" --unit arcsec
        --with approach=forward --with run=1
    wormwright prove DIR --import test.csv
    """
    from wormwright.app import prove, prove_import  # noqa: PLC0415  (--help stays light)

    if fine and table is None:
        raise click.UsageError("--fine goes with --import")
    job = opened(folder)
    if table is not None:
        show(prove_import.import_document(job, table, fine=fine), job)
    else:
        show(prove.proof_document(job), job)
