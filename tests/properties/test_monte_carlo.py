"""What must hold for any input of the uncertainty engine."""

from __future__ import annotations

import functools
import math
import tracemalloc

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wormwright.core.monte_carlo import Array
from wormwright.core.uncertainty import (
    BLOCK,
    coverage_interval,
    draws_for_digit,
    effective_degrees_of_freedom,
    first_order,
    mean_of_repeats,
    monte_carlo,
    quantiles,
    second_order_variance,
    shortest_coverage_interval,
    standard_uncertainty_of_rectangular,
)


def curved(start: int, z: Array) -> Array:
    which = (start + np.arange(z.shape[1])) % 7
    return np.array([np.cos(z[0]) * z[1] + which, np.maximum(z[2], z[0] - 0.3)])


def plain(start: int, z: Array) -> Array:
    return z


@functools.cache
def reference(draws: int, seed: int) -> Array:
    return monte_carlo(curved, draws=draws, normals=3, outputs=2, seed=seed)


@settings(max_examples=30, deadline=None)
@given(
    draws=st.sampled_from([1, BLOCK - 1, BLOCK, 3 * BLOCK + 17]),
    chunk=st.integers(1, 5 * BLOCK),
    threads=st.integers(1, 4),
    seed=st.integers(0, 3),
)
def test_draws_are_bit_equal_for_any_chunk_size_and_thread_count(
    draws: int, chunk: int, threads: int, seed: int
) -> None:
    got = monte_carlo(
        curved, draws=draws, normals=3, outputs=2, seed=seed, chunk=chunk, threads=threads
    )
    assert np.array_equal(got, reference(draws, seed))


@settings(max_examples=10, deadline=None)
@given(draws=st.integers(1, 3 * BLOCK))
def test_fewer_draws_are_the_first_of_more_draws(draws: int) -> None:
    got = monte_carlo(curved, draws=draws, normals=3, outputs=2, seed=1)
    assert np.array_equal(got, reference(3 * BLOCK + 17, 1)[:, :draws])


def test_another_seed_gives_other_draws_and_blocks_do_not_repeat() -> None:
    a, b = reference(3 * BLOCK + 17, 1), reference(3 * BLOCK + 17, 2)
    assert not np.any(a[0] == b[0])
    assert not np.any(a[1, :BLOCK] == a[1, BLOCK : 2 * BLOCK])


def test_a_million_draws_of_25_normals_need_less_than_200_mb() -> None:
    def model(start: int, z: Array) -> Array:
        return z[:4] + z[4:8]

    tracemalloc.start()
    y = monte_carlo(model, draws=1_000_000, normals=25, outputs=4, seed=1, threads=2)
    coverage_interval(y)
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert peak < 200e6


def test_a_fault_in_the_model_reaches_the_caller_from_a_thread() -> None:
    def broken(start: int, z: Array) -> Array:
        if start >= BLOCK:
            raise ZeroDivisionError("the model broke")
        return z

    with pytest.raises(ZeroDivisionError, match="the model broke"):
        monte_carlo(broken, draws=3 * BLOCK, normals=1, outputs=1, seed=1, threads=2, chunk=BLOCK)


def test_a_model_of_the_wrong_shape_and_impossible_counts_are_refused() -> None:
    with pytest.raises(ValueError, match="expected the model to return shape"):
        monte_carlo(plain, draws=10, normals=2, outputs=1, seed=1)
    with pytest.raises(ValueError, match="expected draws of 1 or more"):
        monte_carlo(curved, draws=0, normals=3, outputs=2, seed=1)
    with pytest.raises(ValueError, match="multiple of"):
        monte_carlo(curved, draws=1, normals=3, outputs=2, seed=1, first=5)


finite = st.floats(-1e3, 1e3).map(lambda x: round(x, 3))


