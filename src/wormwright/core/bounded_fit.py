"""Least squares with bounds: the best point, and draws from everything the readings allow.

Model of n whitened readings (each divided by its standard uncertainty):

    y = A x + sum_m k_m x_c(m) a_m + N(0, 1),   low <= x <= high,   k_low <= k <= k_high

with a flat belief inside the bounds. The k are shares (of a play that is taken up) that
multiply one unknown each. Nothing here knows about gears.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


class Share(NamedTuple):
    """A multiplier k in [low, high] on unknown number `column`, entering the readings by `rows`."""

    column: int
    rows: Array
    low: float
    high: float


class Draws(NamedTuple):
    """Equally likely points: `x` of shape (draws, unknowns), `k` of shape (draws, shares)."""

    x: Array
    k: Array


def best_point_within_bounds(a: Array, y: Array, *, low: Array, high: Array) -> Array:
    """The point of least squares inside a box; the flat directions go to the middle of the box.

    Source: active-set method (Lawson and Hanson, Solving Least Squares Problems, ch. 23; from
        memory), with a very weak pull to the middle so that the answer is unique.
    Formula: minimise |A x - y|² + eps²|(x - middle)/range|² subject to low <= x <= high.
    Inputs: a (n, d), y (n,) whitened [1]; low, high (d,) in the units of x.
    Outputs: x (d,).
    Valid for: any rank. Raises: ValueError when a bound is crossed.
    Example:
        >>> a, y = np.array([[1.0, 1.0]]), np.array([3.0])
        >>> best_point_within_bounds(a, y, low=np.zeros(2), high=np.array([1.0, 9.0])).round(3)
        array([0.476, 2.524])
    """
    if np.any(low > high):
        raise ValueError("a lower bound lies above its upper bound")
    span = np.where(high > low, high - low, 1.0)
    middle = (low + high) / 2
    weak = 1e-4
    stacked = np.vstack([a * span, weak * np.eye(len(span))])
    wanted = np.concatenate([y, weak * middle / span])
    z_low, z_high = low / span, high / span
    z = middle / span
    free = high > low
    for _ in range(20 * len(span)):
        trial = z.copy()
        held = stacked[:, ~free] @ z[~free]
        trial[free] = np.linalg.lstsq(stacked[:, free], wanted - held, rcond=None)[0]
        step = trial - z
        with np.errstate(divide="ignore", invalid="ignore"):
            room = np.where(step > 0, (z_high - z) / step, (z_low - z) / step)
        room[~free | (step == 0)] = np.inf
        first = int(np.argmin(room))
        if room[first] < 1:
            z = z + step * max(room[first], 0.0)
            z[first] = z_high[first] if step[first] > 0 else z_low[first]
            free[first] = False
            continue
        z = trial
        pull = stacked.T @ (wanted - stacked @ z)
        wrong = ~free & (high > low) & np.where(z <= z_low, pull > 1e-10, pull < -1e-10)
        if not wrong.any():
            break
        free[int(np.argmax(np.where(wrong, np.abs(pull), -1)))] = True
    result: Array = np.clip(z * span, low, high)
    return result


def draws_within_bounds(
    a: Array,
    y: Array,
    shares: tuple[Share, ...],
    *,
    low: Array,
    high: Array,
    seed: int,
    chains: int = 512,
    sweeps: int = 8,
    settle: int = 10,
    thin: int = 2,
) -> Draws:
    """Draws of (x, k) from the normal likelihood cut to the bounds.

    Source: Gibbs sampling along the principal directions of the unbounded posterior
        (Gelman et al., Bayesian Data Analysis, 3rd ed., ch. 11; from memory), each step by slice
        sampling (Neal, Annals of Statistics 31, 2003; from memory), which keeps to the bounds
        without any special function. The principal directions make the steps nearly independent
        even when readings fix only sums of plays.
    Inputs: a (n, d), y (n,), shares; low, high (d,); seed; chains side by side, sweeps kept from
        each, settle sweeps dropped first, thin sweeps between kept ones.
    Outputs: Draws with chains*sweeps rows.
    Valid for: bounded unknowns. Raises: ValueError when a bound is not finite or crossed.
    Example: no reading at all gives the flat belief back.
        >>> flat = draws_within_bounds(np.zeros((1, 1)), np.zeros(1), (), low=np.zeros(1),
        ...     high=np.ones(1), seed=1)
        >>> bool(abs(flat.x.mean() - 0.5) < 0.02)
        True
    """
    if not (np.all(np.isfinite(low)) and np.all(np.isfinite(high)) and np.all(low < high)):
        raise ValueError("every unknown needs finite bounds, low below high")
    chain = _Chains(
        a, y, shares, low=low, high=high, rng=np.random.default_rng(seed), chains=chains
    )
    kept_x, kept_k = [], []
    for sweep in range(settle + sweeps * thin):
        chain.sweep()
        if sweep >= settle and (sweep - settle) % thin == thin - 1:
            kept_x.append(chain.x.T.copy())
            kept_k.append(chain.k.T.copy())
    return Draws(np.concatenate(kept_x), np.concatenate(kept_k))


def _compressed(a: Array, y: Array, shares: tuple[Share, ...]) -> tuple[Array, Array, list[Array]]:
    """The same likelihood in as few rows as there are columns (orthogonal reduction)."""
    columns = np.column_stack([a, *[s.rows for s in shares], y])
    r: Array = np.asarray(np.linalg.qr(columns, mode="r"))
    d = a.shape[1]
    return r[:, :d], r[:, -1], [r[:, d + m] for m in range(len(shares))]


class _Chains:
    """Chains side by side: each sweep moves every chain along every direction in turn.

    Arrays hold one column a chain: x (d, chains), k (shares, chains), rest (n, chains).
    """

    def __init__(
        self,
        a: Array,
        y: Array,
        shares: tuple[Share, ...],
        *,
        low: Array,
        high: Array,
        rng: np.random.Generator,
        chains: int,
    ) -> None:
        self.a, y, self.rows = _compressed(a, y, shares)
        self.shares, self.rng = shares, rng
        self.low, self.high = low[:, None], high[:, None]
        middle = np.array([(s.low + s.high) / 2 for s in shares])
        fixed = self._matrix(middle)
        span = high - low
        information = (fixed * span).T @ (fixed * span) + 12 * np.eye(len(span))
        self.ways = [_way(v * span, low, high) for v in np.linalg.eigh(information)[1].T]
        self.makes_room = [
            self._compensation(fixed, s, row, information, span)
            for s, row in zip(shares, self.rows, strict=True)
        ]
        start = best_point_within_bounds(fixed, y, low=low, high=high)
        self.x = np.repeat(start[:, None], chains, axis=1)
        self.k = np.repeat(middle[:, None], chains, axis=1)
        self.rest = y[:, None] - fixed @ self.x

    def _matrix(self, k: Array) -> Array:
        """The matrix with every share fixed at k."""
        fixed: Array = self.a.copy()
        for share, row, value in zip(self.shares, self.rows, k, strict=True):
            fixed[:, share.column] += value * row
        return fixed

    @staticmethod
    def _compensation(
        fixed: Array, share: Share, row: Array, information: Array, span: Array
    ) -> Array:
        """How the other unknowns give way when a share grows, so that the readings still fit."""
        others = np.arange(len(span)) != share.column
        wanted = (fixed * span).T @ row
        out: Array = np.zeros(len(span))
        out[others] = -np.linalg.solve(information[np.ix_(others, others)], wanted[others])
        return out * span

    def sweep(self) -> None:
        """One move along every principal direction, then one of every share."""
        for way in self.ways:
            slope = np.broadcast_to((self.a @ way.v)[:, None], self.rest.shape)
            for m, s in enumerate(self.shares):
                slope = slope + self.rows[m][:, None] * (self.k[m] * way.v[s.column])
            self.x += way.v[:, None] * self._step(slope, way.room(self.x))
            np.clip(self.x, self.low, self.high, out=self.x)
        for m, s in enumerate(self.shares):
            play = self.x[s.column]
            v = self.makes_room[m][:, None] * play
            slope = self.rows[m][:, None] * play + self.a @ v
            for other, o in enumerate(self.shares):
                slope += self.rows[other][:, None] * (self.k[other] * v[o.column])
            nearest, farthest = self._room(v)
            bounds = (
                np.maximum(nearest, s.low - self.k[m]),
                np.minimum(farthest, s.high - self.k[m]),
            )
            step = self._step(slope, bounds)
            self.k[m] = np.clip(self.k[m] + step, s.low, s.high)
            self.x = np.clip(self.x + step * v, self.low, self.high)

    def _room(self, v: Array) -> tuple[Array, Array]:
        """Least and greatest step along v, another in every chain, that stays inside the bounds."""
        with np.errstate(divide="ignore", invalid="ignore"):
            one, other = (self.low - self.x) / v, (self.high - self.x) / v
        still = v == 0
        nearest = np.where(still, -np.inf, np.minimum(one, other)).max(axis=0)
        farthest = np.where(still, np.inf, np.maximum(one, other)).min(axis=0)
        return nearest, farthest

    def _step(self, slope: Array, bounds: tuple[Array, Array]) -> Array:
        """A slice-sampled step inside the bounds in every chain; keeps `rest` in step.

        The slice of the normal in the step holds every step whose density is above a random
        share of the present one: |step - mean| <= reach.
        """
        precision = np.einsum("nc,nc->c", slope, slope) + 1e-9
        mean = np.einsum("nc,nc->c", slope, self.rest) / precision
        nearest, farthest = np.minimum(bounds[0], 0.0), np.maximum(bounds[1], 0.0)
        reach = np.sqrt(mean**2 + 2 * self.rng.standard_exponential(len(mean)) / precision)
        nearest, farthest = np.maximum(nearest, mean - reach), np.minimum(farthest, mean + reach)
        step: Array = nearest + self.rng.random(len(mean)) * (farthest - nearest)
        self.rest -= slope * step
        return step


class _Way(NamedTuple):
    """A direction v that all chains share, with the bound met first going back and ahead.

    `moves` are the unknowns that it changes; the others hold only for those.
    """

    v: Array
    moves: slice | NDArray[np.intp]
    per_unit: Array
    behind: Array
    before: Array

    def room(self, x: Array) -> tuple[Array, Array]:
        """Least and greatest step from every column of x that stays inside the bounds."""
        moved = x[self.moves]
        return (
            ((self.behind - moved) * self.per_unit).max(axis=0),
            ((self.before - moved) * self.per_unit).min(axis=0),
        )


def _way(v: Array, low: Array, high: Array) -> _Way:
    all_move = bool(np.all(v))
    moves: slice | NDArray[np.intp] = slice(None) if all_move else np.flatnonzero(v)
    some = v[moves]
    grows = some > 0
    behind = np.where(grows, low[moves], high[moves])
    before = np.where(grows, high[moves], low[moves])
    return _Way(v, moves, 1 / some[:, None], behind[:, None], before[:, None])
