"""Closing the circle with readings missing: errors by iteration, doubt of each by what is missing.

The complete design is solved wave by wave for next to nothing. A missing reading takes one row
from it, so that the covariance with q gaps is the complete one and a correction of rank q.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from wormwright.core.closure import freedom_of_complete, solved_waves, uncertainty_factor

Array = NDArray[np.float64]

MOST_GAPS = 1000
"""More missing readings than this are refused: the correction would cost more than reading them."""

TIED = 1e-9
"""A reading whose loss leaves less than this of its freedom was the only tie of something."""


@dataclass(frozen=True, slots=True)
class Gaps:
    """Uncertainty factors of table and artefact, (n,), and freedom of each reading, (n, K)."""

    u_table: Array
    u_artefact: Array
    freedom: Array


def with_gaps(y: Array, shifts: Sequence[int]) -> tuple[Array, Array, Array]:
    """Table, artefact and zeros from readings (n, K) with nan where nothing was read.

    Source: conjugate gradients on the normal equations (Hestenes and Stiefel, 1952; from memory),
        preconditioned by the complete design; it ends after about as many steps as there are gaps.
    """
    from scipy.sparse.linalg import LinearOperator, cg  # noqa: PLC0415  (late: costs start-up)

    n, k = y.shape
    read = np.isfinite(y)
    at = _faces(n, shifts)

    def sums(values: Array) -> Array:
        """What each unknown's own readings add up to."""
        faces = np.bincount(at.ravel(), values.ravel(), n)
        return np.concatenate([values.sum(axis=1), faces, values.sum(axis=0)])

    def normal(x: Array) -> Array:
        return sums(np.where(read, x[:n, None] + x[n : 2 * n][at] + x[2 * n :], 0.0))

    def complete(right: Array) -> Array:
        spectra = np.fft.fft(right[:n]), np.fft.fft(right[n : 2 * n])
        return np.concatenate([*solved_waves(*spectra, shifts), right[2 * n :] / n])

    size = (2 * n + k, 2 * n + k)
    start = np.nanmean(y, axis=0)
    right = sums(np.where(read, y - start, 0.0))
    x, failed = cg(
        LinearOperator(size, normal, dtype=np.float64),
        right,
        rtol=1e-12,
        maxiter=20 * (y.size - int(read.sum())) + 50,
        M=LinearOperator(size, complete, dtype=np.float64),
    )
    if failed:
        raise ValueError("closure: the readings do not settle; read some of the missing ones")
    return x[:n], x[n : 2 * n], x[2 * n :] + start


def _faces(n: int, shifts: Sequence[int]) -> NDArray[np.intp]:
    result: NDArray[np.intp] = (np.arange(n)[:, None] + np.asarray(shifts)[None, :]) % n
    return result


def gaps_of(read: NDArray[np.bool_], shifts: Sequence[int]) -> Gaps:
    """What the missing readings do to the uncertainty of every error.

    Source: derived: the covariance after taking rows R out of a design is
        G + G R' (1 - R G R')^-1 R G (Woodbury), G that of the complete design.
    Inputs: read, shape (positions, set-ups); shifts. Outputs: Gaps, factors of one reading's u.
    Valid for: up to `MOST_GAPS` missing, none of which is the only tie of a position.
    Raises: ValueError naming the positions that are cut off.

    >>> read = np.ones((4, 4), bool)
    >>> read[2, 1] = False
    >>> gaps_of(read, [0, 1, 2, 3]).u_table.round(4).tolist()
    [0.4449, 0.4449, 0.5303, 0.4449]
    """
    n, k = read.shape
    rows, set_ups = np.nonzero(~read)
    if len(rows) > MOST_GAPS:
        raise ValueError(
            f"closure: {len(rows)} of {read.size} readings are missing; expected at most "
            f"{MOST_GAPS}: read more of them, or leave a whole set-up out"
        )
    at = _faces(n, shifts)
    faces = at[rows, set_ups]
    reach = _reach(rows, faces, set_ups, n, shifts)
    seen = _read_off(reach, rows, faces, set_ups, n)
    left, vectors = np.linalg.eigh(np.eye(len(rows)) - (seen + seen.T) / 2)
    if left[0] < TIED:
        _refuse_cut_off(reach @ vectors[:, left < TIED], n)
    spread = reach @ (vectors / np.sqrt(left))
    u = np.sqrt(uncertainty_factor(n, shifts) ** 2 + np.sum(spread[: 2 * n] ** 2, axis=1))
    taken = [
        np.sum(_read_off(spread, np.arange(n), at[:, j], np.full(n, j), n) ** 2, axis=1)
        for j in range(k)
    ]
    freedom = freedom_of_complete(n, shifts) - np.column_stack(taken)
    return Gaps(u[:n], u[n:], np.where(read, freedom, np.nan))


def _reach(
    rows: NDArray[np.intp],
    faces: NDArray[np.intp],
    set_ups: NDArray[np.intp],
    n: int,
    shifts: Sequence[int],
) -> Array:
    """How a unit in each of these readings moves every unknown of the complete design."""
    one, none = np.ones(n, complex), np.zeros(n, complex)
    own, crossed = solved_waves(one, none, shifts)  # of a position, on table and artefact
    back, other = solved_waves(none, one, shifts)  # of a face
    places = np.arange(n)[:, None]
    table = own[(places - rows) % n] + back[(places - faces) % n]
    artefact = crossed[(places - rows) % n] + other[(places - faces) % n]
    zeros = (np.arange(len(shifts))[:, None] == set_ups) / n
    return np.concatenate([table, artefact, zeros])


def _read_off(
    unknowns: Array,
    rows: NDArray[np.intp],
    faces: NDArray[np.intp],
    set_ups: NDArray[np.intp],
    n: int,
) -> Array:
    """What these readings would show for each column of unknowns."""
    result: Array = unknowns[rows] + unknowns[n + faces] + unknowns[2 * n + set_ups]
    return result


def _refuse_cut_off(unseen: Array, n: int) -> None:
    size = np.abs(unseen[: 2 * n]).max(axis=1)
    worst = np.flatnonzero(size > 0.5 * size.max()) + 1
    named = [f"position {i}" if i <= n else f"face {i - n}" for i in worst[:8]]
    more = f" and {len(worst) - 8} more" if len(worst) > 8 else ""
    raise ValueError(
        f"closure: the missing readings cut off {', '.join(named)}{more} (counted from 1, as the "
        f"first set-up met them), {unseen.shape[1]} directions in all; read some of them again"
    )
