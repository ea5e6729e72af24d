"""Nothing overlaps, nothing is cut off, nothing is too small to read."""

from __future__ import annotations

from itertools import combinations

import pytest

from drawings.sample_parts import CASES, STYLES, Extent, document, entities, extent, paper_per_unit
from wormwright.drawings import SheetStyle
from wormwright.drawings.sheet import rooms
from wormwright.drawings.style import PAPERS

TOUCH = 0.35
"""Text boxes may touch by this much [mm on paper]: the box of a line is a little taller than it."""


def _texts(name: str, style: SheetStyle) -> list[Extent]:
    doc = document(name, style)
    scale = paper_per_unit(doc)
    return [extent(entity, scale) for entity in entities(doc) if entity.dxftype() == "TEXT"]


@pytest.mark.parametrize(("name", "style"), CASES)
def test_no_two_texts_overlap(name: str, style: SheetStyle) -> None:
    boxes = _texts(name, style)
    assert len(boxes) > 30
    clashes = [
        (one, two)
        for one, two in combinations(boxes, 2)
        if min(one.right, two.right) - max(one.left, two.left) > TOUCH
        and min(one.top, two.top) - max(one.bottom, two.bottom) > TOUCH
    ]
    assert not clashes


@pytest.mark.parametrize(("name", "style"), CASES)
def test_nothing_stands_outside_the_border(name: str, style: SheetStyle) -> None:
    doc = document(name, style)
    border = PAPERS[style.sheet].border
    for entity in entities(doc):
        box = extent(entity, paper_per_unit(doc))
        assert box.left >= border.left - 0.01, box
        assert box.bottom >= border.bottom - 0.01, box
        assert box.right <= border.right + 0.01, box
        assert box.top <= border.top + 0.01, box


@pytest.mark.parametrize(("name", "style"), CASES)
def test_figures_and_notes_are_large_enough_to_read(name: str, style: SheetStyle) -> None:
    """Dimensions 3.5 mm, their other unit 2.5 mm, nothing under 1.6 mm on paper."""
    doc = document(name, style)
    s = paper_per_unit(doc)
    smallest = min(e.dxf.height * s for e in entities(doc) if e.dxftype() == "TEXT")
    assert smallest >= 1.6
    for dimension in doc.modelspace().query("DIMENSION"):
        heights = {
            round(e.dxf.height * s, 6)
            for e in doc.blocks.get(dimension.dxf.geometry)
            if e.dxftype() == "TEXT"
        }
        assert heights <= {3.5, 2.5}
        assert 3.5 in heights


@pytest.mark.parametrize(("name", "style"), CASES)
def test_views_notes_and_title_block_keep_to_their_own_rooms(name: str, style: SheetStyle) -> None:
    room = rooms(PAPERS[style.sheet])
    shelf, wall = room.views.bottom, room.title.left
    for box in _texts(name, style):
        assert not box.bottom < shelf < box.top, box
        if box.top < shelf:
            assert not box.left < wall < box.right, box


@pytest.mark.parametrize("style", STYLES)
@pytest.mark.parametrize("name", ["seat from the inner end", "large, throw 0.05"])
def test_the_datum_flag_clears_the_figure_of_the_seat_depth(name: str, style: SheetStyle) -> None:
    """At a small scale both hang under the same end of the section."""
    doc = document(name, style)
    k = paper_per_unit(doc)
    triangles = [extent(e, k) for e in doc.modelspace().query("SOLID[layer=='DIMENSION']")]
    flag = next(t for t in triangles if abs(t.right - t.left - 3.2) < 1e-6)
    stem_bottom = flag.bottom - 2.0
    depth = next(t for t in _texts(name, style) if "±0.05" in t.words or "±0.001" in t.words)
    assert flag.right < depth.left or depth.right < flag.left or depth.top < stem_bottom
