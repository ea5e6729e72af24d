"""Section A-A of an eccentric bushing with its diameters, lengths and control frames."""

from __future__ import annotations

import math

from wormwright.drawings import dimensions, figures, frames, style
from wormwright.drawings.bushing_profile import Profile, inner_radii, section_loops
from wormwright.drawings.canvas import Canvas, View
from wormwright.drawings.style import SheetStyle
from wormwright.job.parts import EccentricBushing

PARALLEL = 0.010
"""Bearing seat to outside, and the two TIR stations to each other [mm]: a lathe without play in
the chuck holds it, and over the span of a worm it tilts the worm by far less than its float."""
SQUARE = 0.010
"""Back of the flange to the outside [mm]: it is what holds the bushing square when clamped."""
SEAT_DEPTH_TOLERANCE = 0.05
"""Depth of the bearing seat [mm]: what a depth rod holds; the shim takes up the rest."""
LEAST_REACH = 25.0
"""Rows of dimensions stay this far from the middle, clear of long texts on short lines."""

_FIRST_COLUMN, _COLUMN = 13.0, 16.5
_FLAG = 11.0
"""What a datum flag takes below the line it hangs on."""


def draw_section(canvas: Canvas, part: EccentricBushing, view: View, sheet: SheetStyle) -> None:
    """The section A-A with all its sizes."""
    pen = canvas.pen
    profile = Profile.of(part)
    for loop in section_loops(part):
        points = [view.at(x, y) for x, y in loop]
        pen.path(points, style.OUTLINE, closed=True)
        canvas.hatch(points)
    for x, low, high in profile.edges_behind:
        pen.line(view.at(x, low), view.at(x, high), style.OUTLINE)
    overall = profile.overall
    over = 3.0 / view.scale
    pen.line(view.at(-over, 0), view.at(overall + over, 0), style.CENTRE)
    if part.throw * view.scale >= style.SEEN_ON_PAPER:
        pen.line(view.at(-over, part.throw), view.at(overall + over, part.throw), style.CENTRE)
    _diameters(canvas, part, view, sheet)
    _lengths(canvas, part, view, sheet)
    _square_frame(canvas, part, view, sheet)
    middle = view.at(overall / 2, 0)[0]
    top = view.origin[1] + _reach(part, view)
    pen.text("SECTION A-A", (middle, top + 14.5), style.LABEL_HEIGHT, bold=True, align="centre")


def _reach(part: EccentricBushing, view: View) -> float:
    """Half the height that the section and its upright texts take on paper."""
    return max(part.flange_outside / 2 * view.scale, LEAST_REACH)


def _square_frame(canvas: Canvas, part: EccentricBushing, view: View, sheet: SheetStyle) -> None:
    """The back of the flange square to the outside."""
    t = part.flange_thickness
    on_face = view.at(t, (part.outside.size + part.flange_outside) / 4)
    inward = -1.0 if view.mirrored else 1.0
    tolerance = figures.at_most(SQUARE, sheet.units)
    width = frames.frame_width(tolerance, "A")
    bottom = view.origin[1] + _reach(part, view) + 4.0
    near = view.at(0, 0)[0] + inward * 19.0
    bend = near + inward * 3.0
    if part.seat_opens == "inner end":
        near = view.at(Profile.of(part).overall, 0)[0] - inward * (width - 4.0)
        bend = on_face[0] + inward * 5.0
    left = near if inward > 0 else near - width
    bend = min(max(bend, left + 2.0), left + width - 2.0)
    frames.leader(canvas.pen, ((bend, bottom), (bend, on_face[1]), on_face))
    frames.control_frame(canvas.pen, (left, bottom), "square", tolerance, "A")


