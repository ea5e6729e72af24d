"""Closing the circle: errors of a table and of an unknown artefact told apart by re-setting it.

Reading i of set-up k is y = a_i + p_(i + s_k) + c_k: table error, error of the artefact's face that
then stands in line, and an arbitrary zero. The sums of a and p are zero: their common part cannot
be seen. In the frequency domain each wave of the turn is two unknowns by itself, which is what
makes a complete set cheap.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

MOST_STEPS = 500


@dataclass(frozen=True, slots=True)
class Closure:
    """Table errors a, artefact errors p and zeros c in the unit of the readings.

    `sigma` is the standard deviation of one reading from the residuals (nan without degrees of
    freedom), `u_table` and `u_artefact` the standard uncertainty of each a and p as a multiple of
    it, `residuals` of shape (positions, set-ups) with nan where nothing was read.
    """

    table: Array
    artefact: Array
    zeros: Array
    residuals: Array
    sigma: float
    degrees_of_freedom: int
    u_table: float
    u_artefact: float


def common_step(positions: int, shifts: Sequence[int]) -> int:
    """The greatest common step of the re-settings: one if every wave can be told apart.

    Source: derived: g = gcd(n, all s_k - s_0).
    Inputs: positions n round the turn; shifts s_k in positions. Outputs: g.
    Valid for: n >= 2, at least one set-up. Raises: ValueError outside.

    >>> common_step(12, [0, 3]), common_step(12, [0, 3, 4])
    (3, 1)
    """
    if positions < 2 or not shifts:
        raise ValueError(f"closure: expected 2 positions or more and a set-up, got {positions}")
    return math.gcd(positions, *(int(s) - int(shifts[0]) for s in shifts))


def nullity(positions: int, shifts: Sequence[int]) -> int:
    """Number of directions that a design cannot see, the two free zeros included.

    Source: derived; the rank of the design matrix gives the same.
    Formula: g + 1 with g of `common_step`.
    Inputs: positions; shifts. Outputs: a count; 2 is the least. Valid for: as `common_step`.
    Raises: ValueError as `common_step`.

    >>> nullity(4, [0]), nullity(4, [0, 1])
    (5, 2)
    """
    return common_step(positions, shifts) + 1


def lost_waves(positions: int, shifts: Sequence[int]) -> tuple[int, ...]:
    """Waves a turn that a design cannot give to table or artefact.

    Source: derived: multiples of n/g. Inputs: positions; shifts. Outputs: waves up to n/2.
    Valid for: as `common_step`. Raises: ValueError as `common_step`.

    >>> lost_waves(12, [0, 4]), lost_waves(12, [0, 1])
    ((3, 6), ())
    """
    step = common_step(positions, shifts)
    return (
        tuple(range(positions // step, positions // 2 + 1, positions // step)) if step > 1 else ()
    )


def _turning(positions: int, shifts: Sequence[int]) -> NDArray[np.complex128]:
    """Sum over set-ups of exp(2 pi i f s_k / n), one value a wave f."""
    counts = np.zeros(positions)
    np.add.at(counts, np.mod(shifts, positions), 1.0)
    result: NDArray[np.complex128] = np.fft.ifft(counts) * positions
    return result


def uncertainty_factor(positions: int, shifts: Sequence[int]) -> float:
    """Standard uncertainty of each table error as a multiple of that of one reading.

    Source: derived: the variance of a wave is K / (K² - |W_f|²), spread evenly over the positions.
    Formula: u²/sigma² = (1/n) sum over f != 0 of K / (K² - |W_f|²).
    Inputs: positions; shifts. Outputs: u/sigma. Valid for: designs that lose no wave.
    Raises: ValueError naming the waves lost.

    >>> round(uncertainty_factor(4, [0, 1, 2, 3]), 4), round(uncertainty_factor(4, [0, 1]), 4)
    (0.433, 0.7906)
    """
    _refuse_lost(positions, shifts)
    k = len(shifts)
    apart = k**2 - np.abs(_turning(positions, shifts)[1:]) ** 2
    return math.sqrt(float(np.sum(k / apart)) / positions)


def _refuse_lost(positions: int, shifts: Sequence[int]) -> None:
    step = common_step(positions, shifts)
    if step > 1:
        waves = ", ".join(str(f) for f in lost_waves(positions, shifts))
        raise ValueError(
            f"closure: re-settings by multiples of {step} of {positions} positions cannot tell "
            f"table from artefact in {waves} waves a turn; add a set-up moved by one position"
        )


def closure(readings: ArrayLike, shifts: Sequence[int]) -> Closure:
    """Table and artefact errors by least squares, from set-ups that may have gaps.

    Source: Estler, J. Res. NIST 103(2), 1998, dual closure (principle); solved here wave by wave.
    Method: complete set-ups: one Fourier transform each, a pair of unknowns a wave, O(K n log n).
        With gaps: least squares by conjugate gradients (LSMR), started from nothing.
    Inputs: readings, shape (positions, set-ups), nan where nothing was read, any unit; shifts, by
        how many positions the artefact was moved for each set-up.
    Outputs: errors with their uncertainty factors; with gaps the factors are those of the complete
        design times sqrt(all / read), a floor.
    Valid for: designs that lose no wave; more readings than unknowns for `sigma`.
    Raises: ValueError for shapes that do not fit, waves lost, or a position never read.

    >>> y = [[9.5, -3, -4, 19], [-7.5, -20, 1, 8], [4.5, 14, 19, 20], [-0.5, -7, -8, -7]]
    >>> closure(y, [0, 1, 2, 3]).table.round(6).tolist()
    [3.0, -7.0, 12.0, -8.0]
    """
    y = np.asarray(readings, float)
    if y.ndim != 2 or y.shape[1] != len(shifts):
        raise ValueError(f"closure: expected positions x {len(shifts)} set-ups, got {y.shape}")
    n, k = y.shape
    _refuse_lost(n, shifts)
    read = np.isfinite(y)
    table, artefact, zeros = _waves(y, shifts) if read.all() else _with_gaps(y, read, shifts)
    at = (np.arange(n)[:, None] + np.asarray(shifts)[None, :]) % n
    residuals = y - table[:, None] - artefact[at] - zeros[None, :]
    dof = int(read.sum()) - (2 * n + k - 2)
    sigma = math.sqrt(float(np.nansum(residuals**2)) / dof) if dof > 0 else math.nan
    u = uncertainty_factor(n, shifts) * math.sqrt(y.size / int(read.sum()))
    return Closure(table, artefact, zeros, residuals, sigma, dof, u, u)


def _waves(y: Array, shifts: Sequence[int]) -> tuple[Array, Array, Array]:
    """Least squares wave by wave: per wave K a + W p = sum Y, conj(W) a + K p = sum Y conj(w)."""
    n, k = y.shape
    zeros = y.mean(axis=0)
    turn = np.exp(2j * math.pi * np.outer(np.arange(n), shifts) / n)
    spectra = np.fft.fft(y - zeros, axis=0)
    first, second = spectra.sum(axis=1), (spectra * turn.conj()).sum(axis=1)
    w = turn.sum(axis=1)
    apart = k**2 - np.abs(w) ** 2
    apart[0] = 1.0
    a, p = (k * first - w * second) / apart, (k * second - w.conj() * first) / apart
    a[0] = p[0] = 0.0
    return np.fft.ifft(a).real, np.fft.ifft(p).real, zeros


def _with_gaps(
    y: Array, read: NDArray[np.bool_], shifts: Sequence[int]
) -> tuple[Array, Array, Array]:
    from scipy.sparse import csr_matrix  # noqa: PLC0415  (late: costs start-up)
    from scipy.sparse.linalg import lsmr  # noqa: PLC0415

    n, k = y.shape
    rows, setups = np.nonzero(read)
    faces = (rows + np.asarray(shifts)[setups]) % n
    if len(np.unique(rows)) < n or len(np.unique(faces)) < n:
        raise ValueError("closure: a position or a face was never read; read it in some set-up")
    m = len(rows)
    columns = np.concatenate([rows, n + faces, 2 * n + setups])
    design = csr_matrix((np.ones(3 * m), (np.tile(np.arange(m), 3), columns)), (m, 2 * n + k))
    x = lsmr(design, y[read], atol=1e-14, btol=1e-14, maxiter=MOST_STEPS * (n + k))[0]
    a, p, c = x[:n], x[n : 2 * n], x[2 * n :]
    return a - a.mean(), p - p.mean(), c + a.mean() + p.mean()
