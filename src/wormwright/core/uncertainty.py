"""Uncertainty of measurement: first and second order, degrees of freedom and budgets.

The propagation of distributions (`monte_carlo`, `distributions`) and types A and B
(`standard_uncertainty`) are offered here as well.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from statistics import NormalDist

import numpy as np
from numpy.typing import ArrayLike, NDArray

from wormwright.core.distributions import (
    arcsine_of_normal,
    curvilinear_trapezoid_of_normal,
    rectangular_of_normal,
    scaled_t_of_normal,
    standard_uncertainty_of_curvilinear_trapezoid,
    standard_uncertainty_of_few_repeats,
    triangular_of_normal,
)
from wormwright.core.monte_carlo import (
    BLOCK,
    adaptive_monte_carlo,
    coverage_interval,
    draws_for_digit,
    draws_for_probability,
    monte_carlo,
    numerical_tolerance,
    quantiles,
    shortest_coverage_interval,
)
from wormwright.core.standard_uncertainty import (
    MeanOfRepeats,
    covariance_of_means,
    mean_of_repeats,
    pooled_standard_deviation,
    standard_uncertainty_of_arcsine,
    standard_uncertainty_of_expanded,
    standard_uncertainty_of_rectangular,
    standard_uncertainty_of_resolution,
    standard_uncertainty_of_triangular,
)

__all__ = [
    "BLOCK",
    "Agreement",
    "BudgetRow",
    "FirstOrder",
    "MeanOfRepeats",
    "adaptive_monte_carlo",
    "agreement_with_draws",
    "arcsine_of_normal",
    "biggest_contributor",
    "covariance_of_means",
    "coverage_factor",
    "coverage_interval",
    "curvilinear_trapezoid_of_normal",
    "draws_for_digit",
    "draws_for_probability",
    "effective_degrees_of_freedom",
    "first_order",
    "mean_of_repeats",
    "monte_carlo",
    "pooled_standard_deviation",
    "quantiles",
    "rectangular_of_normal",
    "scaled_t_of_normal",
    "second_order_variance",
    "shortest_coverage_interval",
    "standard_uncertainty_of_arcsine",
    "standard_uncertainty_of_curvilinear_trapezoid",
    "standard_uncertainty_of_expanded",
    "standard_uncertainty_of_few_repeats",
    "standard_uncertainty_of_rectangular",
    "standard_uncertainty_of_resolution",
    "standard_uncertainty_of_triangular",
    "triangular_of_normal",
]

Array = NDArray[np.float64]
Function = Callable[[Array], ArrayLike]
"""A function of inputs, shape (n, k), that returns k values for each output: (m, k) or (k,)."""


@dataclass(frozen=True, slots=True)
class BudgetRow:
    """One input of an uncertainty budget. `contribution` = sensitivity × u; shares sum to 1.

    With correlated inputs a share holds half of each covariance term and may be negative.
    """

    name: str
    value: float
    u: float
    dof: float
    sensitivity: float
    contribution: float
    share: float


@dataclass(frozen=True, slots=True)
class FirstOrder:
    """Outputs of a first-order propagation: y (m,), covariance (m, m), sensitivities (m, n)."""

    y: Array
    covariance: Array
    sensitivities: Array
    x: Array
    input_covariance: Array
    dof: Array

    @property
    def u(self) -> Array:
        """Combined standard uncertainty of each output, shape (m,)."""
        return np.sqrt(np.diag(self.covariance))

    @property
    def correlation(self) -> Array:
        """Correlation coefficients between the outputs, shape (m, m)."""
        result: Array = self.covariance / np.outer(self.u, self.u)
        return result

    def budget(self, names: Sequence[str], *, output: int = 0) -> tuple[BudgetRow, ...]:
        """Budget rows of one output, one row an input, in the order of the inputs."""
        c = self.sensitivities[output]
        u = np.sqrt(np.diag(self.input_covariance))
        variance = c * (self.input_covariance @ c)
        total = self.covariance[output, output]
        share = variance / total if total > 0 else np.zeros_like(variance)
        rows = zip(names, self.x, u, self.dof, c, c * u, share, strict=True)
        return tuple(BudgetRow(name, *map(float, row)) for name, *row in rows)

    def effective_dof(self, *, output: int = 0) -> float:
        """Welch–Satterthwaite degrees of freedom of one output; inputs must be uncorrelated."""
        v = self.input_covariance
        u = np.sqrt(np.diag(v))
        if np.any(np.isfinite(self.dof)) and np.any(v != np.diag(np.diag(v))):
            raise ValueError(
                "effective degrees of freedom: the inputs are correlated and some have finite "
                "degrees of freedom; the formula holds for uncorrelated inputs only"
            )
        return effective_degrees_of_freedom(self.sensitivities[output] * u, self.dof)

    def expanded(self, *, output: int = 0, p: float = 0.95) -> float:
        """Half-width of the interval that holds the output with probability p."""
        return coverage_factor(p, dof=self.effective_dof(output=output)) * float(self.u[output])


def first_order(
    f: Function,
    x: ArrayLike,
    *,
    u: ArrayLike | None = None,
    covariance: ArrayLike | None = None,
    dof: ArrayLike = math.inf,
) -> FirstOrder:
    """First-order propagation of uncertainty, correlated inputs included.

    Source: JCGM 100:2008, 5.1.2 and 5.2.2; sensitivities as in 5.1.3 note 2.
    Formula: u_c² = sum over i, j of c_i c_j u(x_i, x_j); c_i = [f(x_i + h_i) - f(x_i - h_i)]/2h_i.
    Inputs: f of arrays (n, k) (called once, with 2n + 1 columns); x [any, (n,)]; either u [as x,
        (n,)] or covariance [(n, n)]; degrees of freedom of each input [1, (n,) or one for all].
    Outputs: values, covariance and sensitivities of the m outputs.
    Valid for: functions smooth and nearly straight within u; see `second_order_variance`.
    Raises: ValueError when not exactly one of u and covariance is given, or it cannot be one.

    >>> r = first_order(lambda x: x[0] * x[1], [3.0, 4.0], u=[0.1, 0.2])
    >>> round(float(r.u[0]), 6)  # hypot(4 × 0.1, 3 × 0.2)
    0.72111
    """
    at = np.asarray(x, dtype=np.float64)
    v = _input_covariance(at, u, covariance)
    n = len(at)
    h = np.maximum(np.sqrt(np.diag(v)) / 64, 6e-6 * np.abs(at))
    h[h == 0] = 6e-6
    h = (at + h) - at  # the step that is really taken
    columns = np.repeat(at[:, None], 2 * n + 1, axis=1)
    each = np.arange(n)
    columns[each, 1 + each] += h
    columns[each, 1 + n + each] -= h
    y = _outputs(f, columns)
    c = (y[:, 1 : 1 + n] - y[:, 1 + n :]) / (2 * h)
    freedom = np.full(n, dof, dtype=np.float64)
    return FirstOrder(y[:, 0], c @ v @ c.T, c, at, v, freedom)


def second_order_variance(f: Function, x: ArrayLike, *, u: ArrayLike) -> Array:
    """What the second-order terms add to the variance of each output.

    Source: JCGM 100:2008, 5.1.2 note.
    Formula: sum over i, j of [(1/2)(d²f/dx_i dx_j)² + (df/dx_i)(d³f/dx_i dx_j²)] u_i² u_j², by
        central differences of a quarter of u.
    Inputs: f of arrays (n, k), called once; x [any, (n,)]; u [as x, (n,)].
    Outputs: variance to add to u_c² [output squared, (m,)]; it may be negative.
    Valid for: uncorrelated inputs, symmetrical about x; needed where a first derivative vanishes.
    Raises: ValueError for negative or missing uncertainties.

    >>> round(float(second_order_variance(lambda x: x[0] ** 2, [0.0], u=[0.1])[0]), 8)  # 2 u⁴
    0.0002
    """
    at = np.asarray(x, dtype=np.float64)
    s = np.sqrt(np.diag(_input_covariance(at, u, None)))
    n, h = len(at), 0.25
    points = {point: k for k, point in enumerate(_stencil(n))}
    z = np.zeros((n, len(points)))
    for point, k in points.items():
        for i, steps in point:
            z[i, k] = steps * h
    y = _outputs(f, at[:, None] + s[:, None] * z)

    def value(*point: tuple[int, int]) -> Array:
        return y[:, points[tuple(sorted(point))]]

    total = np.zeros(len(y))
    for i in range(n):
        d1 = (value((i, 1)) - value((i, -1))) / (2 * h)
        for j in range(n):
            if i == j:
                d2 = (value((i, 1)) - 2 * value() + value((i, -1))) / h**2
                d3 = (value((i, 2)) - value((i, -2))) / (2 * h**3) - 2 * d1 / h**2
            else:
                pp, pm = value((i, 1), (j, 1)), value((i, 1), (j, -1))
                mp, mm = value((i, -1), (j, 1)), value((i, -1), (j, -1))
                d2 = (pp - pm - mp + mm) / (4 * h**2)
                d3 = (pp + pm - mp - mm) / (2 * h**3) - 2 * d1 / h**2
            total += d2**2 / 2 + d1 * d3
    return total


def _stencil(n: int) -> list[tuple[tuple[int, int], ...]]:
    """Points, as (input, steps) pairs, that second and third differences of n inputs need."""
    alone = [((i, k),) for i in range(n) for k in (-2, -1, 1, 2)]
    pairs = [
        ((i, a), (j, b))
        for i in range(n)
        for j in range(i + 1, n)
        for a in (-1, 1)
        for b in (-1, 1)
    ]
    return [(), *alone, *pairs]


def _outputs(f: Function, columns: Array) -> Array:
    """The function at each column, shape (m, k), refused when it is not one value a column."""
    y = np.atleast_2d(np.asarray(f(columns), dtype=np.float64))
    if y.ndim != 2 or y.shape[1] != columns.shape[1]:
        raise ValueError(
            f"propagation: expected the function to return (outputs, {columns.shape[1]}), "
            f"got shape {y.shape}"
        )
    if not np.isfinite(y).all():
        raise ValueError("propagation: the function is not finite within the uncertainty of x")
    return y


def _input_covariance(x: Array, u: ArrayLike | None, covariance: ArrayLike | None) -> Array:
    """Covariance matrix of the inputs from either form, checked."""
    if (u is None) == (covariance is None):
        raise ValueError("propagation: expected exactly one of u and covariance")
    if u is not None:
        s = np.asarray(u, dtype=np.float64)
        if s.shape != x.shape or not (s >= 0).all():
            raise ValueError(f"propagation: expected u >= 0 of shape {x.shape}, got {u!r}")
        return np.diag(s**2)
    v = np.asarray(covariance, dtype=np.float64)
    if v.shape != (len(x), len(x)) or not np.array_equal(v, v.T) or np.any(np.diag(v) < 0):
        raise ValueError(f"propagation: expected a symmetric covariance of {len(x)} inputs")
    return v


def effective_degrees_of_freedom(contributions: ArrayLike, dof: ArrayLike) -> float:
    """Welch–Satterthwaite effective degrees of freedom.

    Source: JCGM 100:2008, G.4.1, formula (G.2b).
    Formula: u_c⁴ / sum of (c_i u_i)⁴/dof_i.
    Inputs: contributions c_i u_i [output, (n,)], degrees of freedom of each [1, (n,)], inf allowed.
    Outputs: degrees of freedom, not yet cut to an integer (`coverage_factor` cuts it).
    Valid for: uncorrelated contributions. Raises: ValueError for degrees of freedom not above zero.

    >>> effective_degrees_of_freedom([3.0, 4.0], [math.inf, 4.0])
    9.765625
    """
    c2 = np.asarray(contributions, dtype=np.float64) ** 2
    nu = np.asarray(dof, dtype=np.float64)
    if not np.all(nu > 0):
        raise ValueError(f"degrees of freedom: expected all above zero, got {dof!r}")
    below = float(np.sum(c2**2 / nu))
    return float(np.sum(c2)) ** 2 / below if below > 0 else math.inf


def coverage_factor(p: float, *, dof: float = math.inf) -> float:
    """Factor k that makes k·u hold the value with probability p.

    Source: JCGM 100:2008, G.3.2 and G.4.1 (degrees of freedom cut to the next lower integer).
    Formula: k = t_p(dof), two-sided Student t; the normal for infinite degrees of freedom.
    Inputs: probability p [1], degrees of freedom [1]. Outputs: k [1].
    Valid for: 0 < p < 1, dof >= 1. Raises: ValueError outside.

    >>> round(coverage_factor(0.95), 2), round(coverage_factor(0.99, dof=16.7), 2)
    (1.96, 2.92)
    """
    if not (0 < p < 1 and dof >= 1):
        raise ValueError(f"coverage factor: expected 0 < p < 1 and dof >= 1, got p {p}, dof {dof}")
    q = (1 + p) / 2
    if math.isinf(dof):
        return NormalDist().inv_cdf(q)
    from scipy.special import stdtrit  # noqa: PLC0415  (late: costs start-up)

    return float(stdtrit(math.floor(dof + 1e-9), q))


def biggest_contributor(rows: Sequence[BudgetRow]) -> BudgetRow:
    """The row of a budget that carries most of the variance: what to improve first.

    Formula: largest share. Inputs: rows of a budget. Outputs: one of them, the first of equals.
    Valid for: any budget. Raises: ValueError for one without rows.

    >>> rows = first_order(lambda x: x[0] + 3 * x[1], [1, 1], u=[0.2, 0.1]).budget(["pin", "dial"])
    >>> biggest_contributor(rows).name
    'dial'
    """
    if not rows:
        raise ValueError("budget: expected one row or more, got none")
    return max(rows, key=lambda row: row.share)


@dataclass(frozen=True, slots=True)
class Agreement:
    """How far the ends of a first-order interval lie from those of draws, and what is allowed."""

    low: float
    high: float
    tolerance: float

    @property
    def agrees(self) -> bool:
        """Whether both ends hold the wanted digits, so that the first order may be used."""
        return max(self.low, self.high) <= self.tolerance


def agreement_with_draws(
    first: FirstOrder,
    draws: Array,
    *,
    output: int = 0,
    p: float = 0.95,
    digits: int = 1,
    shortest: bool = False,
) -> Agreement:
    """Validation of the first order by propagated distributions.

    Source: JCGM 101:2008, 8.1. The draws should hold a fifth of the tolerance (8.2).
    Formula: d_low = |y - U - y_low|, d_high = |y + U - y_high|; tolerance by 7.9.2.
    Inputs: first-order result; draws of that output [any, (M,)]; coverage p; digits of u that
        must hold (1 or 2 are usual); shortest for the shortest interval, else the symmetric one.
    Outputs: Agreement. Valid for: M(1 - p) >= 2. Raises: ValueError when there are too few draws.

    >>> z = monte_carlo(lambda start, z: z[:1] + z[1:], draws=100_000, normals=2, outputs=1, seed=1)
    >>> agreement_with_draws(first_order(lambda x: x[0] + x[1], [0, 0], u=[1, 1]), z[0]).agrees
    True
    """
    y, u = float(first.y[output]), float(first.u[output])
    half = first.expanded(output=output, p=p)
    interval = shortest_coverage_interval if shortest else coverage_interval
    low, high = interval(draws, p=p)
    return Agreement(
        low=abs(y - half - float(low)),
        high=abs(y + half - float(high)),
        tolerance=numerical_tolerance(u, digits=digits),
    )
