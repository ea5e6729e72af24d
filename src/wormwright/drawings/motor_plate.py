"""The plate between rotary and motor: face view from the motor, section, holes in words."""

from __future__ import annotations

import math
from fractions import Fraction

from wormwright.drawings import figures, frames, notes, side_column, style, turned
from wormwright.drawings.canvas import Canvas, View
from wormwright.drawings.refusal import refuse_faults
from wormwright.drawings.style import Box, SheetStyle
from wormwright.drawings.turned import Size
from wormwright.job.parts import MotorPlate

_WALL = 2.0
_COLUMN = 58.0


def checked(part: MotorPlate) -> MotorPlate:
    """The same plate, or a refusal that names what cannot be made."""
    corner, rim = part.pitch / math.sqrt(2), part.outside / 2
    slot = part.circle / 2 + part.hole / 2 + part.travel
    faults = (
        (
            part.pilot_depth + part.register_depth + _WALL > part.thickness,
            "too thin for its seats",
        ),
        (part.through >= min(part.pilot.size, part.register.size), "the hole leaves no shoulder"),
        (corner + part.motor_hole / 2 + _WALL > rim, "motor screws break out of the rim"),
        (corner - part.motor_hole / 2 - _WALL < part.pilot.size / 2, "motor screws cut the pilot"),
        (slot + _WALL > rim, "slots of the rotary screws break out of the rim"),
        (
            part.circle / 2 - part.hole / 2 - part.travel - _WALL < part.register.size / 2,
            "slots of the rotary screws cut into the register",
        ),
        (part.style == "slotted" and part.throw != 0, "a slotted plate has no throw"),
        (part.style == "eccentric" and part.throw <= 0, "an eccentric register needs a throw"),
    )
    refuse_faults("motor plate cannot be made", faults)
    return part


def scale_for(part: MotorPlate, views: Box) -> Fraction:
    """The largest standard scale at which the views fit."""
    return turned.scale_for(views, face=part.outside, overall=part.thickness, column=_COLUMN)


def draw_views(canvas: Canvas, part: MotorPlate, views: Box, sheet: SheetStyle) -> None:
    """Face view, section, and the holes in words."""
    face, cut = turned.stand(
        canvas, views, sheet, face=part.outside, overall=part.thickness, column=_COLUMN
    )
    _face_view(canvas, part, face, sheet)
    _section(canvas, part, cut, sheet)
    _words(canvas, part, Box(views.right - _COLUMN, views.bottom, views.right, views.top), sheet)


def _face_view(canvas: Canvas, part: MotorPlate, view: View, sheet: SheetStyle) -> None:
    pen, s, units = canvas.pen, view.scale, sheet.units
    for size, layer in (
        (part.outside, style.OUTLINE),
        (part.pilot.size, style.OUTLINE),
        (part.through, style.OUTLINE),
        (part.circle, style.CENTRE),
    ):
        pen.circle(view.origin, size / 2 * s, layer)
    pen.circle(view.at(0.0, part.throw), part.register.size / 2 * s, style.HIDDEN)
    half = part.pitch / 2
    for x, y in ((half, half), (-half, half), (-half, -half), (half, -half)):
        pen.circle(view.at(x, y), part.motor_hole / 2 * s, style.OUTLINE)
    for n in range(part.holes):
        _slot(canvas, part, view, math.pi / part.holes + math.tau * n / part.holes)
    mark = view.polar(part.outside / 2 - 3.0, math.pi / 2)
    frames.pop_mark(pen, mark, math.pi / 2)
    turned.face_label(canvas, view, part.outside / 2, sheet, "Seen from the motor")
    circles = (part.circle, part.pitch * math.sqrt(2), part.through, part.outside)
    turned.face_diameters(canvas, view, circles, units)


