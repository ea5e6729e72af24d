"""A straight line through readings of unknown scatter, its prediction, and when a limit is hit."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from wormwright.core.linear_fit import linear_fit

Array = NDArray[np.float64]

FEWEST = 3
"""Readings below which a line leaves nothing to judge its scatter by."""


@dataclass(frozen=True, slots=True)
class Trend:
    """A line y = intercept + slope·x, the scatter s about it, and where its readings lie.

    `spread` is the sum of (x - mean_x)² and `longest` the span of the readings.
    """

    intercept: float
    slope: float
    s: float
    n: int
    mean_x: float
    spread: float
    longest: float

    @property
    def dof(self) -> int:
        """Degrees of freedom of s."""
        return self.n - 2

    @property
    def slope_u(self) -> float:
        """Standard uncertainty of the slope."""
        return self.s / math.sqrt(self.spread)

    @property
    def intercept_u(self) -> float:
        """Standard uncertainty of the intercept."""
        return self.line_u(0.0)

    @property
    def correlation(self) -> float:
        """Correlation of intercept and slope."""
        return -self.mean_x / math.sqrt(self.spread / self.n + self.mean_x**2)

    def at(self, x: float) -> float:
        """The line at x."""
        return self.intercept + self.slope * x

    def line_u(self, x: float) -> float:
        """Standard uncertainty of the line at x."""
        return self.s * math.sqrt(1 / self.n + (x - self.mean_x) ** 2 / self.spread)

    def new_u(self, x: float) -> float:
        """Standard uncertainty with which the line foretells one new reading at x."""
        return math.hypot(self.s, self.line_u(x))


def trend(x: ArrayLike, y: ArrayLike) -> Trend:
    """Straight line by least squares, all readings equally good.

    Source: JCGM 100:2008, H.3.2 (formulas H.13 to H.13e).
    Formula: slope = sum (x - mean)(y - mean)/S, s² = SSE/(n - 2), S = sum (x - mean)².
    Inputs: x [any, (n,)], y [any, (n,)]. Outputs: Trend.
    Valid for: n >= 3 readings at two places or more, x without error.
    Raises: ValueError for fewer, or all at one place.

    >>> line = trend([0, 1, 2, 3], [1.0, 3.1, 4.9, 7.0])
    >>> round(line.slope, 3), round(line.intercept, 3), line.dof
    (1.98, 1.03, 2)
    """
    at, seen = np.asarray(x, dtype=np.float64), np.asarray(y, dtype=np.float64)
    if at.ndim != 1 or at.shape != seen.shape or len(at) < FEWEST:
        raise ValueError(
            f"trend: expected {FEWEST} readings or more, each with its place, "
            f"got {at.shape} and {seen.shape}"
        )
    mean = float(at.mean())
    away = at - mean
    fit = linear_fit(
        np.column_stack([np.ones_like(at), away]), seen, u=1.0, names=("middle", "slope")
    )
    middle, slope = map(float, fit.values)
    return Trend(
        intercept=middle - slope * mean,
        slope=slope,
        s=math.sqrt(fit.chi_square / fit.dof),
        n=len(at),
        mean_x=mean,
        spread=float(away @ away),
        longest=float(np.ptp(at)),
    )


def half_width(line: Trend, x: float, *, p: float = 0.95, new: bool = True) -> float:
    """Half-width of the two-sided interval about the line at x.

    Source: JCGM 100:2008, G.3 with H.3.4 (Student t).
    Formula: t_p(n - 2)·s·sqrt([1] + 1/n + (x - mean)²/S), the 1 for a new reading.
    Inputs: line; x [as fitted]; p [1]; new: for one new reading, else for the line itself.
    Outputs: half-width [as y]. Valid for: 0 < p < 1. Raises: ValueError outside.

    >>> round(half_width(trend([0, 1, 2, 3], [1.0, 3.1, 4.9, 7.0]), 4.0), 2)
    0.65
    """
    if not 0 < p < 1:
        raise ValueError(f"half-width: expected 0 < p < 1, got {p}")
    return _t(line, (1 + p) / 2) * (line.new_u(x) if new else line.line_u(x))


def limit_reached(line: Trend, limit: float, *, p: float = 0.95) -> float | None:
    """Where a new reading may first stand above a limit, one-sided.

    Source: calibration of a line read backwards (Fieller); derived here.
    Formula: with q = t_p(n - 2) s, L = limit - mean_y, tau = x - mean_x: the smaller root of
        (slope² - q²/S) tau² - 2 slope L tau + L² - q²(1 + 1/n) = 0.
    Inputs: line that rises toward the limit; limit [as y]; p [1].
    Outputs: x [as fitted], or None when the rise is not proven, so that no date can be foretold.
    Valid for: 0.5 <= p < 1, a limit above the upper bound at the mean of the readings.
    Raises: ValueError for p outside, or a limit that the readings have reached already.

    >>> line = trend([0, 25, 50, 80, 110, 150], [18, 21, 22, 26, 27, 33])
    >>> round(limit_reached(line, 60.0), 1)
    384.5
    """
    if not 0.5 <= p < 1:
        raise ValueError(f"limit reached: expected p in 0.5..1, got {p}")
    q = _t(line, p) * line.s
    away = limit - line.at(line.mean_x)
    rest = away**2 - q**2 * (1 + 1 / line.n)
    if away <= 0 or rest <= 0:
        raise ValueError(
            f"limit reached: the readings about x = {line.mean_x:g} are already at the limit "
            f"{limit:g}"
        )
    square = line.slope**2 - q**2 / line.spread
    if line.slope <= 0 or square <= 0:
        return None
    root = math.sqrt((line.slope * away) ** 2 - square * rest)
    return line.mean_x + rest / (line.slope * away + root)


def _t(line: Trend, q: float) -> float:
    """Quantile q of Student's t with the degrees of freedom of the line."""
    from scipy.special import stdtrit  # noqa: PLC0415  (late: costs start-up)

    return float(stdtrit(line.dof, q))
