"""`wormwright sign`: the traveler, and signing its operations off."""

from __future__ import annotations

from pathlib import Path

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
    help='A value read for a gate: --gate end_play="3 tenths". May be given again.',
)
@click.option("--note", default="", metavar="TEXT", help="A remark kept with the sign-off.")
def command(
    folder: Path, operation: str | None, initials: str, gates: dict[str, str], note: str
) -> None:
    """Show the traveler of the job in DIR, or sign operation OP off.

    \b
    wormwright sign DIR
    wormwright sign DIR worm_end_play --initials JB --gate end_play="3 tenths"

    A gate outside its limits is recorded as failed, and the answer says what next. Readings that
    the operation makes stale stay on file and are left out from then on.
    """
    from wormwright.app import sign  # noqa: PLC0415  (--help must stay light)

    job = opened(folder)
    if operation is None:
        if initials or gates or note:
            raise click.UsageError(
                "name the operation to sign off; `wormwright sign DIR` lists them"
            )
        show(sign.traveler_document(job), job)
    else:
        show(sign.sign_off(job, operation, initials=initials, gates=gates, note=note), job)
