"""Sameness with a pattern: printed chances of conforming, and how often the answers are wrong."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from published import derived, published
from wormwright.core.sameness import all_same, coarsest_u, inside_probability, sameness

P = 0.95


@published(
    work="JCGM 106, Evaluation of measurement data: the role of measurement uncertainty",
    edition="2012",
    place="7.3, example 1: upper limit -5.40, best estimate -5.47, u 0.05: 0.92",
    known="from memory",
)
def test_chance_below_an_upper_limit() -> None:
    assert inside_probability(-5.47, u=0.05, high=-5.40) == pytest.approx(0.92, abs=0.005)


@published(
    work="JCGM 106, Evaluation of measurement data: the role of measurement uncertainty",
    edition="2012",
    place="7.3, example 2: lower limit 490, best estimate 507, u 10: 0.96",
    known="from memory",
)
def test_chance_above_a_lower_limit() -> None:
    assert inside_probability(507, u=10, low=490) == pytest.approx(0.96, abs=0.005)


@published(
    work="ISO 14253-1, Decision rules for verifying conformity",
    edition="2017",
    place="default rule: one-sided guard band of 1.645 u",
    known="from memory",
)
def test_wide_limits_agree_with_the_guard_band() -> None:
    just_in, just_out = 60 - 1.646 * 12, 60 - 1.644 * 12
    assert sameness(inside_probability(just_in, u=12, low=-1e4, high=60)) == "same"
    assert sameness(inside_probability(just_out, u=12, low=-1e4, high=60)) == "cannot tell"


@derived("a hundred thousand drawn units at their limits, counted")
@pytest.mark.parametrize("sizes", [1, 5, 20])
def test_a_unit_at_all_its_limits_is_seldom_called_not_the_same(sizes: int) -> None:
    rng = np.random.default_rng(106)
    draws = 100_000
    read = 1.0 + 0.02 * rng.standard_normal((draws, sizes))  # truth at the upper limit of 1
    worst = 1 - P ** (1 / sizes)
    inside = np.vectorize(lambda y: inside_probability(y, u=0.02, low=0.0, high=1.0))(
        np.linspace(0.8, 1.2, 4001)
    )
    edge = np.interp(worst, inside[::-1], np.linspace(0.8, 1.2, 4001)[::-1])
    called = float(np.mean((read > edge).any(axis=1)))
    assert called == pytest.approx(1 - P, abs=0.004)


@derived("normal law: one size a little outside, the others in the middle")
@given(u=st.floats(0.001, 0.5), beyond=st.floats(0, 3))
def test_a_unit_with_one_size_outside_is_seldom_called_the_same(u: float, beyond: float) -> None:
    # it is called the same only below the reading at which the chance is p
    reach = coarsest_edge(u)
    if reach is None:
        return  # limits too narrow for this instrument: it is never called the same
    truth = 1.0 + beyond * u
    called = 0.5 * math.erfc((truth - reach) / (u * math.sqrt(2)))
    assert called <= 1 - P + 1e-6


def coarsest_edge(u: float) -> float | None:
    """The largest reading that is still called the same, limits 0 to 1."""
    middle = inside_probability(0.5, u=u, low=0.0, high=1.0)
    if middle < P:
        return None
    low, high = 0.5, 1.0
    for _ in range(60):
        half = (low + high) / 2
        if inside_probability(half, u=u, low=0.0, high=1.0) >= P:
            low = half
        else:
            high = half
    return low


@derived("Student's t by scipy.stats, another route to the same law")
def test_few_repeats_ask_for_more() -> None:

    expected = stats.t(4).cdf(2.0) - stats.t(4).cdf(-3.0)
    assert inside_probability(10.3, u=0.1, low=10.0, high=10.5, dof=4) == pytest.approx(expected)


@derived("solved back: with that u the chance is just p")
@given(value=st.floats(0.01, 0.99))
def test_the_reading_that_would_settle_it(value: float) -> None:
    u = coarsest_u(value, low=0.0, high=1.0)
    assert u is not None
    assert inside_probability(value, u=u, low=0.0, high=1.0) == pytest.approx(P, abs=1e-9)


@derived("by definition")
def test_counts_are_exact_and_one_odd_row_settles_the_unit() -> None:
    assert inside_probability(72, u=0, low=80, high=80) == 0.0
    assert inside_probability(80, u=0, low=80, high=80) == 1.0
    assert all_same(["same", "not the same", "cannot tell"]) == "not the same"
    assert all_same([]) == "cannot tell"


@derived("by definition")
@pytest.mark.parametrize("wrong", [{"u": -1.0}, {"u": 1.0, "low": 2.0, "high": 1.0}])
def test_nonsense_is_refused(wrong: dict[str, float]) -> None:
    with pytest.raises(ValueError, match="expected"):
        inside_probability(1.0, **wrong)
