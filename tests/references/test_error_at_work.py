"""The error at the work against the guide's rules, a brute sum of draws, and plain geometry."""

from __future__ import annotations

import math

import numpy as np
import pytest
import uncertainties
from hypothesis import given, settings
from hypothesis import strategies as st

from published import derived
from wormwright.core.conformity import judged
from wormwright.core.error_at_work import (
    ErrorPart,
    Shape,
    error_at_work,
    flat_half_width,
    wave_between,
    wave_between_any,
)


@derived("root of the sum of squares, by the `uncertainties` package")
def test_random_parts_are_root_sum_squared_with_a_factor_of_two() -> None:
    parts = [
        ErrorPart("reversal", 20.0, 0.0, "rectangular"),
        ErrorPart("scatter", 6.0, 0.0, "normal"),
        ErrorPart("drift", 10.0, 0.0, "rectangular"),
        ErrorPart("scale", 4.0, 0.0, "normal"),
    ]
    spread = (20 / math.sqrt(3), 6, 10 / math.sqrt(3), 4)
    other = sum(uncertainties.ufloat(0, s) for s in spread)
    work = error_at_work(parts)
    assert work.random_u == pytest.approx(other.std_dev) == pytest.approx(14.79, abs=5e-3)
    assert work.expanded == pytest.approx(29.57, abs=5e-3)
    assert work.biggest.part.name == "reversal"


@derived("brute force: a fresh million of sums of the same shapes by another generator")
def test_the_covered_half_width_holds_its_share_of_fresh_sums() -> None:
    pick = np.random.default_rng(8)
    parts = [
        ErrorPart("wave", 5.0, 0.0, "added"),
        ErrorPart("reversal", 20.0, 0.0, "rectangular"),
        ErrorPart("two places", 8.0, 0.0, "triangular"),
        ErrorPart("swing", 6.0, 0.0, "arcsine"),
        ErrorPart("scatter", 4.0, 0.0, "normal"),
    ]
    fresh = pick.uniform(-20, 20, 1_000_000) + pick.triangular(-8, 0, 8, 1_000_000)
    fresh += 6 * np.sin(pick.uniform(0, math.tau, 1_000_000)) + pick.normal(0, 4, 1_000_000)
    work = error_at_work(parts)
    assert work.added == 5.0
    assert np.mean(np.abs(fresh) <= work.covered) == pytest.approx(0.95, abs=2e-3)
    assert error_at_work(parts, p=0.8).covered == pytest.approx(
        float(np.quantile(np.abs(fresh), 0.8)), rel=0.01
    )


@derived("a single rectangle can never be out by more than its half-width")
def test_a_lone_reversal_is_never_felt_wider_than_it_is() -> None:
    work = error_at_work([ErrorPart("reversal", 20.0, 1.0, "rectangular")])
    assert work.half_width == pytest.approx(0.95 * 20, rel=5e-3)
    assert work.expanded > 20
    assert work.u == pytest.approx(0.95, rel=0.02)


@derived("algebra: the doubt of a sum of added sizes is the root of the sum of squares")
def test_doubts_of_added_parts_come_through_one_to_one() -> None:
    work = error_at_work([ErrorPart("a", 3.0, 0.3, "added"), ErrorPart("b", 9.0, 0.4, "added")])
    assert work.half_width == 12.0
    assert work.u == pytest.approx(0.5)
    assert work.biggest.part.name == "b"
    assert [row.doubt_share for row in work.rows] == pytest.approx([0.36, 0.64])
    assert work.most_doubtful.part.name == "b"


sizes = st.lists(st.floats(0, 100), min_size=1, max_size=5)
SHAPES: tuple[Shape, ...] = ("added", "normal", "rectangular", "triangular", "arcsine")


@settings(max_examples=25, deadline=None)
@given(data=st.data(), sizes=sizes, times=st.floats(0.1, 10))
def test_the_whole_scales_grows_and_its_shares_sum_to_one(
    data: st.DataObject, sizes: list[float], times: float
) -> None:
    parts = [
        ErrorPart(str(i), s, s / 9, data.draw(st.sampled_from(SHAPES))) for i, s in enumerate(sizes)
    ]
    work = error_at_work(parts)
    more = error_at_work(
        [part._replace(size=part.size * times, u=part.u * times) for part in parts]
    )
    assert more.half_width == pytest.approx(times * work.half_width, abs=1e-9)
    assert more.u == pytest.approx(times * work.u, abs=1e-9)
    if work.half_width > 1e-100:
        assert sum(row.share for row in work.rows) == pytest.approx(1)
    grown = error_at_work([*parts, ErrorPart("more", 1.0, 0.0, "added")])
    assert grown.half_width == pytest.approx(work.half_width + 1)


