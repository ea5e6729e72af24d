"""Positioning test: published raw data, tables of statistics, and a plain second reckoning."""

from __future__ import annotations

import csv
import math
import statistics
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from published import derived, published
from wormwright.core.positioning import (
    Positioning,
    fewest_targets,
    positioning,
    share_within_two_s,
    sigma_interval,
    vdi_figures,
)
from wormwright.core.worm_phase import phase_blindness, planned_targets, worm_phase

DATA = Path(__file__).parent / "data"
EIGHT = (
    ((22, 24, 18, 23.5, 24), (-26, -30, -29, -28, -24)),
    ((34.5, 36.5, 37.5, 38, 35.5), (-14.5, -10.5, -15, -10, -9)),
    ((36.5, 36.5, 34, 35, 36.5), (-6, -3.5, -3.5, -4.5, -3.5)),
    ((34.5, 32, 38, 36.5, 35.5), (3, 0.5, 5, 3, 3)),
    ((41.5, 39, 43.5, 45, 39), (10.5, 11.5, 10.5, 15.5, 16.5)),
    ((10, 10.5, 8, 11.5, 12.5), (-22, -24, -20.5, -18.5, -23.5)),
    ((-4, -4, -7.5, -3, -3.5), (-41.5, -44.5, -45.5, -45, -47.5)),
    ((-9, -4, -10, -15.5, -9), (-59.5, -60, -54, -52, -54.5)),
)
"""A made-up worm table: deviations in arcsec at eight targets, five runs each way."""


UP_DOWN = ([up for up, _ in EIGHT], [down for _, down in EIGHT])


def eight() -> Positioning:
    return positioning(*UP_DOWN)


def stage() -> Positioning:
    """Raw readings of a linear stage, as published with its acceptance report."""
    with (DATA / "linear_stage_5x5.csv").open(encoding="utf-8") as file:
        rows = [[float(x) for x in row] for row in list(csv.reader(file))[1:]]
    table = np.array(rows) - np.array(rows)[:, :1]
    return positioning(table[:, 1:6], table[:, 6:11])


@published(
    work="ecmccfg, examples/test/fat_sat/report.md (test report of a linear stage by ISO 230-2)",
    edition="public repository, as stored 2026",
    place="raw readings and the printed B, mean B, M, A forward, A backward, A",
    known="read",
)
def test_the_figures_printed_with_the_raw_readings_of_a_stage_come_out() -> None:
    test = stage()
    assert test.reversal == pytest.approx(1.22e-5, abs=5e-9)
    assert test.reversal_mean == pytest.approx(5.4e-6, abs=5e-9)
    assert test.mean_bidirectional == pytest.approx(2.77e-5, abs=5e-9)
    assert test.accuracy_up == pytest.approx(6.428e-5, abs=5e-9)
    assert test.accuracy_down == pytest.approx(8.881e-5, abs=5e-9)
    assert test.accuracy == pytest.approx(8.881e-5, abs=5e-9)


@derived("the definitions of ISO 230-2 reckoned by hand on the published raw readings")
def test_where_that_report_breaks_the_definitions_we_do_not_follow_it() -> None:
    """It prints R = max(R up, R down) = 6.29e-5 and E of one direction = 2.46e-5 as if of both."""
    test = stage()
    assert max(test.repeatability_up, test.repeatability_down) == pytest.approx(6.29e-5, abs=5e-9)
    assert test.repeatability == pytest.approx(6.882e-5, abs=5e-9)
    assert test.systematic_up == pytest.approx(2.46e-5, abs=5e-9)
    assert test.systematic == pytest.approx(3.68e-5, abs=5e-9)


@derived("plain Python by the definitions, one target after the other")
def test_a_worm_table_reckoned_plainly() -> None:
    test = eight()
    means, lows, highs, spreads, turns = [], [], [], [], []
    for up, down in EIGHT:
        m, s = [statistics.mean(d) for d in (up, down)], [statistics.stdev(d) for d in (up, down)]
        means += m
        lows += [m[i] - 2 * s[i] for i in (0, 1)]
        highs += [m[i] + 2 * s[i] for i in (0, 1)]
        turns.append(m[0] - m[1])
        spreads.append(max(2 * s[0] + 2 * s[1] + abs(turns[-1]), 4 * s[0], 4 * s[1]))
    assert test.systematic == pytest.approx(max(means) - min(means)) == pytest.approx(97.6)
    assert (
        test.accuracy == pytest.approx(max(highs) - min(lows)) == pytest.approx(110.064, abs=1e-3)
    )
    assert test.repeatability == pytest.approx(max(spreads)) == pytest.approx(61.792, abs=1e-3)
    assert test.reversal == pytest.approx(max(map(abs, turns))) == pytest.approx(49.7)
    assert test.reversal_mean == pytest.approx(statistics.mean(turns)) == pytest.approx(39.75)


