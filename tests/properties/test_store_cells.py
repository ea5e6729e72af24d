"""Cells: every text comes back exactly, in one line, and none is run as a formula."""

from __future__ import annotations

import csv
import io

from hypothesis import example, given
from hypothesis import strategies as st

from wormwright.store.cells import cell_of, check_of, mapping_cell, mapping_of, text_of

ANY_TEXT = st.text(st.characters(codec=None), max_size=40)
"""Lone surrogates too: a cell must survive whatever a keyboard wedge sends."""


@given(ANY_TEXT)
@example("\\n")
@example("'=1")
@example("\\u0041")
def test_any_text_comes_back_exactly(text: str) -> None:
    assert text_of(cell_of(text)) == text


@given(st.text(max_size=40))
def test_a_cell_stays_in_one_line_and_carries_no_control_character(text: str) -> None:
    cell = cell_of(text)
    assert not any(ord(sign) < 32 or 0x7F <= ord(sign) < 0xA0 for sign in cell)
    assert len((cell + "\n").splitlines()) == 1


@given(
    st.sampled_from("=+-@\t\r＝＋－＠"), st.text(max_size=20), st.sampled_from(["", " ", "\xa0"])
)
def test_no_cell_begins_as_a_formula(start: str, rest: str, space: str) -> None:
    cell = cell_of(space + start + rest)
    assert cell.lstrip()[:1] not in set("=+-@\t\r＝＋－＠")


def test_plain_readings_stay_as_a_person_wrote_them() -> None:
    for text in ("1 1/4 in", "0.019 in", "5'30\"", "~3 thou", ">10 mm", "N·m"):
        assert cell_of(text) == text


@given(st.dictionaries(st.text(min_size=1, max_size=8), st.text(max_size=20), max_size=6))
def test_named_texts_come_back_exactly_from_one_cell_of_a_csv_line(pairs: dict[str, str]) -> None:
    pairs = {key.strip(): text for key, text in pairs.items() if key.strip()}
    line = io.StringIO()
    csv.writer(line).writerow([cell_of(mapping_cell(pairs))])
    cell = next(csv.reader(io.StringIO(line.getvalue(), newline="")))[0]
    assert mapping_of(text_of(cell)) == pairs


@given(st.lists(st.text(max_size=10), min_size=1, max_size=5), st.data())
def test_the_check_value_sees_any_changed_cell(cells: list[str], data: st.DataObject) -> None:
    place = data.draw(st.integers(0, len(cells) - 1))
    changed = [*cells]
    changed[place] += "1"
    assert check_of(changed) != check_of(cells)
    assert not check_of(cells)[0].isdigit()
