"""The files that come out: paper size, scale, the same bytes every time, nothing of the user's."""

from __future__ import annotations

import hashlib
import io
import os
import re
import subprocess
import sys
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
from pypdf import PdfReader

from drawings.sample_parts import CASES, PARTS, STYLES, TITLE, document, drawn, entities
from wormwright.drawings import SheetStyle, TitleBlock, draw_part, fonts_folder
from wormwright.drawings.style import PAPERS

MM, INCH = STYLES


@pytest.mark.parametrize("style", STYLES)
def test_the_pdf_is_one_page_of_the_stated_paper(style: SheetStyle) -> None:
    reader = PdfReader(io.BytesIO(drawn("A", style).pdf))
    assert len(reader.pages) == 1
    box, paper = reader.pages[0].mediabox, PAPERS[style.sheet]
    assert float(box.width) * 25.4 / 72 == pytest.approx(paper.width, abs=0.01)
    assert float(box.height) * 25.4 / 72 == pytest.approx(paper.height, abs=0.01)


@pytest.mark.parametrize("style", STYLES)
def test_every_line_of_words_on_the_sheet_can_be_searched_in_its_pdf(style: SheetStyle) -> None:
    page = "".join(PdfReader(io.BytesIO(drawn("A", style).pdf)).pages[0].extract_text().split())
    lines = [e.dxf.text for e in entities(document("A", style)) if e.dxftype() == "TEXT"]
    assert len(lines) > 40
    assert not [line for line in lines if "".join(line.split()) not in page]


def _svg_widest(svg: str) -> tuple[float, float]:
    """Width and height on paper [mm] of the widest path drawn: the border."""
    root = ElementTree.fromstring(svg)
    _, _, units, _ = (float(part) for part in root.attrib["viewBox"].split())
    k = float(root.attrib["width"].removesuffix("mm")) / units
    spans = []
    for path in root.iter("{http://www.w3.org/2000/svg}path"):
        if "transform" not in path.attrib and "A" not in path.attrib["d"]:
            n = [float(number) * k for number in re.findall(r"-?[\d.]+", path.attrib["d"])]
            spans.append((max(n[0::2]) - min(n[0::2]), max(n[1::2]) - min(n[1::2])))
    return max(spans)


@pytest.mark.parametrize("style", STYLES)
@pytest.mark.parametrize("name", ["A", "large, throw 2", "small, throw 2"])
def test_the_svg_is_to_scale_on_paper(name: str, style: SheetStyle) -> None:
    """The border is the widest thing drawn; its size is known whatever the scale of the part."""
    wide, high = _svg_widest(drawn(name, style).svg)
    border = PAPERS[style.sheet].border
    assert wide == pytest.approx(border.width, abs=0.02)
    assert high == pytest.approx(border.height, abs=0.02)


@pytest.mark.parametrize(("name", "scale"), [("A", 1.0), ("small, throw 2", 2.0)])
def test_the_part_is_true_size_in_the_dxf_and_at_the_stated_scale_on_paper(
    name: str, scale: float
) -> None:
    doc = document(name, MM)
    flange = PARTS[name].flange_outside  # type: ignore[union-attr]
    radii = [c.dxf.radius for c in doc.modelspace().query("CIRCLE")]
    assert any(abs(radius - flange / 2) < 1e-9 for radius in radii)
    words = [text.dxf.text for text in doc.modelspace().query("TEXT")]
    assert f"{scale:g}:1" in words
    wide = PAPERS["A4"].border.width
    border: Any = next(iter(doc.modelspace().query('LWPOLYLINE[layer=="BORDER"]')))
    xs = [point[0] for point in border.get_points()]
    assert (max(xs) - min(xs)) * scale == pytest.approx(wide)


@pytest.mark.parametrize("style", STYLES)
def test_the_sheet_says_its_projection(style: SheetStyle) -> None:
    words = [text.dxf.text for text in document("A", style).modelspace().query("TEXT")]
    assert ("first angle" in words) == (style.sheet == "A4")
    assert ("third angle" in words) == (style.sheet == "letter")