@derived("brute force over all phases of the wave")
@pytest.mark.parametrize(("order", "count"), [(1, 6), (2, 6), (90, 40), (72, 36), (1, 7)])
def test_waves_between_divided_places(order: int, count: int) -> None:
    phase = np.linspace(0, math.tau, 7201)[:, None]
    at = math.tau * np.arange(count) / count
    seen = 3.0 * np.sin(order * at + phase)
    neighbours = float(np.abs(np.diff(seen, axis=1)).max())
    assert wave_between(amplitude=3.0, order=order, apart=at[1]) == pytest.approx(
        neighbours, abs=1e-5
    )
    apart = float(np.ptp(seen, axis=1).max())
    assert wave_between_any(amplitude=3.0, order=order, count=count) == pytest.approx(
        apart, abs=1e-5
    )


def test_a_whole_turn_closes_every_wave() -> None:
    assert wave_between(amplitude=10, order=1, apart=math.tau) == pytest.approx(0, abs=1e-12)
    assert wave_between(amplitude=10, order=90, apart=math.tau) == pytest.approx(0, abs=1e-11)


@derived("geometry of a square and of a two-flat bar")
def test_flats_tip_about_their_middle() -> None:
    assert flat_half_width(radius=10.0, count=4) == pytest.approx(10 / math.sqrt(2))
    assert flat_half_width(radius=10.0, count=2) == pytest.approx(10.0)


@derived("how often a value outside its zone is passed, by a million draws")
def test_values_outside_their_zone_are_passed_less_often_than_stated() -> None:
    pick, u = np.random.default_rng(6), 1.0
    for truth, low, high in ((10.0, -math.inf, 10.0), (3.0, 3.0, 40.0), (10.0, 4.0, 10.0)):
        seen = truth + u * pick.standard_normal(20_000)
        answers = [
            judged(y, u_below=u, u_above=u, low=low, high=high).answer for y in seen.tolist()
        ]
        assert 0.03 < answers.count("conforms") / len(answers) < 0.056


def test_a_zone_narrower_than_the_doubt_passes_nothing_and_says_so() -> None:
    found = judged(5.0, u_below=3.0, u_above=3.0, low=4.0, high=6.0)
    assert found.narrow
    assert found.answer == "cannot be told"
    assert judged(50.0, u_below=3.0, u_above=3.0, low=4.0, high=6.0).answer == "does not conform"


def test_doubt_that_is_wider_on_one_side_counts_on_that_side() -> None:
    def answer(value: float) -> str:
        return judged(value, u_below=1.0, u_above=5.0, high=20.0).answer

    assert [answer(v) for v in (11.7, 11.9, 21.5, 21.7)] == [
        "conforms",
        "cannot be told",
        "cannot be told",
        "does not conform",
    ]


@pytest.mark.parametrize(
    "call",
    [
        lambda: error_at_work([]),
        lambda: error_at_work([ErrorPart("a", -1.0, 0.0, "added")]),
        lambda: error_at_work([ErrorPart("a", 1.0, math.nan, "added")]),
        lambda: error_at_work([ErrorPart("a", 1.0, 0.0, "added")], p=1.0),
        lambda: wave_between(amplitude=-1, order=1, apart=1),
        lambda: wave_between_any(amplitude=1, order=1, count=1),
        lambda: flat_half_width(radius=0, count=6),
        lambda: judged(1.0, u_below=0.0, u_above=1.0, high=2.0),
        lambda: judged(1.0, u_below=1.0, u_above=1.0, low=2.0, high=2.0),
    ],
)
def test_impossible_parts_are_refused_with_what_was_expected(call: object) -> None:
    with pytest.raises(ValueError, match="expected"):
        call()  # type: ignore[operator]  # the list holds plain callables
