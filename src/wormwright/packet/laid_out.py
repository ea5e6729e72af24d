"""A document as plain data for the page templates: words, ticks and pictures, no numbers left."""

from __future__ import annotations

import re
from dataclasses import asdict

from wormwright.job.blocks import Doubts, OperationBlock, PartDrawing
from wormwright.packet.columns import column_widths
from wormwright.packet.document import MADE_UP, Document, Style
from wormwright.packet.pictured import Figure, Grid
from wormwright.packet.pictures import Pictures
from wormwright.packet.plain import Plain, plain
from wormwright.packet.text import numeric_columns
from wormwright.packet.wording import DOUBT_WORDS, clean

Data = dict[str, object]
_FEW_COLUMNS = 4
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
        return {
            "kind": "figure",
            "caption": block.caption,
            "says": block.says,
            "svg": pictures.svg(block.source),
            "lettered": pictures.svg(block.source, outlined=False),
            "whole_sheet": isinstance(block.source, PartDrawing),
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
    big = bench and len(grid.columns) <= _FEW_COLUMNS
    widths, lettering = column_widths(grid, big=big)
    return {
        **asdict(grid),
        "right": numeric_columns(grid),
        "big": big,
        "widths": widths,
        "shares": [round(100 * width / (sum(widths) or 1.0), 1) for width in widths],
        "lettering": lettering,
    }


def _gates(block: OperationBlock) -> list[Data]:
    """Gates with an empty value where the machinist has still to write it."""
    return [
        {"what": what, "limit": limit, "read": "" if _BLANK.fullmatch(read) else read}
        for what, limit, read in block.gates
    ]
