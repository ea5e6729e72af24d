"""A whole packet from cold, against loading the libraries it is drawn and set with."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from dataclasses import replace
from functools import partial
from pathlib import Path

from benchmarks.bench_cold_start import ROOT, compile_all
from benchmarks.figure import Figure, ratio, seconds

LOADED = "import numpy, scipy.special, pydantic, matplotlib.figure, ezdxf, typst, jinja2"
LIBRARIES = ("matplotlib", "ezdxf", "fontTools", "pyparsing", "typst", "jinja2")
HUMAN = 3.0
"""What a person at the bench waits for a packet without wondering, s: printed, not judged."""


def figures() -> Iterator[Figure]:
    compile_all(*LIBRARIES)
    environment = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}

    def run(*arguments: str) -> None:
        subprocess.run(arguments, env=environment, check=True, capture_output=True)

    floor = partial(run, sys.executable, "-c", LOADED)
    command = str(Path(sys.executable).parent / "wormwright")
    with tempfile.TemporaryDirectory() as scratch:
        for example in sorted(path.parent for path in ROOT.glob("examples/*/readings.csv")):
            job = str(shutil.copytree(example, Path(scratch) / example.name))
            product = partial(run, command, "packet", job)
            judged = ratio(f"packet {example.name}", product=product, floor=floor, limit=3.0)
            best = min(seconds(product) for _ in range(3))
            seen = f"{judged.detail}; best of 3 {best:.1f} s, a person waits {HUMAN:g} s"
            yield replace(judged, detail=seen)
