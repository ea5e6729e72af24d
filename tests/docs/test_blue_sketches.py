"""The sketches of the blue marks are those of the sheet, each where its name says."""

from __future__ import annotations

import runpy
from pathlib import Path
from xml.etree import ElementTree

import pytest

from wormwright.job.sheet_load import SKETCHES

ROOT = Path(__file__).resolve().parent.parent.parent
MAKER = runpy.run_path(str(ROOT / "scripts" / "make_blue_sketches.py"))
PICTURE = (ROOT / "docs" / "pictures" / "blue-marks.svg").read_text(encoding="utf-8")
SPACE = "{http://www.w3.org/2000/svg}"


def middle_of(word: str) -> tuple[float, float]:
    """Middle of the marks of a sketch, as shares of the flank from its minus edge and its tip."""
    boxes = MAKER["MARKS"][word]
    area = sum(w * h for _, _, w, h in boxes)
    across = sum((x + w / 2) * w * h for x, _, w, h in boxes) / area
    down = sum((y + h / 2) * w * h for _, y, w, h in boxes) / area
    return across, down


def test_the_picture_is_current() -> None:
    assert MAKER["picture"]() == PICTURE, "run: python scripts/make_blue_sketches.py"


def test_every_word_of_the_sheet_stands_under_a_sketch() -> None:
    texts = [e.text for e in ElementTree.fromstring(PICTURE).iter(f"{SPACE}text")]
    assert texts[1:] == list(SKETCHES)


@pytest.mark.parametrize(
    ("word", "across", "down"),
    [
        ("plus edge", 1, 0),
        ("minus edge", -1, 0),
        ("tip line", 0, -1),
        ("root line", 0, 1),
        ("centred patch", 0, 0),
        ("both edges", 0, 0),
        ("full face", 0, 0),
    ],
)
def test_a_mark_lies_on_the_side_that_its_name_says(word: str, across: int, down: int) -> None:
    x, y = middle_of(word)
    assert [_side(x), _side(y)] == [across, down]


def _side(share: float) -> int:
    return (share > 0.6) - (share < 0.4)
