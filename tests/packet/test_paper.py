"""The example packets as printed: pages well filled, nothing off the paper, letters legible."""

from __future__ import annotations

import io
import math
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, NamedTuple
from unittest.mock import patch

import numpy as np
import pytest
import typst
from numpy.typing import NDArray
from PIL import Image
from pypdf import PdfReader

from wormwright.app import new
from wormwright.app.packet import packet_document
from wormwright.drawings import printing_fonts
from wormwright.job.rotary import Sheet, Units
from wormwright.packet import folder as packet_folder
from wormwright.packet.laid_out import Data
from wormwright.packet.pdf import TEMPLATE, inputs_of, pdf_of
from wormwright.store import JobFolder

DOTS = 4
"""Dots per mm of paper."""
TOP, BOTTOM, EDGE = 20, 15, 7
"""Above the words of a page, below them, and what stays white all round, mm."""
FOOT = 11
"""The foot line begins so far from the lower edge, mm."""
SEEN = 15
"""A white gap higher than this counts as empty paper, mm."""
PACKETS: tuple[tuple[str, Sheet, Units], ...] = (
    ("garage-router", "A4", "mm"),
    ("garage-router", "letter", "in"),
    ("club-table", "letter", "in"),
    ("four-readings", "A4", "mm"),
)


class Printed(NamedTuple):
    """A document of a packet: what was laid out, its PDF, and its upright pages as dark dots."""

    title: str
    data: Data
    pdf: PdfReader
    pages: tuple[NDArray[np.bool_], ...]


@cache
def printed(example: str, sheet: Sheet, units: Units) -> tuple[Printed, ...]:
    """Traveler and report of an example as they come out of the printer."""
    laid: list[Data] = []

    def noted(data: Data) -> bytes:
        laid.append(data)
        return pdf_of(data)

    with TemporaryDirectory() as place, patch.object(packet_folder, "pdf_of", noted):
        job = Path(place) / "job"
        new.start_job(job, example, JobFolder.create)
        packet_document(JobFolder.open(job), sheet=sheet, units=units)
        pdfs = {p.stem: p.read_bytes() for p in (job / "packet").glob("*.pdf")}
    return tuple(
        Printed(
            title=str(data["title"]),
            data=data,
            pdf=PdfReader(io.BytesIO(pdfs[str(data["title"]).lower()])),
            pages=_dark(data),
        )
        for data in laid
    )


def _dark(data: Data) -> tuple[NDArray[np.bool_], ...]:
    made: Any = typst.compile(
        TEMPLATE.read_bytes(),
        font_paths=printing_fonts(),
        format="png",
        ppi=DOTS * 25.4,
        sys_inputs=inputs_of(data),
    )
    images = [np.asarray(Image.open(io.BytesIO(page)).convert("L")) for page in made]
    return tuple(image < 200 for image in images if image.shape[0] > image.shape[1])


def filled(page: NDArray[np.bool_]) -> float:
    """How much of the height between head and foot is not empty, 0..1."""
    rows = np.asarray(page[TOP * DOTS : -BOTTOM * DOTS].any(axis=1))
    edges = np.flatnonzero(np.diff(np.concatenate(([True], rows, [True])).astype(int)))
    gaps = edges[1::2] - edges[::2]
    return float(1.0 - gaps[gaps > SEEN * DOTS].sum() / len(rows))


def test_fill_is_measured_as_it_should_be() -> None:
    page = np.zeros((297 * DOTS, 210 * DOTS), dtype=bool)
    assert filled(page) == 0.0
    page[TOP * DOTS : (TOP + 131) * DOTS] = True
    assert filled(page) == pytest.approx(0.5)
    page[-(BOTTOM + 31) * DOTS :] = True
    assert filled(page) == pytest.approx(162 / 262)


@pytest.mark.parametrize(("example", "sheet", "units"), PACKETS)
def test_no_page_but_the_last_is_less_than_half_full(
    example: str, sheet: Sheet, units: Units
) -> None:
    """Upright pages; the drawings that follow the words of a report fill sheets of their own."""
    for document in printed(example, sheet, units):
        shares = [round(filled(page), 2) for page in document.pages[:-1]]
        assert all(share >= 0.5 for share in shares), (document.title, shares)


@pytest.mark.parametrize(("example", "sheet", "units"), PACKETS)
def test_nothing_runs_to_the_edge_of_the_paper(example: str, sheet: Sheet, units: Units) -> None:
    edge = EDGE * DOTS
    for document in printed(example, sheet, units):
        for number, page in enumerate(document.pages, start=1):
            over_the_foot = page[-(BOTTOM - 1) * DOTS : -FOOT * DOTS]
            margins = (page[:edge], page[-edge:], page[:, :edge], page[:, -edge:], over_the_foot)
            assert not any(margin.any() for margin in margins), (document.title, number)


@pytest.mark.parametrize(("example", "sheet", "units"), PACKETS)
def test_no_heading_stands_at_the_foot_of_a_page(example: str, sheet: Sheet, units: Units) -> None:
    for document in printed(example, sheet, units):
        blocks: Any = document.data["blocks"]
        headings = {b["text"] for b in blocks if b["kind"] == "heading"}
        for page in document.pdf.pages:
            lines = _by_height(page)
            assert lines[-2] not in headings, (document.title, lines[-2])


def _by_height(page: Any) -> list[str]:
    """The lines of a page from head to foot; the last is the foot."""
    found: dict[float, str] = {}

    def note(text: str, cm: list[float], tm: list[float], _: object, __: float) -> None:
        if text.strip():
            at = round(tm[5] * cm[3] + cm[5])
            found[at] = (found.get(at, "") + " " + text.strip()).strip()

    page.extract_text(visitor_text=note)
    return [found[at] for at in sorted(found, reverse=True)]


@pytest.mark.parametrize(("example", "sheet", "units"), PACKETS)
def test_letters_on_upright_pages_are_not_smaller_than_two_millimetres_high(
    example: str, sheet: Sheet, units: Units
) -> None:
    """From the foot of a p to the head of a b, 0.236 and 0.760 em in this face."""
    for document in printed(example, sheet, units):
        for page in document.pdf.pages:
            if page.mediabox.height > page.mediabox.width:
                assert min(_sizes(page)) * (0.236 + 0.760) / 72 * 25.4 >= 2.0


def _sizes(page: Any) -> list[float]:
    sizes: list[float] = []

    def note(text: str, cm: list[float], tm: list[float], _: object, size: float) -> None:
        if text.strip():
            areas = (m[0] * m[3] - m[1] * m[2] for m in (cm, tm))
            sizes.append(size * math.sqrt(abs(math.prod(areas))))

    page.extract_text(visitor_text=note)
    return sizes
