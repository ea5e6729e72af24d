"""`wormwright measure`: the sheet, and every way to enter a reading."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from wormwright.cli.show import folder_argument, opened, show

if TYPE_CHECKING:
    from wormwright.app.series import Series


def named_texts(
    ctx: click.Context, param: click.Parameter, given: tuple[str, ...]
) -> dict[str, str]:
    """`pin_radius="80 mm"` for each --with."""
    named = {}
    for text in given:
        key, equals, value = text.partition("=")
        if not equals or not key.strip():
            raise click.BadParameter(f'write it like pin_radius="80 mm", got {text!r}', ctx, param)
        named[key.strip()] = value.strip()
    return named


@click.command("measure", short_help="See what to read; enter readings.")
@folder_argument
@click.option(
    "--read",
    nargs=2,
    metavar="KIND TEXT",
    help='Store one reading, as written: --read worm_end_play "0.019 in".',
)
@click.option("--series", metavar="KIND", help="Ask for one value after another.")
@click.option(
    "--csv",
    "table",
    metavar="FILE",
    type=click.Path(exists=True, dir_okay=False, path_type=Path),
    help="Store every row of a CSV file, or none if one is wrong.",
)
@click.option("--replace", nargs=2, metavar="SEQ TEXT", help="Supersede row SEQ; it stays on file.")
@click.option(
    "--confirm",
    type=click.IntRange(min=1),
    metavar="SEQ",
    help="Say that row SEQ is right as it stands: hand-edited, or asked about.",
)
@click.option(
    "--kinds",
    is_flag=False,
    flag_value="",
    default=None,
    metavar="[KIND]",
    help="List the kinds of reading, or explain one.",
)
@click.option(
    "--at",
    "table_angle",
    default="",
    metavar="ANGLE",
    help='Table angle, like "30 deg"; for a series a list, "0, 32, 60 deg".',
)
@click.option("--worm", "worm_angle", default="", metavar="ANGLE", help="Worm angle.")
@click.option("--station", default="", metavar="END", help="Which end or place: A, B, housing ...")
@click.option(
    "--with",
    "conditions",
    multiple=True,
    callback=named_texts,
    metavar="NAME=TEXT",
    help='A condition of the reading: --with pin_radius="80 mm". May be given again.',
)
@click.option("--kind", default="", metavar="KIND", help="Kind of every row of a CSV file.")
@click.option("--unit", default="", metavar="UNIT", help="Unit of bare numbers in a series or CSV.")
@click.option("--u", default="", metavar="TEXT", help="Standard uncertainty, if you know it.")
@click.option("--instrument", default="", metavar="TEXT", help="What it was read with.")
@click.option("--note", default="", metavar="TEXT", help="A remark kept with the reading.")
def command(
    folder: Path,
    *,
    read: tuple[str, str] | None,
    series: str | None,
    table: Path | None,
    replace: tuple[str, str] | None,
    confirm: int | None,
    kinds: str | None,
    conditions: dict[str, str],
    **texts: str,
) -> None:
    """Show the sheet of the job in DIR: done, missing, stale, doubtful; or enter readings.

    Every reading is kept as typed. A wrong one is superseded, never overwritten.

    \b
    wormwright measure DIR
    wormwright measure DIR --kinds rock
    wormwright measure DIR --read worm_end_play "1.2 thou" --with how="push-pull"
    wormwright measure DIR --series rock --at "0, 32, 60 deg" --unit tenths
    wormwright measure DIR --csv rock.csv --kind rock --unit mm
    wormwright measure DIR --replace 17 "0.282 mm"

    In a series Enter takes the next value, an empty line ends, u goes one back, do. repeats the
    value above. The columns of a CSV file are reading, kind, table_angle, worm_angle, station,
    instrument, note, u and the names of conditions; a unit may stand in the first line, as in
    "table_angle [deg]".
    """
    from wormwright.app import enter, explain, measure  # noqa: PLC0415  (--help must stay light)

    given: dict[str, object] = {"read": read or None, "series": series, "csv": table}
    given |= {"replace": replace or None, "confirm": confirm, "kinds": kinds}
    ways = [name for name, value in given.items() if value is not None]
    if len(ways) > 1:
        raise click.UsageError(f"one at a time: --{' or --'.join(ways)}")
    if kinds is not None:
        job = opened(folder) if (folder / "job.toml").is_file() else None
        show(explain.explain(kinds, job.job.units if job else "mm"), job)
        return
    job = opened(folder)
    typed = enter.Typed(conditions=conditions, **texts)
    if read:
        show(enter.one(job, read[0], read[1], typed), job)
    elif table is not None:
        show(enter.table(job, table, typed), job)
    elif replace:
        show(enter.instead(job, _row_number(replace[0]), replace[1], typed), job)
    elif confirm is not None:
        show(enter.confirm(job, confirm), job)
    elif series is not None:
        taken = enter.series(job, series, typed)
        refused = _ask(taken)
        show(enter.after_series(job, taken), job)
        if refused:
            raise click.ClickException(f"not stored, see above: {refused} of the lines typed in")
    else:
        show(measure.sheet_document(job), job)


def _row_number(text: str) -> int:
    if not (text.isascii() and text.isdigit() and len(text) < 10):
        raise click.UsageError(f"--replace: SEQ is the number of a row, got {text!r}")
    return int(text)


def _ask(series: Series) -> int:
    """Value after value from the terminal or a pipe; the number of lines that were refused."""
    by_hand = sys.stdin.isatty()
    refused = 0
    while True:
        click.echo(f"{series.prompt}: ", nl=False, err=True)
        line = sys.stdin.readline()
        if not by_hand:
            click.echo(line.rstrip("\n"), err=True)
        try:
            said = series.take(line)
        except ValueError as error:
            refused += 1
            click.echo(f"  not stored: {error}", err=True)
            continue
        if said.words:
            click.echo(f"  {said.words}")
        if said.over:
            return 0 if by_hand else refused
