"""Real DIMENSION entities with their pictures: extension lines, arrows, both units.

The leading unit stands bold above the dimension line, the other one grey in brackets below it.
The picture is drawn here and not by the drawing library, which cannot set two units nor keep a
text clear of the line; the entity itself measures true size, so a CAD program reads it back.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Literal

from wormwright.drawings import style
from wormwright.drawings.canvas import DIMENSION_STYLE, Canvas, Pen, Point
from wormwright.drawings.figures import Written
from wormwright.drawings.lettering import text_width

if TYPE_CHECKING:
    from ezdxf.entities import Dimension

Place = Literal["on", "before", "after"]
Side = Literal["both", "above", "below"]
_TAIL = 1.6 * style.ARROW
_ROOM_FOR_ARROWS = 3.0 * style.ARROW
_LIFT = style.GAP
_CLEAR = style.OVERRUN + 0.3
_LINE = 4.6
_OTHER_LINE = 3.5


def _shift(point: Point, angle: float, by: float) -> Point:
    return (point[0] + by * math.cos(angle), point[1] + by * math.sin(angle))


def _words(written: Written) -> str:
    first = f"{written.first} {written.fit}" if written.fit else written.first
    return f"{first}\\P[{written.other}]" if written.other else first


def width_of(written: Written, *, stacked: bool = False) -> float:
    """Length of dimension line [mm on paper] that the figures need."""
    lines = written.first_stacked if stacked else (written.first,)
    return max(
        *(text_width(line, style.DIM_HEIGHT, bold=True) for line in lines),
        text_width(written.other_line, style.OTHER_HEIGHT),
    )


def _stacked_width(written: Written) -> float:
    """The same with limits of both units one above the other."""
    return max(
        *(text_width(line, style.DIM_HEIGHT, bold=True) for line in written.first_stacked),
        *(text_width(line, style.OTHER_HEIGHT) for line in written.other_stacked),
    )


def _figures(
    pen: Pen,
    middle: Point,
    along: float,
    written: Written,
    *,
    room: float | None = None,
    side: Side = "both",
) -> None:
    """The figures centred on a dimension line through `middle`: first above, other below.

    Two limits stand one above the other if they would be longer than the `room` on the line.
    `side` puts all figures on one side of the line, the leading unit on top.
    """
    stacked = room is not None and width_of(written) > room - 2 * style.GAP
    lines = written.first_stacked if stacked else (written.first,)
    long = room is not None and text_width(written.other_line, style.OTHER_HEIGHT) > room
    others = written.other_stacked if long else (written.other_line,)
    base, drop = _LIFT, _LIFT + style.OTHER_HEIGHT
    if side == "above":
        under = _LIFT + (len(others) - 1) * _OTHER_LINE
        base, drop = under + style.OTHER_HEIGHT + _LIFT, -under
    elif side == "below":
        base = -_CLEAR - style.DIM_HEIGHT - (len(lines) - 1) * _LINE
        drop = _LIFT + style.OTHER_HEIGHT - base
    for number, line in enumerate(reversed(lines)):
        above = _shift(middle, along + math.pi / 2, base + number * _LINE)
        pen.text(line, above, style.DIM_HEIGHT, bold=True, align="centre", rotation=along)
    for number, line in enumerate(others):
        below = _shift(middle, along - math.pi / 2, drop + number * _OTHER_LINE)
        pen.text(
            line,
            below,
            style.OTHER_HEIGHT,
            layer=style.OTHER_UNIT,
            align="centre",
            rotation=along,
        )


def _picture(canvas: Canvas, entity: Dimension, middle: Point) -> Pen:
    """The block of a dimension, tied to it."""
    block = canvas.document.blocks.new_anonymous_block(type_char="D")
    entity.dxf.geometry = block.name
    entity.dxf.layer = style.DIMENSION
    entity.dxf.text_midpoint = (*canvas.pen.true(middle), 0.0)
    entity.dxf.attachment_point = 5
    return Pen(block, canvas.k)


def _upright(angle: float) -> float:
    """The direction along a dimension line in which its text reads from below or the right."""
    turned = math.remainder(angle, math.pi)
    return turned + math.pi if turned <= -math.pi / 2 + 1e-9 else turned


def linear(
    canvas: Canvas,
    first: Point,
    second: Point,
    through: Point,
    written: Written,
    *,
    angle: float = 0.0,
    place: Place = "on",
    factor: float = 1.0,
    side: Side = "both",
) -> None:
    """Distance between two points along `angle` [rad], its line through the point `through`.

    `place` "before" or "after" stands the text outside, beyond the first or second point.
    `factor` is true size over drawn size, for a dimension drawn in an enlarged detail.
    `side` keeps all figures on the side of the line that nothing comes to.
    """
    entity = canvas.document.modelspace().add_linear_dim(
        base=canvas.pen.true(through),
        p1=canvas.pen.true(first),
        p2=canvas.pen.true(second),
        angle=math.degrees(angle),
        text=_words(written),
        dimstyle=DIMENSION_STYLE,
        override={"dimlfac": factor} if factor != 1.0 else None,
    )
    entity.commit()
    ends = tuple(_foot(point, through, angle) for point in (first, second))
    run = math.atan2(ends[1][1] - ends[0][1], ends[1][0] - ends[0][0])
    span = math.dist(*ends)
    middle = _text_middle(ends, run, span, written, place)
    pen = _picture(canvas, entity.dimension, middle)
    for point, end in zip((first, second), ends, strict=True):
        _extension(pen, point, end)
    _dimension_line(pen, ends, run, span)
    if place != "on":
        _shelf(pen, ends, run, span, length=width_of(written), place=place)
    room = span if place == "on" else None
    _figures(pen, middle, _upright(run), written, room=room, side=side)


def _foot(point: Point, through: Point, angle: float) -> Point:
    c, s = math.cos(angle), math.sin(angle)
    along = (point[0] - through[0]) * c + (point[1] - through[1]) * s
    return (through[0] + along * c, through[1] + along * s)


def _extension(pen: Pen, point: Point, end: Point) -> None:
    length = math.dist(point, end)
    if length <= style.GAP:
        return
    way = math.atan2(end[1] - point[1], end[0] - point[0])
    pen.line(_shift(point, way, style.GAP), _shift(end, way, style.OVERRUN), style.DIMENSION)


def _dimension_line(pen: Pen, ends: tuple[Point, ...], run: float, span: float) -> None:
    inside = span >= _ROOM_FOR_ARROWS
    first, second = ends
    pen.line(first, second, style.DIMENSION)
    pen.arrow_head(first, run + math.pi if inside else run, style.DIMENSION)
    pen.arrow_head(second, run if inside else run + math.pi, style.DIMENSION)
    if not inside:
        pen.line(first, _shift(first, run, -_TAIL), style.DIMENSION)
        pen.line(second, _shift(second, run, _TAIL), style.DIMENSION)


def _outside(ends: tuple[Point, ...], run: float, span: float, place: Place) -> tuple[Point, float]:
    start = 0.0 if span >= _ROOM_FOR_ARROWS else _TAIL
    if place == "before":
        return _shift(ends[0], run, -start), run + math.pi
    return _shift(ends[1], run, start), run


def _text_middle(
    ends: tuple[Point, ...], run: float, span: float, written: Written, place: Place
) -> Point:
    if place == "on":
        return _shift(ends[0], run, span / 2)
    start, way = _outside(ends, run, span, place)
    return _shift(start, way, style.GAP + width_of(written) / 2)


def _shelf(
    pen: Pen, ends: tuple[Point, ...], run: float, span: float, *, length: float, place: Place
) -> None:
    start, way = _outside(ends, run, span, place)
    pen.line(start, _shift(start, way, style.GAP + length), style.DIMENSION)


def diameter(
    canvas: Canvas,
    centre: Point,
    radius: float,
    *,
    angle: float,
    elbow: Point,
    written: Written,
    leftward: bool = False,
    stacked: bool = False,
) -> None:
    """Diameter of a circle on a bent leader: arrow at `angle` from outside, shelf at `elbow`.

    `stacked` stands two limits one above the other.
    """
    entity = canvas.document.modelspace().add_diameter_dim(
        center=canvas.pen.true(centre),
        radius=radius * canvas.k,
        angle=math.degrees(angle),
        text=_words(written),
        dimstyle=DIMENSION_STYLE,
    )
    tip = _shift(centre, angle, radius)
    way = -1.0 if leftward else 1.0
    length = (_stacked_width(written) if stacked else width_of(written)) + 2 * style.GAP
    middle = (elbow[0] + way * length / 2, elbow[1])
    pen = _picture(canvas, entity.dimension, middle)
    pen.line(tip, elbow, style.DIMENSION)
    pen.line(elbow, (elbow[0] + way * length, elbow[1]), style.DIMENSION)
    pen.arrow_head(tip, math.atan2(tip[1] - elbow[1], tip[0] - elbow[0]), style.DIMENSION)
    _figures(pen, middle, 0.0, written, room=0.0 if stacked else None)


def _angle_text(centre: Point, radius: float, towards: float, words: str) -> Point:
    """Middle of a level text that clears an arc of `radius`, seen from `centre` at `towards`."""
    width = text_width(words, style.DIM_HEIGHT, bold=True)
    reach = radius + style.GAP
    return (
        centre[0] + math.cos(towards) * (reach + width / 2),
        centre[1] + math.sin(towards) * (reach + style.DIM_HEIGHT / 2),
    )


def angular(
    canvas: Canvas,
    centre: Point,
    radii: tuple[float, float],
    angles: tuple[float, float],
    words: str,
) -> None:
    """Angle from `angles[0]` counter-clockwise to `angles[1]` [rad].

    Extension lines start at `radii[0]`, the dimension arc has `radii[1]`; the text stands level
    outside the middle of the arc.
    """
    start, end = angles
    inner, outer = radii
    sweep = (end - start) % (2 * math.pi)
    entity = canvas.document.modelspace().add_angular_dim_3p(
        base=canvas.pen.true(_shift(centre, start + sweep / 2, outer)),
        center=canvas.pen.true(centre),
        p1=canvas.pen.true(_shift(centre, start, inner)),
        p2=canvas.pen.true(_shift(centre, end, inner)),
        text=words,
        dimstyle=DIMENSION_STYLE,
    )
    middle = _angle_text(centre, outer, start + sweep / 2, words)
    pen = _picture(canvas, entity.dimension, middle)
    for angle in angles:
        if outer > inner + style.GAP:
            pen.line(
                _shift(centre, angle, inner + style.GAP),
                _shift(centre, angle, outer + style.OVERRUN),
                style.DIMENSION,
            )
    _dimension_arc(pen, centre, outer, start, sweep)
    pen.text(
        words,
        (middle[0], middle[1] - style.DIM_HEIGHT / 2),
        style.DIM_HEIGHT,
        bold=True,
        align="centre",
    )


def _dimension_arc(pen: Pen, centre: Point, radius: float, start: float, sweep: float) -> None:
    inside = sweep * radius >= _ROOM_FOR_ARROWS
    tail = 0.0 if inside else _TAIL / radius
    pen.arc(centre, radius, start - tail, start + sweep + tail, style.DIMENSION)
    lean = style.ARROW / radius / 2
    for angle, way in ((start, -1.0), (start + sweep, 1.0)):
        out = way if inside else -way
        towards = angle + out * (math.pi / 2 - lean)
        pen.arrow_head(_shift(centre, angle, radius), towards, style.DIMENSION)
