"""Waves of known order in an error round the turn, by least squares at uneven angles."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

SEEN = 0.35
"""A wave is told apart when so much of its size is left once the others have taken their part."""
SPARE = 2
"""So many more values than unknowns a fit needs for its scatter."""


@dataclass(frozen=True, slots=True)
class Wave:
    """A wave A·cos(order·(angle - highest)): its size A, and the uncertainty that it has.

    `u` is the standard uncertainty of A, `half` half of its 95 % interval, `highest` the first
    angle of its crest [rad]. `stands_out` is False when so large a wave is common in the scatter
    alone. `alike` are orders that these angles cannot tell from this one.
    """

    order: float
    size: float
    u: float
    half: float
    highest: float
    stands_out: bool
    alike: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class WaveFit:
    """Waves found, orders that could not be told with what they look like (0: the zero, none:
    nothing left to tell it by), and the scatter about the fit."""

    waves: tuple[Wave, ...]
    untold: tuple[tuple[float, float | None], ...]
    scatter: float
    dof: int

    def of(self, order: float) -> Wave | None:
        """The wave of that order, or None."""
        return next((w for w in self.waves if w.order == order), None)


def fit_waves(
    angles: ArrayLike,
    values: ArrayLike,
    *,
    orders: Sequence[float],
    u: ArrayLike = 1.0,
    sets: ArrayLike | None = None,
) -> WaveFit:
    """Sizes and crests of waves of known order, each set of values about a zero of its own.

    Source: linear least squares (Gauss); F test of a pair of coefficients (common practice).
    Formula: y = zero_set + sum a cos(k angle) + b sin(k angle); A = sqrt(a² + b²); scatter from
        the residuals, u giving the weights only; a wave stands out when A²/2 > F_0.95(2, dof) u_A².
        An order is taken in, in the order given, when its two columns keep the share SEEN of
        their length across the columns already in.
    Inputs: angles (n,) [rad]; values (n,) [any unit]; orders, waves a turn; u, one or (n,),
        standard uncertainty [unit of values]; sets (n,), whole numbers.
    Outputs: WaveFit in the unit of values.
    Valid for: n >= sets + SPARE. Raises: ValueError for unlike shapes or too few values.

    >>> angles = np.radians([0, 47, 95, 139, 184, 228, 272, 318])
    >>> fit = fit_waves(angles, 5 * np.cos(angles - 1) + 9, orders=[1], u=0.01)
    >>> round(fit.waves[0].size, 6), round(fit.waves[0].highest, 6)
    (5.0, 1.0)
    >>> fit_waves(np.radians(np.arange(0, 360, 45)), np.ones(8), orders=[72], u=0.1).untold
    ((72, 0.0),)
    """
    phi, y = np.asarray(angles, float), np.asarray(values, float)
    group = np.zeros(len(phi), int) if sets is None else np.asarray(sets, int)
    s = np.broadcast_to(np.asarray(u, float), y.shape)
    zeros = np.equal.outer(group, np.unique(group)).astype(float)
    if phi.ndim != 1 or phi.shape != y.shape or len(y) < zeros.shape[1] + SPARE:
        raise ValueError(
            f"waves: expected angles and values of one length, {SPARE} more than sets, got "
            f"{phi.shape} and {y.shape}"
        )
    kept, untold = _told_apart(phi, zeros, orders)
    design = np.column_stack([zeros, *(_pair(phi, k) for k in kept)]) / s[:, None]
    values_, *_ = np.linalg.lstsq(design, y / s, rcond=None)
    rest = y / s - design @ values_
    dof = len(y) - design.shape[1]
    times = float(rest @ rest) / dof
    covariance = np.linalg.inv(design.T @ design) * times
    first = zeros.shape[1]
    waves = []
    for i, order in enumerate(kept):
        at = slice(first + 2 * i, first + 2 * i + 2)
        alike = tuple(k for k, like in untold if like == order)
        waves.append(_wave(order, values_[at], covariance[at, at], dof, alike))
    return WaveFit(tuple(waves), untold, float(np.sqrt(times * np.mean(s**2))), dof)


def _pair(phi: Array, order: float) -> Array:
    return np.column_stack([np.cos(order * phi), np.sin(order * phi)])


def share_seen(angles: ArrayLike, first: float, second: float) -> float:
    """How much of a wave is left at these angles when the zero and another have taken their part.

    Source: derived: smallest singular value of what the second wave keeps across the first.
    Formula: s_min[(1 - Q Q') W] / sqrt(n/2), Q spanning the zero and the first wave.
    Inputs: angles [rad]; orders of the two waves. Outputs: 0 (not told apart) to about 1.
    Valid for: any. Raises: nothing.

    >>> even = np.radians(np.arange(0, 360, 45))
    >>> round(share_seen(even, 1, 2), 6), round(share_seen(even, 1, 73), 6)
    (1.0, 0.0)
    """
    phi = np.asarray(angles, float)
    return _left(phi, np.column_stack([np.ones_like(phi), _pair(phi, first)]), second)


def _left(phi: Array, basis: Array, order: float) -> float:
    columns = _pair(phi, order)
    q, _ = np.linalg.qr(basis)
    left = columns - q @ (q.T @ columns)
    return float(np.linalg.svd(left, compute_uv=False)[-1]) / math.sqrt(len(phi) / 2)


Untold = tuple[tuple[float, float | None], ...]


def _told_apart(phi: Array, zeros: Array, orders: Sequence[float]) -> tuple[list[float], Untold]:
    """Orders that the angles tell apart, and the others with what each looks like."""
    kept: list[float] = []
    untold: list[tuple[float, float | None]] = []
    for order in orders:
        basis = np.column_stack([zeros, *(_pair(phi, k) for k in kept)])
        if len(phi) - basis.shape[1] - 2 < SPARE:
            untold.append((order, None))
            continue
        if _left(phi, basis, order) >= SEEN:
            kept.append(order)
        else:
            untold.append((order, _likest(_pair(phi, order), zeros, phi, kept)))
    return kept, tuple(untold)


def _likest(columns: Array, zeros: Array, phi: Array, kept: Sequence[float]) -> float:
    """Which of the parts already in takes most of a wave; 0 is the zero."""
    shares = {}
    for order, part in ((0.0, zeros), *((k, _pair(phi, k)) for k in kept)):
        q, _ = np.linalg.qr(part)
        shares[order] = float(np.linalg.norm(q.T @ columns))
    return max(shares, key=lambda k: shares[k])


def _wave(order: float, pair: Array, covariance: Array, dof: int, alike: tuple[float, ...]) -> Wave:
    from scipy.special import fdtri, stdtrit  # noqa: PLC0415  (late: costs start-up)

    size = float(np.hypot(*pair))
    along = pair / size if size > 0 else np.array([1.0, 0.0])
    u = math.sqrt(float(along @ covariance @ along))
    test = float(pair @ np.linalg.solve(covariance, pair)) / 2
    return Wave(
        order=order,
        size=size,
        u=u,
        half=float(stdtrit(dof, 0.975)) * u,
        highest=float(np.arctan2(pair[1], pair[0])) % (2 * math.pi) / order,
        stands_out=test > float(fdtri(2, dof, 0.95)),
        alike=alike,
    )