def _slot(canvas: Canvas, part: MotorPlate, view: View, angle: float) -> None:
    """A hole for a screw of the rotary, longer along the closing (up) by the travel both ways."""
    x, y = part.circle / 2 * math.cos(angle), part.circle / 2 * math.sin(angle)
    r, s, t = part.hole / 2, view.scale, part.travel
    if t == 0:
        canvas.pen.circle(view.at(x, y), r * s, style.OUTLINE)
        return
    canvas.pen.arc(view.at(x, y + t), r * s, 0.0, math.pi, style.OUTLINE)
    canvas.pen.arc(view.at(x, y - t), r * s, math.pi, math.tau, style.OUTLINE)
    for side in (-r, r):
        canvas.pen.line(view.at(x + side, y - t), view.at(x + side, y + t), style.OUTLINE)


def _section(canvas: Canvas, part: MotorPlate, view: View, sheet: SheetStyle) -> None:
    deep, back, whole = part.pilot_depth, part.thickness - part.register_depth, part.thickness
    pilot, register = part.pilot.size / 2, part.register.size / 2
    through, rim = part.through / 2, part.outside / 2
    half = (
        (0.0, pilot),
        (deep, pilot),
        (deep, through),
        (back, through),
        (back, register),
        (whole, register),
        (whole, rim),
        (0.0, rim),
    )
    edges = ((0.0, pilot), (deep, pilot), (back, register), (whole, register))
    turned.draw_cut(canvas, view, (half,), (half,), edges, overall=whole)
    units = sheet.units
    written = figures.limits(part.pilot, units).before("Ø").fitted(part.pilot.fit)
    turned.diameters(canvas, view, [Size(0.0, pilot, written)], side="front", edge=0.0)
    written = figures.limits(part.register, units).before("Ø").fitted(part.register.fit)
    turned.diameters(canvas, view, [Size(whole, register, written)], side="back", edge=whole)
    row = view.origin[1] - turned.reach(view, rim) - 8.0
    ends = ((0.0, -pilot), (deep, -pilot))
    turned.length(canvas, view, ends, row, figures.plain(deep, units), aside="before")
    ends = ((back, -register), (whole, -register))
    short = figures.plain(part.register_depth, units)
    turned.length(canvas, view, ends, row, short, aside="after")
    thick = figures.plain(whole, units)
    turned.length(canvas, view, ((0.0, -rim), (whole, -rim)), row - 11.0, thick, aside="after")
    top = view.origin[1] + turned.reach(view, rim)
    middle = view.at(whole / 2, 0)[0]
    canvas.pen.text(
        "SECTION A-A", (middle, top + 14.5), style.LABEL_HEIGHT, bold=True, align="centre"
    )


def _words(canvas: Canvas, part: MotorPlate, column: Box, sheet: SheetStyle) -> None:
    units = sheet.units
    thread = f"{part.motor_thread}, drill " if part.motor_thread else "clear "
    slots = (
        f"each {notes.size(part.travel, units)} longer both ways along the closing, up in this view"
        if part.travel
        else "round"
    )
    groups = [
        (
            "MOTOR SCREWS",
            (
                f"4 x {thread}Ø{notes.size(part.motor_hole, units)} through, corners of a square "
                f"of {notes.size(part.pitch, units)}; frame {part.frame}",
            ),
        ),
        (
            "SCREWS OF THE ROTARY",
            (f"{part.holes} x Ø{notes.size(part.hole, units)}, evenly spaced", slots),
        ),
    ]
    if part.throw:
        groups.append(
            (
                "ECCENTRIC REGISTER",
                (
                    f"bored {notes.size(part.throw, units)} off the axis of the pilot, toward the "
                    f"pop mark: TIR {notes.size(2 * part.throw, units)}",
                    f"to follow the worm turn the ring by {figures.degrees(part.turn)}",
                ),
            )
        )
    groups.append(
        (
            "COUPLING",
            (f"room {notes.size(part.standoff, units)}: four equal pillars of that length",),
        )
    )
    side_column.write_column(
        canvas.pen, (column.left + 3.0, column.top - 12.0), column.width - 5.0, groups
    )
