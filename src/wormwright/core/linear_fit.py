"""Straight least squares with weights: values, covariance, what the readings cannot tell apart."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

SMALL = 1e-9
"""A direction counts as unseen below this share of the best seen one."""


@dataclass(frozen=True, slots=True)
class LinearFit:
    """Values (d,), their covariance (d, d), residuals (n,), chi-square and degrees of freedom."""

    values: Array
    covariance: Array
    residuals: Array
    chi_square: float
    dof: int

    @property
    def u(self) -> Array:
        """Standard uncertainty of each value, (d,)."""
        return np.sqrt(np.diag(self.covariance))


def unseparated(design: ArrayLike, names: Sequence[str]) -> tuple[str, ...]:
    """Names of the unknowns that the readings cannot tell apart, or cannot see at all.

    Source: null space of the design matrix by singular values
        (Golub and Van Loan, Matrix Computations, ch. 2; from memory).
    Formula: an unknown is named when the null space has a part along it.
    Inputs: design (n, d) [1]; names (d,). Outputs: names, in their order; empty when all is told.
    Valid for: any design. Raises: ValueError when names and columns differ in number.

    >>> unseparated([[1, 1, 0], [2, 2, 0], [0, 0, 1]], ["mesh", "joint", "end play"])
    ('mesh', 'joint')
    """
    a = np.atleast_2d(np.asarray(design, dtype=np.float64))
    if a.shape[1] != len(names):
        raise ValueError(f"design of {a.shape[1]} columns: expected as many names, got {names}")
    size = np.linalg.norm(a, axis=0)
    told = size > SMALL * max(size.max(initial=0.0), SMALL)
    scaled = np.where(told, a / np.where(told, size, 1.0), 0.0)
    _, seen, rows = np.linalg.svd(scaled, full_matrices=True)
    rank = int(np.sum(seen > SMALL * max(seen.max(initial=0.0), SMALL)))
    weight = np.sqrt(np.sum(rows[rank:] ** 2, axis=0))
    return tuple(name for name, w in zip(names, weight, strict=True) if w > 1e-6)


def linear_fit(
    design: ArrayLike, readings: ArrayLike, *, u: ArrayLike, names: Sequence[str]
) -> LinearFit:
    """Unknowns of a linear model from readings of known uncertainty.

    Source: weighted least squares (JCGM 100:2008, H.3; Gauss).
    Formula: c = (G' W G)^-1 G' W y, W = diag(1/u^2), cov(c) = (G' W G)^-1.
    Inputs: design G (n, d); readings y (n,); u, one or (n,) [as y]; names of the unknowns (d,).
    Outputs: LinearFit.
    Valid for: n >= d, every unknown seen.
    Raises: ValueError naming the unknowns that cannot be told apart, or a u not above zero.

    >>> fit = linear_fit([[1, 0], [1, 1], [1, 2]], [1.0, 3.0, 5.0], u=0.1, names=["a", "b"])
    >>> fit.values.round(6).tolist(), fit.dof
    ([1.0, 2.0], 1)
    """
    g = np.asarray(design, dtype=np.float64)
    y = np.asarray(readings, dtype=np.float64)
    s = np.broadcast_to(np.asarray(u, dtype=np.float64), y.shape)
    if not (np.all(np.isfinite(y)) and np.all(s > 0)):
        raise ValueError("fit: expected finite readings, each with an uncertainty above zero")
    lost = unseparated(g, names)
    if lost:
        raise ValueError(
            f"{len(y)} readings cannot tell apart: {', '.join(lost)}; expected readings in which "
            "each of them counts differently"
        )
    a, b = g / s[:, None], y / s
    scale = np.linalg.norm(a, axis=0)
    q, r = np.linalg.qr(a / scale)
    inverse = np.linalg.solve(r, np.eye(len(scale))) / scale[:, None]
    values = inverse @ (q.T @ b)
    residuals = y - g @ values
    return LinearFit(
        values=values,
        covariance=inverse @ inverse.T,
        residuals=residuals,
        chi_square=float(np.sum((residuals / s) ** 2)),
        dof=len(y) - g.shape[1],
    )
