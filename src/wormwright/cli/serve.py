"""`wormwright serve`: the bench page, on this computer or for the shop network."""

from __future__ import annotations

from pathlib import Path

import click

from wormwright.cli.show import folder_argument

EXPOSES = (
    "Every device that pairs can read every job served here and add readings and sign-offs to it. "
    "What goes over the network is not encrypted: use a network you trust."
)


@click.command("serve", short_help="Open the bench page.")
@folder_argument
@click.option("--port", type=click.IntRange(1024, 65535), default=8417, show_default=True)
@click.option(
    "--lan",
    metavar="ADDRESS",
    default="",
    help="Let other devices in, at this address of this computer; each pairs with a code.",
)
def command(folder: Path, port: int, lan: str) -> None:
    """Serve the job in DIR, or every job in the folder DIR, as a page in the browser.

    Only this computer can open it, unless --lan names the address it has in the shop network.
    Nothing is fetched from outside. Stop it with Ctrl-C: what was stored is on disk.
    """
    from wormwright.web.serve import serve  # noqa: PLC0415  (--help must stay light)

    serve(folder, port=port, lan=lan, say=click.echo, exposes=EXPOSES)
