"""Further parts: refused by name when they cannot be made; their sheets leave nothing to guess."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from drawings.further_parts import (
    ADAPTER,
    BUSH,
    KEY,
    LOOSE_ADAPTER,
    PACKING,
    PLAIN_BUSH,
    SEAT,
    SMALL_ADAPTER,
    SMALL_KEY,
    SMALL_SEAT,
    SMALL_SPANNER,
    SPANNER,
)
from drawings.sample_parts import STYLES, TITLE, document
from wormwright.drawings import SheetStyle, draw_part
from wormwright.drawings.part_sheet import part_text
from wormwright.drawings.wheel_seat import station_teeth
from wormwright.job.parts import Limits, Part

MM, INCH = STYLES


def _words(part: Part, style: SheetStyle = MM) -> str:
    text = part_text(part, style)
    lines = [line for _, lines in text.notes for line in lines]
    return " ".join([text.name, text.material, *text.fits, text.surface, text.general, *lines])


def test_the_packing_sheet_says_which_way_it_moves_the_worm_and_where_each_hole_lies() -> None:
    words = _words(PACKING)
    assert "Moves worm and wheel APART by 0.300 [0.0118]" in words
    assert "CLOSER by 0.350" in _words(replace(PACKING, change=-0.35))
    assert "The 2 pieces alike within 0.005" in words
    beside = _beside_the_views("packing")
    for needed in ("0, 0", "4 x Ø6.6", "52 [2.047]", "SECTION A-A"):
        assert needed in beside, needed


def _beside_the_views(name: str, style: SheetStyle = MM) -> str:
    return " ".join(t.dxf.text for t in document(name, style).modelspace().query("TEXT"))


@pytest.mark.parametrize(
    ("part", "why"),
    [
        (replace(PACKING, hole=0.0), "must be above 0"),
        (replace(PACKING, holes=()), "1 to 12 bolt holes"),
        (replace(PACKING, holes=((2.0, 14.0),)), "breaks out of the edge"),
        (replace(PACKING, holes=((20.0, 14.0), (25.0, 14.0))), "bolt holes meet"),
        (replace(PACKING, window=(60.0, 10.0)), "as large as the plate"),
        (replace(PACKING, window=(48.0, 10.0)), "breaks into the window"),
        (replace(PACKING, change=0.0), "changes nothing"),
        (replace(PACKING, match=0.02), "wider than the limits"),
        (replace(PACKING, stack=(0.5, 0.2)), "the stack adds to 0.700"),
        (replace(ADAPTER, chuck_recess=95.2), "play of a fixed register"),
        (replace(LOOSE_ADAPTER, chuck_recess=94.8), "play of an adjustable register"),
        (replace(ADAPTER, skim=0.0), "no skim is left"),
        (replace(ADAPTER, bore=39.0), "leaves no wall under a spigot"),
        (replace(ADAPTER, locating=Limits(160.0, 0.0, -0.03)), "as large as the plate"),
        (replace(ADAPTER, table_count=1), "2 holes or more"),
        (replace(ADAPTER, table_head=8.0), "fall through"),
        (replace(ADAPTER, table_head_depth=17.5), "sink through"),
        (replace(ADAPTER, table_circle=108.0), "heads cut into the register"),
        (replace(ADAPTER, table_circle=146.0), "break out of the rim"),
        (replace(ADAPTER, chuck_circle=102.0), "chuck screws cut into the register"),
        (replace(ADAPTER, chuck_circle=153.0), "chuck screws break out"),
        (replace(ADAPTER, chuck_turn=0.0), "meet"),
        (replace(ADAPTER, locating=Limits(124.5, -0.009, -0.025, "g6")), "cut the back spigot"),
        (replace(ADAPTER, locating=Limits(106.0, 0.0, -0.02)), "cut into the back spigot"),
        (replace(SEAT, bore=Limits(30.1, 0.02, 0.0)), "does not clean up; expected 30.140"),
        (replace(SEAT, seat=Limits(34.5, 0.02, 0.0)), "sleeve wall 0.75 mm"),
        (replace(SEAT, hub_outside=39.0), "hub wall 1.50 mm"),
        (replace(SEAT, hub_outside=120.0), "as large as the wheel"),
        (replace(SEAT, face_width=30.0), "wider than the hub"),
        (replace(SEAT, stations=2), "3 to 24 stations"),
        (replace(SEAT, teeth=10), "3 to 24 stations"),
        (replace(SEAT, runout=0.14), "leave it alone"),
        (replace(BUSH, outside=Limits(19.0, 0.04, 0.03)), "no wall is left"),
        (replace(BUSH, groove_depth=2.0), "takes half the wall"),
        (replace(BUSH, shaft=Limits(20.03, 0.0, -0.01)), "not above the journal"),
        (replace(BUSH, closes=-0.01), "cannot open"),
        (replace(BUSH, bore_turned=20.01), "nothing is left to finish"),
        (replace(BUSH, groove_land=0.0), "runs out of the end"),
        (replace(BUSH, oil_hole_at=24.0), "does not lie in the groove"),
        (replace(BUSH, oil_hole_at=5.0), "comes out in the flange"),
        (replace(BUSH, flange_outside=28.5), "no larger than the body"),
        (replace(BUSH, flange_thickness=0.0), "go together"),
        (replace(SPANNER, pin=Limits(4.5, 0.01, 0.0)), "do not enter the slots"),
        (replace(SPANNER, pin_reach=5.0), "rub on the housing"),
        (replace(SPANNER, head_outside=62.0), "break out of the rim"),
        (replace(SPANNER, centre_hole=50.0), "breaks into the pin holes"),
        (replace(SPANNER, pin_spread=math.radians(85)), "expected 79°"),
        (replace(SPANNER, lever_width=72.0), "as wide as the head"),
        (replace(SPANNER, reading_radius=49.0), "reading edge lies in the head"),
        (replace(SPANNER, scale_range=math.radians(60)), "1 to 45 degrees"),
        (replace(SPANNER, key_radius=42.0), "does not lie in the lever"),
        (replace(SPANNER, key_radius=96.0), "does not lie in the lever"),
        (replace(SPANNER, lever_width=12.0), "no wall in the lever"),
        (
            replace(SPANNER, slot_sweep=math.radians(115), pin_spread=math.radians(5) - 0.5 / 28),
            "two pins meet",
        ),
        (replace(KEY, offset=0.05), "lost in its tolerance"),
        (replace(KEY, offset=1.9), "no shoulder all round"),
        (replace(KEY, head_outside=12.0), "does not cover"),
        (replace(KEY, block_hole=Limits(6.0, -0.004, -0.01)), "does not enter the block"),
        (replace(KEY, key_slot=Limits(10.0, 0.03, 0.0)), "eccentric does not enter"),
        (replace(KEY, key_slot=Limits(10.0, 0.08, 0.015)), "shakes by 0.095 mm"),
        (replace(KEY, eccentric_length=6.0), "clamp the lever"),
        (replace(KEY, cross_hole=7.5), "cross hole breaks out"),
        (replace(KEY, hole_from_end=30.0), "away from the arc"),
    ],
)
def test_a_part_that_cannot_be_made_is_refused_with_its_reason(part: Part, why: str) -> None:
    with pytest.raises(ValueError, match=why):
        draw_part(part, TITLE, MM)


def test_the_adapter_sheet_gives_every_cut_setting_and_check() -> None:
    """By hand: 26.5 overall, blank 4 over; rough register 95 + 2 x 0.3, rough face 18 + 0.3."""
    words = _words(ADAPTER)
    for needed in (
        "Blank Ø164 [6.457] x 30.5 [1.201] long",
        "back spigot to limits",
        "relieve its corner 0.3 [0.012] deep, bore through",
        "26.5 [1.043] overall",
        "only to Ø95.6 [3.764]",
        "only to 18.3 [0.720] from the back",
        "Sink the table heads 9.3 [0.366] deep",
        "tap M8 x 1.25",
        "Table bearings set and re-read FIRST",
        "face to 18 [0.709] from the back, then register to limits",
        "deeper than 3.5 [0.138]",
        "deeper than 5 [0.197]",
        "play in the recess 0.007 to 0.029",
        "TIR 0.010 [0.0003]",
        "js6",
        "g6 in the bore of the table",
        "Pop mark in the face",
    ):
        assert needed in words, needed
    assert "TAP" not in words


def test_an_adjustable_adapter_is_tapped_true_and_locked_with_the_indicator_on() -> None:
    words = _words(LOOSE_ADAPTER)
    for needed in ("loose on purpose", "TAP the body there", "half the reading", "reading on"):
        assert needed in words, needed
    assert "play in the recess 0.310 to 0.410" in words


@pytest.mark.parametrize(
    ("name", "style", "said"),
    [
        (
            "adapter",
            MM,
            (
                "4 x Ø8.5 [0.335], evenly spaced",
                "heads Ø14.5 [0.571], 9 [0.354] deep",
                "3 x M8 x 1.25, evenly spaced",
                "drill Ø6.8 [0.268] through",
                "first one 45° counter-clockwise from a",
            ),
        ),
        (
            "small adapter",
            INCH,
            (
                "3 x Ø0.177 [4.5], evenly spaced",
                "heads Ø0.315 [8], 0.181 [4.6] deep",
                "3 x M4 x 0.7, evenly spaced",
                "drill Ø0.130 [3.3] through",
                "first one 60° counter-clockwise from a",
            ),
        ),
    ],
)
def test_holes_told_in_words_carry_their_sizes_in_both_units(
    name: str, style: SheetStyle, said: tuple[str, ...]
) -> None:
    """By hand from the samples: 8.5 mm is 0.335 in, 14.5 is 0.571, 6.8 is 0.268."""
    words = _beside_the_views(name, style)
    for line in said:
        assert line in words, line


def test_chuck_screws_turned_the_other_way_say_so_and_stand_there() -> None:
    turned = replace(SMALL_ADAPTER, chuck_turn=math.radians(-60))
    made = draw_part(turned, TITLE, MM)
    assert "60° clockwise from a" in made.dxf
    assert "60° counter-clockwise" not in made.dxf


def test_the_wheel_sheet_gives_every_cut_setting_and_check() -> None:
    """By hand: the sleeve is 1 longer than the hub of 28, 20 more in the jaws; bored 1 under 30."""
    words = _words(SEAT)
    for needed in (
        "TIR 0.140 [0.0055] over the pin, bore Ø30.000",
        "half round on its seat",
        "in line with tooth space 1",
        "from bar Ø39 [1.535] x 49 [1.929]",
        "bore Ø29 [1.142], part off at 29 [1.142]",
        "four-jaw by the hub, front outward",
        "at all 12 stations to TIR 0.010",
        "Bore to 36.025 / 36.000 [1.4183 / 1.4174]",
        "BEFORE anything else",
        "bore the sleeve to 30.021 / 30.000 [1.1819 / 1.1812]",
        "table shaft at the seat, micrometer",
        "hub face that goes against the table",
        "over the pin: TIR 0.020 [0.0007]",
        "s6: light press with retaining compound",
        "old settings are void",
    ):
        assert needed in words, needed


def test_a_wheel_without_a_hub_goes_on_a_faceplate() -> None:
    words = _words(SMALL_SEAT)
    assert "No hub to hold" in words
    assert "by the hub" not in words


def test_the_wheel_is_set_up_to_half_of_what_it_may_run_out_on_the_table() -> None:
    """0.010 and 0.015 are allowed: 0.005 and 0.0075, rounded down, are set."""
    words = _words(SMALL_SEAT)
    assert "to TIR 0.005 [0.00019], surface 2 to 0.007 [0.00029]" in words
    assert "over the pin: TIR 0.010 [0.0003]" in words


def test_the_stations_stand_at_whole_tooth_spaces_round_the_whole_wheel() -> None:
    """By hand: 12 stations on 72 teeth are 6 apart; 5 on 36 are 7.2, read at the nearest."""
    assert station_teeth(SEAT) == (1, 7, 13, 19, 25, 31, 37, 43, 49, 55, 61, 67)
    assert station_teeth(replace(SMALL_SEAT, stations=5)) == (1, 8, 15, 23, 30)
    words = _beside_the_views("seat") + " "
    assert "over a pin or ball in the tooth space, Ø2.5 [0.098]" in words
    for space in station_teeth(SEAT):
        assert f" {space} " in words


def test_the_bush_sheet_gives_every_cut_setting_and_check() -> None:
    """By hand: bar 40 + 2, 26 + 25 long; play 20.020 - 20.000 to 20.041 - 19.987."""
    words = _words(BUSH)
    for needed in (
        "Bar Ø42 [1.654] x 51 [2.008], flange end outward",
        "thrust face, flange, its back and the body",
        "bore Ø19.80 ±0.05 [Ø0.780 ±0.001]: NOT to the finished size",
        "lead-in chamfer 15°, 0.5 [0.020] long",
        "oil hole Ø3 [0.118] through the wall, 15 [0.591] from the flange face",
        "One pop mark on the flange face",
        "closes by about 0.030",
        "both bores in ONE pass",
        "housing bore ____",
        "play 0.020 to 0.054",
        "Thrust face to the outside",
        "s6, pressed into the housing",
        "F7; FINISHED IN PLACE",
    ):
        assert needed in words, needed


def test_a_plain_bush_has_no_thrust_face_and_b_has_two_marks() -> None:
    words = _words(PLAIN_BUSH)
    assert "Thrust face" not in words
    assert "Two pop marks on the outer end" in words
    assert "11 [0.433] from the outer end" in words


def test_the_oil_groove_is_told_in_both_units_and_stands_on_the_wheel_side() -> None:
    words = _beside_the_views("journal bush")
    for line in (
        "groove 3 [0.118] wide,",
        "1 [0.039] deep, edges rounded,",
        "stops 3 [0.118] from both ends",
        "oil hole Ø3 [0.118],",
        "the groove stands on the wheel side",
    ):
        assert line in words, line


def test_the_spanner_sheet_gives_every_cut_setting_and_check() -> None:
    """By hand: 36 + 114.6 + 5 over is 156, 2 x 114.6 x sin 20 + 5 is 84; half of 79 is 39.5."""
    words = _words(SPANNER)
    for needed in (
        "Plate 156 [6.142] x 84 [3.307] x 6 [0.236]",
        "39.5° either side of the lever line",
        "a line a degree, 4 [0.157] long, fives 6 [0.236], tens 9 [0.354]",
        "m6 dowel pin, pressed in",
        "Slot for the key 10.030 / 10.015",
        "14 [0.551] along it",
        "points AWAY from the throw",
        "Nip the clamp screws",
        "turned TOGETHER",
        "under the flange thickness 5 [0.197]",
        "no rock by hand",
    ):
        assert needed in words, needed


def test_the_spanner_says_what_its_edge_reads_and_how_far_it_turns() -> None:
    """By hand: 1/114.6 rad is 0.50 degrees; 2 x 0.4 x sin 5 is 0.070; 20 + 0.5 less 11.3 is 9.2."""
    words = _beside_the_views("spanner")
    for line in ("1 mm = 0.50°", "10° move the bore by 0.070", "9.2°", "the other stays nipped"):
        assert line in words, line
    two = _beside_the_views("small spanner", INCH)
    assert "take both screws out, the key holds the lever" in two
    tight = replace(SPANNER, screw_head=20.0)
    assert "no room beside the screw heads" in draw_part(tight, TITLE, MM).dxf


def test_the_key_sheet_gives_every_cut_setting_and_check() -> None:
    """By hand: TIR twice the offset; bar 14 + 2, 31 + 25; 0.4 x 1/88 is 0.0045 at the bore."""
    words = _words(KEY)
    for needed in (
        "Bar Ø16 [0.630] x 56 [2.205] in the four-jaw",
        "TIR 2.00 ±0.10",
        "shoulder faces the journal",
        "over the high side of the eccentric",
        "moves the bushing by 0.7°, the bore by about 0.004",
        "block reamed Ø6.012 / 6.000",
        "Leave both keys in",
    ):
        assert needed in words, needed
    beside = _beside_the_views("key")
    for line in ("45 [1.772] long, 20 [0.787] wide", "12 [0.472] from this", "reading line"):
        assert line in beside, line
    assert "the bore by about 0.00002 [0.0007]" in _words(SMALL_KEY, INCH)


def test_the_key_fits_the_slot_of_its_spanner() -> None:
    for spanner, key in ((SPANNER, KEY), (SMALL_SPANNER, SMALL_KEY)):
        assert key.key_slot == spanner.key_slot
        assert key.lever_radius == spanner.key_radius
        assert key.lever_thickness == spanner.plate_thickness
