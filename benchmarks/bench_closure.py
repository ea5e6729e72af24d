"""A closure of 3,600 positions in 3 set-ups, with variances, against a dense least squares."""

from __future__ import annotations

import statistics
from collections.abc import Iterator

import numpy as np
import scipy.linalg

from benchmarks.figure import Figure, seconds
from wormwright.core.closure import Array, closure

SHIFTS = (0, 1, 60)
POSITIONS, DENSE = 3600, 720
TIMES_FASTER = 1000


def readings(n: int) -> Array:
    return np.random.default_rng(7).normal(0, 1, (n, len(SHIFTS)))


def dense(y: Array) -> tuple[Array, Array]:
    """Table errors and their uncertainty by the plain matrix, the two free sums held at zero."""
    n, k = y.shape
    design = np.zeros((y.size + 2, 2 * n + k))
    row = np.arange(y.size)
    i, j = row // k, row % k
    design[row, i] = design[row, n + (i + np.array(SHIFTS)[j]) % n] = design[row, 2 * n + j] = 1.0
    design[-2, :n] = design[-1, n : 2 * n] = 1.0
    inverse = scipy.linalg.inv(design.T @ design)
    x = inverse @ (design.T @ np.append(y.ravel(), [0.0, 0.0]))
    return x[:n], np.sqrt(np.diag(inverse)[:n] - 1 / n**2)


def figures() -> Iterator[Figure]:
    small, large = readings(DENSE), readings(POSITIONS)
    table, u = dense(small)
    ours = closure(small, SHIFTS)
    if not (np.allclose(ours.table, table) and np.allclose(ours.u_table, u)):
        raise ArithmeticError("closure and dense least squares do not agree")
    pairs = [
        (seconds(lambda: closure(large, SHIFTS)), seconds(lambda: dense(small))) for _ in range(5)
    ]
    fast, slow = (statistics.median(column) for column in zip(*pairs, strict=True))
    scaled = slow * (POSITIONS / DENSE) ** 3
    yield Figure(
        "closure of 3,600 positions, 3 set-ups",
        TIMES_FASTER * fast / scaled,
        1.0,
        "x",
        f"{fast * 1e3:.1f} ms against {scaled:.0f} s ({slow:.2f} s at {DENSE}, by the cube), "
        f"limit a thousandth: {scaled / fast:,.0f} times faster",
    )
