"""The label of a unit: its mark in large letters, what it may be used for, and a code to scan."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wormwright.charts.sheet import INK, drawn, folded
from wormwright.job.blocks import UnitLabel
from wormwright.job.rotary import Units

if TYPE_CHECKING:
    from matplotlib.figure import Figure

_WIDTH, _HEIGHT = 170.0, 46.0
_CODE = (0.755, 0.06, 0.238, 0.88)
"""The square of the code, its quiet zone in it."""
_COLUMNS = 62
_MOST_LINES = 5


def label_svg(block: UnitLabel, units: Units) -> str:  # noqa: ARG001  (a label has no figures)
    """The label, to be cut out along its frame."""
    return drawn(_WIDTH, _HEIGHT, lambda sheet: _label(sheet, block))


def _label(sheet: Figure, block: UnitLabel) -> None:
    from matplotlib.patches import Rectangle  # noqa: PLC0415

    sheet.add_artist(
        Rectangle(
            (0.003, 0.01),
            0.994,
            0.98,
            transform=sheet.transFigure,
            fill=False,
            edgecolor=INK,
            linewidth=1.0,
            linestyle=(0, (4, 3)),
        )
    )
    sheet.text(0.03, 0.90, folded(block.unit, 24, lines=1), fontsize=26, weight="bold", va="top")
    lines = [folded(line, _COLUMNS, lines=2) for line in block.lines][:_MOST_LINES]
    sheet.text(0.03, 0.60, "\n".join(lines), fontsize=9.5, va="top", linespacing=1.4)
    _code(sheet, block.code)


def _code(sheet: Figure, text: str) -> None:
    """A square code after ISO/IEC 18004, error level M, with its quiet zone of four modules."""
    import segno  # noqa: PLC0415
    from matplotlib.collections import PatchCollection  # noqa: PLC0415
    from matplotlib.patches import Rectangle  # noqa: PLC0415

    rows = [list(row) for row in segno.make_qr(text, error="m").matrix_iter(border=4)]
    size = len(rows)
    axes = sheet.add_axes(_CODE)
    axes.set_xlim(0, size)
    axes.set_ylim(size, 0)
    axes.set_aspect("equal")
    axes.set_axis_off()
    dark = [Rectangle((x, y), 1, 1) for y, row in enumerate(rows) for x, on in enumerate(row) if on]
    axes.add_collection(PatchCollection(dark, facecolor=INK, edgecolor=INK, linewidth=0.1))
