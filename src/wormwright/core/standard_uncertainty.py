"""Standard uncertainties from repeats (type A) and from what is otherwise known (type B)."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class MeanOfRepeats:
    """Mean of repeated readings, its standard uncertainty and degrees of freedom."""

    mean: float
    u: float
    dof: int


def mean_of_repeats(values: ArrayLike) -> MeanOfRepeats:
    """Mean of repeats with its type A standard uncertainty.

    Source: JCGM 100:2008, 4.2. Formula: u = s/sqrt(n), dof = n - 1.
    Inputs: values [any, (n,)]. Outputs: mean and u [as values], dof [1].
    Valid for: n >= 2; below 4 the interval is far from normal, use a pooled deviation.
    Raises: ValueError for fewer than two values.

    >>> mean_of_repeats([1.0, 2.0, 3.0]).mean
    2.0
    """
    v = np.asarray(values, dtype=np.float64)
    if v.ndim != 1 or len(v) < 2:
        raise ValueError(f"mean of repeats: expected two values or more, got shape {v.shape}")
    return MeanOfRepeats(float(v.mean()), float(v.std(ddof=1)) / math.sqrt(len(v)), len(v) - 1)


def covariance_of_means(values: ArrayLike) -> Array:
    """Covariance matrix of the means of quantities read together n times.

    Source: JCGM 100:2008, 5.2.3, formula (17).
    Formula: sum over k of (q_k - q)(r_k - r) / (n(n - 1)).
    Inputs: values [any, (quantities, n)]. Outputs: covariance [(quantities, quantities)].
    Valid for: n >= 2. Raises: ValueError for fewer.

    >>> covariance_of_means([[1.0, 2.0, 3.0], [2.0, 4.0, 6.0]]).round(4).tolist()
    [[0.3333, 0.6667], [0.6667, 1.3333]]
    """
    v = np.asarray(values, dtype=np.float64)
    if v.ndim != 2 or v.shape[1] < 2:
        raise ValueError(f"covariance of means: expected (quantities, n >= 2), got {v.shape}")
    d = v - v.mean(axis=1, keepdims=True)
    n = v.shape[1]
    result: Array = (d @ d.T) / (n * (n - 1))
    return (result + result.T) / 2


def pooled_standard_deviation(groups: Sequence[ArrayLike]) -> tuple[float, int]:
    """Standard deviation of one reading, pooled over groups of repeats.

    Source: JCGM 100:2008, H.3.6 note and 4.2.4. Formula: s² = sum of squares within / sum (n - 1).
    Inputs: groups of repeats [any]. Outputs: s [as values], degrees of freedom [1].
    Valid for: at least one group of two. Raises: ValueError otherwise.

    >>> pooled_standard_deviation([[1.0, 3.0], [5.0, 7.0], [4.0]])
    (1.4142135623730951, 2)
    """
    arrays = [np.asarray(group, dtype=np.float64) for group in groups]
    dof = sum(len(a) - 1 for a in arrays)
    if any(len(a) < 1 for a in arrays) or dof < 1:
        raise ValueError("pooled deviation: expected groups of readings, one of two or more")
    squares = sum(float(np.sum((a - a.mean()) ** 2)) for a in arrays)
    return math.sqrt(squares / dof), dof


def _half_width(a: float, name: str) -> float:
    if not (math.isfinite(a) and a >= 0):
        raise ValueError(f"{name}: expected a half-width of zero or more, got {a}")
    return a


def standard_uncertainty_of_rectangular(half_width: float) -> float:
    """Standard uncertainty of a value known only to lie within ± half_width: a/sqrt(3).

    Source: JCGM 100:2008, 4.3.7. Raises: ValueError for a negative half-width.

    >>> round(standard_uncertainty_of_rectangular(0.03), 5)
    0.01732
    """
    return _half_width(half_width, "rectangular") / math.sqrt(3)


def standard_uncertainty_of_triangular(half_width: float) -> float:
    """Standard uncertainty of a value within ± half_width, likelier in the middle: a/sqrt(6).

    Source: JCGM 100:2008, 4.3.9. Raises: ValueError for a negative half-width.

    >>> round(standard_uncertainty_of_triangular(0.03), 5)
    0.01225
    """
    return _half_width(half_width, "triangular") / math.sqrt(6)


def standard_uncertainty_of_arcsine(half_width: float) -> float:
    """Standard uncertainty of a value that swings like a sine within ± half_width: a/sqrt(2).

    Source: JCGM 101:2008, 6.4.6. Raises: ValueError for a negative half-width.

    >>> round(standard_uncertainty_of_arcsine(0.5), 4)
    0.3536
    """
    return _half_width(half_width, "arcsine") / math.sqrt(2)


def standard_uncertainty_of_resolution(step: float) -> float:
    """Standard uncertainty that the last digit or division alone gives: step/sqrt(12).

    Source: JCGM 100:2008, F.2.2.1. Raises: ValueError for a negative step.

    >>> round(standard_uncertainty_of_resolution(0.01), 5)
    0.00289
    """
    return _half_width(step, "resolution") / math.sqrt(12)


def standard_uncertainty_of_expanded(expanded: float, *, k: float = 2.0) -> float:
    """Standard uncertainty of a stated expanded one: U/k.

    Source: JCGM 100:2008, 4.3.3. Raises: ValueError for a negative U or a k not above zero.

    >>> standard_uncertainty_of_expanded(0.006, k=3)
    0.002
    """
    if not k > 0:
        raise ValueError(f"expanded uncertainty: expected a coverage factor above zero, got {k}")
    return _half_width(expanded, "expanded uncertainty") / k


def chi_square_tail(chi_square: float, degrees_of_freedom: int) -> float:
    """Probability that chi-square is larger than the value seen.

    Source: Abramowitz and Stegun, Handbook of Mathematical Functions, 26.4.4 and 26.4.5 (from
        memory): a finite sum for whole degrees of freedom, so that a quick command need not load
        a library of special functions.
    Formula: even nu: exp(-x/2) sum (x/2)^k/k!, k < nu/2; odd nu: erfc(sqrt(x/2)) plus
        exp(-x/2) sum (x/2)^(k-1/2)/Gamma(k+1/2), k = 1..(nu-1)/2.
    Inputs: chi_square [1], degrees_of_freedom [1].
    Outputs: probability [1].
    Valid for: 1 <= nu. Raises: ValueError for nu below 1 or a negative chi-square.
    Example: the 5 % point for 3 degrees of freedom is 7.815 in every table:
        >>> round(chi_square_tail(7.815, 3), 4)
        0.05
    """
    if degrees_of_freedom < 1 or chi_square < 0:
        raise ValueError(f"chi-square {chi_square} on {degrees_of_freedom} degrees cannot be")
    half, odd = chi_square / 2, degrees_of_freedom % 2
    total = math.erfc(math.sqrt(half)) if odd else 0.0
    for k in range(degrees_of_freedom // 2):
        power = k + 0.5 * odd
        log_term = -half - math.lgamma(power + 1) + (power * math.log(half) if half else 0.0)
        total += math.exp(log_term) if half or power == 0 else 0.0
    return min(1.0, total)
