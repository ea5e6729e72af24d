"""What every verb needs: the job folder's argument, and a document on the terminal."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click

if TYPE_CHECKING:
    from wormwright.app.folder import Folder
    from wormwright.packet import Document

WIDEST = 100
NARROWEST = 60


class FolderPath(click.ParamType[Path]):
    """The path of a job folder."""

    name = "folder"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Path:
        """A path that the system can take."""
        if "\0" in str(value):
            self.fail("a path cannot hold a NUL character", param, ctx)
        return Path(value)


Command = TypeVar("Command", bound=Callable[..., Any])


def folder_argument(command: Command) -> Command:
    """The argument DIR: the job folder."""
    return click.argument("folder", metavar="DIR", type=FolderPath())(command)


def opened(path: Path) -> Folder:
    """The job folder, or a refusal that lists every fault in it."""
    from wormwright.store import JobFolder  # noqa: PLC0415

    return JobFolder.open(path)


def show(document: Document, folder: Folder | None = None) -> None:
    """Print a document, in the units of the job."""
    from wormwright.packet import Style, render_text  # noqa: PLC0415

    style = Style(units=folder.job.units, sheet=folder.job.sheet) if folder else Style()
    click.echo(render_text(document, style, terminal_width()), nl=False)


def terminal_width() -> int:
    """Columns to write in: those of the terminal, within what reads well."""
    return max(NARROWEST, min(WIDEST, shutil.get_terminal_size((WIDEST, 24)).columns))
