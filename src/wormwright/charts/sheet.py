"""The sheet that every chart is drawn on: size, ink, lettering, and the SVG that comes out."""

from __future__ import annotations

import io
import textwrap
import warnings
from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

from wormwright.job.rotary import Units
from wormwright.quantities import Dimension

if TYPE_CHECKING:
    from matplotlib.figure import Figure

INK = "#000000"
ACCENT = "#1b4f91"
TINT = "#c9d8ec"
GREY = "#6a6a6a"
SMALL = 8.0

_MM_PER_PAGE_INCH = 25.4
_RULES: Mapping[Any, Any] = MappingProxyType(
    {
        "svg.fonttype": "none",
        "svg.hashsalt": "wormwright",
        "font.family": "DejaVu Sans",
        "font.size": 9.0,
        "text.parse_math": False,
        "axes.unicode_minus": True,
        "axes.linewidth": 0.8,
        "axes.edgecolor": INK,
        "hatch.linewidth": 0.6,
        "lines.linewidth": 1.4,
        "path.simplify": False,
        "figure.facecolor": "white",
    }
)


def drawn(width: float, height: float, draw: Callable[[Figure], None]) -> str:
    """The SVG of what `draw` puts on a sheet of width × height, mm on paper."""
    import matplotlib as mpl  # noqa: PLC0415
    from matplotlib.figure import Figure as Sheet  # noqa: PLC0415

    with mpl.rc_context(), warnings.catch_warnings():
        # a letter that the face lacks stays text, and the reader's own fonts show it
        warnings.filterwarnings("ignore", message="Glyph .* missing from")
        mpl.rcdefaults()
        mpl.rcParams.update(_RULES)
        sheet = Sheet(figsize=(width / _MM_PER_PAGE_INCH, height / _MM_PER_PAGE_INCH))
        draw(sheet)
        out = io.StringIO()
        sheet.savefig(out, format="svg", metadata={"Date": None, "Creator": None})
    return out.getvalue()


def unit_step(dimension: Dimension, units: Units) -> tuple[float, str]:
    """The unit that an axis is divided in, in core units, and its name."""
    from wormwright.quantities.units import unit_named  # noqa: PLC0415

    name = "arcmin" if dimension == "angle" else {"mm": "mm", "in": "thou"}[units]
    unit = unit_named(name, dimension)
    if unit is None:
        raise ValueError(f"no axis for {dimension}: expected length or angle")
    return float(unit.scale), name


def folded(text: str, columns: int, *, lines: int | None = None) -> str:
    """The text in lines of at most `columns` characters; what is over `lines` is cut off with …"""
    printable = "".join(c if c.isprintable() else " " for c in text)
    folds = textwrap.wrap(printable, columns, max_lines=lines, placeholder=" …")
    return "\n".join(folds) or " "
