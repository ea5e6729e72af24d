"""The verbs, in the order of the job. Each is loaded only when it is asked for."""

from __future__ import annotations

from importlib import import_module

import click

from wormwright import __version__

VERBS = (
    "new",
    "choose",
    "measure",
    "diagnose",
    "correct",
    "mount",
    "commission",
    "prove",
    "sign",
    "packet",
    "keep",
    "serve",
)
"""Every verb is the module of that name in this package, with its click command `command`."""

ABOUT = """Make a low-cost geared rotary table true enough to be a CNC rotary axis.

\b
The way of the job:
  wormwright new my-rotary --from EXAMPLE   start a job folder
  wormwright choose my-rotary               which drive suits the work, before it is bought
  wormwright measure my-rotary              see what to read, enter readings
  wormwright diagnose my-rotary             where the lost motion comes from
  wormwright correct my-rotary              what to make, and will it be enough
  wormwright mount my-rotary                how it stands on the machine, what to pack
  wormwright commission my-rotary           what is typed into the control, and test programmes
  wormwright prove my-rotary                is the finished axis as good as it must be
  wormwright sign my-rotary                 the traveler: what to do in which order
  wormwright packet my-rotary               everything on paper
  wormwright keep my-rotary               is another unit the same, before metal is cut
  wormwright serve my-rotary                all of it as a page, for the bench

Write quantities with their unit, as on the bench sheet: 0.019 in, 19 thou, 47 mm, 12 µm,
12.5 arcmin, 5'30", 35 oz·in, 0.4 N·m, 66 °F.

\b
Exit codes:
  0  done
  1  refused: the message says why, what was expected, what came and what to do
  2  the command line itself is wrong
  70 a fault in wormwright
"""


class Verbs(click.Group):
    """A group that imports a verb when it is first asked for."""

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002
        """Every verb in the order of the job."""
        return list(VERBS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:  # noqa: ARG002
        """The verb of that name, or None."""
        if cmd_name not in VERBS:
            return None
        command: click.Command = import_module(f"wormwright.cli.{cmd_name}").command
        return command


def _version(ctx: click.Context, _: click.Parameter, wanted: bool) -> None:
    if wanted:
        click.echo(f"wormwright {__version__}")
        ctx.exit(0)


wormwright = Verbs(
    "wormwright",
    help=ABOUT,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
    params=[
        click.Option(
            ["--version"],
            is_flag=True,
            expose_value=False,
            is_eager=True,
            callback=_version,
            help="Show the version and exit.",
        )
    ],
)
"""The command `wormwright`."""
