"""Signs drawn from lines and text: control frames, datum, projection, cutting plane, pop mark.

The drawing library keeps TOLERANCE entities but draws none of them, so the frames are our own.
Symbols as in ISO 1101, ISO 5456-2 and ISO 128 (from memory).
"""

from __future__ import annotations

import math
from typing import Literal

from wormwright.drawings import style
from wormwright.drawings.canvas import Pen, Point
from wormwright.drawings.figures import Written
from wormwright.drawings.lettering import text_width

Symbol = Literal["parallel", "square", "runout", "flat"]
_TEXT = 2.8
_SMALL = 2.0
_CELL = 8.0


def frame_width(tolerance: Written, datum: str) -> float:
    """Width of a control frame on paper."""
    return _CELL + _tolerance_cell(tolerance) + (_CELL if datum else 0.0)


def _tolerance_cell(tolerance: Written) -> float:
    first = text_width(tolerance.first, _TEXT, bold=True)
    other = text_width(f"[{tolerance.other}]", _SMALL)
    return first + other + 4.5


def control_frame(
    pen: Pen, corner: Point, symbol: Symbol, tolerance: Written, datum: str = ""
) -> None:
    """A feature control frame with its lower left corner at `corner`."""
    x, y = corner
    height = style.FRAME_HEIGHT
    cell = _tolerance_cell(tolerance)
    width = frame_width(tolerance, datum)
    pen.path(
        ((x, y), (x + width, y), (x + width, y + height), (x, y + height)),
        style.DIMENSION,
        closed=True,
    )
    bars = [x + _CELL] + ([x + _CELL + cell] if datum else [])
    for bar in bars:
        pen.line((bar, y), (bar, y + height), style.DIMENSION)
    _symbol(pen, (x + _CELL / 2, y + height / 2), symbol)
    base = y + (height - _TEXT) / 2
    left = x + _CELL + 1.5
    pen.text(tolerance.first, (left, base), _TEXT, bold=True)
    pen.text(
        f"[{tolerance.other}]",
        (left + text_width(tolerance.first, _TEXT, bold=True) + 1.2, base),
        _SMALL,
        layer=style.OTHER_UNIT,
    )
    if datum:
        pen.text(datum, (x + width - _CELL / 2, base), _TEXT, bold=True, align="centre")


def _symbol(pen: Pen, centre: Point, symbol: Symbol) -> None:
    x, y = centre
    layer = style.DIMENSION
    if symbol == "parallel":
        for dx in (-1.0, 1.0):
            pen.line((x + dx - 1.2, y - 2), (x + dx + 1.2, y + 2), layer)
    elif symbol == "square":
        pen.line((x - 2.2, y - 2), (x + 2.2, y - 2), layer)
        pen.line((x, y - 2), (x, y + 2), layer)
    elif symbol == "runout":
        pen.line((x - 2, y - 2), (x + 2, y + 2), layer)
        pen.filled(((x + 2, y + 2), (x + 0.1, y + 1.1), (x + 1.1, y + 0.1)), layer)
    else:
        pen.path(
            ((x - 2.6, y - 1.4), (x + 1.4, y - 1.4), (x + 2.6, y + 1.4), (x - 1.4, y + 1.4)),
            layer,
            closed=True,
        )


def leader(pen: Pen, points: tuple[Point, ...]) -> None:
    """A bent line that ends with an arrow on the last point."""
    pen.path(points, style.DIMENSION)
    before, tip = points[-2:]
    pen.arrow_head(tip, math.atan2(tip[1] - before[1], tip[0] - before[0]), style.DIMENSION)


def datum_flag(pen: Pen, at: Point, letter: str, *, stem: float = 2.0) -> None:
    """A datum triangle hanging under `at`, which lies on the line it marks, with its box."""
    x, y = at
    pen.filled(((x - 1.6, y), (x + 1.6, y), (x, y - 2.4)), style.DIMENSION)
    pen.line((x, y - 2.4), (x, y - 2.4 - stem), style.DIMENSION)
    side = 5.4
    y += 2.0 - stem
    pen.path(
        (
            (x - side / 2, y - 4.4 - side),
            (x + side / 2, y - 4.4 - side),
            (x + side / 2, y - 4.4),
            (x - side / 2, y - 4.4),
        ),
        style.DIMENSION,
        closed=True,
    )
    pen.text(letter, (x, y - 4.4 - side + 1.2), 3.0, bold=True, align="centre")


def projection_symbol(pen: Pen, at: Point, *, first_angle: bool) -> None:
    """The cone that says first or third angle; `at` is its left end at mid height.

    First angle: cone at the left with its small end outward, its end view at the right.
    """
    x, y = at
    big, small, length = 2.6, 1.5, 6.0
    cone, rings = (x, x + 10.5) if first_angle else (x + 7.5, x + 2.6)
    pen.path(
        (
            (cone, y - small),
            (cone + length, y - big),
            (cone + length, y + big),
            (cone, y + small),
        ),
        style.OUTLINE,
        closed=True,
    )
    for radius in (big, small):
        pen.circle((rings, y), radius, style.OUTLINE)
    pen.line((cone - 1, y), (cone + length + 1, y), style.CENTRE)
    pen.line((rings - big - 0.8, y), (rings + big + 0.8, y), style.CENTRE)
    pen.line((rings, y - big - 0.8), (rings, y + big + 0.8), style.CENTRE)


def cutting_plane(pen: Pen, x: float, bottom: float, top: float, *, towards: float) -> None:
    """The plane A-A: thick ends, arrows along angle `towards` [rad], letters."""
    way = math.cos(towards)
    for end, out in ((top, 1.0), (bottom, -1.0)):
        pen.line((x, end), (x, end + out * 5.0), style.OUTLINE)
        y = end + out * 4.0
        pen.line((x, y), (x + way * 8.0, y), style.DIMENSION)
        pen.arrow_head((x + way * 8.0, y), towards, style.DIMENSION)
        pen.text("A", (x - way * 3.4, y - 1.75), 3.5, bold=True, align="centre")
    pen.line((x, bottom), (x, top), style.CENTRE)


def pop_mark(pen: Pen, at: Point, towards: float, *, count: int = 1) -> None:
    """One punch mark or two side by side, shown larger than they are; `towards` points outward."""
    for number in range(count):
        aside = (number - (count - 1) / 2) * 1.9
        dot = (at[0] - aside * math.sin(towards), at[1] + aside * math.cos(towards))
        pen.dot(dot, 0.65, style.ACCENT)
    pen.circle(at, 1.6 if count == 1 else 2.2, style.ACCENT)


def centre_cross(pen: Pen, at: Point, reach: float, layer: str = style.CENTRE) -> None:
    """Two crossing centre lines."""
    x, y = at
    pen.line((x - reach, y), (x + reach, y), layer)
    pen.line((x, y - reach), (x, y + reach), layer)
