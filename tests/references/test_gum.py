"""Uncertainty engine against the worked examples of the two standard guides, and two libraries."""

from __future__ import annotations

import math

import GTC
import numpy as np
import pytest
import uncertainties
from uncertainties import umath

from published import derived, published
from wormwright.core.monte_carlo import Array
from wormwright.core.standard_uncertainty import chi_square_tail
from wormwright.core.uncertainty import (
    adaptive_monte_carlo,
    covariance_of_means,
    coverage_factor,
    coverage_interval,
    effective_degrees_of_freedom,
    first_order,
    mean_of_repeats,
    monte_carlo,
    rectangular_of_normal,
    second_order_variance,
    shortest_coverage_interval,
    standard_uncertainty_of_rectangular,
)

GUM = "JCGM 100, Guide to the expression of uncertainty in measurement"
GUM_1 = "JCGM 101, Propagation of distributions using a Monte Carlo method"
MILLION = 1_000_000

# H.1: standard l_s, difference d, expansion alpha, deviation theta, differences of both; mm and °C
H1_NAMES = ("l_s", "d", "alpha", "theta", "delta alpha", "delta theta")
H1_X = (50.000623, 215e-6, 11.5e-6, -0.1, 0.0, 0.0)
D_PARTS, D_DOF = (5.8, 3.9, 6.7), (24, 5, 8)
THETA_U = math.hypot(0.2, 0.5 / math.sqrt(2))  # mean temperature, and its swing of ± 0.5 °C
H1_U = (
    25e-6,
    math.hypot(*D_PARTS) * 1e-6,
    standard_uncertainty_of_rectangular(2e-6),
    THETA_U,
    standard_uncertainty_of_rectangular(1e-6),
    standard_uncertainty_of_rectangular(0.05),
)
H1_DOF = (18, effective_degrees_of_freedom(D_PARTS, D_DOF), math.inf, math.inf, 50, 2)


def end_gauge(x: Array) -> Array:
    l_s, d, alpha, theta, delta_alpha, delta_theta = x
    y: Array = l_s + d - l_s * (delta_alpha * theta + alpha * delta_theta)
    return y


@published(work=GUM, edition="2008", place="H.1", known="from memory")
def test_end_gauge_gives_the_printed_length_uncertainty_and_degrees_of_freedom() -> None:
    length = first_order(end_gauge, H1_X, u=H1_U, dof=H1_DOF)
    assert length.y[0] == pytest.approx(50.000838, abs=5e-7)
    assert length.u[0] == pytest.approx(31.7e-6, abs=0.05e-6)
    assert math.floor(length.effective_dof()) == 16
    assert coverage_factor(0.99, dof=length.effective_dof()) == pytest.approx(2.92, abs=5e-3)
    # the guide multiplies after rounding u_c to 32 nm, hence the wider tolerance
    assert length.expanded(p=0.99) == pytest.approx(93e-6, abs=0.6e-6)


@published(work=GUM, edition="2008", place="table H.1", known="from memory")
def test_end_gauge_budget_rows_are_the_printed_contributions() -> None:
    rows = first_order(end_gauge, H1_X, u=H1_U, dof=H1_DOF).budget(H1_NAMES)
    nm = [abs(row.contribution) * 1e6 for row in rows]
    assert nm == pytest.approx([25, 9.7, 0, 0, 2.9, 16.6], abs=0.06)
    assert sum(row.share for row in rows) == pytest.approx(1)
    assert [row.name for row in rows] == list(H1_NAMES)


@published(work=GUM, edition="2008", place="H.1.7", known="from memory")
def test_end_gauge_second_order_terms_raise_the_uncertainty_to_34_nm() -> None:
    variance = first_order(end_gauge, H1_X, u=H1_U).covariance[0, 0]
    extra = second_order_variance(end_gauge, H1_X, u=H1_U)[0]
    assert math.sqrt(variance + extra) == pytest.approx(34e-6, abs=0.5e-6)
    by_hand = H1_X[0] ** 2 * ((H1_U[4] * H1_U[3]) ** 2 + (H1_U[2] * H1_U[5]) ** 2)
    assert extra == pytest.approx(by_hand, rel=1e-5)


