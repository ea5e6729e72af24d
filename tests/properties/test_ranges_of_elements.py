"""Ranges stated in words are kept by code: inside passes, at and past the end is refused."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest

from wormwright.core.friction import Interval
from wormwright.core.press_fit import (
    Sleeve,
    clearance_loss,
    closing_share_of_uneven_wall,
    fit_pressure,
    outside_growth_share,
)
from wormwright.core.runout import axis_and_part_by_reversal, second_lobe_of_offset
from wormwright.core.table_bearing import (
    axial_share_in_rock,
    lift_and_tilt_from_two_sides,
    push_tips_table,
    radial_play_from_two_sides,
    tilt_play_of_axial_play,
    tilt_share_in_rock,
    tilt_under_moment,
)

STEEL = (206_000.0, 0.3)
HOUSING, BUSHING = Sleeve(45, 90, *STEEL), Sleeve(35, 45, *STEEL)


def lift(radius: float, u: float) -> object:
    return lift_and_tilt_from_two_sides(near=0.0, opposite=0.0, radius=radius, u=u)


def share(pitch: float, pin: float) -> float:
    return tilt_share_in_rock(
        pin_height=10, push_angle=0, pin_angle=0, pitch_radius=pitch, pin_radius=pin
    )


def tips(push: float, height: float, weight: float, diameter: float) -> bool:
    return push_tips_table(push=push, push_height=height, weight=weight, support_diameter=diameter)


def loss(inner: float, outer: float) -> float:
    return clearance_loss(
        inner_interference=0.01, outer_interference=0.01, inner_share=inner, outer_share=outer
    )


def uneven(least: float, most: float, stiffness: float = 1.0) -> Interval:
    housing = Sleeve(45, 90, stiffness * STEEL[0], 0.3)
    return closing_share_of_uneven_wall(
        least_wall=least, most_wall=most, inner=BUSHING, outer=housing
    )


def oval(offset: float, radius: float) -> float:
    return second_lobe_of_offset(offset=offset, radius=radius)


def pressed(interference: float, outside: float = 45.0) -> float:
    inner = Sleeve(35, outside, *STEEL)
    return fit_pressure(inner=inner, outer=HOUSING, interference=interference)


def tilt_of(axial_play: float, diameter: float) -> float:
    return tilt_play_of_axial_play(axial_play=axial_play, support_diameter=diameter)


INSIDE: list[Callable[[], object]] = [
    lambda: lift(0.5, 0.001),
    lambda: share(0.5, 0.5),
    lambda: tips(0, 0, 0, 0.5),
    lambda: loss(0, 1),
    lambda: loss(1, 0),
    lambda: uneven(0.5, 22.0, 2.0),
    lambda: oval(0.0, 0.5),
    lambda: oval(0.0999, 1.0),
    lambda: pressed(0.0),
    lambda: pressed(0.03, 45.03),
    lambda: pressed(0.449),
    lambda: tilt_of(0.0, 0.5),
    lambda: axial_share_in_rock(tan_lead=0.0, locked=False),
    lambda: axial_share_in_rock(tan_lead=0.999, locked=False),
    lambda: Sleeve(0, 1, 1000.5, 0.0),
]


@pytest.mark.parametrize("call", INSIDE)
def test_figures_inside_the_range_pass(call: Callable[[], object]) -> None:
    call()


OUTSIDE: list[tuple[Callable[[], object], str]] = [
    (lambda: radial_play_from_two_sides(near=0.1, opposite=0.1, u=0), "reading must be above zero"),
    (lambda: lift(0, 0.001), "radius 0.*expected above zero"),
    (lambda: lift(80, 0), "u 0: expected above zero"),
    (lambda: share(0, 50), "radii 0 and 50 mm: expected above zero"),
    (lambda: share(50, 0), "radii 50 and 0 mm: expected above zero"),
    (lambda: tips(-1, 1, 1, 1), "must not be below zero"),
    (lambda: tips(1, -1, 1, 1), "must not be below zero"),
    (lambda: tips(1, 1, -1, 1), "must not be below zero"),
    (lambda: tips(1, 1, 1, -1), "must not be below zero"),
    (lambda: loss(-0.1, 0.5), "expected 0 to 1"),
    (lambda: loss(1.1, 0.5), "expected 0 to 1"),
    (lambda: loss(0.5, -0.1), "expected 0 to 1"),
    (lambda: loss(0.5, 1.1), "expected 0 to 1"),
    (lambda: uneven(0, 5), "expected thin to thick"),
    (lambda: uneven(6, 5), "expected thin to thick"),
    (lambda: uneven(5, 22.5), "expected thin to thick"),
    (lambda: uneven(4, 6, 2.01), "at most twice as stiff"),
    (lambda: oval(0.1, 1.0), "below R/10"),
    (lambda: oval(-0.1, 10.0), "below R/10"),
    (lambda: oval(0.0, 0.0), "below R/10"),
    (lambda: pressed(-0.001), "0 to 1 per cent"),
    (lambda: pressed(0.45), "0 to 1 per cent"),
    (lambda: pressed(0.03, 45.031), "expected one seat"),
    (lambda: tilt_of(-0.01, 100), "out of range"),
    (lambda: tilt_of(0.01, 0), "out of range"),
    (lambda: axial_share_in_rock(tan_lead=1.0, locked=False), "expected 0 to 1"),
    (lambda: axial_share_in_rock(tan_lead=-0.1, locked=True), "expected 0 to 1"),
    (lambda: tilt_under_moment([0.0, 1.0, 2.0], [0.0] * 3, u=1e-6), "moment of zero"),
    (lambda: axis_and_part_by_reversal([1.0], [1.0, 2.0]), "runs of 1 and 2 readings"),
    (lambda: Sleeve(0, 1, 1000.0, 0.3), "above 1000"),
    (lambda: Sleeve(0, 1, 2e5, 0.5), "0 to 0.5"),
    (lambda: Sleeve(-1, 1, 2e5, 0.3), "bore < outside"),
    (
        lambda: outside_growth_share(inner=BUSHING, outer=Sleeve(45, math.inf, *STEEL)),
        "no outside to grow",
    ),
]


@pytest.mark.parametrize(("call", "words"), OUTSIDE)
def test_figures_at_and_past_the_end_are_refused_with_words(
    call: Callable[[], object], words: str
) -> None:
    with pytest.raises(ValueError, match=words):
        call()
