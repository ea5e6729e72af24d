"""A cold `wormwright diagnose` against importing what it cannot do without."""

from __future__ import annotations

import compileall
import os
import shutil
import subprocess
import sys
import sysconfig
import tempfile
from collections.abc import Iterator
from functools import partial
from pathlib import Path

from benchmarks.figure import Figure, ratio

ROOT = Path(__file__).resolve().parent.parent
LIBRARIES = ("numpy", "scipy", "pydantic", "pydantic_core", "tomlkit", "click")


def compile_all(*more: str) -> None:
    """Compile the product and its libraries, and `more` of them, so that no run pays for it."""
    site = Path(sysconfig.get_paths()["purelib"])
    for folder in (ROOT / "src" / "wormwright", *(site / name for name in (*LIBRARIES, *more))):
        compileall.compile_dir(folder, quiet=2, workers=0)


def figures() -> Iterator[Figure]:
    compile_all()
    environment = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}

    def run(*arguments: str) -> None:
        subprocess.run(arguments, env=environment, check=True, capture_output=True)

    def floor() -> None:
        run(sys.executable, "-c", "import numpy, scipy.special, pydantic")

    command = str(Path(sys.executable).parent / "wormwright")
    examples = sorted(path.parent for path in ROOT.glob("examples/*/readings.csv"))
    if not examples:
        raise FileNotFoundError("no examples/*/readings.csv to diagnose")
    with tempfile.TemporaryDirectory() as scratch:
        for example in examples:
            job = str(shutil.copytree(example, Path(scratch) / example.name))
            yield ratio(
                f"diagnose {example.name}",
                product=partial(run, command, "diagnose", job),
                floor=floor,
                limit=1.5,
                runs=9,
            )
