"""Feed words with a rotary axis against the examples of controls' manuals."""

from __future__ import annotations

import math

import pytest

from published import derived, published
from wormwright.core.feed import (
    Move,
    block_minutes,
    degrees_a_minute,
    degrees_per_mm,
    feed_at_radius,
    inverse_time,
    inverse_time_word,
    path_at_radius,
    seam_gap,
)

MANUAL = "Manual of a CNC control with the RS274/NGC rule"


@published(work=MANUAL, edition="web page", place="(2,5,1) to (1,3,4) at F28: 8.02 s", known="read")
def test_three_linear_axes() -> None:
    move = Move(math.dist((2, 5, 1), (1, 3, 4)), 0)
    assert 60 * block_minutes(move, feed=28) == pytest.approx(8.02, abs=0.005)


@published(work=MANUAL, edition="web page", place="A180 at F600: 18 s", known="read")
def test_a_rotary_move_alone_goes_by_degrees() -> None:
    assert 60 * block_minutes(Move(0, 180), feed=600) == pytest.approx(18)


@published(
    work=MANUAL, edition="web page", place="A200 B100 from 120, 300 at F250: 51.7 s", known="read"
)
def test_two_rotary_axes_go_by_the_root_of_the_squares() -> None:
    move = Move(0, math.hypot(200 - 120, 100 - 300))
    assert 60 * block_minutes(move, feed=250) == pytest.approx(51.7, abs=0.01)


@published(work=MANUAL, edition="web page", place="X12 A180 at F100: 7.2 s", known="read")
def test_of_a_mixed_block_only_the_linear_part_counts() -> None:
    assert 60 * block_minutes(Move(12, 180), feed=100) == pytest.approx(7.2)
    mixed = 60 * block_minutes(Move(12, 180), feed=100, rule="one vector")
    assert mixed == pytest.approx(60 * math.hypot(12, 180) / 100)


@derived("path of 49.4 mm at 600 mm/min; the block takes 1/F minutes")
def test_inverse_time_of_a_wrapped_block() -> None:
    move = Move(30, 90)
    f = inverse_time(move, radius=25, feed=600)
    assert f == pytest.approx(12.14, abs=0.01)
    assert path_at_radius(move, radius=25) * f == pytest.approx(600)
    assert 60 * block_minutes(move, feed=600) == pytest.approx(3.0)  # what G94 makes of it


@derived("the rotary's own limit: 90 degrees at 2400 degrees a minute")
def test_inverse_time_never_asks_more_than_an_axis_gives() -> None:
    assert inverse_time(Move(1, 90), radius=2, feed=5000, most_turn=2400) == pytest.approx(
        2400 / 90
    )
    assert inverse_time(Move(50, 1), radius=2, feed=5000, most_linear=1000) == pytest.approx(20)


@published(
    work="Control maker's page on inverse time",
    edition="web page",
    place="F0.5 over 100 mm is 50 mm/min",
    known="read",
)
def test_half_a_block_a_minute() -> None:
    assert inverse_time(Move(100, 0), radius=1, feed=50) == pytest.approx(0.5)


@derived("the three meanings are of one time")
def test_every_word_for_inverse_time_says_the_same_time() -> None:
    assert inverse_time_word(12.0, rule="blocks a minute") == 12
    assert inverse_time_word(12.0, rule="seconds a block") == 5
    assert inverse_time_word(12.0, rule="blocks a second") == 0.2


@derived("by hand: 600/25 rad a minute")
def test_degrees_a_minute_at_a_radius_and_back() -> None:
    assert degrees_a_minute(feed=600, radius=25) == pytest.approx(1375.1, abs=0.2)
    assert feed_at_radius(degrees=1375.1, radius=25) == pytest.approx(600, abs=0.1)


@published(
    work="Thread on wrapping a drawing",
    edition="web page",
    place="1.5 in diameter: 0.0131 in for a degree",
    known="read",
)
def test_degrees_for_a_millimetre_of_cylinder() -> None:
    assert 1 / degrees_per_mm(diameter=1.5 * 25.4) / 25.4 == pytest.approx(0.0131, abs=5e-5)


@derived("the drawing is one true circumference short or long")
def test_seam_of_a_stock_that_is_a_tenth_over() -> None:
    assert seam_gap(diameter=40.1, believed=40.0) == pytest.approx(0.1 * math.pi)
    assert seam_gap(diameter=40.0, believed=40.1) < 0
