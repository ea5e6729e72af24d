"""Planned closures against every other design, and waves that no even positions show."""

from __future__ import annotations

from itertools import combinations

import numpy as np
import pytest

from published import derived
from wormwright.core.closure import common_step, uncertainty_factor
from wormwright.core.closure_plan import best_design, designs, folded_wave


@derived("every design of its size, one after the other")
@pytest.mark.parametrize(("n", "k"), [(5, 3), (6, 2), (8, 3), (9, 4), (12, 3), (12, 4)])
def test_no_other_design_of_its_size_does_better(n: int, k: int) -> None:
    best = best_design(n, k)
    others = [
        uncertainty_factor(n, (0, *rest))
        for rest in combinations(range(1, n), k - 1)
        if common_step(n, (0, *rest)) == 1
    ]
    assert best.factor == pytest.approx(min(others), rel=1e-9)
    assert len(best.shifts) == k


@derived("pairs tried at random among 3,600 positions")
def test_a_long_design_found_step_by_step_beats_pairs_picked_at_random() -> None:
    best = best_design(3600, 3)
    assert best.factor == pytest.approx(uncertainty_factor(3600, best.shifts))
    pick = np.random.default_rng(5)
    for _ in range(40):
        one, other = pick.choice(np.arange(1, 3600), 2, replace=False)
        if common_step(3600, (0, int(one), int(other))) == 1:
            assert best.factor <= uncertainty_factor(3600, (0, int(one), int(other)))


@derived("more set-ups can only add knowledge; the full set is sqrt(n - 1)/n")
@pytest.mark.parametrize("n", [3, 4, 8, 12, 24])
def test_designs_get_better_with_every_set_up(n: int) -> None:
    rows = list(designs(n))
    factors = [row.factor for row in rows]
    assert factors == sorted(factors, reverse=True)
    assert factors[-1] == pytest.approx(np.sqrt(n - 1) / n)
    assert rows[-1].degrees_of_freedom == (n - 1) * (n - 2)
    assert [row.readings for row in rows] == [n * len(row.shifts) for row in rows]


@derived("a wave of the worm sampled at the even positions and transformed")
@pytest.mark.parametrize(("ratio", "n"), [(40, 12), (72, 12), (72, 16), (90, 4), (90, 8), (36, 24)])
def test_a_fast_wave_shows_where_its_samples_show_it(ratio: int, n: int) -> None:
    samples = np.cos(ratio * np.arange(n) * 2 * np.pi / n + 0.3)
    spectrum = np.abs(np.fft.rfft(samples))
    assert int(np.argmax(spectrum)) == folded_wave(ratio, n)


def test_a_plan_that_cannot_close_is_refused() -> None:
    with pytest.raises(ValueError, match="2 set-ups"):
        best_design(4, 1)
    with pytest.raises(ValueError, match="3 positions"):
        best_design(2, 2)
    with pytest.raises(ValueError, match="expected 1 and 2 or more"):
        folded_wave(0, 4)