@derived("the same end gauge through GTC, which differentiates exactly")
def test_end_gauge_agrees_with_gtc() -> None:
    x = [GTC.ureal(value, u, dof) for value, u, dof in zip(H1_X, H1_U, H1_DOF, strict=True)]
    other = x[0] + x[1] - x[0] * (x[4] * x[3] + x[2] * x[5])
    ours = first_order(end_gauge, H1_X, u=H1_U, dof=H1_DOF)
    assert ours.u[0] == pytest.approx(other.u, rel=1e-6)
    assert ours.effective_dof() == pytest.approx(other.df, rel=1e-6)


# H.2: potential difference V, current A, phase rad, five simultaneous sets
H2 = np.array(
    [
        [5.007, 4.994, 5.005, 4.990, 4.999],
        [19.663e-3, 19.639e-3, 19.640e-3, 19.685e-3, 19.678e-3],
        [1.0456, 1.0438, 1.0468, 1.0428, 1.0433],
    ]
)


def impedance(x: Array) -> Array:
    v, i, phi = x
    return np.array([v / i * np.cos(phi), v / i * np.sin(phi), v / i])


@published(work=GUM, edition="2008", place="H.2, tables H.2 to H.4", known="read")
def test_impedance_with_correlated_inputs_gives_the_printed_values_and_correlations() -> None:
    z = first_order(impedance, H2.mean(axis=1), covariance=covariance_of_means(H2))
    assert z.y == pytest.approx([127.732, 219.847, 254.260], abs=1e-3)
    assert z.u == pytest.approx([0.071, 0.295, 0.236], abs=1e-3)
    r = z.correlation
    assert [r[0, 1], r[0, 2], r[1, 2]] == pytest.approx([-0.588, -0.485, 0.993], abs=1e-3)


@published(work=GUM, edition="2008", place="H.2, table H.2 correlations", known="from memory")
def test_means_of_simultaneous_readings_have_the_printed_uncertainties_and_correlations() -> None:
    v = covariance_of_means(H2)
    u = np.sqrt(np.diag(v))
    assert u == pytest.approx([0.0032, 0.0095e-3, 0.00075], rel=0.02)
    r = v / np.outer(u, u)
    assert [r[0, 1], r[0, 2], r[1, 2]] == pytest.approx([-0.36, 0.86, -0.65], abs=6e-3)


@derived("the same impedance through `uncertainties`, which differentiates exactly")
def test_impedance_agrees_with_uncertainties() -> None:
    v = covariance_of_means(H2)
    x = uncertainties.correlated_values(H2.mean(axis=1), v)
    other = [
        x[0] / x[1] * umath.cos(x[2]),
        x[0] / x[1] * umath.sin(x[2]),
        x[0] / x[1],
    ]
    expected = np.array(uncertainties.covariance_matrix(other))
    ours = first_order(impedance, H2.mean(axis=1), covariance=v)
    assert ours.covariance == pytest.approx(expected, rel=1e-6)


@derived("the same impedance through GTC with its own estimate of the correlations")
def test_impedance_agrees_with_gtc() -> None:
    v, i, phi = GTC.type_a.multi_estimate_real(H2.tolist())
    other = [v / i * GTC.cos(phi), v / i * GTC.sin(phi), v / i]
    ours = first_order(impedance, H2.mean(axis=1), covariance=covariance_of_means(H2))
    assert ours.u == pytest.approx([z.u for z in other], rel=1e-6)
    assert ours.correlation[0, 2] == pytest.approx(GTC.get_correlation(other[0], other[2]))


@published(work=GUM, edition="2008", place="4.4.3, table 1 and figure 1", known="from memory")
def test_twenty_temperatures_give_the_printed_mean_and_standard_uncertainty() -> None:
    t = [96.90, 98.18, 98.25, 98.61, 99.03, 99.49, 99.56, 99.74, 99.89, 100.07]
    t += [100.33, 100.42, 100.68, 100.95, 101.11, 101.20, 101.57, 101.84, 102.36, 102.72]
    mean = mean_of_repeats(t)
    assert mean.mean == pytest.approx(100.145, abs=5e-4)
    assert mean.u == pytest.approx(0.333, abs=5e-4)
    assert mean.dof == 19


