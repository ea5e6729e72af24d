"""Draws of the usual shapes of doubt, made from standard normal draws, and their spread."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

FEWEST_FOR_T = 4
"""From so many repeats on the t distribution of their mean has a standard deviation."""


def rectangular_of_normal(z: Array, *, low: float, high: float) -> Array:
    """Rectangular draws made from standard normal draws.

    Source: JCGM 101:2008, 6.4.2 and C.2 (inverse of the distribution function).
    Formula: low + (high - low)·Phi(z). Inputs: z [1, any shape], ends [any].
    Outputs: draws [as ends, as z]. Raises: ValueError for crossed ends.

    >>> rectangular_of_normal(np.array([0.0]), low=1.0, high=3.0).tolist()
    [2.0]
    """
    _check_ends("rectangular", low, high)
    result: Array = low + (high - low) * _share_below(z)
    return result


def triangular_of_normal(z: Array, *, low: float, high: float) -> Array:
    """Triangular draws, likeliest half way, made from standard normal draws.

    Source: JCGM 101:2008, 6.4.5 (inverse of the distribution function).
    Formula: r = Phi(z); low + (high - low) sqrt(r/2) below the middle, mirrored above.
    Inputs: z [1, any shape], ends [any]. Outputs: draws [as ends, as z].
    Raises: ValueError for crossed ends.

    >>> triangular_of_normal(np.array([0.0]), low=1.0, high=3.0).tolist()
    [2.0]
    """
    _check_ends("triangular", low, high)
    r = _share_below(z)
    part = np.where(r <= 0.5, np.sqrt(r / 2), 1 - np.sqrt((1 - r) / 2))
    result: Array = low + (high - low) * part
    return result


def arcsine_of_normal(z: Array, *, low: float, high: float) -> Array:
    """Draws of a quantity that swings like a sine between two ends, from standard normals.

    Source: JCGM 101:2008, 6.4.6.
    Formula: (low + high)/2 + (high - low)/2 · sin(2 pi r), r = Phi(z).
    Inputs: z [1, any shape], ends [any]. Outputs: draws [as ends, as z].
    Raises: ValueError for crossed ends.

    >>> arcsine_of_normal(np.array([0.0]), low=-0.5, high=0.5).round(6).tolist()
    [0.0]
    """
    _check_ends("arcsine", low, high)
    swing = np.sin(2 * math.pi * _share_below(z))
    result: Array = (low + high) / 2 + (high - low) / 2 * swing
    return result


def curvilinear_trapezoid_of_normal(
    z: Array, other: Array, *, low: float, high: float, inexact: float
) -> Array:
    """Draws of a rectangle whose ends are themselves known only to ± inexact.

    Source: JCGM 101:2008, 6.4.3.4 (named CTrap there).
    Formula: a = low - d + 2d r1, b = low + high - a, draw = a + (b - a) r2; d = inexact,
        r1 = Phi(z), r2 = Phi(other).
    Inputs: z, other: independent standard normals [1, one shape]; ends and inexact [any].
    Outputs: draws [as ends, as z]. Valid for: 0 <= inexact < (high - low)/2.
    Raises: ValueError outside.

    >>> curvilinear_trapezoid_of_normal(
    ...     np.array([0.0]), np.array([0.0]), low=1.0, high=3.0, inexact=0.5).tolist()
    [2.0]
    """
    _check_ends("curvilinear trapezoid", low, high)
    if not 0 <= inexact < max((high - low) / 2, 5e-324):
        raise ValueError(
            f"curvilinear trapezoid: expected the ends inexact by 0 to half their distance, "
            f"got {inexact} for {low} to {high}"
        )
    a = low - inexact + 2 * inexact * _share_below(z)
    result: Array = a + (low + high - 2 * a) * _share_below(other)
    return result


def scaled_t_of_normal(z: Array, *, mean: float, u: float, dof: float) -> Array:
    """Draws of a scaled and shifted t distribution, made from standard normal draws.

    Source: JCGM 101:2008, 6.4.9 (mean of few repeats, or U/k of a certificate with its degrees of
        freedom).
    Formula: mean + u·t, t the quantile of Student's t at Phi(z).
    Inputs: z [1, any shape]; mean, u [any]; dof [1]. Outputs: draws [as mean, as z].
    Valid for: u >= 0, dof >= 1; the draws have a standard deviation only for dof > 2.
    Raises: ValueError outside.

    >>> scaled_t_of_normal(np.array([0.0, 1.959964]), mean=5.0, u=0.1, dof=4).round(3).tolist()
    [5.0, 5.278]
    """
    if not (u >= 0 and dof >= 1):
        raise ValueError(f"t distribution: expected u >= 0 and dof >= 1, got {u} and {dof}")
    from scipy.special import stdtrit  # noqa: PLC0415  (late: costs start-up)

    lower = stdtrit(dof, _share_below(-np.abs(z)))  # the lower tail keeps its digits far out
    result: Array = mean + u * np.copysign(lower, z)
    return result


def standard_uncertainty_of_few_repeats(s: float, *, n: int) -> float:
    """Standard deviation of the t distribution that stands for the mean of few repeats.

    Source: JCGM 101:2008, 6.4.9.4 with 9.2.4 note on degrees of freedom.
    Formula: sqrt((n - 1)/(n - 3))·s/sqrt(n).
    Inputs: s of the repeats [any], their number n. Outputs: u [as s].
    Valid for: n >= 4; of fewer repeats take a pooled deviation, whose degrees are more.
    Raises: ValueError for fewer repeats or a negative s.

    >>> round(standard_uncertainty_of_few_repeats(1.0, n=4), 4)
    0.866
    """
    if n < FEWEST_FOR_T or not s >= 0:
        raise ValueError(
            f"mean of few repeats: expected {FEWEST_FOR_T} repeats or more and s >= 0, got {n} and "
            f"{s}; take the deviation pooled over several groups"
        )
    return math.sqrt((n - 1) / (n - 3)) * s / math.sqrt(n)


def standard_uncertainty_of_curvilinear_trapezoid(half_width: float, *, inexact: float) -> float:
    """Standard uncertainty of a rectangle whose ends are known only to ± inexact.

    Source: JCGM 101:2008, 6.4.3.3. Formula: sqrt(a²/3 + d²/9).
    Inputs: half_width a, inexact d [any]. Outputs: u [as a]. Valid for: 0 <= d < a, or both 0.
    Raises: ValueError outside.

    >>> round(standard_uncertainty_of_curvilinear_trapezoid(0.05, inexact=0.025), 5)
    0.03005
    """
    if not (0 <= inexact < half_width or inexact == half_width == 0):
        raise ValueError(
            f"curvilinear trapezoid: expected ends inexact by less than the half-width, "
            f"got {inexact} for ± {half_width}"
        )
    return math.sqrt(half_width**2 / 3 + inexact**2 / 9)


def _check_ends(name: str, low: float, high: float) -> None:
    if not low <= high:
        raise ValueError(f"{name} draws: expected low <= high, got {low} and {high}")


def _share_below(z: Array) -> Array:
    """Phi(z): rectangular draws on 0..1."""
    from scipy.special import ndtr  # noqa: PLC0415  (late: costs start-up)

    result: Array = ndtr(z)
    return result
