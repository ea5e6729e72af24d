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


@dataclass(frozen=True, slots=True)
class Closure:
    """Table errors a, artefact errors p and zeros c in the unit of the readings.

    `sigma` is the standard deviation of one reading from the residuals (nan without degrees of
    freedom), `u_table` and `u_artefact` the standard uncertainty of each a and p as a multiple of
    that of one reading, `residuals` of shape (positions, set-ups) with nan where nothing was read,
    `freedom` how much of one reading's variance is left in each residual.
    """

    table: Array
    artefact: Array
    zeros: Array
    residuals: Array
    sigma: float
    degrees_of_freedom: int
    u_table: Array
    u_artefact: Array
    freedom: Array


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


def factor_of_difference(positions: int, shifts: Sequence[int]) -> Array:
    """Standard uncertainty of the error between two positions, as a multiple of one reading's.

    Source: derived, as `uncertainty_factor`; the covariance depends only on how far they stand
        apart.
    Formula: u²(d)/sigma² = 2 (g(0) - g(d)), g the inverse transform of K / (K² - |W_f|²).
    Inputs: positions n; shifts. Outputs: factor for 0, 1, ... n - 1 positions apart, (n,).
    Valid for: designs that lose no wave. Raises: ValueError naming the waves lost.

    >>> factor_of_difference(4, [0, 1, 2, 3]).round(4).tolist()
    [0.0, 0.7071, 0.7071, 0.7071]
    """
    _refuse_lost(positions, shifts)
    one, none = np.ones(positions, complex), np.zeros(positions, complex)
    own = solved_waves(one, none, shifts)[0]
    result: Array = np.sqrt(np.maximum(2 * (own[0] - own), 0.0))
    return result


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
        With gaps: conjugate gradients on the normal equations, the complete design as the guide.
    Inputs: readings, shape (positions, set-ups), nan where nothing was read, any unit; shifts, by
        how many positions the artefact was moved for each set-up.
    Outputs: errors with the uncertainty factor of each.
    Valid for: designs that lose no wave, gaps that leave every position tied to the others; more
        readings than unknowns for `sigma`.
    Raises: ValueError for shapes that do not fit, waves lost, or positions that the gaps cut off.

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
    if read.all():
        table, artefact, zeros = _waves(y, shifts)
        u_table = u_artefact = np.full(n, uncertainty_factor(n, shifts))
        freedom = np.tile(freedom_of_complete(n, shifts), (n, 1))
    else:
        from wormwright.core.closure_gaps import gaps_of, with_gaps  # noqa: PLC0415  (uses scipy)

        gaps = gaps_of(read, shifts)
        table, artefact, zeros = with_gaps(y, shifts)
        u_table, u_artefact, freedom = gaps.u_table, gaps.u_artefact, gaps.freedom
    at = (np.arange(n)[:, None] + np.asarray(shifts)[None, :]) % n
    residuals = y - table[:, None] - artefact[at] - zeros[None, :]
    dof = int(read.sum()) - (2 * n + k - 2)
    sigma = math.sqrt(float(np.nansum(residuals**2)) / dof) if dof > 0 else math.nan
    return Closure(table, artefact, zeros, residuals, sigma, dof, u_table, u_artefact, freedom)


def _waves(y: Array, shifts: Sequence[int]) -> tuple[Array, Array, Array]:
    """Least squares wave by wave: per wave K a + W p = sum Y, conj(W) a + K p = sum Y conj(w)."""
    zeros = y.mean(axis=0)
    turn = np.exp(2j * math.pi * np.outer(np.arange(len(y)), shifts) / len(y))
    spectra = np.fft.fft(y - zeros, axis=0)
    a, p = solved_waves(spectra.sum(axis=1), (spectra * turn.conj()).sum(axis=1), shifts)
    return a, p, zeros


def solved_waves(
    first: NDArray[np.complex128], second: NDArray[np.complex128], shifts: Sequence[int]
) -> tuple[Array, Array]:
    """Errors of table and artefact from the spectra of the sums over each position and face."""
    n, k = len(first), len(shifts)
    w = _turning(n, shifts)
    apart = k**2 - np.abs(w) ** 2
    apart[0] = 1.0
    a, p = (k * first - w * second) / apart, (k * second - w.conj() * first) / apart
    a[0] = p[0] = 0.0
    return np.fft.ifft(a).real, np.fft.ifft(p).real


def freedom_of_complete(positions: int, shifts: Sequence[int]) -> Array:
    """How much of one reading's variance a complete design leaves in the residuals of each set-up.

    Source: derived: one less the leverage of a reading, the same all round the turn.
    Formula: 1 - (g_tt(0) + g_pp(0) + g_tp(-s) + g_pt(s) + 1/n), g the answer to a unit reading.
    Inputs: positions n; shifts. Outputs: freedom of each set-up, (K,) [1].
    Valid for: designs that lose no wave. Raises: ValueError naming the waves lost.

    >>> freedom_of_complete(4, [0, 1, 2, 3]).round(4).tolist()
    [0.375, 0.375, 0.375, 0.375]
    """
    _refuse_lost(positions, shifts)
    one, none = np.ones(positions, complex), np.zeros(positions, complex)
    own, crossed = solved_waves(one, none, shifts)
    back, other = solved_waves(none, one, shifts)
    moved = np.asarray(shifts) % positions
    taken = own[0] + other[0] + 1 / positions + back[-moved % positions] + crossed[moved]
    result: Array = 1 - taken
    return result
