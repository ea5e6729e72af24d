"""HTML and PDF: every block in both, the same figures in all, safe text, own fonts, same bytes."""

from __future__ import annotations

import hashlib
import io
import os
import re
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from packet_samples import document, every_block, hostile_blocks, operation, polar_map
from wormwright.job.blocks import Block, OperationBlock, PartDrawing
from wormwright.job.rotary import Sheet, Units
from wormwright.packet import Style, render_html, render_pdf, render_text
from wormwright.packet.pictures import Pictures
from wormwright.packet.plain import Figure, Grid, plain

VOID = {"meta", "col", "br", "hr", "img", "input", "link"}
STYLES = (Style("mm", "A4"), Style("in", "letter"))


class Page(HTMLParser):
    """The words, tags and attributes of a page; complains of tags that do not close."""

    def __init__(self, html: str) -> None:
        super().__init__(convert_charrefs=True)
        self.words: list[str] = []
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.open: list[str] = []
        self.feed(html)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        if "style" not in self.open:
            self.words.append(data)

    def count(self, tag: str) -> int:
        return sum(name == tag for name, _ in self.tags)


@cache
def html_of(style: Style) -> str:
    return render_html(document(), style)


@cache
def pdf_of(style: Style) -> PdfReader:
    return PdfReader(io.BytesIO(render_pdf(document(bench=True), style)))


def pdf_words(reader: PdfReader) -> str:
    return "".join(page.extract_text() for page in reader.pages)


def bare(text: str) -> str:
    """Without spaces: where a line breaks is not at issue."""
    return re.sub(r"[\s\u200b\u00a0]+", "", text)


@cache
def said(style: Style) -> tuple[str, str]:
    """All words of the page and of the paper, without spaces."""
    return bare("".join(Page(html_of(style)).words)), bare(pdf_words(pdf_of(style)))


def figures_of(block: Block, units: Units, *, beside: bool = True) -> Iterator[str]:
    """Every figure and gate value that a block must show; the names of rows with a table."""
    shown = plain(block, units)
    grid = shown.numbers if isinstance(shown, Figure) else shown
    if isinstance(grid, Grid):
        for row in grid.rows:
            for cell in (cell for cell in row if beside or cell.figure):
                yield cell.primary
                yield cell.other
    if isinstance(shown, OperationBlock):
        for gate in shown.gates:
            yield from gate


@pytest.mark.parametrize("style", STYLES)
@pytest.mark.parametrize("number", range(len(every_block())))
def test_every_block_shows_the_same_figures_in_all_renderers(number: int, style: Style) -> None:
    block = every_block()[number]
    text = bare(render_text(document(block), style, 300))
    page, paper = said(style)
    shown = plain(block, style.units)
    carried = isinstance(shown, Figure) and shown.carries
    for figure in figures_of(block, style.units):
        assert bare(figure) in text
    for figure in figures_of(block, style.units, beside=not carried):
        assert bare(figure) in page
        if not isinstance(block, PartDrawing):
            assert bare(figure) in paper


@pytest.mark.parametrize("style", STYLES)
def test_a_part_stands_on_paper_as_its_own_sheet_and_is_named_with_its_page(style: Style) -> None:
    """The sheet bears every size itself, so the report does not say them a second time."""
    parts = [block for block in every_block() if isinstance(block, PartDrawing)]
    pages = pdf_of(style).pages
    words = [" ".join(page.extract_text().split()) for page in pages]
    pictures = Pictures(style, document())
    for number, block in enumerate(parts, start=1):
        line = re.search(
            rf"Drawing {number:02d} {re.escape(block.caption)} page (\d+)", "".join(words)
        )
        assert line is not None
        at = int(line[1]) - 1
        assert pages[at].mediabox.width > pages[at].mediabox.height
        assert pictures.drawing(block.part).title in words[at]
    assert "Sizes on the drawing" not in "".join(words)


