"""Lines and means against certified data sets, the thermometer of the guide, and a second library.

`data/nist_norris.csv` is the data set Norris of the NIST Statistical Reference Datasets.
"""

from __future__ import annotations

import csv
import math
from pathlib import Path

import GTC
import numpy as np
import pytest
import statsmodels.api as sm
from scipy import optimize, special

from published import derived, published
from wormwright.core.linear_fit import linear_fit
from wormwright.core.trend import half_width, limit_reached, trend
from wormwright.core.uncertainty import mean_of_repeats

STRD = "NIST Statistical Reference Datasets (StRD)"
GUM = "JCGM 100, Guide to the expression of uncertainty in measurement"


def norris() -> tuple[list[float], list[float]]:
    with (Path(__file__).parent / "data/nist_norris.csv").open(encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    return [float(r["x"]) for r in rows], [float(r["y"]) for r in rows]


@published(work=STRD, edition="linear regression", place="Norris, certified values", known="read")
def test_line_of_norris_has_the_certified_digits() -> None:
    line = trend(*norris())
    assert line.n == 36
    assert line.intercept == pytest.approx(-0.262323073774029, rel=1e-9)
    assert line.slope == pytest.approx(1.00211681802045, rel=1e-13)
    assert line.intercept_u == pytest.approx(0.232818234301152, rel=1e-10)
    assert line.slope_u == pytest.approx(0.429796848199937e-3, rel=1e-10)
    assert line.s == pytest.approx(0.884796396144373, rel=1e-11)


@published(
    work=STRD, edition="linear regression", place="NoInt1, certified values", known="from memory"
)
def test_line_through_nought_of_noint1_has_the_certified_digits() -> None:
    x, y = np.arange(60.0, 71.0), np.arange(130.0, 141.0)
    fit = linear_fit(x[:, None], y, u=1.0, names=("slope",))
    s = math.sqrt(fit.chi_square / fit.dof)
    assert fit.values[0] == pytest.approx(2.07438016528926, rel=1e-13)
    assert s == pytest.approx(3.56753034006338, rel=1e-12)
    assert fit.u[0] * s == pytest.approx(0.165289256198347e-1, rel=1e-12)


@published(
    work=STRD, edition="univariate summary", place="NumAcc4, certified values", known="from memory"
)
def test_mean_and_scatter_of_numacc4_keep_the_digits_that_the_numbers_hold() -> None:
    values = np.r_[10_000_000.2, np.tile([10_000_000.1, 10_000_000.3], 500)]
    found = mean_of_repeats(values)
    assert found.mean == pytest.approx(10_000_000.2, rel=1e-15)
    assert found.u * math.sqrt(1001) == pytest.approx(0.1, rel=1e-7)


# GUM H.3: readings t of a thermometer and their corrections b, °C, about t0 = 20 °C
T = (21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511)
B = (-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.160)
T0 = 20.0


@published(work=GUM, edition="2008", place="H.3, table H.6 and H.3.4", known="from memory")
def test_thermometer_line_gives_the_printed_correction_at_30_degrees() -> None:
    line = trend(np.subtract(T, T0), B)
    assert line.intercept == pytest.approx(-0.1712, abs=5e-5)
    assert line.slope == pytest.approx(0.00218, abs=5e-6)
    assert line.intercept_u == pytest.approx(0.0029, abs=5e-5)
    assert line.slope_u == pytest.approx(0.00067, abs=5e-6)
    assert line.s == pytest.approx(0.0035, abs=5e-5)
    assert line.correlation == pytest.approx(-0.930, abs=5e-4)
    assert line.at(30.0 - T0) == pytest.approx(-0.1494, abs=5e-5)
    assert line.line_u(30.0 - T0) == pytest.approx(0.0041, abs=5e-5)
    assert line.dof == 9


@derived("the same thermometer through GTC, which carries the correlation of both parameters")
def test_thermometer_line_agrees_with_gtc() -> None:
    line = trend(np.subtract(T, T0), B)
    other = GTC.type_a.line_fit(np.subtract(T, T0).tolist(), list(B))
    intercept, slope = other.a_b
    assert (line.intercept, line.slope) == pytest.approx((intercept.x, slope.x))
    assert (line.intercept_u, line.slope_u) == pytest.approx((intercept.u, slope.u))
    assert line.correlation == pytest.approx(GTC.get_correlation(intercept, slope))
    at_30 = intercept + slope * 10.0
    assert (line.at(10.0), line.line_u(10.0)) == pytest.approx((at_30.x, at_30.u))


@published(
    work="Mechanical Engineers' Handbook, volume 2, instrument statics",
    edition="not dated where read",
    place="example 6, thermocouple: data, slope 0.0412",
    known="read",
)
def test_thermocouple_line_has_the_printed_slope() -> None:
    assert trend(MILLIVOLT_AT, MILLIVOLT).slope == pytest.approx(0.0412, abs=5e-5)


MILLIVOLT_AT = tuple(range(0, 101, 10))
MILLIVOLT = (-0.89, -0.53, -0.15, 0.20, 0.61, 1.03, 1.45, 1.88, 2.31, 2.78, 3.22)


@derived("statsmodels on the same data; the book rounds its slope first and so prints -0.9773")
def test_thermocouple_line_and_prediction_are_those_of_a_second_package() -> None:
    line = trend(MILLIVOLT_AT, MILLIVOLT)
    other = sm.OLS(MILLIVOLT, sm.add_constant(np.array(MILLIVOLT_AT, float))).fit()
    assert (line.intercept, line.slope) == pytest.approx(other.params)
    assert line.intercept == pytest.approx(-0.979545, abs=1e-6)
    assert line.s**2 * line.dof == pytest.approx(other.ssr) == pytest.approx(0.029955, abs=1e-6)
    foretold = other.get_prediction([1.0, 120.0]).summary_frame(alpha=0.10)
    assert line.at(120.0) == pytest.approx(foretold["mean"][0]) == pytest.approx(3.9699, abs=1e-4)
    new, middle = (half_width(line, 120.0, p=0.90, new=new) for new in (True, False))
    assert line.at(120.0) + new == pytest.approx(foretold["obs_ci_upper"][0])
    assert line.at(120.0) - middle == pytest.approx(foretold["mean_ci_lower"][0])
    assert (new, middle) == pytest.approx((0.1311, 0.0775), abs=1e-4)


HOURS, PLAY = (0, 25, 50, 80, 110, 150), (18, 21, 22, 26, 27, 33)


@derived("root found by halving the interval of the printed prediction bound")
def test_limit_is_reached_where_the_upper_bound_of_a_new_reading_meets_it() -> None:
    line = trend(HOURS, PLAY)
    t = float(special.stdtrit(line.dof, 0.95))
    found = optimize.brentq(lambda x: line.at(x) + t * line.new_u(x) - 60, line.mean_x, 1000)
    assert limit_reached(line, 60.0) == pytest.approx(found) == pytest.approx(384.5, abs=0.05)
    assert (60 - line.intercept) / line.slope == pytest.approx(444.8, abs=0.05)
    assert (line.slope, line.s) == pytest.approx((0.09452, 0.9675), abs=1e-4)


@derived("draws: how often a reading at the foretold place lies above the limit")
def test_a_new_reading_at_the_foretold_place_is_seldom_above_the_limit() -> None:
    pick, x = np.random.default_rng(4), np.arange(8.0)
    above, asked = 0, 0
    for _ in range(4000):
        place = limit_reached(trend(x, x + pick.normal(0, 0.5, 8)), 20.0)
        assert place is not None
        above += place + pick.normal(0, 0.5) > 20.0
        asked += 1
    assert 0.03 < above / asked < 0.07


def test_a_rise_that_is_not_proven_foretells_nothing() -> None:
    assert limit_reached(trend([0, 1, 2, 3], [5.0, 5.4, 4.9, 5.2]), 60.0) is None
    assert limit_reached(trend([0, 1, 2, 3], [9.0, 7.0, 5.0, 3.1]), 60.0) is None
    with pytest.raises(ValueError, match="already at the limit"):
        limit_reached(trend([0, 1, 2, 3], [5.0, 6.1, 7.0, 8.0]), 6.4)


def test_two_readings_or_one_place_make_no_trend() -> None:
    with pytest.raises(ValueError, match="3 readings or more"):
        trend([0, 1], [2, 3])
    with pytest.raises(ValueError, match="cannot tell apart: slope"):
        trend([5, 5, 5], [1, 2, 3])
