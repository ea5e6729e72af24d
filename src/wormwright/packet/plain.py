"""Blocks made ready to print: every figure already words, so that all renderers say the same."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from wormwright.job.blocks import (
    Block,
    BluePicture,
    Cautions,
    ClosingPlane,
    ContributorBars,
    Doubts,
    DriveChart,
    Heading,
    OperationBlock,
    Paragraph,
    PartDrawing,
    Plot,
    PolarMap,
    SectionPicture,
    Steps,
    Table,
    UnitLabel,
)
from wormwright.job.result import Doubt
from wormwright.job.rotary import Units
from wormwright.packet.one_unit import in_one_unit
from wormwright.packet.pictured import Figure, Grid, figure_of
from wormwright.packet.wording import Shown, clean, shown_cell

Plain = Heading | Paragraph | Cautions | Doubts | Grid | Steps | OperationBlock | Figure
"""What a renderer has to know: words, grids of words, and figures with their numbers beside."""

_PICTURES = (
    ContributorBars,
    PolarMap,
    Plot,
    ClosingPlane,
    SectionPicture,
    BluePicture,
    DriveChart,
    PartDrawing,
    UnitLabel,
)


def plain(block: Block, units: Units) -> Plain:
    """The block with every number turned into words and every text cleaned."""
    if isinstance(block, _PICTURES):
        return figure_of(block, units)
    if isinstance(block, Table):
        return grid_of(block, units)
    return _CLEANED[type(block)](block)


def grid_of(table: Table, units: Units) -> Grid:
    """A table as words. A row of the wrong length is a fault of the stage that made it."""
    for row in table.rows:
        if len(row) != len(table.columns):
            raise ValueError(
                f"table {table.caption!r}: expected {len(table.columns)} cells in every row, "
                f"got {len(row)}; give each column a cell"
            )
    if table.one_unit:
        columns, rows = in_one_unit(table, units)
    else:
        columns = _all(table.columns)
        rows = tuple(tuple(shown_cell(cell, units) for cell in row) for row in table.rows)
    return Grid(caption=clean(table.caption), columns=columns, rows=rows)


def _all(lines: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(clean(line) for line in lines)


def _heading(block: Heading) -> Heading:
    return replace(block, text=clean(block.text), level=min(max(block.level, 1), 3))


def _doubt(doubt: Doubt) -> Doubt:
    return replace(
        doubt,
        code=clean(doubt.code),
        seen=clean(doubt.seen),
        why=clean(doubt.why),
        do=clean(doubt.do),
    )


def _operation(block: OperationBlock) -> OperationBlock:
    return OperationBlock(
        number=clean(block.number),
        title=clean(block.title),
        state=clean(block.state),
        cautions=_all(block.cautions),
        tools=_all(block.tools),
        do=_all(block.do),
        read=_all(block.read),
        gates=tuple((clean(a), clean(b), clean(c)) for a, b, c in block.gates),
        makes_stale=clean(block.makes_stale),
        go_back=clean(block.go_back),
        sign=clean(block.sign),
        if_failed=_all(block.if_failed),
    )


_CLEANED: dict[type, Callable[..., Plain]] = {
    Heading: _heading,
    Paragraph: lambda block: replace(block, text=clean(block.text)),
    Cautions: lambda block: Cautions(_all(block.lines)),
    Doubts: lambda block: Doubts(tuple(_doubt(d) for d in block.doubts)),
    Steps: lambda block: replace(block, lines=_all(block.lines)),
    OperationBlock: _operation,
}

__all__ = ["Figure", "Grid", "Plain", "Shown", "grid_of", "plain"]
