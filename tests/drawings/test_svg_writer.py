"""The picture on paper is the DXF: every circle, line and letter of it, and nothing left out."""

from __future__ import annotations

import math
import re
from fractions import Fraction
from xml.etree import ElementTree

import pytest
from ezdxf.path import make_path

from drawings.sample_parts import CASES, STYLES, document, drawn, entities, extent, paper_per_unit
from wormwright.drawings import SheetStyle
from wormwright.drawings.canvas import Canvas
from wormwright.drawings.lettering import BOLD, NARROW, REGULAR, placed_letters, text_width
from wormwright.drawings.style import PAPERS
from wormwright.drawings.svg_writer import lining, svg_text

_SVG = "{http://www.w3.org/2000/svg}"


def _shapes(svg: str, tag: str) -> list[dict[str, str]]:
    return [element.attrib for element in ElementTree.fromstring(svg).iter(_SVG + tag)]


@pytest.mark.parametrize(("name", "style"), CASES)
def test_every_circle_stands_on_paper_where_the_dxf_has_it(name: str, style: SheetStyle) -> None:
    doc = document(name, style)
    k, high = paper_per_unit(doc), PAPERS[style.sheet].height
    wanted = [
        (e.dxf.center.x * k, high - e.dxf.center.y * k, e.dxf.radius * k)
        for e in entities(doc)
        if e.dxftype() == "CIRCLE"
    ]
    found = [
        (float(c["cx"]), float(c["cy"]), float(c["r"]))
        for c in _shapes(drawn(name, style).svg, "circle")
    ]
    assert len(found) == len(wanted) > 0
    for one in wanted:
        assert any(one == pytest.approx(other, abs=0.001) for other in found), one


@pytest.mark.parametrize(("name", "style"), CASES[:4])
def test_every_line_of_text_is_lettered_once_and_starts_where_the_dxf_has_it(
    name: str, style: SheetStyle
) -> None:
    """The left end and the foot of the box of a level text, against the box of the library."""
    doc = document(name, style)
    k, high = paper_per_unit(doc), PAPERS[style.sheet].height
    texts = [e for e in entities(doc) if e.dxftype() == "TEXT"]
    lettered = [p for p in _shapes(drawn(name, style).svg, "path") if "transform" in p]
    assert len(lettered) == len(texts)
    boxes = {
        (round(extent(e, k).left, 1), round(high - e.get_placement()[1].y * k, 1))
        for e in texts
        if e.dxf.rotation == 0 and e.dxf.halign == 0
    }
    starts = set()
    for path in lettered:
        matrix = [float(n) for n in path["transform"][7:-1].split()]
        starts.add((round(matrix[4], 1), round(matrix[5], 1)))
    missed = [box for box in boxes if not any(math.dist(box, start) < 0.6 for start in starts)]
    assert not missed


@pytest.mark.parametrize(("name", "style"), CASES[:4])
def test_letters_for_paper_stand_where_their_outlines_stand(name: str, style: SheetStyle) -> None:
    """Each with the foot, turn and size of its outline, and the words of the DXF in order."""
    made = drawn(name, style)
    outlines = [p["transform"] for p in _shapes(made.svg, "path") if "transform" in p]
    root = ElementTree.fromstring(made.lettered)
    texts = list(root.iter(_SVG + "text"))
    assert [t.attrib["transform"] for t in texts] == [f"{place} scale(1 -1)" for place in outlines]
    words = {e.dxf.text for e in entities(document(name, style)) if e.dxftype() == "TEXT"}
    assert {t.text for t in texts} == words
    assert all(
        1000 / float(t.attrib["font-size"]) == pytest.approx(0.729, abs=0.001) for t in texts
    )
    assert {p["d"] for p in _shapes(made.lettered, "path")} < {
        p["d"] for p in _shapes(made.svg, "path")
    }


@pytest.mark.parametrize(
    ("text", "font", "bold"), [("Ø46.991", BOLD, True), ("a b", REGULAR, False)]
)
def test_letters_take_the_width_the_layout_reckons_with(text: str, font: str, bold: bool) -> None:
    wide, outlines = placed_letters(text, font)
    assert wide * NARROW / 1000 == pytest.approx(text_width(text, 1.0, bold=bold), rel=1e-6)
    assert outlines.count("M") == len(text.replace(" ", ""))


def test_section_lining_stays_inside_its_loops_and_fills_them() -> None:
    """A square with a square hole: total length is area over distance, ends lie on the sides."""
    outer = [(0.0, 0.0), (40.0, 0.0), (40.0, 40.0), (0.0, 40.0)]
    hole = [(10.0, 10.0), (30.0, 10.0), (30.0, 30.0), (10.0, 30.0)]
    pieces = lining([outer, hole])
    length = sum(math.dist(*ends) for ends in pieces)
    assert length == pytest.approx((1600 - 400) / 1.6, rel=0.02)
    for a, b in pieces:
        assert b[1] - a[1] == pytest.approx(b[0] - a[0])
        x, y = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
        assert 0 <= min(x, y) <= max(x, y) <= 40
        assert not (10 < x < 30 and 10 < y < 30)


def test_what_cannot_be_printed_is_refused_and_not_left_out() -> None:
    canvas = Canvas(Fraction(1))
    canvas.document.modelspace().add_ellipse((0, 0), (5, 0), 0.5)
    with pytest.raises(ValueError, match="no way to print a ELLIPSE"):
        svg_text(canvas, PAPERS["A4"])


def test_hidden_and_centre_lines_are_dashed() -> None:
    svg = drawn("A", STYLES[0]).svg
    assert re.findall(r'stroke-dasharray="([^"]+)"', svg) == ["3,1.2", "7,1.2,0.8,1.2"]


def test_an_arc_turns_the_way_of_the_dxf() -> None:
    """Its middle, from the SVG end points and flags, lies on the arc of the library."""
    canvas = Canvas(Fraction(1))
    canvas.pen.arc((50.0, 50.0), 20.0, math.radians(200), math.radians(340), "OUTLINE")
    arc = next(iter(canvas.document.modelspace().query("ARC")))
    path = next(p["d"] for p in _shapes(svg_text(canvas, PAPERS["A4"]), "path"))
    n = [float(number) for number in re.findall(r"-?[\d.]+", path)]
    start, large, sweep, end = n[0:2], n[5], n[6], n[7:9]
    assert (large, sweep) == (0.0, 0.0)
    curve = make_path(arc)
    assert start == pytest.approx([curve.start.x, 210 - curve.start.y], abs=0.002)
    assert end == pytest.approx([curve.end.x, 210 - curve.end.y], abs=0.002)
