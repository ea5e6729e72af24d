"""The shipped tables against second prints, and the look-ups made in them."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from published import derived, published
from wormwright.handbook import rows as tables
from wormwright.handbook.bearings import (
    CLEARANCE_GROUPS,
    bearing,
    bearings,
    bearings_of_size,
    bearings_with,
    clearance,
    least_rating,
    play_factor,
    ratings,
    read_marking,
)
from wormwright.handbook.instruments import instrument, instruments
from wormwright.handbook.lubricants import lubricant_for, lubricants
from wormwright.handbook.shim_stock import piece_limits, ring_sizes, shims

TABLES = [
    "axial_play_factor",
    "bearing_clearance",
    "bearing_ratings",
    "bearing_ring_limits",
    "bearing_sizes",
    "din988_rings",
    "instruments",
    "iso281_factors",
    "iso286_fundamental",
    "iso286_j_limits",
    "iso286_tolerances",
    "materials",
    "shim_stock",
]

SIZE_CHART = {
    "6000": [(10, 26, 8), (12, 28, 8), (15, 32, 9), (17, 35, 10), (20, 42, 12), (25, 47, 12)],
    "6006": [(30, 55, 13), (35, 62, 14), (40, 68, 15), (45, 75, 16), (50, 80, 16), (55, 90, 18)],
    "6200": [(10, 30, 9), (12, 32, 10), (15, 35, 11), (17, 40, 12), (20, 47, 14), (25, 52, 15)],
    "6206": [(30, 62, 16), (35, 72, 17), (40, 80, 18), (45, 85, 19), (50, 90, 20), (55, 100, 21)],
}


@published(
    work="bearing supplier's size chart",
    edition="edition not noted",
    place="6000 and 6200 series, bore, outside, width",
    known="read",
)
@pytest.mark.parametrize("first", SIZE_CHART)
def test_boundary_dimensions_are_those_of_a_second_chart(first: str) -> None:
    for step, printed in enumerate(SIZE_CHART[first]):
        row = bearing(str(int(first) + step))
        assert (row.bore, row.outside, row.width) == printed


CLEARANCES_PRINTED = {
    # bore: C2, CN, C3, C4, C5 in um
    14: ((0, 9), (3, 18), (11, 25), (18, 33), (25, 45)),
    22: ((0, 10), (5, 20), (13, 28), (20, 36), (28, 48)),
    28: ((1, 11), (5, 20), (13, 28), (23, 41), (30, 53)),
    35: ((1, 11), (6, 20), (15, 33), (28, 46), (40, 64)),
    45: ((1, 11), (6, 23), (18, 36), (30, 51), (45, 73)),
    60: ((1, 15), (8, 28), (23, 43), (38, 61), (55, 90)),
    80: ((1, 15), (10, 30), (25, 51), (46, 71), (65, 105)),
}


@published(
    work="radial internal clearance chart of two bearing suppliers",
    edition="edition not noted",
    place="deep-groove bearings: bore 10 to 18 mm from one, 18 to 80 mm from the other",
    known="read",
)
@pytest.mark.parametrize("bore", CLEARANCES_PRINTED)
def test_clearance_groups_are_those_of_a_second_print(bore: int) -> None:
    for group, printed in zip(CLEARANCE_GROUPS, CLEARANCES_PRINTED[bore], strict=True):
        row = clearance(bore, group)
        assert (round(row.low * 1000, 3), round(row.high * 1000, 3)) == printed


@published(
    work="JIS B 7503, dial indicators",
    edition="2011",
    place="maximum permissible errors, 0.01 mm and 0.001 mm, retrace, repeatability, 1/10 turn",
    known="read",
)
def test_indicator_figures_are_those_of_the_standard() -> None:
    coarse, fine = instrument("dial indicator 0.01 mm"), instrument("dial indicator 0.001 mm")
    printed_coarse = (0.003, 0.003, 0.005)
    printed_fine = (0.002, 0.0005, 0.002)
    for row, printed in ((coarse, printed_coarse), (fine, printed_fine)):
        assert (row.retrace_span, row.repeat_span, row.error_span) == printed


JIS_SPANS = {
    "DI 0.01/1": (3, 3, 5, 8, 8, 8),
    "DI 0.01/3": (3, 3, 5, 8, 9, 10),
    "DI 0.01/5": (3, 3, 5, 9, 10, 12),
    "DI 0.01": (3, 3, 5, 9, 10, 15),
    "DI 0.005": (3, 3, 5, 9, 9, 12),
    "DI 0.001": (2, 0.5, 2, 3.5, 4, 5),
    "DI 0.001/2": (2, 0.5, 2, 4, 5, 7),
    "DI 0.001/5": (3, 1, 3.5, 5, 6, 10),
}
"""Retrace, repeat, 1/10 turn, 1/2 turn, one turn, whole travel, um; columns by travel."""


@published(
    work="JIS B 7503, dial indicators",
    edition="2011",
    place="maximum permissible errors, bezel 50 mm and over, all rows by travel",
    known="read",
)
@pytest.mark.parametrize("key", JIS_SPANS)
def test_every_travel_class_has_the_figures_of_the_standard(key: str) -> None:
    row = instrument(key)
    spans = (row.error_span, row.half_turn_span, row.one_turn_span, row.range_span)
    printed = [x / 1000 for x in JIS_SPANS[key]]
    assert [row.retrace_span, row.repeat_span, *spans] == pytest.approx(printed)


@published(
    work="ASME B89.1.10M, dial indicators",
    edition="2001",
    place="one division either way over the first turns, repeat 1/5, hysteresis 1/3 division",
    known="from memory",
)
@pytest.mark.parametrize("key", ["DI .001 in", "DI .0005 in"])
def test_inch_dials_follow_the_rule_in_divisions(key: str) -> None:
    row = instrument(key)
    assert row.one_turn_span == pytest.approx(2 * row.resolution)
    assert row.repeat_span == pytest.approx(row.resolution / 5)
    assert row.retrace_span == pytest.approx(row.resolution / 3, abs=1e-5)


def test_the_further_the_needle_goes_the_less_it_is_trusted() -> None:
    for row in instruments():
        turn = row.turn or 1.0
        spans = [row.span_over(part * turn) for part in (0.05, 0.8)]
        assert spans == sorted(spans)
        assert spans[0] == spans[1] or row.turn is not None, row.name
    coarse = instrument("DI 0.01")
    assert coarse.u_of_difference(turned_back=True, moved=0.6) > coarse.u_of_difference(
        turned_back=True
    )


def test_every_instrument_is_found_by_name_and_by_short_key() -> None:
    names = [n.casefold() for row in instruments() for n in (row.name, row.key)]
    assert len(names) == len(set(names))
    for row in instruments():
        assert instrument(row.name.upper()) == instrument(f" {row.key} ") == row
        assert (row.turn is None) == (row.dial in ("", "digital")), row.name


@derived("bore code: 04 and up times five, 00 to 03 are 10, 12, 15, 17 mm")
def test_bore_code_tells_the_bore() -> None:
    checked = 0
    for row in bearings():
        if "/" in row.designation or len(row.designation) < 4:
            continue
        code = int(row.designation[-2:])
        assert row.bore == (5 * code if code > 3 else (10, 12, 15, 17)[code])
        checked += 1
    assert checked >= 60


@derived("a thicker series of one bore has the larger outside, width and load rating")
@pytest.mark.parametrize("bore", [10, 12, 15, 17, 20, 25, 30, 35, 40, 45, 50, 55, 60])
def test_series_rise_together(bore: int) -> None:
    series = ("618", "619", "60", "62", "63")
    row = sorted((b for b in bearings() if b.bore == bore), key=lambda b: series.index(b.series))
    assert len(row) == 5
    for small, large in pairwise(row):
        assert small.outside < large.outside
        assert small.width <= large.width
        assert least_rating(small.designation).static < least_rating(large.designation).static


@derived("uncertainty parts added by hand: 2.5 um reading twice, spans 5, 3 and 3 um")
def test_uncertainty_of_a_rock_read_on_a_0_01_indicator() -> None:
    u = instrument("dial indicator 0.01 mm").u_of_difference(turned_back=True)
    parts = [2.5 / math.sqrt(3)] * 2 + [x / math.sqrt(12) for x in (5, 3, 3)]
    assert u * 1000 == pytest.approx(math.hypot(*parts))


@pytest.mark.parametrize("table", TABLES)
def test_every_row_of_every_table_names_its_source(table: str) -> None:
    found = tables.rows(table)
    assert len(found) > 5
    for row in found:
        assert len(row["source"]) > 8
        assert all(value is not None for value in row.values()), row


@pytest.mark.parametrize(
    ("text", "designation", "group", "closure", "unread"),
    [
        ("6204-2RS C3", "6204", ("C3", True), "sealed both sides", ()),
        ("6204", "6204", ("CN", False), "", ()),
        ("61904", "6904", ("CN", False), "", ()),
        ("nsk 6904 ddu cm", "6904", ("CN", False), "sealed both sides", ("NSK", "CM")),
        ("6204-2RS1/C3HT", "6204", ("C3", True), "sealed both sides", ("HT",)),
        ("62042RS", "6204", ("CN", False), "sealed both sides", ()),
        ("60/22 ZZ", "60/22", ("CN", False), "shielded both sides", ()),
        ("6004LLUC3/5K", "6004", ("C3", True), "sealed both sides", ("5K",)),
        ("608Z", "608", ("CN", False), "shielded one side", ()),
    ],
)
def test_markings_are_read_and_the_rest_is_handed_back(
    text: str, designation: str, group: tuple[str, bool], closure: str, unread: tuple[str, ...]
) -> None:
    found = read_marking(text)
    assert found.designation == designation
    assert (found.group, found.group_marked) == group
    assert found.closure == closure
    assert found.unread == unread


@pytest.mark.parametrize("text", ["7204B", "16004", "R8", "", "HK0808", "62045", "no mark", "3204"])
def test_a_marking_of_another_kind_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="measure bore, outside and width"):
        read_marking(text)


def test_bearings_for_a_bushing_keep_the_bore_and_get_smaller_outside() -> None:
    found = bearings_with(bore=20, outside_below=47)
    assert [b.designation for b in found] == ["6004", "6904", "6804"]
    assert bearings_with(bore=20, outside_below=32) == ()


def test_a_worn_bearing_is_found_by_its_three_sizes() -> None:
    found = bearings_of_size(bore=20.02, outside=46.98, width=14.0)
    assert [b.designation for b in found] == ["6204"]
    assert bearings_of_size(bore=20.0, outside=46.0, width=14.0) == ()


def test_ratings_stay_with_their_maker() -> None:
    makers = {r.maker: r.dynamic for r in ratings("6209")}
    assert makers == {"NSK": 31_500, "Koyo": 32_700, "SKF": 35_100}
    assert least_rating("6800").maker == "SKF"


def test_no_play_factor_is_invented_for_sizes_the_maker_does_not_list() -> None:
    assert play_factor("60/22") is None
    assert play_factor("6904") is None


def test_inch_stock_is_in_mm_and_says_how_it_is_sold() -> None:
    for shim in shims("inch stock"):
        assert shim.thickness == pytest.approx(float(shim.sold_as.split(maxsplit=1)[0]) * 25.4)
    with pytest.raises(ValueError, match="metric foil"):
        shims("kitchen foil")


def test_rings_for_a_bore_are_found_by_their_outside() -> None:
    assert [r.inside for r in ring_sizes(47.0)] == [37]
    assert len(ring_sizes()) > 30


def test_turning_back_costs_certainty() -> None:
    for row in instruments():
        one_way = row.u_of_difference(turned_back=False)
        assert 0 < one_way <= row.u_of_difference(turned_back=True)


@published(
    work="shim trade lists",
    edition="none",
    place="foil and inch sheet are sold to about 10 % of their thickness",
    known="common practice",
)
@pytest.mark.parametrize(
    ("thickness", "limit"), [(0.05, 0.005), (0.254, 0.0254), (0.33, 0.033), (2.0, 0.2)]
)
def test_a_sheet_is_sold_to_a_tenth_of_its_thickness(thickness: float, limit: float) -> None:
    upper, lower = piece_limits(thickness)
    assert (upper, lower) == pytest.approx((limit, -limit))


def test_a_sheet_without_thickness_is_refused() -> None:
    with pytest.raises(ValueError, match="must be above zero"):
        piece_limits(0.0)


@pytest.mark.parametrize(
    ("material", "metal"),
    [
        ("tin bronze", "yellow metal"),
        ("Brass CZ121", "yellow metal"),
        ("grey iron", "iron or steel"),
        ("acetal (POM)", "plastic"),
        ("unobtainium", "not known"),
    ],
)
def test_oil_goes_by_the_metal_of_the_wheel(material: str, metal: str) -> None:
    row = lubricant_for(material)
    assert row.metal == metal
    assert row.source
    # What sulphur attacks, or may, is never filled with EP oil.
    assert not row.attacked or "safe for yellow metal" in row.fill


def test_no_word_of_the_oil_table_leads_to_two_metals() -> None:
    words = [name for row in lubricants() for name in row.names]
    assert len(words) == len(set(words))
