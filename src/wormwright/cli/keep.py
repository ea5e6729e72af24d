"""`wormwright keep`: is another unit the same, and is this one still good."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

import click

from wormwright.cli.show import folder_argument, opened, show

if TYPE_CHECKING:
    from wormwright.job.rotary import Sheet
    from wormwright.packet import Document


@click.command("keep", short_help="Is it still good; is another unit the same.")
@folder_argument
@click.option(
    "--against",
    metavar="GUIDE",
    type=click.Path(exists=True, file_okay=False, path_type=Path),
    help="Compare the unit with a rebuild guide before metal is cut.",
)
@click.option(
    "--result",
    metavar="FILE",
    type=click.Path(dir_okay=False, path_type=Path),
    help="With --against: write the answer for the author of the guide as well.",
)
@click.option(
    "--as-guide",
    "guide",
    metavar="FOLDER",
    type=click.Path(path_type=Path),
    help="Make a rebuild guide from this job.",
)
@click.option(
    "--title", default="", metavar="TEXT", help="With --as-guide: for which kind of unit."
)
@click.option("--version", "edition", default="1 (proposed)", metavar="TEXT", help="Its version.")
@click.option("--seal", is_flag=True, help="DIR is a guide: seal it as it now stands.")
@click.option("--close", is_flag=True, help="Put the job away: it takes no more rows.")
@click.option("--reopen", is_flag=True, help="Open a closed job again.")
@click.option(
    "--archive",
    metavar="FILE",
    type=click.Path(dir_okay=False, path_type=Path),
    help="Pack the whole job into one file.",
)
@click.option(
    "--unpack",
    metavar="FILE",
    type=click.Path(exists=True, dir_okay=False, path_type=Path),
    help="Read an archived job back into the new folder DIR.",
)
@click.option("--fleet", is_flag=True, help="DIR holds many jobs: every unit, who is due.")
@click.option("--radius", default="", metavar="LENGTH", help="With --fleet: radius of a part.")
@click.option("--error", default="", metavar="LENGTH", help="With --fleet: error it allows.")
@click.option(
    "--processes",
    type=click.IntRange(1, 64),
    default=None,
    metavar="N",
    help="With --fleet: how many to use; all there are by default.",
)
@click.option(
    "--wall",
    metavar="FILE",
    type=click.Path(dir_okay=False, path_type=Path),
    help="With --fleet: write a sheet for the wall with labels to cut out, as PDF.",
)
@click.option(
    "--sheet", type=click.Choice(["A4", "letter"]), default="A4", help="With --wall: the paper."
)
@click.option("--migrate", is_flag=True, help="Bring an older job.toml to the form of today.")
def command(
    folder: Path,
    *,
    against: Path | None,
    result: Path | None,
    guide: Path | None,
    title: str,
    edition: str,
    seal: bool,
    close: bool,
    reopen: bool,
    archive: Path | None,
    unpack: Path | None,
    migrate: bool,
    fleet: bool,
    radius: str,
    error: str,
    processes: int | None,
    wall: Path | None,
    sheet: Sheet,
) -> None:
    """Is the axis in DIR still as good as its first check: what moved, what to adjust, when again.

    Or compare the unit with a rebuild guide before metal is cut (the same, not the same, cannot
    tell), or make such a guide from this job.

    \b
    wormwright keep DIR
    wormwright keep DIR --as-guide my-guide --title "150 mm table, 80:1"
    wormwright keep my-guide --seal
    wormwright keep DIR --against my-guide --result answer.json
    """
    given: dict[str, object] = {
        "against": against,
        "as-guide": guide,
        "archive": archive,
        "unpack": unpack,
    }
    given |= {"seal": seal, "close": close, "reopen": reopen, "migrate": migrate, "fleet": fleet}
    ways = [name for name, value in given.items() if value]
    if len(ways) > 1:
        raise click.UsageError(f"one at a time: --{' or --'.join(ways)}")
    if result is not None and against is None:
        raise click.UsageError("--result goes with --against")
    from wormwright.app import archive as away  # noqa: PLC0415  (--help stays light)
    from wormwright.app import recheck, sameness  # noqa: PLC0415

    if fleet:
        many = processes or 0
        show(_fleet(folder, wall, sheet, processes=many, radius=radius, error=error))
        return
    files: dict[str, Callable[[], Document]] = {
        "seal": lambda: sameness.sealed_document(folder),
        "archive": lambda: away.archived(folder, archive or folder),
        "unpack": lambda: away.unpacked(unpack or folder, folder),
        "migrate": lambda: away.migrated_document(folder),
    }
    way = ways[0] if ways else ""
    if way in files:
        show(files[way]())
        return
    job = opened(folder)
    jobs: dict[str, Callable[[], Document]] = {
        "close": lambda: away.close(job, closed=True),
        "reopen": lambda: away.close(job, closed=False),
        "against": lambda: sameness.against_document(job, against or folder, result),
        "as-guide": lambda: sameness.guide_from(job, guide or folder, title=title, version=edition),
        "": lambda: recheck.recheck_document(job),
    }
    show(jobs[way](), job)


def _fleet(
    folder: Path, wall: Path | None, sheet: Sheet, *, processes: int, radius: str, error: str
) -> Document:
    from wormwright.app.fleet import fleet_document, wall_sheet  # noqa: PLC0415
    from wormwright.packet import Style  # noqa: PLC0415

    if wall is not None:
        return wall_sheet(folder, wall, Style(sheet=sheet), processes=processes, say=_say)
    return fleet_document(folder, processes=processes, say=_say, radius=radius, error=error)


def _say(done: int, of: int) -> None:
    """How far it is, on one line of the terminal."""
    if sys.stderr.isatty():
        click.echo(f"\r{done} of {of} units", nl=done == of, err=True)