@pytest.mark.parametrize("style", STYLES)
def test_words_of_every_block_reach_all_renderers(style: Style) -> None:
    words = (
        "What we found",
        "In short",
        "Half of the lost motion sits in the mesh.",
        "Unplug the motor.",
        "Row 9 is 25.4 times its neighbours.",
        "A mm/inch slip.",
        "Read again.",
        "by caliper; the words of a long remark",
        "Slide it in by hand.",
        "Final depth at the tight spot",
        "Rock on two opposite pins at 100 mm.",
        "rock; drag in mesh",
        "turn both bushings back to the witness mark.",
        "MADE-UP EXAMPLE",
        "Unit RT-6 no. 1",
        "1 March 2026",
    )
    text = bare(render_text(document(), style, 300))
    page, paper = said(style)
    for line in words:
        assert bare(line) in text
        assert bare(line) in page
        assert bare(line) in paper


def test_page_closes_its_tags_and_names_its_tables_and_pictures() -> None:
    page = Page(html_of(STYLES[0]))
    assert page.open == []
    assert page.count("table") == page.count("caption")
    pictures = [attrs for tag, attrs in page.tags if tag == "svg"]
    assert len(pictures) == 10
    assert all(attrs["role"] == "img" and attrs["aria-label"] for attrs in pictures)
    assert page.count("h1") == 1


def test_page_ids_are_unique_and_every_reference_is_answered() -> None:
    page = Page(html_of(STYLES[0]))
    ids = [attrs["id"] for _, attrs in page.tags if "id" in attrs]
    assert len(ids) == len(set(ids))
    wanted = set(re.findall(r"url\(#([^)]+)\)|href=\"#([^\"]+)\"", html_of(STYLES[0])))
    assert wanted
    assert {first or second for first, second in wanted} <= set(ids)


def test_page_fetches_nothing_and_runs_nothing() -> None:
    html = html_of(STYLES[0])
    page = Page(html)
    assert "http" not in html
    assert "@import" not in html
    assert page.count("script") == page.count("link") == page.count("img") == 0
    for _, attrs in page.tags:
        assert not {"src", "srcset", "action"} & set(attrs)
        assert not any(name.startswith("on") for name in attrs)
        assert (attrs.get("href") or "#").startswith("#")


@pytest.mark.parametrize(("sheet", "width", "height"), [("A4", 595, 842), ("letter", 612, 792)])
def test_both_papers(sheet: Sheet, width: int, height: int) -> None:
    style = Style("mm", sheet)
    page = PdfReader(io.BytesIO(render_pdf(document(operation()), style))).pages[0]
    assert round(page.mediabox.width) == width
    assert round(page.mediabox.height) == height
    assert f"size: {sheet};" in render_html(document(operation()), style)


def test_part_drawings_keep_their_scale_on_a_page_of_their_own() -> None:
    wide = [p for p in pdf_of(STYLES[0]).pages if p.mediabox.width > p.mediabox.height]
    assert len(wide) == 3
    assert {round(float(p.mediabox.width) / 72 * 25.4) for p in wide} == {297}


def test_pages_are_numbered_and_name_the_unit() -> None:
    pages = [p for p in pdf_of(STYLES[0]).pages if p.mediabox.width < p.mediabox.height]
    total = len(pdf_of(STYLES[0]).pages)
    assert f"page 1 / {total}" in pages[0].extract_text()
    assert all("Unit RT-6 no. 1" in page.extract_text() for page in pages)


def fonts(reader: PdfReader) -> Iterator[Any]:
    for page in reader.pages:
        resources: Any = page["/Resources"]
        for entry in resources.get("/Font", {}).values():
            font = entry.get_object()
            for inner in font.get("/DescendantFonts", [font]):
                yield inner.get_object()


def test_all_fonts_are_inside_the_pdf() -> None:
    found = list(fonts(pdf_of(STYLES[0])))
    assert found
    for font in found:
        inside = font["/FontDescriptor"].get_object()
        assert {"/FontFile", "/FontFile2", "/FontFile3"} & set(inside)
        assert "DejaVu" in str(font["/BaseFont"])


