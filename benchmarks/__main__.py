"""Run every bench_*.py of this folder, or those named, and print figure, limit and verdict.

`python -m benchmarks [NAME ...]` from the root of the repository; it keeps no record. Ends with 1
if a figure is over its limit.
"""

from __future__ import annotations

import importlib
import sys
from collections.abc import Iterable
from pathlib import Path

from benchmarks.figure import Figure


def main(wanted: list[str]) -> int:
    names = sorted(path.stem for path in Path(__file__).parent.glob("bench_*.py"))
    unknown = set(wanted) - {name.removeprefix("bench_") for name in names}
    if unknown:
        print(f"no such benchmark: {', '.join(sorted(unknown))}", file=sys.stderr)
        return 2
    over = 0
    for name in names:
        if wanted and name.removeprefix("bench_") not in wanted:
            continue
        figures: Iterable[Figure] = importlib.import_module(f"benchmarks.{name}").figures()
        print(name.removeprefix("bench_").replace("_", " "))
        for figure in figures:
            over += not figure.holds
            verdict = "ok" if figure.holds else "OVER"
            print(
                f"  {figure.got:7.2f} {figure.unit:<2} (at most {figure.limit:g}) {verdict:<4}  "
                f"{figure.what}: {figure.detail}",
                flush=True,
            )
    return 1 if over else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
