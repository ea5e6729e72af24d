"""`wormwright prove`: is the finished axis as good as it must be."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from wormwright.cli.show import folder_argument, opened, show

if TYPE_CHECKING:
    from wormwright.job.proof_plan import PlanSettings


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
@click.option("--fine", is_flag=True, help="The file is a sweep within a turn of the worm.")
@click.option(
    "--plan",
    is_flag=True,
    help="Plan the positioning test: targets, order, time; the programme for the control and a "
    "form for the readings go into the packet.",
)
@click.option("--targets", type=int, default=8, show_default=True, help="Plan: targets in a turn.")
@click.option("--runs", type=int, default=5, show_default=True, help="Plan: runs from each side.")
@click.option("--axis", metavar="LETTER", default="A", show_default=True, help="Plan: the axis.")
@click.option(
    "--feed", type=float, default=720.0, show_default=True, help="Plan: degrees a minute."
)
@click.option("--dwell", type=float, default=3.0, show_default=True, help="Plan: seconds of rest.")
@click.option(
    "--pause",
    type=click.Choice(["stop", "optional", "none"]),
    default="stop",
    show_default=True,
    help="Plan: how the programme waits for a reading: M0, M1, or the dwell alone.",
)
@click.option("--no-sweep", is_flag=True, help="Plan: without the sweep within the worm turn.")
@click.option(
    "--means", is_flag=True, help="What each means of measuring an angle can prove for this duty."
)
@click.option(
    "--closure",
    "faces",
    type=click.IntRange(3, 3600),
    metavar="FACES",
    help="Plan how to close the circle with an artefact of so many faces: 4 for a square.",
)
@click.option(
    "--certificate",
    is_flag=True,
    help="The certificate: figures, verdict, instruments, conditions, and what was not tested.",
)
def command(
    folder: Path,
    *,
    table: Path | None,
    fine: bool,
    plan: bool,
    means: bool,
    faces: int | None,
    certificate: bool,
    **chosen: Any,
) -> None:
    """What the readings taken on the finished axis of DIR show, with their uncertainty.

    Uses the live readings only. Enter them like any other reading, a whole run as one series, or
    from a file:

    \b
    wormwright prove DIR --plan --axis B --feed 360
    wormwright measure DIR --series position_error --at "0, 46.3, 90 deg" --unit arcsec
        --with approach=forward --with run=1
    wormwright prove DIR --import test.csv
    wormwright prove DIR --means
    wormwright prove DIR --closure 12
    wormwright prove DIR --certificate
    """
    from wormwright.app import prove, prove_first, prove_import, prove_plan  # noqa: PLC0415  (late)

    ways = {
        "import": table is not None,
        "plan": plan,
        "means": means,
        "closure": faces is not None,
        "certificate": certificate,
    }
    asked = [name for name, wanted in ways.items() if wanted]
    if len(asked) > 1:
        raise click.UsageError(f"one at a time: --{' or --'.join(asked)}")
    if fine and table is None:
        raise click.UsageError("--fine goes with --import")
    job = opened(folder)
    if table is not None:
        show(prove_import.import_document(job, table, fine=fine), job)
    elif plan:
        show(prove_plan.plan_document(job, _settings(chosen)), job)
    elif means:
        show(prove_first.means_document(job), job)
    elif faces is not None:
        show(prove_first.closure_plan_document(job, faces), job)
    elif certificate:
        show(prove.certificate_document(job), job)
    else:
        show(prove.proof_document(job), job)


def _settings(chosen: dict[str, Any]) -> PlanSettings:
    from wormwright.job.proof_plan import PlanSettings  # noqa: PLC0415

    sweep = not chosen.pop("no_sweep")
    try:
        return PlanSettings(**{**chosen, "axis": chosen["axis"].upper()}, sweep=sweep)
    except ValueError as error:
        raise click.BadParameter(str(error)) from None
