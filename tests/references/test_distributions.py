"""Shapes of doubt against the guide and its example 9.5; the first order judged by draws."""

from __future__ import annotations

import functools
import math

import GTC
import numpy as np
import pytest
from scipy import stats

from published import derived, published
from wormwright.core.distributions import (
    arcsine_of_normal,
    curvilinear_trapezoid_of_normal,
    rectangular_of_normal,
    scaled_t_of_normal,
    standard_uncertainty_of_curvilinear_trapezoid,
    standard_uncertainty_of_few_repeats,
    triangular_of_normal,
)
from wormwright.core.monte_carlo import Array, coverage_interval, monte_carlo
from wormwright.core.uncertainty import (
    agreement_with_draws,
    biggest_contributor,
    first_order,
    standard_uncertainty_of_arcsine,
    standard_uncertainty_of_rectangular,
    standard_uncertainty_of_triangular,
)

GUM_1 = "JCGM 101, Propagation of distributions using a Monte Carlo method"
MILLION = 1_000_000


@functools.cache
def normals(count: int = 2) -> Array:
    z: Array = np.random.default_rng(17).standard_normal((count, MILLION))
    return z


@published(work=GUM_1, edition="2008", place="table 1 and 6.4.3 to 6.4.6", known="from memory")
@pytest.mark.parametrize(
    ("draws", "u"),
    [
        (lambda z: rectangular_of_normal(z[0], low=2, high=8), 3 / math.sqrt(3)),
        (lambda z: triangular_of_normal(z[0], low=2, high=8), 3 / math.sqrt(6)),
        (lambda z: arcsine_of_normal(z[0], low=2, high=8), 3 / math.sqrt(2)),
        (
            lambda z: curvilinear_trapezoid_of_normal(z[0], z[1], low=2, high=8, inexact=1.5),
            math.sqrt(3**2 / 3 + 1.5**2 / 9),
        ),
        (lambda z: scaled_t_of_normal(z[0], mean=5, u=1, dof=8), math.sqrt(8 / 6)),
    ],
    ids=["rectangular", "triangular", "arcsine", "curvilinear trapezoid", "t"],
)
def test_draws_have_the_printed_mean_and_standard_deviation(draws: object, u: float) -> None:
    y = draws(normals())  # type: ignore[operator]  # the list holds plain callables
    assert y.mean() == pytest.approx(5.0, abs=5 * u / 1000)
    assert y.std() == pytest.approx(u, rel=4e-3)


@derived("Kolmogorov's distance from the distribution functions of scipy.stats")
def test_draws_have_the_whole_shape_not_only_its_spread() -> None:
    z = normals()[:, :100_000]
    shapes = {
        "rectangular": (rectangular_of_normal(z[0], low=2, high=8), stats.uniform(2, 6).cdf),
        "triangular": (triangular_of_normal(z[0], low=2, high=8), stats.triang(0.5, 2, 6).cdf),
        "arcsine": (arcsine_of_normal(z[0], low=2, high=8), stats.arcsine(2, 6).cdf),
        "t": (scaled_t_of_normal(z[0], mean=5, u=0.7, dof=4), stats.t(4, 5, 0.7).cdf),
    }
    far = {name: float(stats.kstest(y, cdf).statistic) for name, (y, cdf) in shapes.items()}
    assert max(far.values()) < 1.63 / math.sqrt(100_000), far


@derived("GTC, which turns the same half-widths into standard uncertainties")
def test_standard_uncertainties_of_shapes_agree_with_gtc() -> None:
    assert standard_uncertainty_of_rectangular(0.7) == pytest.approx(GTC.type_b.uniform(0.7))
    assert standard_uncertainty_of_triangular(0.7) == pytest.approx(GTC.type_b.triangular(0.7))
    assert standard_uncertainty_of_arcsine(0.7) == pytest.approx(GTC.type_b.arcsine(0.7))


@derived("draws of the mean of few repeats by Student's t")
def test_few_repeats_have_more_doubt_than_their_scatter_shows() -> None:
    y = scaled_t_of_normal(normals()[0], mean=0.0, u=2 / math.sqrt(6), dof=5)
    assert standard_uncertainty_of_few_repeats(2.0, n=6) == pytest.approx(y.std(), rel=0.01)
    with pytest.raises(ValueError, match="pooled"):
        standard_uncertainty_of_few_repeats(2.0, n=3)


# 9.5: end gauge, nm and kelvin. Inputs: length of the standard, mean difference, its random and
# systematic part, expansion, mean deviation, swing, difference of expansion, of temperature.


def gauge(x: Array) -> Array:
    l_s, d, alpha, theta, delta_alpha, delta_theta = x
    y: Array = l_s + d - l_s * (delta_alpha * theta + alpha * delta_theta) - 50e6
    return y


def gauge_draws(start: int, z: Array) -> Array:
    x = np.empty((6, z.shape[1]))
    x[0] = scaled_t_of_normal(z[0], mean=50_000_623, u=25, dof=18)
    x[1] = scaled_t_of_normal(z[1], mean=215, u=6, dof=24)
    x[1] += scaled_t_of_normal(z[2], mean=0, u=4, dof=5)
    x[1] += scaled_t_of_normal(z[3], mean=0, u=7, dof=8)
    x[2] = rectangular_of_normal(z[4], low=9.5e-6, high=13.5e-6)
    x[3] = -0.1 + 0.2 * z[5] + arcsine_of_normal(z[6], low=-0.5, high=0.5)
    x[4] = curvilinear_trapezoid_of_normal(z[7], z[8], low=-1e-6, high=1e-6, inexact=0.1e-6)
    x[5] = curvilinear_trapezoid_of_normal(z[9], z[10], low=-0.05, high=0.05, inexact=0.025)
    return gauge(x)[None, :]