def test_the_section_lies_where_its_projection_puts_it() -> None:
    """Beside the face view at the right: first angle shows the flange farthest from it."""
    for style, sign in ((MM, 1), (INCH, -1)):
        doc = document("A", style)
        hatched = list(doc.modelspace().query("HATCH"))
        points = [p for h in hatched for p in h.paths[0].vertices]
        flange = [x for x, y, *_ in points if y > max(p[1] for p in points) - 0.5]
        body = [x for x, *_ in points]
        middle = (min(body) + max(body)) / 2
        assert (sum(flange) / len(flange) - middle) * sign > 0


_PROGRAM = """
import hashlib, sys
sys.path.insert(0, sys.argv[1])
from drawings.sample_parts import PARTS, STYLES, TITLE
from wormwright.drawings import draw_part
for name in ("A", "shim", "relief"):
    made = draw_part(PARTS[name], TITLE, STYLES[0])
    for data in (made.dxf.encode(), made.svg.encode(), made.pdf):
        print(hashlib.sha256(data).hexdigest())
"""


def _in_a_new_process(seed: str, home: Path) -> str:
    env = {**os.environ, "PYTHONHASHSEED": seed, "HOME": str(home), "XDG_CACHE_HOME": ""}
    tests = str(Path(__file__).parents[1])
    run = [sys.executable, "-c", _PROGRAM, tests]
    return subprocess.run(run, env=env, check=True, capture_output=True, text=True).stdout


def test_files_are_the_same_bytes_in_two_processes_and_touch_no_file_of_the_user(
    tmp_path: Path,
) -> None:
    first, second = _in_a_new_process("1", tmp_path), _in_a_new_process("4", tmp_path)
    assert first == second
    here = [
        hashlib.sha256(data).hexdigest()
        for name in ("A", "shim", "relief")
        for data in (
            drawn(name, MM).dxf.encode(),
            drawn(name, MM).svg.encode(),
            drawn(name, MM).pdf,
        )
    ]
    assert first.split() == here
    assert list(tmp_path.iterdir()) == []


def test_lettering_comes_from_the_font_shipped_with_us() -> None:
    drawn("A", MM)
    from ezdxf.fonts.fonts import font_manager  # noqa: PLC0415  (after the fonts are set)

    assert {path.name for path in fonts_folder().glob("*.ttf")} == {
        "DejaVuSans.ttf",
        "DejaVuSans-Bold.ttf",
    }
    assert (fonts_folder() / "LICENSE_DEJAVU").read_text(encoding="utf-8").startswith("Fonts are")
    assert font_manager.has_font("DejaVuSans.ttf")
    assert not font_manager.has_font("DejaVuSerif.ttf")


def test_drawing_leaves_the_random_numbers_of_others_alone() -> None:
    import random  # noqa: PLC0415

    random.seed(5)
    wanted = random.random()
    random.seed(5)
    draw_part(PARTS["shim"], TITLE, MM)
    assert random.random() == wanted


def test_words_of_the_user_cannot_break_a_sheet() -> None:
    """Control codes, markup and very long words come out as text that fits its cell."""
    odd = TitleBlock(
        "#eval(1) %%u$x$ ^J\n\\P{a}", "<b>&</b> " * 12, "N" * 70, "today", "1 of 1", made_up=False
    )
    made = draw_part(PARTS["A"], odd, MM)
    assert PdfReader(io.BytesIO(made.pdf)).pages[0]
    assert "%%u" not in made.dxf
    assert re.fullmatch(r"[a-z0-9-]+", made.name)


@pytest.mark.parametrize("made_up", [True, False])
def test_the_banner_stands_on_made_up_jobs_only(made_up: bool) -> None:
    title = TitleBlock("unit", "job", "1", made_up=made_up)
    assert ("MADE-UP" in draw_part(PARTS["shim"], title, MM).dxf) == made_up


def test_all_sample_sheets_have_all_three_files() -> None:
    for name, style in CASES[:6]:
        made = drawn(name, style)
        assert made.svg.startswith("<?xml")
        assert made.pdf.startswith(b"%PDF-")
        assert made.dxf.rstrip().endswith("EOF")
