"""From what happened to an exit code: no traceback ever reaches the user."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from wormwright.job.result import Doubt

GOOD, REFUSED, USAGE, FAULT = 0, 1, 2, 70
"""Exit codes: done; the tool refuses and says why; wrong command line; a fault of the tool."""

REPORT_IT = (
    "this is a fault in wormwright, not in your readings; nothing was half written. "
    "Please report it as CONTRIBUTING.md says, with the command you typed"
)


def run(arguments: Sequence[str]) -> int:
    """Run the command line; every way it can end becomes an exit code and plain words."""
    _speak_any_alphabet()
    try:
        return _run(arguments)
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return GOOD
    except OSError as error:
        what = error.strerror or str(error)
        where = f" ({error.filename})" if error.filename else ""
        return _say(f"refused: the system says: {what}{where}; mend that and try again", REFUSED)
    except Exception as error:  # the last resort: one line instead of a traceback
        refusal = _refusal(error)
        if refusal is not None:
            return _say(refusal, REFUSED)
        if os.environ.get("WORMWRIGHT_TRACEBACK"):
            raise
        said = " ".join(str(error).split())[:200]
        return _say(f"wormwright failed: {type(error).__name__}: {said}; {REPORT_IT}", FAULT)


def _run(arguments: Sequence[str]) -> int:
    from wormwright.cli.verbs import wormwright  # noqa: PLC0415

    try:
        ended = wormwright.main(list(arguments), prog_name="wormwright", standalone_mode=False)
    except click.UsageError as error:
        error.show()
        return USAGE
    except click.Abort:
        return _say("stopped; what was entered before is kept", REFUSED)
    except click.ClickException as error:
        error.show()
        return REFUSED
    return ended if isinstance(ended, int) else GOOD


def _refusal(error: Exception) -> str | None:
    """The words of a refusal that the program means; None for anything else."""
    from wormwright.app.refused import Refused  # noqa: PLC0415
    from wormwright.job.result import StageRefusal  # noqa: PLC0415
    from wormwright.quantities import QuantityError  # noqa: PLC0415
    from wormwright.store.entry import EntryError  # noqa: PLC0415
    from wormwright.store.fault import JobFolderError  # noqa: PLC0415

    if isinstance(error, Refused):
        return _worded(error.what, error.doubts)
    if isinstance(error, StageRefusal):
        return _worded(f"{error.stage}: not enough to answer honestly", error.doubts)
    if isinstance(error, EntryError):
        lines = [f"  {f or 'entry'}: expected {e}, got {g}; {do}" for f, e, g, do in error.wrongs]
        return "\n".join(["refused, nothing was stored:", *lines])
    if isinstance(error, (JobFolderError, QuantityError)):
        return f"refused, nothing was changed:\n{error}"
    return None


def _worded(what: str, doubts: tuple[Doubt, ...]) -> str:
    lines = [f"refused: {what}"]
    for doubt in doubts:
        rows = f" (rows {', '.join(map(str, doubt.rows))})" if doubt.rows else ""
        code = f"{doubt.code}: " if doubt.code else ""
        lines += [f"  {code}{doubt.seen}{rows}", f"    {doubt.why}", f"    -> {doubt.do}"]
    return "\n".join(lines)


def _say(line: str, code: int) -> int:
    click.echo(line, err=True)
    return code


def _speak_any_alphabet() -> None:
    """A terminal that has no µ or ° gets a substitute instead of a crash."""
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(errors="replace")