@published(work=GUM, edition="2008", place="table G.2", known="from memory")
def test_coverage_factors_are_students_t() -> None:
    printed = {1: 63.66, 2: 9.92, 5: 4.03, 16: 2.92, 50: 2.68, math.inf: 2.576}
    for dof, k in printed.items():
        assert coverage_factor(0.99, dof=dof) == pytest.approx(k, abs=5e-3)
    assert coverage_factor(0.95, dof=5) == pytest.approx(2.57, abs=5e-3)
    assert coverage_factor(0.95, dof=10) == pytest.approx(2.23, abs=5e-3)


def total(start: int, z: Array) -> Array:
    y: Array = z.sum(axis=0, keepdims=True)
    return y


@published(work=GUM_1, edition="2008", place="9.2.2, table 2", known="from memory")
def test_sum_of_four_normals_is_normal_with_u_2() -> None:
    y = monte_carlo(total, draws=MILLION, normals=4, outputs=1, seed=22)[0]
    assert y.std(ddof=1) == pytest.approx(2.0, abs=0.01)
    assert coverage_interval(y) == pytest.approx([-3.92, 3.92], abs=0.02)


def four_rectangles(start: int, z: Array) -> Array:
    a = math.sqrt(3)
    y: Array = rectangular_of_normal(z, low=-a, high=a).sum(axis=0, keepdims=True)
    return y


@published(work=GUM_1, edition="2008", place="9.2.3, table 3", known="from memory")
def test_sum_of_four_rectangles_has_the_shorter_interval() -> None:
    y = monte_carlo(four_rectangles, draws=MILLION, normals=4, outputs=1, seed=23)[0]
    assert y.std(ddof=1) == pytest.approx(2.0, abs=0.01)
    assert coverage_interval(y) == pytest.approx([-3.88, 3.88], abs=0.02)


def uneven_rectangles(start: int, z: Array) -> Array:
    a = math.sqrt(3) * np.array([[1.0], [1.0], [1.0], [10.0]])
    y: Array = (a * rectangular_of_normal(z, low=-1, high=1)).sum(axis=0, keepdims=True)
    return y


@published(work=GUM_1, edition="2008", place="9.2.4, table 4", known="from memory")
def test_sum_ruled_by_one_rectangle_is_narrower_than_the_normal_interval() -> None:
    y = monte_carlo(uneven_rectangles, draws=MILLION, normals=4, outputs=1, seed=24)[0]
    assert y.std(ddof=1) == pytest.approx(10.1, abs=0.05)
    assert coverage_interval(y) == pytest.approx([-17.0, 17.0], abs=0.1)


# 9.3: mass of a weight in air, mg and kg/m³; deviation of the conventional mass from 100 g
MASS_U = (0.050, 0.020, *map(standard_uncertainty_of_rectangular, (0.1, 1000, 50)))


def mass_deviation(x: Array) -> Array:
    m_r, d, air, weight, reference = x
    y: Array = (m_r + d) * (1 + (air - 1.2) * (1 / weight - 1 / reference)) - 1e5
    return y


def mass_draws(start: int, z: Array) -> Array:
    x = np.empty_like(z)
    x[0] = 1e5 + 0.050 * z[0]
    x[1] = 1.234 + 0.020 * z[1]
    for i, (low, high) in enumerate(((1.1, 1.3), (7000, 9000), (7950, 8050)), start=2):
        x[i] = rectangular_of_normal(z[i], low=low, high=high)
    return mass_deviation(x)[None, :]


