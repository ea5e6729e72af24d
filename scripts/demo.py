"""The whole job on a made-up rotary: `python scripts/demo.py [DIR]` (what `make demo` runs).

Makes a fresh job folder from the metric example, then runs measure, diagnose, correct and packet
on it exactly as a user would, and says where the packet lies.
"""

from __future__ import annotations

import shutil
import sys
import tomllib
from pathlib import Path

from wormwright.cli import main as wormwright

HERE = Path(__file__).resolve().parent.parent
EXAMPLE = "garage-router"
STEPS = (
    ("measure", "What is on the bench sheet"),
    ("diagnose", "Where the lost motion comes from"),
    ("correct", "What to make, and will it be enough"),
    ("packet", "Everything on paper"),
)


def main(folder: Path) -> int:
    clear(folder)
    shown = ["new", str(folder), "--from", EXAMPLE]
    said = f"Start a job folder from the example {EXAMPLE}"
    code = step(said, shown)
    for verb, why in STEPS:
        if code:
            return code
        code = step(why, [verb, str(folder)])
    if code == 0:
        print(f"\nThe job folder is {folder}; the packet lies in {folder / 'packet'}.")
        print(f"All of it as a page: wormwright serve {folder}")
    return code


def step(why: str, arguments: list[str]) -> int:
    """Say what comes, run it, and hand back its exit code."""
    print(f"\n{'#' * 100}\n# {why}\n$ wormwright {' '.join(arguments)}\n", flush=True)
    code = wormwright(arguments)
    sys.stdout.flush()
    if code:
        print(f"wormwright {arguments[0]} ended with {code}", file=sys.stderr)
    return code


def clear(folder: Path) -> None:
    """Remove the demo of last time; anything else that is there is left alone."""
    if not folder.exists():
        return
    job = folder / "job.toml"
    if not (job.is_file() and tomllib.loads(job.read_text(encoding="utf-8")).get("made_up")):
        sys.exit(f"{folder} is there and is no made-up job; give another folder")
    shutil.rmtree(folder)


if __name__ == "__main__":
    place = Path(sys.argv[1]) if len(sys.argv) > 1 else HERE / "demo"
    sys.exit(main(place))
