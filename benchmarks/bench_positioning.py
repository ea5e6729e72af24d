"""Evaluation of a positioning test of 360 targets and 10 runs against numpy reading its CSV.

The CSV has a line for each reading: target, run, side, error, all of them figures.
"""

from __future__ import annotations

import io
from collections.abc import Iterator

import numpy as np

from benchmarks.figure import Figure, ratio
from wormwright.core.positioning import positioning
from wormwright.core.positioning_interval import figure_intervals

TARGETS, RUNS = 360, 10


def figures() -> Iterator[Figure]:
    pick = np.random.default_rng(3)
    angles = np.arange(TARGETS, dtype=float)
    wave = 40 * np.sin(np.radians(angles))[:, None]
    up, down = (wave + way + pick.normal(0, 2, (TARGETS, RUNS)) for way in (-15, 15))
    file = io.StringIO()
    place, run, side = np.indices((TARGETS, RUNS, 2)).reshape(3, -1)
    both = np.stack([up, down], axis=-1).ravel()
    lines = np.column_stack([angles[place], run + 1, side, both])
    np.savetxt(file, lines, delimiter=",", fmt="%.2f")
    text = file.getvalue()

    def read() -> np.ndarray:
        return np.loadtxt(io.StringIO(text), delimiter=",")

    def evaluated() -> None:
        figure_intervals(positioning(up, down), u_target=1.0, seed=1)

    yield ratio(
        "figures of 360 targets by 10 runs, with what many runs would give",
        product=evaluated,
        floor=read,
        limit=3.0,
        runs=15,
    )
    yield ratio(
        "the figures alone",
        product=lambda: positioning(up, down),
        floor=read,
        limit=0.5,
        runs=15,
    )