@published(work=GUM_1, edition="2008", place="9.3, table 6", known="from memory")
def test_mass_by_first_order_second_order_and_draws() -> None:
    x = (1e5, 1.234, 1.2, 8000.0, 8000.0)
    first = first_order(mass_deviation, x, u=MASS_U)
    assert first.y[0] == pytest.approx(1.234, abs=5e-4)
    assert first.u[0] == pytest.approx(0.0539, abs=5e-5)
    second = second_order_variance(mass_deviation, x, u=MASS_U)[0]
    assert math.sqrt(first.covariance[0, 0] + second) == pytest.approx(0.0750, abs=1e-4)
    y = monte_carlo(mass_draws, draws=MILLION, normals=5, outputs=1, seed=93)[0]
    assert y.mean() == pytest.approx(1.2341, abs=3e-4)
    assert y.std(ddof=1) == pytest.approx(0.0754, abs=2e-4)
    # the probability density is flat-topped: the ends of the shortest interval move with the draws
    low, high = shortest_coverage_interval(y)
    assert (low, high) == pytest.approx((1.083, 1.383), abs=3e-3)
    assert high - low == pytest.approx(0.300, abs=1.5e-3)


def squares(x: Array) -> Array:
    y: Array = x[0] ** 2 + x[1] ** 2
    return y


@published(work=GUM_1, edition="2008", place="9.4, tables 8 and 9", known="from memory")
@pytest.mark.parametrize(("x1", "mean", "u", "high"), [(0.0, 50, 50, 150), (0.010, 150, 112, 367)])
def test_comparison_loss_is_skewed_and_never_negative(
    x1: float, mean: float, u: float, high: float
) -> None:
    at = np.array([[x1], [0.0]])

    def loss(start: int, z: Array) -> Array:
        return squares(at + 0.005 * z)[None, :]

    y = 1e6 * monte_carlo(loss, draws=MILLION, normals=2, outputs=1, seed=94)[0]
    assert y.mean() == pytest.approx(mean, rel=0.01)
    assert y.std(ddof=1) == pytest.approx(u, rel=0.01)
    assert shortest_coverage_interval(y) == pytest.approx([0, high], abs=2)


@published(work=GUM_1, edition="2008", place="9.4.2.1", known="from memory")
def test_comparison_loss_at_zero_has_no_first_order_uncertainty_but_a_second_order_one() -> None:
    assert first_order(squares, [0, 0], u=[0.005, 0.005]).u[0] == pytest.approx(0, abs=1e-12)
    second = second_order_variance(squares, [0, 0], u=[0.005, 0.005])[0]
    assert 1e6 * math.sqrt(second) == pytest.approx(50, rel=1e-6)


@derived("an adaptive run must hold its digits against the exact normal sum")
def test_adaptive_run_stops_when_the_digits_hold_and_equals_one_plain_run() -> None:
    run = adaptive_monte_carlo(total, normals=4, outputs=1, seed=5, digits=2)
    assert run.stable
    assert run.tolerance[0] == pytest.approx(0.05)
    assert run.draws.std(ddof=1) == pytest.approx(2.0, abs=0.05)
    again = monte_carlo(total, draws=run.draws.shape[1], normals=4, outputs=1, seed=5)
    assert np.array_equal(run.draws, again)
    short = adaptive_monte_carlo(total, normals=4, outputs=1, seed=5, digits=4, most=50_000)
    assert not short.stable


@published(
    work="NIST/SEMATECH e-Handbook of Statistical Methods",
    edition="1.3.6.7.4, critical values of the chi-square distribution",
    place="upper 5 % and 1 % columns, nu = 1, 5, 10, 18, 30",
    known="from memory",
)
@pytest.mark.parametrize(
    ("nu", "at_5", "at_1"),
    [
        (1, 3.841, 6.635),
        (5, 11.070, 15.086),
        (10, 18.307, 23.209),
        (18, 28.869, 34.805),
        (30, 43.773, 50.892),
    ],
)
def test_chi_square_tail_gives_the_table(nu: int, at_5: float, at_1: float) -> None:
    assert chi_square_tail(at_5, nu) == pytest.approx(0.05, rel=2e-3)
    assert chi_square_tail(at_1, nu) == pytest.approx(0.01, rel=2e-3)


@derived("the same tail from scipy.special.chdtrc, 1 to 60 degrees of freedom")
def test_chi_square_tail_is_that_of_the_library() -> None:
    from scipy.special import chdtrc  # noqa: PLC0415

    for nu in range(1, 61):
        for x in (0.0, 0.3, 2.0, float(nu), 3.0 * nu):
            assert chi_square_tail(x, nu) == pytest.approx(float(chdtrc(nu, x)), rel=1e-10)
