"""Residuals of a closure: how often a sound one is doubted, and which reading is blamed."""

from __future__ import annotations

import math

import numpy as np
import pytest

from published import derived
from wormwright.core.closure import closure
from wormwright.core.closure_check import closure_check


@derived("3,000 sound closures with known noise: each alarm at its stated rate")
@pytest.mark.parametrize(("n", "shifts"), [(4, (0, 1, 2, 3)), (12, (0, 1, 4))])
def test_a_sound_closure_is_doubted_once_in_twenty(n: int, shifts: tuple[int, ...]) -> None:
    pick = np.random.default_rng(6)
    checks = [
        closure_check(closure(pick.normal(0, 2.0, (n, len(shifts))), shifts), u=2.0)
        for _ in range(3000)
    ]
    assert np.mean([not c.hangs_together for c in checks]) == pytest.approx(0.05, abs=0.012)
    assert 0.01 < np.mean([bool(c.outliers) for c in checks]) < 0.06


@derived("one reading of each of 200 closures shifted by 12 u")
def test_the_reading_that_slipped_is_the_one_blamed() -> None:
    pick = np.random.default_rng(6)
    blamed = 0
    for _ in range(200):
        y = pick.normal(0, 1.0, (6, 4))
        i, k = int(pick.integers(6)), int(pick.integers(4))
        y[i, k] += 12.0
        check = closure_check(closure(y, (0, 1, 2, 4)), u=1.0)
        assert not check.hangs_together
        blamed += (check.outliers[0].position, check.outliers[0].set_up) == (i, k)
    assert blamed > 190


@derived("residuals of twice the stated noise")
def test_rough_readings_widen_their_own_uncertainty_and_fine_ones_do_not_narrow_it() -> None:
    pick = np.random.default_rng(6)
    y = pick.normal(0, 2.0, (12, 12))
    rough = closure_check(closure(y, range(12)), u=1.0)
    assert rough.u == pytest.approx(2.0, rel=0.15)
    assert closure_check(closure(y, range(12)), u=3.0).u == 3.0


def test_a_closure_without_a_reading_to_spare_cannot_be_checked() -> None:
    bare = closure(np.array([[1, 2.0], [3, 1], [2, 2]]), (0, 1))
    assert bare.degrees_of_freedom == 0
    assert math.isnan(bare.sigma)
    with pytest.raises(ValueError, match="add a set-up"):
        closure_check(bare, u=1.0)