def _diameters(canvas: Canvas, part: EccentricBushing, view: View, sheet: SheetStyle) -> None:
    profile = Profile.of(part)
    seat, shoulder = inner_radii(part)
    units, e, overall = sheet.units, part.throw, profile.overall
    outside = _fitted(figures.limits(part.outside, units), part.outside.fit)
    bearing = _fitted(figures.limits(part.bore, units), part.bore.fit)
    hole = figures.plain(part.shoulder_bore, units).before("Ø")
    rim = figures.plain(part.flange_outside, units).before("Ø")
    body = part.outside.size / 2
    at_face, at_end = ((e, seat, bearing), (e, shoulder, hole))
    if part.seat_opens == "inner end":
        at_face, at_end = at_end, at_face
    for x, out, rows in (
        (0.0, -1.0, (at_face, (0.0, part.flange_outside / 2, rim))),
        (overall, 1.0, (at_end, (0.0, body, outside))),
    ):
        for number, (centre, radius, written) in enumerate(rows):
            ends = view.at(x, centre - radius), view.at(x, centre + radius)
            way = -out if view.mirrored else out
            column = ends[0][0] + way * (_FIRST_COLUMN + number * _COLUMN)
            dimensions.linear(canvas, *ends, (column, view.origin[1]), written, angle=math.pi / 2)
            if written is outside:
                _datum(canvas, part, view, column)
            elif written is bearing:
                _parallel_frame(canvas, part, view, column, sheet)


def _fitted(written: figures.Written, fit: str) -> figures.Written:
    return written.before("Ø").fitted(fit)


def _datum(canvas: Canvas, part: EccentricBushing, view: View, column: float) -> None:
    """Datum A: the axis of the outside, under its dimension line."""
    low = view.at(0, -part.outside.size / 2)[1]
    foot = low
    if part.seat_opens == "flange face":
        foot = view.origin[1] - _reach(part, view) - 10.5
        canvas.pen.line((column, low), (column, foot), style.DIMENSION)
    frames.datum_flag(canvas.pen, (column, foot), "A")


def _parallel_frame(
    canvas: Canvas, part: EccentricBushing, view: View, column: float, sheet: SheetStyle
) -> None:
    """Bearing seat parallel to datum A, over its dimension line."""
    high = view.at(0, part.throw + part.bore.size / 2)[1]
    bottom = view.origin[1] + _reach(part, view) + 4.0
    tolerance = figures.at_most(PARALLEL, sheet.units).before("Ø")
    width = frames.frame_width(tolerance, "A")
    outward = column > view.at(Profile.of(part).overall / 2, 0)[0]
    over = 17.0 if part.seat_opens == "flange face" else width - 5.0
    left = column + over - width if outward else column - over
    canvas.pen.line((column, high), (column, bottom), style.DIMENSION)
    frames.control_frame(canvas.pen, (left, bottom), "parallel", tolerance, "A")


def _seat_depth(
    canvas: Canvas, part: EccentricBushing, view: View, row: float, sheet: SheetStyle
) -> None:
    """Depth of the bearing seat from the face it opens at."""
    overall = Profile.of(part).overall
    seat, _ = inner_radii(part)
    mouth = 0.0 if part.seat_opens == "flange face" else overall
    inner = part.bearing_depth if mouth == 0.0 else overall - part.bearing_depth
    dimensions.linear(
        canvas,
        view.at(mouth, part.throw - seat),
        view.at(inner, part.throw - seat),
        (0.0, row),
        figures.plus_minus(part.bearing_depth, SEAT_DEPTH_TOLERANCE, sheet.units),
        place="before",
    )


def _lengths(canvas: Canvas, part: EccentricBushing, view: View, sheet: SheetStyle) -> None:
    flange, body = part.flange_outside / 2, part.outside.size / 2
    t, overall, units = part.flange_thickness, Profile.of(part).overall, sheet.units
    length = figures.plain(part.length, units)
    row = view.origin[1] - _reach(part, view) - 6.0
    if part.seat_opens == "inner end":  # the figure of the seat stands under the datum flag
        row = min(row, view.at(0, -body)[1] - _FLAG - 5.0)
    _seat_depth(canvas, part, view, row, sheet)
    dimensions.linear(
        canvas,
        view.at(0, -flange),
        view.at(t, -flange),
        (0.0, row - 11.0),
        figures.plain(t, units),
        place="before",
    )
    dimensions.linear(
        canvas,
        view.at(t, -body),
        view.at(overall, -body),
        (0.0, row - 11.0),
        length,
        place="on" if dimensions.width_of(length) < part.length * view.scale else "after",
    )
