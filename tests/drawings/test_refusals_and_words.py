"""Parts that cannot be made are refused by name; the sheet says all that a machinist needs."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from typing import Any

import pytest

from drawings.sample_parts import HOLED_SHIM, RELIEF, SHIM, STYLES, TITLE, bushing
from wormwright.drawings import draw_part
from wormwright.drawings.part_sheet import part_text
from wormwright.job.parts import Limits, Part

MM, INCH = STYLES


@pytest.mark.parametrize(
    ("part", "why"),
    [
        (bushing(throw=6.5), "leaves no wall"),
        (bushing(shoulder_bore=35.5), "shoulder bore"),
        (bushing(bearing_depth=23.5), "not shallower"),
        (bushing(slot_circle=48.0), "cut into the body"),
        (bushing(slot_circle=63.0), "break out of the flange"),
        (bushing(slot_sweep=math.radians(115)), "run into each other"),
        (replace(SHIM, inside=Limits(34.8, 0.1, 0.0)), "not smaller than outside"),
        (replace(SHIM, stack=(0.25, 0.05)), "stack adds to 0.300"),
        (replace(HOLED_SHIM, circle=43.0), "holes of 3.5 mm .* break out"),
        (replace(HOLED_SHIM, circle=31.0), "break out of the ring"),
        (replace(HOLED_SHIM, holes=34), "holes meet"),
        (replace(RELIEF, outside=Limits(32.6, 0.02, 0.0)), "takes nothing off"),
        (replace(RELIEF, shaft_diameter=32.3), "reach the shaft"),
        (bushing(flange_outside=9000.0, slot_circle=8000.0), "does not fit the sheet"),
    ],
)
def test_a_part_that_cannot_be_made_is_refused_with_its_reason(part: Part, why: str) -> None:
    with pytest.raises(ValueError, match=why):
        draw_part(part, TITLE, MM)


def _words(part: Part, style: Any = MM) -> str:
    text = part_text(part, style)
    lines = [line for _, lines in text.notes for line in lines]
    return " ".join([text.name, text.material, *text.fits, text.surface, text.general, *lines])


def test_the_bushing_sheet_gives_every_cut_setting_and_check() -> None:
    """TIR is twice the throw, 0.80; wall difference likewise; blank 23 + 30 long."""
    words = _words(bushing())
    for needed in (
        "TIR 0.80 ±0.02",
        "TWO stations",
        "Needle lowest = thin wall = throw direction",
        "53 [2.087] long",
        "thin 5.6",
        "thick 6.4",
        "DO NOT PRESS",
        "11.00 ±0.05",
        "0.5 [0.020] x 45°",
        "Pop mark in the flange face near the rim, 30° counter-clockwise",
        "40° to 80°, 160° to 200°, 280° to 320°",
        "6003",
        "g6",
        "A and B alike",
    ):
        assert needed in words, needed


def test_throw_and_tir_are_never_the_same_figure() -> None:
    for throw in (0.05, 0.237, 1.5):
        words = _words(bushing(throw=throw, throw_tolerance=0.005))
        said = re.search(r"swings TIR ([\d.]+) ±([\d.]+)", words)
        assert said
        assert [float(figure) for figure in said.groups()] == pytest.approx([2 * throw, 0.01])


def test_b_carries_two_pop_marks_and_its_own_sense() -> None:
    words = _words(bushing("B"))
    assert "Two pop marks side by side" in words
    assert "30° clockwise from the throw line" in words


def test_a_seat_from_the_inner_end_changes_the_order_of_cuts() -> None:
    words = _words(bushing(seat_opens="inner end"))
    assert "flange end in the chuck, body out" in words
    assert "face the flange to thickness" in words


def test_the_shim_sheet_names_the_stack_and_the_check() -> None:
    words = _words(SHIM)
    assert "0.250 [0.0098] + 0.100 [0.0039]" in words
    assert "Thickness at 4 places" in words
    assert "0.355 / 0.345" in words


def test_a_thick_ring_is_turned_and_lapped() -> None:
    words = _words(replace(SHIM, thickness=Limits(3.2, 0.005, -0.005), stack=()))
    assert "Lap both faces" in words
    assert "Stack" not in words


def test_a_shim_under_a_screwed_part_says_its_holes_its_stock_and_what_it_touches() -> None:
    words = _words(HOLED_SHIM)
    assert "3 holes Ø3.5 [Ø0.138], evenly spaced on Ø37 [Ø1.457]" in words
    assert "Stack of 3 rings from stock" in words
    assert "as sold they add to 0.234 [0.0092] up to 0.292 [0.0115]" in words
    assert "All screws drop through" in words
    assert "Lies flat between cover and housing" in words
    assert "lapped" not in words


def test_a_thin_ring_without_fitting_stock_is_lapped_and_one_from_stock_is_left_as_rolled() -> None:
    thin = replace(SHIM, stack=(), thickness=Limits(0.26, 0.005, -0.005))
    assert "next thicker and lap it down" in _words(thin)
    one = replace(SHIM, stack=(0.25,), thickness=Limits(0.25, 0.005, -0.005))
    assert "One ring from stock of 0.250 [0.0098], left as rolled" in _words(one)
    assert "Stack" not in _words(one)


def test_the_relief_sheet_guards_the_flanks() -> None:
    words = _words(RELIEF)
    assert "crest only" in words
    assert "Lift the stone off the flank" in words
    assert "as found Ø32.600" in words


def test_general_tolerances_are_given_as_words_in_the_leading_unit() -> None:
    """ISO 2768-1 class m, from memory: to 30 mm 0.2, to 120 mm 0.3."""
    assert "to 30 ±0.2, to 120 ±0.3" in _words(bushing())
    assert "to 1 3/16 ±0.007" in _words(bushing(), INCH)
