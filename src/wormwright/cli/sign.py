"""`wormwright sign`: the traveler, and signing its operations off."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from wormwright.cli.measure import named_texts
from wormwright.cli.show import folder_argument, opened, show


@click.command("sign", short_help="The traveler: what to do in which order; sign it off.")
@folder_argument
@click.argument("operation", metavar="[OP]", required=False)
@click.option("--initials", default="", metavar="TEXT", help="Who did it.")
@click.option(
    "--gate",
    "gates",
    multiple=True,
    callback=named_texts,
    metavar="NAME=TEXT",
    help='A value read for a gate: --gate worm_end_play="3 tenths". May be given again.',
)
@click.option("--note", default="", metavar="TEXT", help="A remark kept with the sign-off.")
@click.option(
    "--full",
    "shown",
    flag_value="full",
    help="Every operation, hours, tools and materials, the way back.",
)
@click.option(
    "--restore",
    "shown",
    flag_value="restore",
    help="Back to the first day: what to put back, and how.",
)
def command(folder: Path, operation: str | None, shown: str | None, **typed: Any) -> None:
    """Show where the work in DIR stands, or sign operation OP off.

    \b
    wormwright sign DIR
    wormwright sign DIR worm_end_play --initials JB --gate worm_end_play="3 tenths" \\
        --gate drag_rise=1.2

    A gate outside its limits is recorded as failed, and the answer says what next. Readings that
    the operation makes stale stay on file and are left out from then on.
    """
    from wormwright.app import sign  # noqa: PLC0415  (--help must stay light)

    if operation is None and any(typed.values()):
        raise click.UsageError("name the operation to sign off; `wormwright sign DIR` lists them")
    if operation is not None and shown:
        raise click.UsageError(f"--{shown} only shows: leave the operation out")
    job = opened(folder)
    if operation is not None:
        show(sign.sign_off(job, operation, **typed), job)
    elif shown == "restore":
        show(sign.restore_document(job), job)
    else:
        show(sign.traveler_document(job, full=shown == "full"), job)
