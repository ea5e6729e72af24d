"""The packet folder: everything on paper, made afresh each time and put in place at once."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable, Iterator
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from wormwright.charts.second_process import ChartProcess
from wormwright.job.blocks import PartDrawing
from wormwright.job.corrections import SettingRow
from wormwright.job.parts import Part
from wormwright.packet.document import Document, Style
from wormwright.packet.html import html_of
from wormwright.packet.laid_out import laid_out
from wormwright.packet.pdf import pdf_of
from wormwright.packet.pictures import Pictures
from wormwright.packet.setting_chart import setting_chart_csv
from wormwright.packet.text import render_text

_DRAWINGS = "drawings/"


PLANNED_PROGRAMME = "positioning-test.nc"
PLANNED_FORM = "positioning-test.csv"
"""The programme of a planned positioning test, and the form for its readings."""


@dataclass(frozen=True, slots=True)
class Packet:
    """What goes into the folder. `parts` are drawn even if no document shows them.

    `texts` are further files as they stand, by name; `more` further documents, by name.
    """

    traveler: Document
    report: Document
    results: str
    setting_chart: tuple[SettingRow, ...] = ()
    parts: tuple[Part, ...] = ()
    texts: tuple[tuple[str, str], ...] = ()
    certificate: Document | None = None
    more: tuple[tuple[str, Document], ...] = ()

    @property
    def papers(self) -> dict[str, Document]:
        """The documents by the name of their files."""
        papers = {"traveler": self.traveler, "report": self.report, **dict(self.more)}
        return papers if self.certificate is None else {**papers, "certificate": self.certificate}


def write_packet(
    folder: Path, packet: Packet, style: Style, charts: ChartProcess | None = None
) -> tuple[Path, ...]:
    """Write the packet into `folder` and hand back the paths written.

    Everything is made before anything is written, written beside the folder, and swapped in: a
    failure on the way leaves the old packet as it was. Whatever was in the folder is replaced.
    `charts` may draw the charts meanwhile.
    """
    if folder.exists() and not folder.is_dir():
        raise NotADirectoryError(f"{folder}: expected a folder for the packet, got a file; move it")
    files = _files(packet, style, charts)
    fresh, old = (folder.with_name(f".{folder.name}-{os.getpid()}-{x}") for x in ("new", "old"))
    try:
        for name, content in files.items():
            path = fresh / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(content)
        _swap(folder, fresh=fresh, old=old)
    finally:
        shutil.rmtree(fresh, ignore_errors=True)
        shutil.rmtree(old, ignore_errors=True)
    return tuple(folder / name for name in sorted(files, key=_is_drawing))


def _is_drawing(name: str) -> bool:
    return name.startswith(_DRAWINGS)


def _swap(folder: Path, *, fresh: Path, old: Path) -> None:
    if not folder.exists():
        fresh.rename(folder)
        return
    folder.rename(old)
    try:
        fresh.rename(folder)
    except OSError:
        old.rename(folder)
        raise


def _files(packet: Packet, style: Style, charts: ChartProcess | None) -> dict[str, bytes]:
    """Every file of the packet by its name.

    The typesetter works in a thread of its own while the next pictures are drawn and the pages
    for the screen are written: it needs no turn of the interpreter.
    """
    files: dict[str, bytes | Future[bytes]] = {}
    with ThreadPoolExecutor(max_workers=1) as typesetter:
        for name, content in _made(packet, style, charts):
            files[name] = content if isinstance(content, bytes) else typesetter.submit(content)
    return {
        name: made if isinstance(made, bytes) else made.result() for name, made in files.items()
    }


def _made(
    packet: Packet, style: Style, charts: ChartProcess | None
) -> Iterator[tuple[str, bytes | Callable[[], bytes]]]:
    """Every file by its name: its bytes, or how to typeset it. What takes longest comes first."""
    pictures = Pictures(style, packet.traveler, tuple(packet.papers.values()), charts)
    for part in (*packet.parts, *(p for paper in packet.papers.values() for p in _drawn(paper))):
        pictures.drawing(part)
    for drawing in pictures.drawings:
        name = _DRAWINGS + drawing.name
        yield f"{name}.pdf", partial(getattr, drawing, "pdf")
        yield f"{name}.dxf", drawing.dxf.encode()
        yield f"{name}.svg", drawing.svg.encode()
    for name, document in packet.papers.items():
        data = laid_out(document, style, pictures)
        yield f"{name}.pdf", partial(pdf_of, data)
        yield f"{name}.html", html_of(data).encode()
        yield f"{name}.txt", render_text(document, style).encode()
    yield "results.json", packet.results.encode()
    if packet.setting_chart:
        yield "setting-chart.csv", setting_chart_csv(packet.setting_chart, style.units).encode()
    for name, text in packet.texts:
        yield name, text.encode()


def _drawn(document: Document) -> Iterator[Part]:
    for block in document.blocks:
        if isinstance(block, PartDrawing):
            yield block.part
