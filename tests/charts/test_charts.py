"""Charts: well-formed, labelled in words, to scale where they say so, and always the same."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from xml.etree import ElementTree

import matplotlib as mpl
import numpy as np
import pytest

from packet_samples import (
    HOSTILE,
    arcmin,
    blue_picture,
    circle_plot,
    closing_plane,
    contributor_bars,
    polar_map,
    section_picture,
    turn_plot,
)
from wormwright.charts import ChartBlock, chart_svg
from wormwright.charts.section import enlargement
from wormwright.job.blocks import Bar, ContributorBars, Round

CHARTS = (
    contributor_bars(),
    polar_map(),
    closing_plane(),
    section_picture(),
    blue_picture(),
    turn_plot(),
    circle_plot(),
)


def words(svg: str) -> str:
    root = ElementTree.fromstring(svg)
    return " ".join("".join(e.itertext()) for e in root.iter() if e.tag.endswith("}text"))


@pytest.mark.parametrize("block", CHARTS)
@pytest.mark.parametrize("units", ["mm", "in"])
def test_chart_is_one_svg_without_date_or_maker(block: ChartBlock, units: str) -> None:
    svg = chart_svg(block, "mm" if units == "mm" else "in")
    assert ElementTree.fromstring(svg).tag.endswith("}svg")
    assert "dc:date" not in svg
    assert "matplotlib.org" not in svg


@pytest.mark.parametrize("block", CHARTS)
def test_chart_is_the_same_each_time_and_whatever_the_reader_set(block: ChartBlock) -> None:
    first = chart_svg(block, "mm")
    with mpl.rc_context({"font.size": 31.0, "axes.linewidth": 9.0}):
        assert chart_svg(block, "mm") == first
        assert mpl.rcParams["font.size"] == 31.0


def test_bars_name_causes_values_total_and_limit() -> None:
    said = words(chart_svg(contributor_bars(), "mm"))
    for word in ("Wheel-to-table joint", "All together", "found", "predicted", "95 % interval"):
        assert word in said
    assert "13.0 ± 0.8 arcmin" in said
    assert "Allowed 4.5 arcmin" in said
    assert "arcsec" not in said


def test_predicted_bars_are_hatched_not_only_coloured() -> None:
    assert "<pattern" in chart_svg(contributor_bars(), "mm")
    found_only = ContributorBars("c", (Bar("a", arcmin(1, 0.1)),), arcmin(1, 0.1))
    assert "<pattern" not in chart_svg(found_only, "mm")
    assert "predicted" not in words(chart_svg(found_only, "mm"))


def test_map_states_zero_sense_and_tight_spot() -> None:
    said = words(chart_svg(polar_map(), "mm"))
    for word in ("0° is up", "anticlockwise", "lost motion, arcmin", "215 ± 14°", "readings"):
        assert word in said


def test_map_says_when_there_is_no_tight_spot() -> None:
    said = words(chart_svg(polar_map(refused=True), "mm"))
    assert "cannot be told" in said
    assert "its 95 % limits" not in said


def test_map_without_readings_is_drawn() -> None:
    empty = np.array([])
    bare = replace(polar_map(), points_angle=empty, points_value=empty)
    assert "95 % band" in words(chart_svg(bare, "mm"))


def test_plane_names_its_lines_in_the_readers_unit() -> None:
    metric = words(chart_svg(closing_plane(), "mm"))
    inch = words(chart_svg(closing_plane(), "in"))
    for said in (metric, inch):
        for word in ("hob-equal", "oversize-hob", "helical", "tips touch", "chosen", "62.0°"):
            assert word in said
    assert "Closing, mm" in metric
    assert "Closing, thou" in inch


def test_lines_and_crosses_differ_in_more_than_colour() -> None:
    """Printed in black: shut lines are heavy and others fine, one cross upright and one slanted."""
    plane = chart_svg(closing_plane(), "mm")
    assert "Heavy black lines" in words(plane)
    assert "Fine blue lines" in words(plane)
    assert {"1.9", "0.8"} <= set(re.findall(r"stroke-width: ([\d.]+)", plane))
    section = words(chart_svg(section_picture(), "mm"))
    assert "Upright cross" in section
    assert "Slanted cross" in section


def test_plane_is_drawn_on_both_sides_and_without_tip_limit() -> None:
    picture = replace(
        closing_plane().picture, chosen_angle=math.radians(-62), tip_limit_closing=None, contours=()
    )
    said = words(chart_svg(replace(closing_plane(), picture=picture), "mm"))
    assert "-62.0°" in said
    assert "tips touch" not in said


def test_section_says_how_much_the_throw_is_enlarged() -> None:
    said = words(chart_svg(section_picture(), "mm"))
    assert "drawn 5 times too large" in said
    assert "to the wheel" in said
    assert "0.350 mm" in said


@pytest.mark.parametrize("throw", [0.05, 0.2, 0.35, 1.0, 2.5])
def test_enlarged_throw_leaves_a_wall(throw: float) -> None:
    block = replace(section_picture(), throw=throw)
    wall = (block.bushing_outside - block.bushing_bore) / 2
    assert enlargement(block) >= 1
    assert enlargement(block) * throw < wall


def test_hostile_label_is_only_text() -> None:
    svg = chart_svg(ContributorBars("c", (Bar(HOSTILE, arcmin(1, 0.1)),), arcmin(1, 0.1)), "mm")
    assert "<script" not in svg
    assert "<script>alert(1)" in words(svg).replace("\n", "")
    assert words(svg).count("Unbreakable") < 5, "a long label is cut off, not run over the chart"


def test_a_plot_names_its_axes_with_units_its_traces_and_its_limit() -> None:
    said = words(chart_svg(turn_plot(), "mm"))
    for word in ("table angle, deg", "error, arcsec", "table", "artefact", "allowed"):
        assert word in said
    large = replace(turn_plot(), traces=tuple(replace(t, y=t.y * 20) for t in turn_plot().traces))
    assert "error, arcmin" in words(chart_svg(large, "mm"))


def test_a_plot_of_lengths_follows_the_units_of_the_job() -> None:
    assert "reading, µm" in words(chart_svg(circle_plot(), "mm"))
    assert "reading, thou" in words(chart_svg(circle_plot(), "in"))
    assert "anticlockwise" in words(chart_svg(circle_plot(), "mm"))


def test_a_plot_round_the_turn_puts_plus_outside_its_dotted_circle() -> None:
    flat = circle_plot()
    still = replace(flat, traces=tuple(replace(t, y=0 * t.y) for t in flat.traces))
    assert chart_svg(still, "mm") != chart_svg(flat, "mm")


def test_second_trace_is_told_from_the_first_without_colour() -> None:
    bars = replace(
        turn_plot(), traces=tuple(replace(t, look="bars", half=None) for t in turn_plot().traces)
    )
    assert "<pattern" in chart_svg(bars, "mm")


def test_blue_marks_are_hatched_and_say_sides_ends_and_what_to_do() -> None:
    svg = chart_svg(blue_picture(), "mm")
    assert "<pattern" in svg
    said = words(svg)
    for word in ("As set", "drives the table +", "tip", "root", "film of 8 µm", "Move apart"):
        assert word in said
    assert said.count("entering") == said.count("leaving") == 6
    assert "…" not in said


def test_blue_enters_where_the_hand_says() -> None:
    here, there = blue_picture(), replace(blue_picture(), plus_enters_at=-1)
    first, second = (words(chart_svg(block, "mm")) for block in (here, there))
    assert first.index("leaving") < first.index("entering")
    assert second.index("entering") < second.index("leaving")


def test_a_film_that_marks_nothing_leaves_the_outlines() -> None:
    bare = replace(blue_picture(), film=0.0)
    assert "<pattern" not in chart_svg(bare, "mm")
    assert "As set" in words(chart_svg(bare, "mm"))


def test_a_map_of_before_and_after_tells_both_apart_without_colour() -> None:
    found = polar_map()
    then = Round("as set", 0.4 * found.mean, 0.3 * found.mean, 0.5 * found.mean, 2.0)
    empty = np.array([])
    both = replace(found, what="backlash", band="over a worm turn", after=then)
    svg = chart_svg(replace(both, points_angle=empty, points_value=empty), "mm")
    said = words(svg)
    assert "<pattern" in svg
    for word in ("backlash, arcmin", "as found", "as set", "over a worm turn", "as set: 115°"):
        assert word in said
    assert "readings" not in said
    assert "95 % band" not in said
