"""The eccentric bushing: face view, section A-A, the throw, and how it stands in place.

The views are drawn with the throw direction upward, so the thin wall is at the top. Both
bushings are seen from their own flange face: turned the same way in space, A turns clockwise and
B counter-clockwise, and whatever stands to one side of the throw on A stands to the other on B.
"""

from __future__ import annotations

import math
from fractions import Fraction

from wormwright.drawings import dimensions, figures, frames, style
from wormwright.drawings.bushing_details import UPWARD, in_place, throw_detail
from wormwright.drawings.bushing_profile import inner_radii, slot_centres, slot_outline
from wormwright.drawings.bushing_section import LEAST_REACH, draw_section
from wormwright.drawings.canvas import Canvas, Point, View
from wormwright.drawings.style import Box, SheetStyle
from wormwright.job.parts import EccentricBushing

_ROOM_SECTION = 37.0
_FRAMES = 62.0
"""From the flange face to the far end of the squareness frame."""
_FRAME_AT_END = 56.0
"""From the inner end to the far end of the parallelism frame of a seat that opens there."""
_HALF_LABEL = 42.0
_ROOM_FACE = 16.0
_RIGHT = 56.0
_HEADROOM = 20.0
_FOOTROOM = 21.0


def scale_for(part: EccentricBushing, views: Box, sheet: SheetStyle) -> Fraction:
    """The largest standard scale at which both views and their dimensions fit."""
    wide = views.width - _RIGHT - 2 * _ROOM_FACE
    high = views.height - _HEADROOM - _FOOTROOM
    overall = part.flange_thickness + part.length
    face = part.flange_outside
    beside = _ROOM_SECTION
    if part.seat_opens == "inner end" and not sheet.first_angle:
        beside = _FRAME_AT_END
    return min(
        style.largest_scale(wide - _ROOM_SECTION - beside, high, face + overall, face),
        style.largest_scale(wide - _ROOM_SECTION - _FRAMES, high, face, face),
    )


def draw_views(canvas: Canvas, part: EccentricBushing, views: Box, sheet: SheetStyle) -> None:
    """All views of one bushing."""
    scale = float(canvas.scale)
    half = part.flange_outside / 2 * scale
    middle = views.bottom + _FOOTROOM + (views.height - _HEADROOM - _FOOTROOM) / 2
    left = views.left + max(_ROOM_FACE + half, _HALF_LABEL)
    face = View((left, middle), scale)
    overall = (part.flange_thickness + part.length) * scale
    start = left + half + _ROOM_FACE + _ROOM_SECTION
    section = View(
        (start + overall, middle) if sheet.first_angle else (start, middle),
        scale,
        mirrored=sheet.first_angle,
    )
    _face_view(canvas, part, face, sheet)
    draw_section(canvas, part, section, sheet)
    column = Box(views.right - _RIGHT, views.bottom, views.right, views.top)
    if part.throw * scale >= style.SEEN_ON_PAPER:
        _throw_in_face_view(canvas, part, face, sheet)
    else:
        throw_detail(canvas, part, face.origin, column, sheet, right=not mark_is_right(part))
    in_place(canvas, part, column)


def _throw_in_face_view(
    canvas: Canvas, part: EccentricBushing, view: View, sheet: SheetStyle
) -> None:
    way = 1.0 if mark_is_right(part) else -1.0
    x = view.origin[0] + way * part.flange_outside / 2 * view.scale
    dimensions.linear(
        canvas,
        (x + way * 2.0, view.at(0, 0)[1]),
        (x + way * 2.0, view.at(0, part.throw)[1]),
        (x + way * 9.0, 0.0),
        figures.plus_minus(part.throw, part.throw_tolerance, sheet.units),
        angle=UPWARD,
        place="before" if math.cos(part.mark_angle) >= 0 else "after",
    )


def _face_view(canvas: Canvas, part: EccentricBushing, view: View, sheet: SheetStyle) -> None:
    pen, s = canvas.pen, view.scale
    flange = part.flange_outside / 2
    bore_at = view.at(0, part.throw)
    pen.circle(view.origin, flange * s, style.OUTLINE)
    pen.circle(view.origin, _body_radius(part) * s, style.HIDDEN)
    seat, shoulder = inner_radii(part)
    from_face = part.seat_opens == "flange face"
    pen.circle(bore_at, seat * s, style.OUTLINE if from_face else style.HIDDEN)
    pen.circle(bore_at, shoulder * s, style.OUTLINE)
    for centre in slot_centres(part):
        _slot(canvas, part, view, centre + UPWARD)
    pen.circle(view.origin, part.slot_circle / 2 * s, style.CENTRE)
    frames.centre_cross(pen, view.origin, flange * s + 2.0)
    edge = flange * s
    x, y = view.origin
    frames.cutting_plane(
        pen, x, y - edge - 2, y + edge + 2, towards=0.0 if sheet.first_angle else math.pi
    )
    _mark(canvas, part, view)
    _slot_dimensions(canvas, part, view, sheet)
    words = "Seen from its own flange face, throw up"
    label = y + max(edge, LEAST_REACH) + 14.5
    pen.text(words, (x, label), 2.8, bold=True, align="centre")


