"""Plain text: nothing wider than asked, nothing lost, nothing that moves a terminal."""

from __future__ import annotations

import unicodedata
from dataclasses import replace

import pytest

from packet_samples import (
    circle_plot,
    contributor_bars,
    document,
    doubts,
    every_block,
    figures_table,
    hostile_blocks,
    operation,
)
from wormwright.job.blocks import Cell, Heading, Paragraph, Table
from wormwright.packet import Style, render_text
from wormwright.packet.text import displayed


@pytest.mark.parametrize("width", [40, 72, 100, 160])
def test_no_line_is_wider_than_asked(width: int) -> None:
    for blocks in (every_block(), hostile_blocks()):
        text = render_text(document(*blocks), Style("in"), width)
        assert max(displayed(line) for line in text.splitlines()) <= width


def test_too_narrow_a_page_is_refused() -> None:
    with pytest.raises(ValueError, match="at least 40"):
        render_text(document(), Style(), 20)


def test_figures_stand_in_the_leading_unit_with_the_other_behind() -> None:
    metric = render_text(document(figures_table()), Style("mm"))
    inch = render_text(document(figures_table()), Style("in"))
    assert "82 ± 12 µm (3.2 ± 0.5 thou)" in metric
    assert "3.2 ± 0.5 thou (82 ± 12 µm)" in inch


def test_each_doubt_says_in_words_what_it_asks_for() -> None:
    text = render_text(document(doubts()), Style())
    assert "[REFUSED] E-3: Row 7 has no pin radius." in text
    assert "[PLEASE CONFIRM] E-1:" in text
    assert "[WARNING] E-6:" in text
    assert "Do:  Measure it." in text
    assert "Readings: 7" in text


def test_operation_has_boxes_blanks_and_what_was_read() -> None:
    text = render_text(document(operation()), Style())
    assert "OPERATION 8  Final depth at the tight spot  (next)" in text
    assert text.count("[ ] ") == 5
    assert "____" in text
    assert "| CAUTION" in text
    gate = next(line for line in text.splitlines() if line.startswith("Drag in mesh"))
    assert gate.endswith("1.6")


def test_bars_are_as_long_as_their_shares() -> None:
    text = render_text(document(contributor_bars()), Style(), 160)
    rows = [line.count("#") for line in text.splitlines() if "#" in line and "found" not in line]
    assert rows[0] / rows[1] == pytest.approx(2.0, abs=0.1)
    assert rows == sorted(rows, reverse=True) or rows[2] < rows[3]
    assert "# found   = predicted" in text


def test_bars_share_one_unit() -> None:
    text = render_text(document(contributor_bars()), Style())
    assert "0.30 (0.15 to 0.75) arcmin" in text or "0.3 (0.1 to 0.8) arcmin" in text
    assert "arcsec" not in text


def test_hostile_text_stays_text() -> None:
    text = render_text(document(*hostile_blocks()), Style())
    assert "<script>alert(1)</script>" in text
    assert "\\evil{a}" in text
    hidden = {c for c in text if unicodedata.category(c) in ("Cc", "Cs") and c != "\n"}
    assert hidden == set()
    assert "\u202e" not in text


def test_units_in_a_heading_keep_their_case() -> None:
    assert "0.02 mm at 8 N·m" in render_text(document(Heading("0.02 mm at 8 N·m")), Style())


def test_a_row_of_the_wrong_length_is_refused() -> None:
    table = Table("t", ("a", "b"), ((Cell("only one"),),))
    with pytest.raises(ValueError, match="expected 2 cells in every row, got 1"):
        render_text(document(table), Style())


def test_made_up_jobs_say_so() -> None:
    assert "MADE-UP EXAMPLE" in render_text(document(Paragraph("x")), Style())


def test_a_plot_without_a_table_says_in_words_what_it_shows() -> None:
    plot = circle_plot()
    bare = replace(plot, traces=tuple(replace(t, numbers=False) for t in plot.traces))
    assert plot.says in render_text(document(bare), Style())
    assert "table angle" in render_text(document(plot), Style())
