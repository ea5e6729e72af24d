"""One part, one sheet: the door of this package."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from fractions import Fraction

from wormwright.drawings import (
    bushing,
    bushing_profile,
    bushing_words,
    render,
    shim_ring,
    worm_relief,
)
from wormwright.drawings.canvas import Canvas
from wormwright.drawings.sheet import PartText, TitleBlock, draw_sheet, rooms
from wormwright.drawings.style import PAPERS, Box, SheetStyle
from wormwright.drawings.svg_writer import svg_text
from wormwright.job.parts import EccentricBushing, Part, ShimRing


@dataclass(frozen=True, slots=True)
class Drawing:
    """A finished sheet. `name` is a file name without ending, ASCII only."""

    name: str
    dxf: str
    svg: str
    pdf: bytes


def draw_part(part: Part, title: TitleBlock, style: SheetStyle) -> Drawing:
    """The dimensioned sheet of a part, as DXF, SVG and PDF from one geometry."""
    paper = PAPERS[style.sheet]
    views = rooms(paper).views
    text = part_text(part, style)
    with render.repeatable():
        canvas = Canvas(_scale(part, views, style))
        draw_sheet(canvas, paper, title, text, style)
        _views(canvas, part, views, style)
        svg = svg_text(canvas, paper)
        dxf = render.dxf_text(canvas)
    name = _file_name(f"{title.drawing_number} {text.name}")
    return Drawing(name, dxf, svg, render.pdf_bytes(svg, paper, text.name))


def part_text(part: Part, style: SheetStyle) -> PartText:
    """What is written on the sheet of a part; refuses a part that cannot be made."""
    if isinstance(part, EccentricBushing):
        return bushing_words.bushing_text(bushing_profile.checked(part), style.units)
    if isinstance(part, ShimRing):
        return shim_ring.shim_text(shim_ring.checked(part), style.units)
    return worm_relief.relief_text(worm_relief.checked(part), style.units)


def _scale(part: Part, views: Box, style: SheetStyle) -> Fraction:
    if isinstance(part, EccentricBushing):
        return bushing.scale_for(part, views, style)
    if isinstance(part, ShimRing):
        return shim_ring.scale_for(part, views)
    return worm_relief.scale_for(part, views)


def _views(canvas: Canvas, part: Part, views: Box, style: SheetStyle) -> None:
    if isinstance(part, EccentricBushing):
        bushing.draw_views(canvas, part, views, style)
    elif isinstance(part, ShimRing):
        shim_ring.draw_views(canvas, part, views, style)
    else:
        worm_relief.draw_views(canvas, part, views, style)


def _file_name(words: str) -> str:
    plain = unicodedata.normalize("NFKD", words).encode("ascii", "ignore").decode()
    return re.sub(r"[^a-z0-9]+", "-", plain.lower()).strip("-") or "part"
