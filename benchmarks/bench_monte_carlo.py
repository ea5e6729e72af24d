"""A million draws through a smooth model of 25 inputs and 12 outputs, intervals included."""

from __future__ import annotations

import tracemalloc
from collections.abc import Iterator

import numpy as np

from benchmarks.figure import Figure, ratio
from wormwright.core.monte_carlo import Array, coverage_interval, monte_carlo

DRAWS, INPUTS, OUTPUTS = 1_000_000, 25, 12
NOMINAL = np.linspace(1.0, 2.0, INPUTS)[:, None]
SPREAD = np.linspace(0.01, 0.05, INPUTS)[:, None]


def model(start: int, z: Array) -> Array:  # noqa: ARG001  (this model needs no index)
    x = z * SPREAD
    x += NOMINAL
    y = np.empty((OUTPUTS, z.shape[1]))
    across = np.cos(x[24])
    for i in range(OUTPUTS):
        y[i] = x[2 * i] * x[2 * i + 1] + across
    return y


def propagate(threads: int = 1, chunk: int = 131_072) -> Array:
    return monte_carlo(
        model, draws=DRAWS, normals=INPUTS, outputs=OUTPUTS, seed=1, threads=threads, chunk=chunk
    )


def figures() -> Iterator[Figure]:
    stream, buffer = np.random.default_rng(1), np.empty((INPUTS, DRAWS))

    def floor() -> None:
        stream.standard_normal(out=buffer)

    yield ratio("draws and model, one thread", product=propagate, floor=floor, limit=1.7)
    yield ratio(
        "draws, model and 12 intervals, one thread",
        product=lambda: coverage_interval(propagate()),
        floor=floor,
        limit=2.4,
    )
    yield ratio(
        "draws and model, two threads", product=lambda: propagate(2), floor=floor, limit=1.1
    )
    different = int(np.count_nonzero(propagate() != propagate(2, chunk=20_000)))
    yield Figure("draws that change with threads and chunk", different, 0, "", "bit by bit")
    tracemalloc.start()
    coverage_interval(propagate())
    peak = tracemalloc.get_traced_memory()[1] / 1e6
    tracemalloc.stop()
    yield Figure("peak memory of draws, model and intervals", peak, 200, "MB", "12 outputs kept")
