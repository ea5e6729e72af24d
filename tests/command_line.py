"""Run the program as a user does, in this process: arguments in, exit code and text out."""

from __future__ import annotations

import io
import sys
from dataclasses import dataclass
from unittest import mock

from wormwright.cli import main


@dataclass(frozen=True)
class Ran:
    """What came of a command line."""

    code: int
    out: str
    err: str


def run(*arguments: str, stdin: str = "") -> Ran:
    """Run `wormwright` with these arguments and this text typed into it."""
    out, err = (io.TextIOWrapper(io.BytesIO(), "utf-8", newline="\n") for _ in range(2))
    typed = io.StringIO(stdin)
    with (
        mock.patch.object(sys, "stdout", out),
        mock.patch.object(sys, "stderr", err),
        mock.patch.object(sys, "stdin", typed),
    ):
        code = main(list(arguments))
        out.flush()
        err.flush()
    return Ran(code, _text(out), _text(err))


def _text(stream: io.TextIOWrapper) -> str:
    raw = stream.buffer
    if not isinstance(raw, io.BytesIO):
        raise TypeError("the stream does not keep its bytes")
    return raw.getvalue().decode("utf-8")
