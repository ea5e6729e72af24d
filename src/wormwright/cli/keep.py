"""`wormwright keep`: is another unit the same, and is this one still good."""

from __future__ import annotations

from pathlib import Path

import click

from wormwright.cli.show import folder_argument, opened, show


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
def command(
    folder: Path,
    *,
    against: Path | None,
    result: Path | None,
    guide: Path | None,
    title: str,
    edition: str,
    seal: bool,
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
    from wormwright.app import recheck, sameness  # noqa: PLC0415  (--help stays light)

    if sum((against is not None, guide is not None, seal)) > 1:
        raise click.UsageError("one at a time: --against, --as-guide, --seal")
    if result is not None and against is None:
        raise click.UsageError("--result goes with --against")
    if seal:
        show(sameness.sealed_document(folder))
        return
    job = opened(folder)
    if against is not None:
        show(sameness.against_document(job, against, result), job)
    elif guide is not None:
        show(sameness.guide_from(job, guide, title=title, version=edition), job)
    else:
        show(recheck.recheck_document(job), job)
