"""A column of figures shares one unit, and its digits still follow what is known."""

from __future__ import annotations

import pytest

from wormwright.job.result import Estimate
from wormwright.quantities import shown_column


def test_small_and_large_lengths_of_a_column_stand_in_one_unit() -> None:
    unit, texts = shown_column([0.0774, -0.2114, 0.0], "length", resolution=0.001)
    assert (unit, texts) == ("mm", ("0.077", "-0.211", "0.000"))
    unit, texts = shown_column([0.0774, -0.2114, None], "length", resolution=0.001, units="in")
    assert (unit, texts) == ("thou", ("3.05", "-8.32", ""))


def test_a_larger_figure_elsewhere_sets_the_unit() -> None:
    assert shown_column([0.012], "length", resolution=0.001)[0] == "µm"
    assert shown_column([0.012], "length", resolution=0.001, like=0.5) == ("mm", ("0.012",))


@pytest.mark.parametrize(
    ("value", "half", "text"), [(12.31, 0.41, "12.3 ± 0.4"), (2.0, 0.16, "2.00 ± 0.16")]
)
def test_each_estimate_keeps_the_digits_of_its_own_interval(
    value: float, half: float, text: str
) -> None:
    minute = 2.908882086657216e-4
    low, high = (value - half) * minute, (value + half) * minute
    estimate = Estimate(value * minute, half * minute / 2, low, high, "angle", "made up")
    assert shown_column([estimate], "angle") == ("arcmin", (text,))
