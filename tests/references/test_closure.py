"""Closing the circle: designs against matrix rank, solutions against a dense least squares."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from published import derived, published
from wormwright.core.closure import (
    closure,
    common_step,
    factor_of_difference,
    lost_waves,
    nullity,
    uncertainty_factor,
)
from wormwright.core.compensation import compensation
from wormwright.core.conformity import conformance_probability, conformity, guard_band

DESIGNS: list[tuple[int, tuple[int, ...]]] = [
    (4, (0,)),
    (4, (0, 1)),
    (4, (0, 2)),
    (12, (0, 6)),
    (12, (0, 4)),
    (12, (0, 3)),
    (12, (0, 3, 4)),
]


def design(n: int, shifts: Sequence[int]) -> np.ndarray:
    """The plain matrix: one row a reading, columns a, p, c."""
    rows = []
    for k, shift in enumerate(shifts):
        for i in range(n):
            row = np.zeros(2 * n + len(shifts))
            row[i] = row[n + (i + shift) % n] = row[2 * n + k] = 1.0
            rows.append(row)
    return np.array(rows)


@derived("rank of the design matrix")
@pytest.mark.parametrize(("n", "shifts"), DESIGNS)
def test_what_a_design_cannot_see_is_what_its_matrix_lacks(n: int, shifts: Sequence[int]) -> None:
    matrix = design(n, shifts)
    assert nullity(n, shifts) == matrix.shape[1] - np.linalg.matrix_rank(matrix)


@published(
    work="Estler, Uncertainty analysis for angle calibrations using circle closure, J. Res. NIST",
    edition="103(2), 1998",
    place="dual closure: u = sigma sqrt(n - 1)/n for the full set",
    known="from memory",
)
@pytest.mark.parametrize("n", [4, 8, 12])
def test_a_full_set_has_the_closed_form_uncertainty(n: int) -> None:
    assert uncertainty_factor(n, range(n)) == pytest.approx(math.sqrt(n - 1) / n)


@derived("pseudo-inverse of the plain design matrix")
@pytest.mark.parametrize(
    ("n", "shifts", "printed"),
    [(4, (0, 1), 0.7906), (12, (0, 1), 1.4093), (12, (0, 1, 4), 0.6740), (4, (0, 1, 2, 3), 0.4330)],
)
def test_the_uncertainty_of_a_part_set_is_that_of_its_matrix(
    n: int, shifts: Sequence[int], printed: float
) -> None:
    matrix = design(n, shifts)
    about_mean = np.eye(n) - 1 / n
    covariance = about_mean @ np.linalg.pinv(matrix.T @ matrix)[:n, :n] @ about_mean
    assert uncertainty_factor(n, shifts) == pytest.approx(math.sqrt(covariance[0, 0]), rel=1e-9)
    assert uncertainty_factor(n, shifts) == pytest.approx(printed, abs=1e-4)
    apart = np.sqrt(covariance[0, 0] + np.diag(covariance) - 2 * covariance[0])
    assert factor_of_difference(n, shifts) == pytest.approx(apart, abs=1e-7)


@derived("a made-up square and table, added up without noise")
def test_a_square_indexed_four_times_gives_table_and_square() -> None:
    y = np.array([[9.5, -3, -4, 19], [-7.5, -20, 1, 8], [4.5, 14, 19, 20], [-0.5, -7, -8, -7]])
    found = closure(y, [0, 1, 2, 3])
    assert found.table == pytest.approx([3, -7, 12, -8], abs=1e-9)
    assert found.artefact == pytest.approx([5, -2, -9, 6], abs=1e-9)
    assert found.zeros == pytest.approx([1.5, -4, 2, 10], abs=1e-9)
    assert found.degrees_of_freedom == 6
    assert found.sigma == pytest.approx(0, abs=1e-9)


@given(
    st.integers(3, 24),
    st.lists(st.integers(0, 23), min_size=2, max_size=5, unique=True),
    st.integers(0, 2**32 - 1),
    st.booleans(),
)
def test_waves_and_gaps_agree_with_a_dense_least_squares(
    n: int, moves: list[int], seed: int, gaps: bool
) -> None:
    shifts = sorted({m % n for m in moves} | {0, 1})
    pick = np.random.default_rng(seed)
    y = pick.normal(0, 5, (n, len(shifts)))
    if gaps and len(shifts) > 3:
        for _ in range(3):
            y[pick.integers(n), pick.integers(len(shifts))] = math.nan
        read = np.isfinite(y.T.ravel())
        if np.linalg.matrix_rank(design(n, shifts)[read]) < 2 * n + len(shifts) - 2:
            with pytest.raises(ValueError, match="cut off"):
                closure(y, shifts)
            return
    found = closure(y, shifts)
    read = np.isfinite(y.T.ravel())
    matrix = design(n, shifts)[read]
    x = np.linalg.lstsq(matrix, y.T.ravel()[read], rcond=None)[0]
    assert found.table == pytest.approx(x[:n] - x[:n].mean(), abs=1e-6)
    assert found.artefact == pytest.approx(x[n : 2 * n] - x[n : 2 * n].mean(), abs=1e-6)
    assert found.residuals.T.ravel()[read] == pytest.approx(
        y.T.ravel()[read] - matrix @ x, abs=1e-6
    )
    inverse = np.linalg.pinv(matrix.T @ matrix)
    about_mean = np.eye(n) - 1 / n
    table = about_mean @ inverse[:n, :n] @ about_mean
    artefact = about_mean @ inverse[n : 2 * n, n : 2 * n] @ about_mean
    assert found.u_table == pytest.approx(np.sqrt(np.diag(table)), rel=1e-6)
    assert found.u_artefact == pytest.approx(np.sqrt(np.diag(artefact)), rel=1e-6)
    left = 1 - np.einsum("ij,jk,ik->i", matrix, inverse, matrix)
    assert found.freedom.T.ravel()[read] == pytest.approx(left, abs=1e-8)


def test_a_design_that_loses_waves_is_refused_and_names_them() -> None:
    with pytest.raises(ValueError, match="3, 6 waves"):
        closure(np.zeros((12, 2)), [0, 4])
    assert (common_step(12, [0, 8]), lost_waves(12, [0, 6])) == (4, (2, 4, 6))
    with pytest.raises(ValueError, match="cut off"):
        closure(np.array([[1, math.nan], [math.nan, 1], [math.nan, 1], [1, 2]]), [0, 1])


@published(
    work="JCGM 106, Evaluation of measurement data: the role of measurement uncertainty",
    edition="2012",
    place="7.3.3 and 7.4, examples with p_c = 0.92 and 0.96",
    known="from memory",
)
def test_the_chance_of_conforming_is_the_printed_one() -> None:
    assert conformance_probability(-5.47, u=0.05, high=-5.40) == pytest.approx(0.92, abs=5e-3)
    assert conformance_probability(507, u=10, low=490) == pytest.approx(0.96, abs=5e-3)


@published(
    work="ISO 14253-1, decision rules for verifying conformity",
    edition="2017",
    place="default probability 95 %, one-sided guard band factor 1.65",
    known="from memory",
)
def test_the_guard_band_leaves_three_answers() -> None:
    assert guard_band(u=12.0) / 12.0 == pytest.approx(1.645, abs=5e-4)
    assert [conformity(v, u=12, high=60) for v in (40.2, 40.3, 79.7, 79.8)] == [
        "conforms",
        "cannot be told",
        "cannot be told",
        "does not conform",
    ]


def test_a_table_made_of_noise_is_refused_and_one_of_error_helps() -> None:
    pick = np.random.default_rng(11)
    noise = pick.normal(0, 3, (2, 12, 5))
    assert not compensation(*noise, smallest_play=0.0).helps
    wave = 20 * np.sin(np.linspace(0, 2 * math.pi, 12, endpoint=False))[:, None]
    made = compensation(noise[0] + wave, noise[1] + wave + 8, smallest_play=100.0)
    assert made.helps
    assert made.gain > 10
    assert made.reversal == pytest.approx(8, abs=2)
    assert made.add == pytest.approx(-wave[:, 0] + wave.mean(), abs=5)


@derived("fresh runs drawn from the same axis")
def test_the_gain_promised_is_the_gain_of_fresh_runs() -> None:
    pick = np.random.default_rng(3)
    wave = 15 * np.sin(np.linspace(0, 2 * math.pi, 10, endpoint=False))[:, None]
    promised, got = [], []
    for _ in range(200):
        runs = pick.normal(0, 4, (2, 10, 5)) + wave
        runs[1] += 10
        made = compensation(*runs, smallest_play=50.0)
        fresh = pick.normal(0, 4, (2, 10, 1)) + wave
        fresh[1] += 10
        before = np.var(fresh)
        fresh[0] += made.add[:, None] + made.reversal / 2
        fresh[1] += made.add[:, None] - made.reversal / 2
        promised.append((made.rms_before**2, made.rms_after**2))
        got.append((before, np.var(fresh)))
    for one, other in zip(np.mean(promised, axis=0), np.mean(got, axis=0), strict=True):
        assert one == pytest.approx(other, rel=0.05)


def test_the_reversal_value_never_passes_the_smallest_play() -> None:
    up = np.zeros((4, 3)) + np.arange(3)
    made = compensation(up, up + 9, smallest_play=6.0)
    assert (made.reversal, made.most_reversal) == (6.0, 6.0)
    assert compensation(up, up - 9, smallest_play=6.0).reversal == 0.0