@settings(max_examples=60, deadline=None)
@given(data=st.data(), n=st.integers(1, 6), m=st.integers(1, 3))
def test_first_order_is_exact_for_linear_models_with_correlated_inputs(
    data: st.DataObject, n: int, m: int
) -> None:
    def matrix(rows: int, columns: int) -> Array:
        cells = data.draw(st.lists(finite, min_size=rows * columns, max_size=rows * columns))
        return np.array(cells).reshape(rows, columns)

    a, x, root = matrix(m, n), matrix(1, n)[0], matrix(n, n)
    v = root @ root.T
    v = (v + v.T) / 2
    got = first_order(lambda columns: a @ columns, x, covariance=v)
    largest = np.abs(a).sum() * (np.abs(x).sum() + np.sqrt(np.abs(v).max())) + 1
    assert got.sensitivities == pytest.approx(a, rel=1e-6, abs=1e-9 * largest)
    assert got.covariance == pytest.approx(a @ v @ a.T, rel=1e-5, abs=1e-8 * largest**2)
    extra = second_order_variance(lambda c: a @ c, x, u=np.sqrt(np.diag(v)))
    assert extra == pytest.approx(0, abs=1e-8 * largest**2)


def test_correlated_budget_shares_sum_to_one() -> None:
    r = first_order(lambda x: x[0] + 2 * x[1], [1, 1], covariance=[[1.0, -0.4], [-0.4, 1.0]])
    rows = r.budget(["a", "b"])
    assert sum(row.share for row in rows) == pytest.approx(1)
    assert rows[0].share == pytest.approx((1 - 0.8) / (1 + 4 - 1.6))


def test_effective_degrees_of_freedom_refuse_correlated_inputs() -> None:
    r = first_order(lambda x: x[0] + x[1], [1, 1], covariance=[[1.0, 0.5], [0.5, 1.0]], dof=4)
    with pytest.raises(ValueError, match="uncorrelated"):
        r.effective_dof()
    assert effective_degrees_of_freedom([1.0], [4]) == pytest.approx(4)


@given(
    values=st.lists(st.floats(-1e6, 1e6), min_size=1, max_size=60),
    q=st.lists(st.floats(0, 1), min_size=1, max_size=4),
)
def test_quantiles_are_those_of_a_full_sort(values: list[float], q: list[float]) -> None:
    got = quantiles(np.array(values), q)
    assert got == pytest.approx(np.quantile(values, q), rel=1e-12, abs=1e-6)


@settings(deadline=None)
@given(values=st.lists(st.floats(-1e3, 1e3), min_size=40, max_size=200))
def test_both_coverage_intervals_hold_their_share_and_the_shortest_is_no_longer(
    values: list[float],
) -> None:
    y = np.array(values)
    for low, high in (coverage_interval(y), shortest_coverage_interval(y)):
        assert np.mean((y >= low) & (y <= high)) >= 0.95
    symmetric, shortest = (
        np.diff(coverage_interval(y))[0],
        np.diff(shortest_coverage_interval(y))[0],
    )
    assert shortest <= symmetric


def test_draws_for_a_digit_really_hold_that_digit() -> None:
    u, digit = 1.7, 0.1
    draws = draws_for_digit(u, digit)
    ends = [
        coverage_interval(u * monte_carlo(plain, draws=draws, normals=1, outputs=1, seed=seed))[0]
        for seed in range(60)
    ]
    missed = np.abs(np.array(ends) - 1.959964 * u * np.array([-1, 1])) > digit / 2
    assert np.mean(missed) < 0.1
    assert draws_for_digit(u, digit / 2) == pytest.approx(4 * draws, rel=0.2)


@pytest.mark.parametrize(
    "call",
    [
        lambda: first_order(lambda x: x[0], [1.0]),
        lambda: first_order(lambda x: x[0], [1.0], u=[-0.1]),
        lambda: first_order(lambda x: x[0], [1.0], u=[0.1, 0.2]),
        lambda: first_order(lambda x: x[0], [1.0, 2.0], covariance=[[1, 0.5], [0.4, 1]]),
        lambda: first_order(lambda x: x[0, :2], [1.0], u=[0.1]),
        lambda: first_order(lambda x: x[0] * math.nan, [1.0], u=[0.1]),
        lambda: mean_of_repeats([1.0]),
        lambda: coverage_interval(np.ones(10)),
        lambda: quantiles(np.ones(3), [1.2]),
        lambda: draws_for_digit(1.0, 0.0),
        lambda: standard_uncertainty_of_rectangular(-1.0),
    ],
)
def test_impossible_input_is_refused_with_what_was_expected(call: object) -> None:
    with pytest.raises(ValueError, match=r"expected|finite"):
        call()  # type: ignore[operator]  # the list holds plain callables of many types