@derived("the printed formulas of VDI/DGQ 3441 and of three sigmas, reckoned by a separate script")
def test_older_conventions_give_larger_figures_for_the_same_table() -> None:
    old, three = vdi_figures(eight()), positioning(*UP_DOWN, sigmas=3.0)
    assert old.deviation == pytest.approx(60.0)
    assert (old.reversal_most, old.reversal_mean) == pytest.approx((49.7, 39.75))
    assert (old.scatter_most, old.scatter_mean) == pytest.approx((22.938, 13.624), abs=1e-3)
    assert old.uncertainty == pytest.approx(117.408, abs=1e-3)
    assert (three.accuracy, three.repeatability) == pytest.approx((116.295, 69.438), abs=1e-3)


@published(
    work="NIST/SEMATECH e-Handbook of Statistical Methods",
    edition="web edition, not dated",
    place="1.3.6.7.4 critical values of chi-square, 4 degrees of freedom: 0.484 and 11.143",
    known="from memory",
)
def test_five_runs_know_their_scatter_only_within_these_factors() -> None:
    low, high = sigma_interval(runs=5)
    assert low == pytest.approx(math.sqrt(4 / 11.143), abs=5e-5)
    assert high == pytest.approx(math.sqrt(4 / 0.484), abs=2e-3)


@derived("draws: how often a sixth reading lies within mean plus and minus two s of five")
def test_two_s_of_five_runs_do_not_cover_ninety_five_per_cent() -> None:
    z = np.random.default_rng(5).standard_normal((400_000, 6))
    five = z[:, :5]
    inside = np.abs(z[:, 5] - five.mean(axis=1)) <= 2 * five.std(axis=1, ddof=1)
    assert share_within_two_s(runs=5) == pytest.approx(float(inside.mean()), abs=2e-3)
    assert share_within_two_s(runs=5) == pytest.approx(0.858, abs=5e-4)


@derived("algebra: the worm phase of even targets is a multiple of 45 N degrees")
@pytest.mark.parametrize(("ratio", "seen"), [(72, 0.0), (40, 0.0), (80, 0.0), (90, 20.0)])
def test_eight_even_targets_are_blind_to_the_worm_of_most_tables(ratio: int, seen: float) -> None:
    even = np.radians(np.arange(0, 360, 45))
    wave = 10 * np.sin(worm_phase(even, ratio=ratio))
    assert float(np.ptp(wave)) == pytest.approx(seen, abs=1e-6)
    assert (phase_blindness(even, ratio=ratio) > 0.99) is (seen == 0.0)


@pytest.mark.parametrize("ratio", [36, 40, 60, 72, 80, 90, 120, 180])
def test_planned_targets_see_the_worm_all_round(ratio: int) -> None:
    targets = planned_targets(ratio=ratio)
    assert phase_blindness(targets, ratio=ratio) < 0.05
    assert phase_blindness(targets, ratio=ratio, order=2) < 0.05
    assert bool(np.all(np.diff(targets) > 0))
    assert targets[0] == 0.0
    assert targets[-1] < 2 * math.pi


def test_a_short_travel_takes_fewer_targets() -> None:
    assert [fewest_targets(travel_deg=t) for t in (60, 90, 91, 180, 181, 360)] == [3, 3, 5, 5, 8, 8]
    with pytest.raises(ValueError, match="up to 360"):
        fewest_targets(travel_deg=361)
    with pytest.raises(ValueError, match="8 or more"):
        planned_targets(ratio=72, count=7)


RUNS = arrays(float, (2, 6, 4), elements=st.floats(-500, 500).map(lambda x: round(x, 3)))


@given(RUNS, st.floats(-1000, 1000), st.floats(0.01, 100))
def test_the_figures_keep_their_order_shift_scale_and_sign(
    runs: np.ndarray, more: float, times: float
) -> None:
    test = positioning(*runs)
    slack = 1e-6
    assert test.accuracy + slack >= test.systematic >= test.mean_bidirectional - slack
    assert test.accuracy + slack >= max(test.accuracy_up, test.accuracy_down)
    assert test.systematic + slack >= max(test.systematic_up, test.systematic_down)
    assert test.repeatability + slack >= max(test.repeatability_up, test.repeatability_down)
    assert test.repeatability + slack >= test.reversal >= abs(test.reversal_mean) - slack
    moved, scaled, turned = (
        positioning(*(runs + more)),
        positioning(*(runs * times)),
        positioning(*runs[::-1]),
    )
    for name in ("accuracy", "systematic", "repeatability", "mean_bidirectional", "reversal"):
        value = getattr(test, name)
        assert getattr(moved, name) == pytest.approx(value, abs=1e-6)
        assert getattr(scaled, name) == pytest.approx(value * times, rel=1e-6, abs=1e-6)
        assert getattr(turned, name) == pytest.approx(value, abs=1e-9)
    assert turned.reversal_mean == pytest.approx(-test.reversal_mean, abs=1e-9)


def test_a_test_with_a_hole_in_it_is_refused() -> None:
    with pytest.raises(ValueError, match="both directions"):
        positioning([[1, 2], [3, 4]], [[1, 2]])
    with pytest.raises(ValueError, match="not a finite"):
        positioning(np.array([[1, 2], [3, math.nan]]), [[1, 2], [3, 4]])
    with pytest.raises(ValueError, match="2 runs"):
        positioning([[1], [3]], [[1], [3]])
