"""A document as plain data for the page templates: words, ticks and pictures, no numbers left."""

from __future__ import annotations

import re
from dataclasses import asdict

from wormwright.job.blocks import Doubts, OperationBlock, PartDrawing
from wormwright.packet.columns import column_widths, panel_gaps, print_height, side_by_side
from wormwright.packet.document import MADE_UP, Document, Style
from wormwright.packet.pictured import Figure, Grid
from wormwright.packet.pictures import Pictures
from wormwright.packet.plain import Plain, plain
from wormwright.packet.text import numeric_columns
from wormwright.packet.wording import DOUBT_WORDS, clean

Data = dict[str, object]
_FEW_COLUMNS = 4
_KEPT_WHOLE = 90.0
"""A table lower than this is not broken, mm: a third of a page."""
_BLANK = re.compile(r"[_\s]*")


def laid_out(document: Document, style: Style, pictures: Pictures) -> Data:
    """All that a page template needs."""
    return {
        "title": clean(document.title),
        "subtitle": clean(document.subtitle),
        "date": clean(document.date_text),
        "made_up": MADE_UP if document.made_up else "",
        "sheet": style.sheet,
        "bench": document.bench,
        "blocks": [
            _block(plain(block, style.units), pictures, bench=document.bench)
            for block in document.blocks
        ],
    }


def _block(block: Plain, pictures: Pictures, *, bench: bool) -> Data:
    if isinstance(block, Figure):
        source = block.source
        return {
            "kind": "figure",
            "caption": block.caption,
            "says": block.says,
            "svg": pictures.svg(source),
            "lettered": pictures.svg(source, outlined=False),
            "sheet": pictures.number(source.part) if isinstance(source, PartDrawing) else "",
            "carries": block.carries,
            "numbers": _grid(block.numbers, bench=False),
        }
    if isinstance(block, Grid):
        return {"kind": "table", **_grid(block, bench=bench)}
    if isinstance(block, Doubts):
        doubts = [{**asdict(d), "word": DOUBT_WORDS[d.action]} for d in block.doubts]
        return {"kind": "doubts", "doubts": doubts}
    if isinstance(block, OperationBlock):
        return {"kind": "operation", **asdict(block), "gates": _gates(block)}
    return {"kind": type(block).__name__.lower(), **asdict(block)}


def _grid(grid: Grid, *, bench: bool) -> Data:
    figures = any(cell.figure for row in grid.rows for cell in row)
    big = bench and figures and len(grid.columns) <= _FEW_COLUMNS
    grid, panels = (grid, 1) if big else side_by_side(grid)
    widths, lettering = column_widths(grid, big=big)
    if panels > 1:
        widths = panel_gaps(widths, lettering)
    return {
        **asdict(grid),
        "right": numeric_columns(grid),
        "big": big,
        "panels": panels,
        "widths": widths,
        "shares": [round(100 * width / (sum(widths) or 1.0), 1) for width in widths],
        "lettering": lettering,
        "short": print_height(grid, widths, lettering) < _KEPT_WHOLE,
    }


def _gates(block: OperationBlock) -> list[Data]:
    """Gates with an empty value where the machinist has still to write it."""
    return [
        {"what": what, "limit": limit, "read": "" if _BLANK.fullmatch(read) else read}
        for what, limit, read in block.gates
    ]
