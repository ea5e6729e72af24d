"""The page about the instruments says what the handbook holds."""

from __future__ import annotations

import math
import re
import runpy
from pathlib import Path

import pytest

from wormwright.handbook.instruments import instrument, instruments

ROOT = Path(__file__).resolve().parent.parent.parent
MAKER = runpy.run_path(str(ROOT / "scripts" / "make_instrument_docs.py"))
PAGE = (ROOT / "docs" / "reference" / "instruments.md").read_text(encoding="utf-8")


def cells_of(key: str) -> list[list[str]]:
    """The cells of every line of a table of the page that begins with, or names, that key."""
    lines = [line for line in PAGE.splitlines() if line.startswith("|") and f"`{key}`" in line]
    return [[cell.strip() for cell in line.strip("|").split("|")] for line in lines]


def test_the_page_is_current() -> None:
    assert MAKER["page"]() == PAGE, "run: python scripts/make_instrument_docs.py"


def test_every_instrument_is_on_the_page_with_a_source() -> None:
    sources = PAGE.partition("## Where the figures come from")[2]
    for row in instruments():
        assert cells_of(row.key)[0][0] == row.name
        assert f"`{row.key}`" in sources
        assert row.source in sources


def test_every_name_and_key_on_the_page_is_understood_by_the_program() -> None:
    for key in set(re.findall(r"`((?:DI|TI|DD) [^`]+)`", PAGE)):
        assert instrument(key).key == key


def test_the_doubt_of_a_rock_on_the_page_is_the_root_of_its_parts() -> None:
    """By hand for the usual test indicator: 0.5 µm misread twice, spans of 2, 1 and 2 µm."""
    by_hand = math.sqrt(2 * 0.5**2 / 3 + (2**2 + 1**2 + 2**2) / 12)
    assert float(cells_of("TI 0.002")[1][1]) == pytest.approx(by_hand, abs=0.005)


def test_a_movement_beyond_the_travel_has_no_figure() -> None:
    assert cells_of("TI 0.002")[1][2:] == ["beyond its travel"] * 2