def _body_radius(part: EccentricBushing) -> float:
    return part.outside.size / 2


def _slot(canvas: Canvas, part: EccentricBushing, view: View, centre: float) -> None:
    pen = canvas.pen
    half = part.slot_sweep / 2
    if part.slot_sweep <= 0:
        at = view.polar(part.slot_circle / 2, centre)
        pen.circle(at, part.slot_width / 2 * view.scale, style.OUTLINE)
        return
    for radius, start, end, middle in slot_outline(part):
        if middle is None:
            pen.arc(view.origin, radius * view.scale, centre - half, centre + half, style.OUTLINE)
        else:
            at = view.polar(part.slot_circle / 2, centre + middle)
            pen.arc(at, radius * view.scale, centre + start, centre + end, style.OUTLINE)


def mark_radius(part: EccentricBushing) -> float:
    """Where the witness mark stands: half way between the slots and the rim [mm]."""
    slots_end = (part.slot_circle + part.slot_width) / 2
    return (slots_end + part.flange_outside / 2) / 2


def mark_is_right(part: EccentricBushing) -> bool:
    """Whether the witness mark stands right of the throw line on the drawing of the face."""
    return math.sin(part.mark_angle) < 0


def _mark(canvas: Canvas, part: EccentricBushing, view: View) -> None:
    towards = part.mark_angle + UPWARD
    at = view.polar(mark_radius(part), towards)
    frames.pop_mark(canvas.pen, at, towards, count=1 if part.side == "A" else 2)
    angle = math.remainder(part.mark_angle, math.tau)
    if abs(angle) > math.radians(1):
        _, shoulder = inner_radii(part)
        arc = 0.6 * shoulder * view.scale
        canvas.pen.line(view.origin, at, style.THIN)
        start, end = sorted((UPWARD, UPWARD + angle))
        dimensions.angular(
            canvas, view.origin, (arc, arc), (start, end), figures.degrees(abs(angle))
        )
    _label_mark(canvas, at, view, part)


def _label_mark(canvas: Canvas, at: Point, view: View, part: EccentricBushing) -> None:
    """Named outside the rim, clear of the cutting plane."""
    way = 1.0 if mark_is_right(part) else -1.0
    off_vertical = abs(math.remainder(part.mark_angle, math.tau))
    off_vertical = min(max(off_vertical, math.radians(25)), math.radians(150))
    if abs(off_vertical - UPWARD) < math.radians(35):  # clear of the throw dimension
        off_vertical = math.radians(55)
    towards = UPWARD - way * off_vertical
    reach = part.flange_outside / 2 * view.scale + 3.0
    x, y = view.origin
    corner = (x + reach * math.cos(towards), y + reach * math.sin(towards))
    angle = math.atan2(corner[1] - at[1], corner[0] - at[0])
    pen = canvas.pen
    pen.line((at[0] + 1.6 * math.cos(angle), at[1] + 1.6 * math.sin(angle)), corner, style.ACCENT)
    pen.text(
        "pop mark" if part.side == "A" else "2 pop marks",
        (corner[0] + way, corner[1] - 1.0),
        2.5,
        layer=style.ACCENT,
        bold=True,
        align="left" if way > 0 else "right",
    )


def _slot_dimensions(canvas: Canvas, part: EccentricBushing, view: View, sheet: SheetStyle) -> None:
    edge = part.flange_outside / 2 * view.scale
    x, y = view.origin
    away = -1.0 if mark_is_right(part) else 1.0
    if part.slot_sweep > 0:
        turn = max(
            (centre + UPWARD for centre in slot_centres(part)),
            key=lambda angle: away * math.cos(angle) + 0.01 * math.sin(angle),
        )
        dimensions.angular(
            canvas,
            view.origin,
            (part.slot_circle / 2 * view.scale, edge + 4.0),
            (turn - part.slot_sweep / 2, turn + part.slot_sweep / 2),
            figures.degrees(part.slot_sweep),
        )
    circle = figures.plain(part.slot_circle, sheet.units).before("Ø")
    dimensions.diameter(
        canvas,
        view.origin,
        part.slot_circle / 2 * view.scale,
        angle=math.radians(270 + away * 38),
        elbow=(x + away * edge * 0.80, y - edge - 6.0),
        written=circle,
        leftward=away < 0,
    )
    width = figures.plain(part.slot_width, sheet.units)
    count = "holes" if part.slot_sweep <= 0 else "slots"
    wide = "diameter" if part.slot_sweep <= 0 else "wide"
    words = f"{part.slot_count} {count}, {width.first} [{width.other}] {wide}, evenly spaced"
    canvas.pen.text(words, (x, y - edge - 16.5), 2.3, align="centre")
