"""Beside the views of a bushing: the throw enlarged, and how the bushing stands in its housing."""

from __future__ import annotations

import math

from wormwright.drawings import dimensions, figures, frames, style
from wormwright.drawings.canvas import Canvas, Pen, Point
from wormwright.drawings.style import Box, SheetStyle
from wormwright.job.parts import EccentricBushing

UPWARD = math.pi / 2
_HALF_WIDE, _HALF_HIGH = 23.0, 19.5
_RING = 11.0


def angle_on_face(side: str, turn: float) -> float:
    """Where the throw points on the drawing of a face with the table top up and the wheel level.

    The bushing stands turned by `turn` [rad] from "throw points at the wheel", positive toward
    the table top (+Z). A's face is seen from +X: the wheel lies to the left. B's face is seen
    from -X: the wheel lies to the right. Angles on paper are counter-clockwise from the right.
    """
    return math.pi - turn if side == "A" else turn


def throw_detail(
    canvas: Canvas,
    part: EccentricBushing,
    at: Point,
    column: Box,
    sheet: SheetStyle,
    *,
    right: bool,
) -> None:
    """The two centres enlarged, when the throw cannot be seen at the scale of the sheet.

    `right`: the letter stands to the right of the place that is enlarged.
    """
    pen = canvas.pen
    pen.circle(at, 3.0, style.THIN)
    letter = at[0] + 3.4 if right else at[0] - 6.0
    pen.text("X", (letter, at[1] - 5.6), style.LABEL_HEIGHT, bold=True)
    scale = style.detail_scale(part.throw, 7.5)
    middle = ((column.left + column.right) / 2, column.top - _HALF_HIGH - 14.0)
    _detail_frame(pen, middle, f"DETAIL X  {style.scale_text(scale)}")
    x, y = middle
    half = part.throw * float(scale) / 2
    low, high = (x, y - half), (x, y + half)
    for point, words, lift in ((low, "axis of outside", -3.7), (high, "axis of bore", 1.7)):
        pen.line((x - 4, point[1]), (x + 21, point[1]), style.CENTRE)
        pen.text(words, (x + 1.2, point[1] + lift), 2.2)
    dimensions.linear(
        canvas,
        (x - 4, low[1]),
        (x - 4, high[1]),
        (x - 8.5, 0.0),
        figures.plus_minus(part.throw, part.throw_tolerance, sheet.units),
        angle=UPWARD,
        factor=float(canvas.scale / scale),
        side="above",
    )


def _detail_frame(pen: Pen, middle: Point, label: str) -> None:
    x, y = middle
    corners = ((-1, -1), (1, -1), (1, 1), (-1, 1))
    pen.path(
        [(x + i * _HALF_WIDE, y + j * _HALF_HIGH) for i, j in corners], style.THIN, closed=True
    )
    pen.line((x, y - _HALF_HIGH + 2), (x, y + _HALF_HIGH - 2), style.CENTRE)
    pen.text(label, (x, y + _HALF_HIGH + 6.6), style.LABEL_HEIGHT, bold=True, align="centre")
    pen.text("throw, enlarged; the figure is true", (x, y + _HALF_HIGH + 2.2), 2.2, align="centre")


def in_place(canvas: Canvas, part: EccentricBushing, column: Box) -> None:
    """The bushing in its housing at the start setting, seen from its own flange face."""
    pen = canvas.pen
    x, y = (column.left + column.right) / 2, column.bottom + _RING + 15.0
    throw = angle_on_face(part.side, part.start_angle)
    wheel = angle_on_face(part.side, 0.0)
    pen.circle((x, y), _RING, style.THIN)
    frames.centre_cross(pen, (x, y), _RING + 1.5)
    tip = (x + (_RING - 1) * math.cos(throw), y + (_RING - 1) * math.sin(throw))
    pen.line((x, y), tip, style.ACCENT)
    pen.arrow_head(tip, throw, style.ACCENT)
    mark = throw + part.mark_angle
    count = 1 if part.side == "A" else 2
    on_rim = (x + _RING * math.cos(mark), y + _RING * math.sin(mark))
    frames.pop_mark(pen, on_rim, mark, count=count)
    low, high = sorted(angle_on_face(part.side, turn) for turn in part.work_range)
    pen.arc((x, y), _RING + 3.0, low, high, style.ACCENT)
    way = math.cos(wheel)
    end = (x + way * (_RING + 12.0), y)
    pen.line((x + way * (_RING + 5.0), y), end, style.DIMENSION)
    pen.arrow_head(end, wheel, style.DIMENSION)
    pen.text("wheel", (end[0], y + 1.6), 2.2, align="centre")
    pen.line((x, y + _RING + 4.5), (x, y + _RING + 9.0), style.DIMENSION)
    pen.arrow_head((x, y + _RING + 9.0), UPWARD, style.DIMENSION)
    pen.text("table top", (x + 2.4, y + _RING + 5.5), 2.2)
    for line, words in enumerate(
        (f"throw {_from_wheel(part.start_angle)}", f"work range {_range(part.work_range)}")
    ):
        pen.text(words, (x, y - _RING - 6.4 - 3.3 * line), 2.0, align="centre")
    pen.text("IN PLACE, own flange face", (x, y - _RING - 13.4), 2.2, bold=True, align="centre")


def _from_wheel(turn: float) -> str:
    if abs(turn) < math.radians(0.05):
        return "at the wheel"
    toward = "table top" if turn > 0 else "table base"
    return f"{figures.degrees(abs(turn))} from wheel to {toward}"


def _range(turns: tuple[float, float]) -> str:
    low, high = (f"{figures.degrees(turn).replace('-', '−')}" for turn in sorted(turns))
    return f"{low} to {high}, + to the table top"