GAUGE_U = (
    25.0,
    math.hypot(6, 4, 7),
    standard_uncertainty_of_rectangular(2e-6),
    math.hypot(0.2, standard_uncertainty_of_arcsine(0.5)),
    standard_uncertainty_of_curvilinear_trapezoid(1e-6, inexact=0.1e-6),
    standard_uncertainty_of_curvilinear_trapezoid(0.05, inexact=0.025),
)
GAUGE_X = (50_000_623, 215, 11.5e-6, -0.1, 0.0, 0.0)


@published(work=GUM_1, edition="2008", place="9.5, tables 10 and 11", known="from memory")
def test_end_gauge_by_draws_has_the_printed_uncertainty_that_first_order_misses() -> None:
    first = first_order(gauge, GAUGE_X, u=GAUGE_U)
    assert first.y[0] == pytest.approx(838, abs=0.5)
    assert first.u[0] == pytest.approx(32, abs=0.5)
    y = monte_carlo(gauge_draws, draws=MILLION, normals=11, outputs=1, seed=95)[0]
    assert y.mean() == pytest.approx(838, abs=0.5)
    assert y.std() == pytest.approx(36, abs=0.5)
    assert coverage_interval(y, p=0.99) == pytest.approx([745, 932], abs=1.5)


@derived("the printed verdict that 32 nm is not 36 nm to two digits")
def test_first_order_of_the_end_gauge_is_not_confirmed_and_of_a_plain_sum_is() -> None:
    y = monte_carlo(gauge_draws, draws=MILLION, normals=11, outputs=1, seed=95)[0]
    judged = agreement_with_draws(
        first_order(gauge, GAUGE_X, u=GAUGE_U, dof=(18, 25.6, math.inf, math.inf, 50, 2)),
        y,
        digits=2,
    )
    assert judged.tolerance == pytest.approx(0.5)
    assert not judged.agrees
    plain = first_order(lambda x: x.sum(axis=0), [0, 0, 0, 0], u=[1, 1, 1, 1])
    sums = monte_carlo(
        lambda _, z: z.sum(0, keepdims=True), draws=MILLION, normals=4, outputs=1, seed=2
    )
    assert agreement_with_draws(plain, sums[0], digits=2).agrees


@published(work=GUM_1, edition="2008", place="9.2.4, table 4, and 9.4.2", known="from memory")
def test_first_order_is_not_confirmed_where_the_guide_says_so() -> None:
    """One dominating rectangle; and a square at nought, whose interval may not reach below it."""
    a = math.sqrt(3) * np.array([[1.0], [1.0], [1.0], [10.0]])

    def uneven(start: int, z: Array) -> Array:
        y: Array = (a * rectangular_of_normal(z, low=-1, high=1)).sum(axis=0, keepdims=True)
        return y

    y = monte_carlo(uneven, draws=MILLION, normals=4, outputs=1, seed=24)[0]
    first = first_order(lambda x: x.sum(axis=0), [0] * 4, u=[1, 1, 1, 10])
    judged = agreement_with_draws(first, y, digits=2)
    assert (judged.low, judged.high) == pytest.approx((2.8, 2.8), abs=0.1)
    assert not judged.agrees

    def loss(start: int, z: Array) -> Array:
        y: Array = 1e6 * ((0.010 + 0.005 * z[0]) ** 2 + (0.005 * z[1]) ** 2)[None, :]
        return y

    y = monte_carlo(loss, draws=MILLION, normals=2, outputs=1, seed=94)[0]
    first = first_order(lambda x: 1e6 * (x[0] ** 2 + x[1] ** 2), [0.010, 0], u=[0.005, 0.005])
    assert first.u[0] == pytest.approx(100, abs=0.5)
    assert not agreement_with_draws(first, y, shortest=True).agrees


def test_the_biggest_contributor_of_the_end_gauge_is_the_standard() -> None:
    names = ("standard", "difference", "expansion", "mean", "difference of expansion", "bath")
    rows = first_order(gauge, GAUGE_X, u=GAUGE_U).budget(names)
    assert biggest_contributor(rows).name == "standard"
    with pytest.raises(ValueError, match="one row or more"):
        biggest_contributor(())


@pytest.mark.parametrize(
    "call",
    [
        lambda z: rectangular_of_normal(z, low=1, high=0),
        lambda z: triangular_of_normal(z, low=1, high=0),
        lambda z: arcsine_of_normal(z, low=1, high=0),
        lambda z: curvilinear_trapezoid_of_normal(z, z, low=0, high=1, inexact=0.6),
        lambda z: curvilinear_trapezoid_of_normal(z, z, low=0, high=1, inexact=-0.1),
        lambda z: scaled_t_of_normal(z, mean=0, u=-1, dof=4),
        lambda z: scaled_t_of_normal(z, mean=0, u=1, dof=0),
        lambda _: standard_uncertainty_of_curvilinear_trapezoid(1.0, inexact=2.0),
    ],
)
def test_shapes_that_cannot_be_are_refused(call: object) -> None:
    with pytest.raises(ValueError, match="expected"):
        call(np.zeros(3))  # type: ignore[operator]  # the list holds plain callables
