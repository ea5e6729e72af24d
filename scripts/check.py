"""Run every check of the project, in the order that fails fastest. Stops at the first failure."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent.parent
BIN = Path(sys.executable).parent
CHECKS = (
    ("format", ["ruff", "format", "--check", "."]),
    ("lint", ["ruff", "check", "."]),
    ("import contracts", ["lint-imports"]),
    ("types", ["mypy"]),
    ("tests", ["pytest", "-n", "auto", "--dist", "loadfile"]),
)


def main() -> None:
    for name, (tool, *rest) in CHECKS:
        print(f"== {name}: {tool} {' '.join(rest)}", flush=True)
        done = subprocess.run([str(BIN / tool), *rest], cwd=HERE, check=False)
        if done.returncode:
            sys.exit(f"{name}: failed ({tool} ended with {done.returncode})")


if __name__ == "__main__":
    main()