def test_gate_limits_are_four_millimetres_high_at_the_bench() -> None:
    reader = PdfReader(io.BytesIO(render_pdf(document(operation(), bench=True), STYLES[0])))
    sizes: dict[str, float] = {}

    def note(text: str, cm: list[float], tm: list[float], _: object, size: float) -> None:
        sizes[text.strip()] = size * abs(tm[3]) * abs(cm[3])

    reader.pages[0].extract_text(visitor_text=note)
    digits = 0.729  # height of a figure in DejaVu Sans, em: read from the face itself
    limit = next(size for text, size in sizes.items() if "2.0 or less" in text)
    assert limit * digits / 72 * 25.4 >= 4.0


def test_hostile_text_is_only_text() -> None:
    page = Page(render_html(document(*hostile_blocks(), title="<b>#x"), STYLES[0]))
    words = "".join(page.words)
    assert page.count("script") == page.count("b") - _bold(page) == 0
    paper = bare(
        pdf_words(PdfReader(io.BytesIO(render_pdf(document(*hostile_blocks()), STYLES[0]))))
    )
    for code in (
        "<script>alert(1)</script>",
        "\\evil{a}",
        "#panic()",
        "$x^2$",
        "{{ 7*7 }}",
        "&amp;",
    ):
        assert words.count(code) >= 15
        assert paper.count(bare(code)) >= 15
    assert "\x1b" not in words
    assert "\u202e" not in words


def _bold(page: Page) -> int:
    """Bold tags that the template itself sets."""
    return sum(1 for tag, attrs in page.tags if tag == "b" and not attrs)


def test_no_word_runs_off_the_paper() -> None:
    reader = PdfReader(io.BytesIO(render_pdf(document(*hostile_blocks()), STYLES[1])))
    assert bare(pdf_words(reader)).count("Unbreakable" * 30) >= 10
    rights: list[float] = []

    def note(text: str, cm: list[float], tm: list[float], _: object, size: float) -> None:
        if text.strip():
            rights.append(tm[4] * cm[0] + cm[4])

    for page in reader.pages:
        page.extract_text(visitor_text=note)
    assert max(rights) < 612


def test_the_command_to_sign_can_be_copied() -> None:
    command = 'wormwright sign DIR final_depth --gate rock_at_the_tight_spot_locked="..."'
    block = replace(operation(), sign=command)
    assert command in "".join(Page(render_html(document(block), STYLES[0])).words)
    paper = pdf_words(PdfReader(io.BytesIO(render_pdf(document(block), STYLES[0]))))
    assert command in paper.replace("\n", " ")


def test_no_tight_spot_is_said_in_words() -> None:
    blocks = (polar_map(refused=True),)
    assert "cannot be told" in render_html(document(*blocks), STYLES[0])
    assert "cannot be told" in render_text(document(*blocks), STYLES[0])


_SCRIPT = """
import hashlib, sys
sys.path.insert(0, sys.argv[1])
from packet_samples import document
from wormwright.packet import Style, render_html, render_pdf, render_text
from wormwright.packet.pictures import Pictures
style = Style("in", "letter")
pictures = Pictures(style, document())
made = (
    render_text(document(), style).encode(),
    render_html(document(), style, pictures).encode(),
    render_pdf(document(), style, pictures),
)
print(*(hashlib.sha256(part).hexdigest() for part in made))
"""


def test_same_bytes_in_another_process() -> None:
    style = STYLES[1]
    pictures = Pictures(style, document())
    here = (
        render_text(document(), style).encode(),
        render_html(document(), style, pictures).encode(),
        render_pdf(document(), style, pictures),
    )
    tests = str(Path(__file__).parents[1])
    run = subprocess.run(
        [sys.executable, "-c", _SCRIPT, tests],
        capture_output=True,
        text=True,
        check=True,
        env={
            "PYTHONHASHSEED": "77",
            "TZ": "Asia/Tokyo",
            "LC_ALL": "C.UTF-8",
            "PYTHONPATH": os.pathsep.join(sys.path),
        },
    )
    assert run.stdout.split() == [hashlib.sha256(part).hexdigest() for part in here]
