"""A table whose columns of figures each stand in one unit, named in the heading."""

from __future__ import annotations

from wormwright.job.blocks import Cell, Table
from wormwright.job.rotary import Units
from wormwright.packet.wording import Shown, clean, shown_cell
from wormwright.quantities import Dimension, shown_column

Column = tuple[Cell, ...]
Rows = tuple[tuple[Shown, ...], ...]


def in_one_unit(table: Table, units: Units) -> tuple[tuple[str, ...], Rows]:
    """Headings with their unit, and the rows with bare figures.

    All columns of one dimension share the unit of the largest figure in the table.
    """
    columns = [tuple(row[i] for row in table.rows) for i in range(len(table.columns))]
    largest: dict[Dimension, float] = {}
    for cell in (cell for column in columns for cell in column):
        dimension = _dimension(cell)
        if dimension is not None:
            largest[dimension] = max(largest.get(dimension, 0.0), _size(cell))
    headings, bodies = [], []
    for name, column in zip(table.columns, columns, strict=True):
        heading, body = _column(clean(name), column, units, largest)
        headings.append(heading)
        bodies.append(body)
    return tuple(headings), tuple(zip(*bodies, strict=True))


def _column(
    name: str, cells: Column, units: Units, largest: dict[Dimension, float]
) -> tuple[str, tuple[Shown, ...]]:
    dimensions = {d for cell in cells if (d := _dimension(cell)) is not None}
    if len(dimensions) != 1:
        return name, tuple(shown_cell(cell, units) for cell in cells)
    dimension = dimensions.pop()
    resolution = max((cell.resolution for cell in cells if cell.resolution), default=None)
    unit, texts = shown_column(
        [cell.number if cell.estimate is None else cell.estimate for cell in cells],
        dimension,
        resolution=resolution,
        units=units,
        like=largest[dimension],
    )
    body = tuple(
        shown_cell(cell, units) if _dimension(cell) is None else Shown(text, figure=True)
        for cell, text in zip(cells, texts, strict=True)
    )
    return f"{name} ({unit})" if unit else name, body


def _dimension(cell: Cell) -> Dimension | None:
    """What kind of figure the cell holds; None for words."""
    if cell.estimate is not None:
        return cell.estimate.dimension
    return cell.dimension if cell.number is not None else None


def _size(cell: Cell) -> float:
    return abs(cell.estimate.value if cell.estimate is not None else cell.number or 0.0)
