"""Columns share the paper: no figure is cut from its unit where it can be helped."""

from __future__ import annotations

import pytest

from wormwright.packet.columns import column_widths
from wormwright.packet.pictured import Grid
from wormwright.packet.wording import Shown

PAPER = 178.0


def grid(columns: int, *, words: str = "word", figure: str = "0.123 mm") -> Grid:
    heads = ("what", *(f"c{i}" for i in range(1, columns)))
    row = (Shown(words), *(Shown(figure, figure=True) for _ in range(1, columns)))
    return Grid("t", heads, (row, row))


def test_few_columns_keep_the_full_letter_size() -> None:
    assert column_widths(grid(3), big=False)[1] == 9.5


def test_letters_shrink_before_columns_collide() -> None:
    _, crowded = column_widths(grid(11), big=False)
    assert 7.0 <= crowded < 9.5


@pytest.mark.parametrize("columns", [3, 6, 9, 12])
def test_every_figure_has_room_for_its_number(columns: int) -> None:
    widths, lettering = column_widths(grid(columns, words="many words " * 20), big=False)
    assert sum(widths) > 0
    for width in widths[1:]:
        millimetres = width / sum(widths) * PAPER
        assert millimetres > len("0.123") * 0.696 * 0.3528 * lettering  # bold figures, DejaVu Sans


def test_long_words_get_what_is_left() -> None:
    widths, _ = column_widths(grid(3, words="many words " * 20), big=False)
    assert widths[0] > 2 * widths[1]


def test_a_small_table_of_figures_is_not_stretched() -> None:
    row = (Shown("30.0°", figure=True), Shown("12.1 arcmin", figure=True))
    assert column_widths(Grid("t", ("a", "b"), (row,)), big=False)[0] == [0.0, 0.0]


def test_a_table_without_rows_has_columns() -> None:
    widths, _ = column_widths(Grid("t", ("first", "second"), ()), big=False)
    assert len(widths) == 2
