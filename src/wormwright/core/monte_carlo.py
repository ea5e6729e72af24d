"""Propagation of distributions: seeded draws in fixed blocks, and what is read off them."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from statistics import NormalDist

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Model = Callable[[int, Array], Array]
"""A model of (index of its first draw, standard normals of shape (normals, BLOCK)) -> outputs of
shape (outputs, BLOCK). It treats each draw by itself and keeps no state. The last block may run
past the number of draws asked for: the surplus is cut off."""

BLOCK = 8192
"""Draws that share one random stream and one call of the model; part of what a seed means."""

CHUNK = 16 * BLOCK


def monte_carlo(
    model: Model,
    *,
    draws: int,
    normals: int,
    outputs: int,
    seed: int,
    chunk: int = CHUNK,
    threads: int = 1,
    first: int = 0,
) -> Array:
    """Draws of the outputs of a model of standard normals.

    Source: JCGM 101:2008, 7.2 to 7.4.
    Method: the draws are cut into blocks of BLOCK. Block b has its own random stream, made from
    (seed, b), and the model always sees whole blocks; so the draws are the same to the last bit
    whatever the chunk size and the number of threads.
    Inputs: draws wanted; normals the model uses for each draw; outputs it returns; seed >= 0;
        chunk draws handed to a thread at a time; first draw to compute, a multiple of BLOCK.
    Outputs: draws first .. first + draws - 1, shape (outputs, draws).
    Valid for: models made of numpy operations that act on each draw by itself.
    Raises: ValueError for counts below one, or a model that returns another shape.

    >>> z = monte_carlo(lambda start, z: z[:1] + z[1:], draws=20_000, normals=2, outputs=1, seed=1)
    >>> z.shape, bool(abs(z.std() - 2**0.5) < 0.02)
    ((1, 20000), True)
    """
    _check_counts(draws=draws, outputs=outputs, chunk=chunk, threads=threads)
    _check_start(normals=normals, seed=seed, first=first)
    result = np.empty((outputs, draws))
    blocks_each = max(1, chunk // BLOCK)
    last = -(-draws // BLOCK)

    def fill(block: int) -> None:
        z = np.empty((normals, BLOCK))
        for b in range(block, min(block + blocks_each, last)):
            _block_of_draws(model, z, result, b, seed=seed, first=first)

    starts = range(0, last, blocks_each)
    if threads == 1:
        for block in starts:
            fill(block)
    else:
        from concurrent.futures import ThreadPoolExecutor  # noqa: PLC0415  (late: costs start-up)

        with ThreadPoolExecutor(threads) as pool:
            for _ in pool.map(fill, starts):
                pass
    return result


def _check_counts(**counts: int) -> None:
    for name, got in counts.items():
        if got < 1:
            raise ValueError(f"monte_carlo: expected {name} of 1 or more, got {got}")


def _check_start(*, normals: int, seed: int, first: int) -> None:
    if normals < 0 or seed < 0 or first < 0 or first % BLOCK:
        raise ValueError(
            f"monte_carlo: expected normals >= 0, seed >= 0 and first a multiple of {BLOCK}, "
            f"got {normals}, {seed} and {first}"
        )


def _block_of_draws(
    model: Model, z: Array, result: Array, block: int, *, seed: int, first: int
) -> None:
    """Fill one block of `result`, using `z` as the buffer of normals."""
    stream = np.random.SeedSequence(seed, spawn_key=(first // BLOCK + block,))
    np.random.Generator(np.random.SFC64(stream)).standard_normal(out=z)
    at = block * BLOCK
    got = model(first + at, z)
    if got.shape != (len(result), BLOCK):
        raise ValueError(
            f"monte_carlo: expected the model to return shape {(len(result), BLOCK)}, "
            f"got {got.shape}"
        )
    result[:, at : at + BLOCK] = got[:, : result.shape[1] - at]


@dataclass(frozen=True, slots=True)
class AdaptiveDraws:
    """Draws of an adaptive run. `stable` is False when `most` was reached before the digits held.

    `tolerance` is the numerical tolerance of the worst digit asked for, per output.
    """

    draws: Array
    tolerance: Array
    stable: bool


def adaptive_monte_carlo(
    model: Model,
    *,
    normals: int,
    outputs: int,
    seed: int,
    digits: int = 2,
    p: float = 0.95,
    most: int = 10_000_000,
    threads: int = 1,
) -> AdaptiveDraws:
    """As many draws as hold the wanted digits of the standard uncertainty.

    Source: JCGM 101:2008, 7.9.4.
    Formula: trials of M >= max(100/(1 - p), 10 000) draws; after h trials the standard deviation
        s_z of the averages of z = y, u, y_low, y_high; stop when 2 s_z <= tolerance for all.
    Inputs: digits of u to hold (1 or 2 are usual), coverage probability p, most draws allowed.
    Outputs: all draws pooled, the same as one `monte_carlo` of that many draws.
    Valid for: models with a finite standard deviation; 0 < p < 1.
    Raises: ValueError for p outside 0..1 or digits below 1.
    """
    if not 0 < p < 1 or digits < 1:
        raise ValueError(
            f"adaptive_monte_carlo: expected 0 < p < 1 and digits >= 1, got p {p}, digits {digits}"
        )
    trial = BLOCK * math.ceil(max(100 / (1 - p), 10_000) / BLOCK)
    trials: list[Array] = []
    figures: list[Array] = []
    while True:
        draws = monte_carlo(
            model,
            draws=trial,
            normals=normals,
            outputs=outputs,
            seed=seed,
            threads=threads,
            first=trial * len(trials),
        )
        trials.append(draws)
        ends = coverage_interval(draws, p=p)
        figures.append(np.array([draws.mean(axis=1), draws.std(axis=1, ddof=1), *ends.T]))
        if len(trials) < 2:
            continue
        tolerance = np.array(
            [numerical_tolerance(float(u), digits=digits) for u in np.mean(figures, axis=0)[1]]
        )
        spread = np.std(figures, axis=0, ddof=1) / math.sqrt(len(figures))
        stable = bool(np.all(2 * spread <= tolerance))
        if stable or trial * (len(trials) + 1) > most:
            return AdaptiveDraws(np.concatenate(trials, axis=1), tolerance, stable)


def numerical_tolerance(u: float, *, digits: int) -> float:
    """Half of the last of the wanted digits of a standard uncertainty.

    Source: JCGM 101:2008, 7.9.2.
    Formula: u = c·10^l with c an integer of that many digits; tolerance 10^l / 2.
    Inputs: u >= 0 [any], digits >= 1. Outputs: tolerance [as u]; 0 for u = 0.
    Raises: ValueError for a negative u or no digits.

    >>> numerical_tolerance(0.35, digits=2), numerical_tolerance(0.35, digits=1)
    (0.005, 0.05)
    """
    if not u >= 0 or digits < 1:
        raise ValueError(f"numerical_tolerance: expected u >= 0 and digits >= 1, got {u}, {digits}")
    if u == 0:
        return 0.0
    return 0.5 * 10.0 ** int(f"{u:.{digits - 1}e}".split("e")[1]) / 10.0 ** (digits - 1)


def draws_for_digit(u: float, digit: float, *, p: float = 0.95) -> int:
    """Draws after which the ends of the interval hold the printed digit.

    Source: derived: variance of a sample quantile (normal), tolerance as JCGM 101:2008, 7.9.2.
    Formula: s = u·sqrt(q(1 - q)/M)/f(z_q), q = (1 + p)/2; 2 s <= digit/2.
    Inputs: expected standard uncertainty u [any], place value of the last printed digit [as u].
    Outputs: draws, a multiple of BLOCK.
    Valid for: nearly normal outputs; 0 < p < 1.
    Raises: ValueError for a digit not above zero, a negative u, or p outside 0..1.

    >>> draws_for_digit(0.35, 0.1), draws_for_digit(0.35, 0.01)
    (8192, 147456)
    """
    if not (digit > 0 and u >= 0 and 0 < p < 1):
        raise ValueError(
            f"draws_for_digit: expected digit > 0, u >= 0, 0 < p < 1, got {digit}, {u}, {p}"
        )
    normal = NormalDist()
    q = (1 + p) / 2
    density = normal.pdf(normal.inv_cdf(q))
    needed = (4 * u / digit) ** 2 * q * (1 - q) / density**2
    return BLOCK * max(1, math.ceil(needed / BLOCK))


def draws_for_probability(digit: float) -> int:
    """Draws after which a printed probability holds its last digit, at worst (p = 1/2).

    Source: derived: binomial standard deviation sqrt(p(1 - p)/M), tolerance JCGM 101:2008, 7.9.2.
    Formula: 2·sqrt(1/4/M) <= digit/2. Inputs: place value of the last digit, 0 < digit < 1.
    Outputs: draws, a multiple of BLOCK. Raises: ValueError for another digit.

    >>> draws_for_probability(0.01)
    40960
    """
    if not 0 < digit < 1:
        raise ValueError(f"draws_for_probability: expected 0 < digit < 1, got {digit}")
    return BLOCK * math.ceil((2 / digit) ** 2 / BLOCK)


def quantiles(values: Array, probabilities: Sequence[float]) -> Array:
    """Sample quantiles along the last axis, without a full sort.

    Formula: linear between order statistics, at q(M - 1) counted from 0 (numpy's own default).
    Inputs: values [any, (..., M)], probabilities 0..1 [1, (k,)].
    Outputs: quantiles [as values, (..., k)].
    Raises: ValueError for no values or a probability outside 0..1.

    >>> quantiles(np.array([4.0, 1.0, 3.0, 2.0]), [0.0, 0.5]).tolist()
    [1.0, 2.5]
    """
    q = np.asarray(probabilities, dtype=np.float64)
    if values.shape[-1] < 1 or not bool(np.all((q >= 0) & (q <= 1))):
        raise ValueError(
            f"quantiles: expected at least one value and probabilities in 0..1, "
            f"got {values.shape[-1]} and {list(probabilities)}"
        )
    at = q * (values.shape[-1] - 1)
    below = np.floor(at).astype(np.intp)
    above = np.ceil(at).astype(np.intp)
    sorted_there = np.partition(values, np.unique(np.concatenate([below, above])), axis=-1)
    low, high = sorted_there[..., below], sorted_there[..., above]
    result: Array = low + (at - below) * (high - low)
    return result


def coverage_interval(draws: Array, *, p: float = 0.95) -> Array:
    """Probabilistically symmetric coverage interval of draws.

    Source: JCGM 101:2008, 7.7.2.
    Formula: q = pM and r = (M - q)/2, both rounded; [y_(r), y_(r+q)] of the sorted draws.
    Inputs: draws [any, (..., M)], coverage probability p [1].
    Outputs: ends [as draws, (..., 2)]. Valid for: 0 < p < 1 and M(1 - p) >= 2.
    Raises: ValueError when there are too few draws for p.

    >>> coverage_interval(np.arange(1.0, 101.0), p=0.9).tolist()
    [5.0, 95.0]
    """
    m, q = _covered(draws, p)
    r = (m - q + 1) // 2
    ends = np.array([r - 1, r + q - 1])
    result: Array = np.partition(draws, ends, axis=-1)[..., ends]
    return result


def shortest_coverage_interval(draws: Array, *, p: float = 0.95) -> Array:
    """Shortest coverage interval of draws.

    Source: JCGM 101:2008, 5.3.4 and 7.7.3.
    Formula: q = pM rounded; the r with the least y_(r+q) - y_(r) of the sorted draws.
    Inputs: draws [any, (M,)], coverage probability p [1]. Outputs: ends [as draws, (2,)].
    Valid for: 0 < p < 1 and M(1 - p) >= 2. Near a flat top the ends move much more than the length.
    Raises: ValueError when there are too few draws for p.

    >>> shortest_coverage_interval(np.arange(40.0) ** 2, p=0.9).tolist()
    [0.0, 1296.0]
    """
    m, q = _covered(draws, p)
    y = np.sort(draws)
    r = int(np.argmin(y[q:] - y[: m - q]))
    return np.array([y[r], y[r + q]])


def _covered(draws: Array, p: float) -> tuple[int, int]:
    """Number of draws M and the count q = pM of them inside, JCGM 101:2008, 7.7.2."""
    m = draws.shape[-1]
    if not 0 < p < 1 or m * (1 - p) < 2:
        raise ValueError(
            f"coverage interval: expected 0 < p < 1 and at least 2/(1 - p) draws, "
            f"got p {p} and {m} draws; draw more"
        )
    return m, math.floor(p * m + 0.5)
