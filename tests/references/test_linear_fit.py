"""Straight least squares against a second package on made-up sums of plays."""

from __future__ import annotations

import numpy as np
import pytest
import statsmodels.api as sm

from published import derived
from wormwright.core.linear_fit import linear_fit, unseparated

SUMS = [[1, 1, 0, 0], [1, 1, 1, 0], [0, 1, 0, 0], [1, 0, 0, 0], [0, 0, 1, 0], [1, 1, 1, 1]]
SUMS.append([0, 0, 1, 1])
SEEN = [52.0, 61.0, 21.0, 33.0, 8.0, 70.0, 19.0]
DOUBT = [3.0, 3.0, 2.0, 3.0, 2.0, 3.0, 3.0]
NAMES = ("mesh", "end play", "coupling", "bearing")


@derived("the statsmodels package, weighted least squares with the doubts as given")
def test_plays_from_sums_agree_with_a_second_package() -> None:
    fit = linear_fit(SUMS, SEEN, u=DOUBT, names=NAMES)
    other = sm.WLS(SEEN, np.array(SUMS, float), weights=1 / np.square(DOUBT)).fit()
    assert fit.values == pytest.approx(other.params)
    assert fit.covariance == pytest.approx(other.normalized_cov_params)
    assert fit.values == pytest.approx([31.994, 20.553, 8.139, 10.087], abs=1e-3)
    assert fit.u == pytest.approx([2.065, 1.751, 1.751, 2.717], abs=1e-3)
    assert fit.chi_square == pytest.approx(0.344, abs=1e-3)
    assert fit.dof == 3


@derived("algebra: two columns that only ever appear together")
def test_plays_that_always_come_together_are_named() -> None:
    joined = [[1, 1, 0], [1, 1, 1], [0, 0, 1]]
    assert unseparated(joined, ("mesh", "joint", "end play")) == ("mesh", "joint")
    with pytest.raises(ValueError, match="cannot tell apart: mesh, joint"):
        linear_fit(joined, [1.0, 2.0, 1.0], u=0.1, names=("mesh", "joint", "end play"))


def test_an_unseen_unknown_is_named_even_when_rounding_leaves_dust_in_its_column() -> None:
    dust = [[1.0, 1e-15], [1.0, -1e-15], [1.0, 2e-15]]
    assert unseparated(dust, ("mean", "wave")) == ("wave",)


def test_scaling_a_column_does_not_change_what_is_told() -> None:
    small = np.array(SUMS, float) * [1.0, 1e-4, 1.0, 1e4]
    assert unseparated(small, NAMES) == ()
    fit = linear_fit(small, SEEN, u=DOUBT, names=NAMES)
    assert fit.values * [1.0, 1e-4, 1.0, 1e4] == pytest.approx(
        linear_fit(SUMS, SEEN, u=DOUBT, names=NAMES).values
    )


def test_a_reading_without_doubt_is_refused() -> None:
    with pytest.raises(ValueError, match="uncertainty above zero"):
        linear_fit([[1.0], [1.0]], [1.0, 2.0], u=[0.1, 0.0], names=("x",))
