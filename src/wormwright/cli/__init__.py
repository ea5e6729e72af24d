"""The command line: reads what was typed, calls one use case, shows its document."""

from __future__ import annotations

import sys
from collections.abc import Sequence


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command line and hand back its exit code."""
    from wormwright.cli.outcome import run  # noqa: PLC0415  (importing this package stays free)

    return run(sys.argv[1:] if arguments is None else arguments)
