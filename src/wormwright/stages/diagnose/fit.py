"""The fit: rows and ranges in, the best point, the chi-square and the joint belief out."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from wormwright.bench import PITCH_NOISE
from wormwright.core.bounded_fit import (
    Draws,
    Share,
    best_point_within_bounds,
    draws_within_bounds,
)
from wormwright.core.standard_uncertainty import chi_square_tail
from wormwright.job.findings import PLAYS, SHARES, UNKNOWNS, VECTORS, Posterior
from wormwright.job.pair import WormPair
from wormwright.stages.diagnose.ranges import COMPLIANCE, WEAR, UsualRange
from wormwright.stages.diagnose.rows import Row

Array = NDArray[np.float64]

LINEAR = (*PLAYS, *VECTORS, COMPLIANCE)
SHARED = ("table_radial", "worm_float")
"""The plays that a share multiplies, in the order of SHARES."""

SURE_OF_MISFIT = 0.01
"""Chi-square probability below which the readings are said to disagree with the model."""

WIDENING = 6.0


@dataclass(frozen=True, slots=True)
class Fit:
    """The outcome of one fit. `outside` names unknowns beyond their usual range."""

    posterior: Posterior
    best: dict[str, float]
    predicted: Array
    predicted_in_range: Array
    chi_square: float
    degrees_of_freedom: int
    p: float
    outside: tuple[str, ...]
    names: tuple[str, ...]
    x: Array
    k: Array

    def of(self, unknown: str) -> Array:
        """All draws of one unknown of the fit, those beside the posterior included, (draws,)."""
        column: Array = self.x[:, self.names.index(unknown)]
        return column

    def seen_by(self, row: Row) -> Array:
        """What a reading of that row would show without its own noise, by draw, mm at r2."""
        sees = np.array([row.sees.get(name, 0.0) for name in self.names])
        shares = (row.table_share, row.worm_share)
        seen: Array = self.x @ sees
        for m, (play, factor) in enumerate(zip(SHARED, shares, strict=True)):
            seen = seen + factor * self.k[:, m] * self.of(play)
        return seen

    def kept(self, index: NDArray[np.intp]) -> Fit:
        """The same fit with only those draws, repeated ones included."""
        draws = Posterior(self.posterior.draws[index], self.posterior.seed)
        return replace(self, posterior=draws, x=self.x[index], k=self.k[index])


class _Problem:
    """The rows as whitened arrays, with one extra unknown for each pin radius in doubt."""

    def __init__(self, rows: list[Row], ranges: dict[str, UsualRange]) -> None:
        self.rows = rows
        pins = sorted({r.pin for r in rows if r.pin and r.pin[1] > 0})
        plain = (*LINEAR, WEAR) if any(WEAR in r.sees for r in rows) else LINEAR
        self.names = (*plain, *(f"pin {i}" for i in range(len(pins))))
        self.low = np.array([ranges[n].low for n in plain] + [-6 * u / r for r, u in pins])
        self.high = np.array([ranges[n].high for n in plain] + [6 * u / r for r, u in pins])
        n, d = len(rows), len(self.names)
        white = _whitening(rows, [u / r for r, u in pins])
        a = np.zeros((n + len(pins), d))
        y = np.zeros(n + len(pins))
        table, worm = np.zeros_like(y), np.zeros_like(y)
        for i, row in enumerate(rows):
            y[i] = row.value
            for name, coefficient in row.sees.items():
                a[i, self.names.index(name)] = coefficient
            table[i], worm[i] = row.table_share, row.worm_share
            if row.pin in pins:
                a[i, len(plain) + pins.index(row.pin)] = row.value
        for i in range(len(pins)):
            a[n + i, len(plain) + i] = 1.0
        self.plain, self.columns = a[:n], (table[:n], worm[:n])
        self.a, self.y = white @ a, white @ y
        self.shares = tuple(
            Share(self.names.index(play), white @ column, ranges[share].low, ranges[share].high)
            for share, play, column in zip(SHARES, SHARED, (table, worm), strict=True)
        )

    def with_shares(self, k: Array) -> Array:
        """The whitened matrix with the shares fixed at k."""
        a: Array = self.a.copy()
        for share, value in zip(self.shares, k, strict=True):
            a[:, share.column] += value * share.rows
        return a

    def best(self) -> tuple[Array, Array, float]:
        """Best point, its prediction of the rows in mm, and chi-square; shares fitted too."""
        k = np.array([(s.low + s.high) / 2 for s in self.shares])
        chi_square = np.inf
        for _ in range(30):
            a = self.with_shares(k)
            x = best_point_within_bounds(a, self.y, low=self.low, high=self.high)
            rest = self.y - a @ x
            before, chi_square = chi_square, float(rest @ rest)
            if before - chi_square < 1e-6:
                break
            for m, s in enumerate(self.shares):
                slope = x[s.column] * s.rows
                size = float(slope @ slope)
                if size > 1e-12:
                    new = float(np.clip(k[m] + slope @ rest / size, s.low, s.high))
                    rest = rest - (new - k[m]) * slope
                    k[m] = new
        predicted = self.plain @ x
        for value, share, column in zip(k, self.shares, self.columns, strict=True):
            predicted = predicted + value * x[share.column] * column
        return x, predicted, chi_square

    def degrees_of_freedom(self) -> int:
        """Readings less what they fix: the rank of the rows at mid shares."""
        middle = np.array([(s.low + s.high) / 2 for s in self.shares])
        scaled = self.with_shares(middle) * (self.high - self.low)
        return len(self.y) - int(np.linalg.matrix_rank(scaled, tol=1e-6))


def _whitening(rows: list[Row], pins: list[float]) -> Array:
    """The matrix that makes the rows independent with unit doubt.

    Rocks at one table position share the pitch error of the teeth in mesh there.
    """
    u = np.array([r.u for r in rows] + pins)
    covariance = np.diag(u**2)
    place = np.array(
        [
            round(math.degrees(r.table_angle) * 10) % 3600 if r.table_angle is not None else -1
            for r in rows
        ]
    )
    same = (place[:, None] == place[None, :]) & (place[:, None] >= 0)
    n = len(rows)
    covariance[:n, :n] += PITCH_NOISE**2 * same
    white: Array = np.asarray(np.linalg.inv(np.linalg.cholesky(covariance)), float)
    return white


def _p_of(chi_square: float, dof: int) -> float:
    return chi_square_tail(chi_square, dof) if dof >= 1 else 1.0


def fit_rows(
    rows: list[Row], ranges: dict[str, UsualRange], pair: WormPair, *, worm_share: float, seed: int
) -> Fit:
    """Fit the rows inside the usual ranges; widen them when the readings say they must be."""
    problem = _Problem(rows, ranges)
    x, in_range, chi_square = problem.best()
    predicted = in_range
    dof = problem.degrees_of_freedom()
    p = _p_of(chi_square, dof)
    outside: tuple[str, ...] = ()
    used = ranges
    if p < SURE_OF_MISFIT or (dof < 1 and chi_square > 9):
        used = {n: r if n in SHARES else r.widened(WIDENING) for n, r in ranges.items()}
        problem = _Problem(rows, used)
        x, predicted, wide = problem.best()
        outside = tuple(
            n
            for n, v in zip(problem.names, x, strict=True)
            if n in ranges and not ranges[n].low - 1e-9 <= v <= ranges[n].high + 1e-9
        )
        if _p_of(wide, dof) < SURE_OF_MISFIT and dof >= 1:
            stretch = np.sqrt(wide / dof)
            problem.a, problem.y = problem.a / stretch, problem.y / stretch
            problem.shares = tuple(s._replace(rows=s.rows / stretch) for s in problem.shares)
    drawn = draws_within_bounds(
        problem.a, problem.y, problem.shares, low=problem.low, high=problem.high, seed=seed
    )
    posterior = _belief(problem, drawn, pair, worm_share=worm_share, seed=seed)
    best = dict(zip(problem.names, x.tolist(), strict=True))
    seen = (posterior, best, predicted, in_range)
    return Fit(*seen, chi_square, dof, p, outside, problem.names, drawn.x, drawn.k)


def _belief(
    problem: _Problem, drawn: Draws, pair: WormPair, *, worm_share: float, seed: int
) -> Posterior:
    """Draws of the unknowns in the order of UNKNOWNS; runout carries the doubt of the angle."""
    columns = {n: drawn.x[:, i] for i, n in enumerate(problem.names)}
    if pair.pressure_angle_u > 0:
        rng = np.random.default_rng([seed, 1])
        angle = rng.normal(pair.pressure_angle, pair.pressure_angle_u, len(drawn.x))
        scale = pair.t / np.tan(np.clip(angle, 0.17, 0.62))
        for name in VECTORS:
            columns[name] = columns[name] * scale
    columns["table_share"] = drawn.k[:, 0] * np.hypot(1.0, pair.t)
    columns["worm_share"] = drawn.k[:, 1] * worm_share
    return Posterior(np.column_stack([columns[n] for n in UNKNOWNS]), seed)
