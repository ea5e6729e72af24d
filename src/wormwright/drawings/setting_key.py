"""The eccentric key that moves the lever of a setting spanner finely, and its block: the views.

The side view has x from the end of the journal toward the head and y up; the eccentric is off
the journal upward.
"""

from __future__ import annotations

import math
from fractions import Fraction

from wormwright.drawings import dimensions, figures, frames, notes, side_column, style, turned
from wormwright.drawings.canvas import Canvas, Pen, View
from wormwright.drawings.figures import Written
from wormwright.drawings.refusal import refuse_faults
from wormwright.drawings.setting_key_words import turn_of
from wormwright.drawings.style import Box, SheetStyle
from wormwright.drawings.turned import Size
from wormwright.job.parts import Limits, SettingKey
from wormwright.job.rotary import Units

_LEAST_WALL = 1.5
_LEAST_SHOULDER = 0.3
"""Ring between journal and eccentric, at its narrow side, that rests on the block [mm]."""
_MOST_SHAKE = 0.06
"""Play of the eccentric in its slot [mm]; more hides a part of the key's own travel."""
_COLUMN = 58.0


def checked(part: SettingKey) -> SettingKey:
    """The same key, or a refusal that names what cannot be made or would not work."""
    journal, eccentric, head = (
        part.journal.size / 2,
        part.eccentric.size / 2,
        part.head_outside / 2,
    )
    hole = part.block_hole.size + part.block_hole.lower
    slot = part.key_slot.size + part.key_slot.lower
    most = part.key_slot.size + part.key_slot.upper - part.eccentric.size - part.eccentric.lower
    along, across = part.block
    faults = (
        (not part.offset > part.offset_tolerance > 0, "the offset is lost in its tolerance"),
        (
            eccentric - part.offset - journal < _LEAST_SHOULDER,
            "the eccentric leaves no shoulder all round the journal to rest on the block",
        ),
        (eccentric + part.offset >= head, "the head does not cover the eccentric"),
        (hole <= part.journal.size + part.journal.upper, "the journal does not enter the block"),
        (slot <= part.eccentric.size + part.eccentric.upper, "the eccentric does not enter"),
        (most > _MOST_SHAKE, f"the eccentric shakes by {most:.3f} mm in its slot"),
        (part.eccentric_length <= part.lever_thickness, "the head would clamp the lever"),
        (part.cross_hole + 2 * _LEAST_WALL > part.head_length, "the cross hole breaks out"),
        (
            part.block_hole.size + 2 * _LEAST_WALL > across
            or part.hole_from_end < part.block_hole.size / 2 + _LEAST_WALL
            or part.hole_from_end > along / 2,
            "the hole does not lie in the end of the block away from the arc",
        ),
    )
    refuse_faults("setting key cannot be made", faults)
    return part


def _overall(part: SettingKey) -> float:
    return part.journal_length + part.eccentric_length + part.head_length


def scale_for(part: SettingKey, views: Box) -> Fraction:
    """The largest standard scale at which the views fit."""
    return turned.scale_for(views, face=part.head_outside, overall=_overall(part), column=_COLUMN)


def draw_views(canvas: Canvas, part: SettingKey, views: Box, sheet: SheetStyle) -> None:
    """End view from the journal, side view, and the block in words and picture."""
    end, side = turned.stand(
        canvas, views, sheet, face=part.head_outside, overall=_overall(part), column=_COLUMN
    )
    _end_view(canvas, part, end, sheet)
    _side_view(canvas, part, side, sheet)
    _block(canvas, part, Box(views.right - _COLUMN, views.bottom, views.right, views.top), sheet)


def _fitted(size: Limits, units: Units) -> Written:
    return figures.limits(size, units).before("Ø").fitted(size.fit)


def _end_view(canvas: Canvas, part: SettingKey, view: View, sheet: SheetStyle) -> None:
    pen, s, units = canvas.pen, view.scale, sheet.units
    (x, y), middle = view.origin, view.at(0.0, part.offset)
    pen.circle(view.origin, part.head_outside / 2 * s, style.OUTLINE)
    pen.circle(middle, part.eccentric.size / 2 * s, style.OUTLINE)
    pen.circle(view.origin, part.journal.size / 2 * s, style.OUTLINE)
    edge = part.head_outside / 2 * s
    frames.centre_cross(pen, view.origin, edge + 2.0)
    top = y + max(edge, turned.LEAST_REACH) + 14.5
    pen.text("Seen from the journal", (x, top), 2.8, bold=True, align="centre")
    out, up = max(edge * 0.62, 13.0), max(edge + 4.0, turned.LEAST_REACH)
    for centre, size, written, way in (
        (middle, part.eccentric.size, _fitted(part.eccentric, units), -1.0),
        (
            view.origin,
            part.head_outside,
            figures.plain(part.head_outside, units).before("Ø"),
            1.0,
        ),
    ):
        dimensions.diameter(
            canvas,
            centre,
            size / 2 * s,
            angle=math.pi / 2 - way * math.radians(40),
            elbow=(x + way * out, y + up),
            written=written,
            leftward=way < 0,
            stacked=" / " in written.first,
        )
    column = x + edge + 10.0
    dimensions.linear(
        canvas,
        (x + 2.0, y),
        (x + 2.0, middle[1]),
        (column, 0.0),
        figures.plus_minus(part.offset, part.offset_tolerance, units),
        angle=math.pi / 2,
        place="before",
    )
    pen.line((x - edge * 0.3, middle[1]), (x + edge * 0.3, middle[1]), style.CENTRE)


def _side_view(canvas: Canvas, part: SettingKey, view: View, sheet: SheetStyle) -> None:
    pen, first = canvas.pen, part.journal_length
    second, overall = first + part.eccentric_length, _overall(part)
    for start, end, low, high in _steps_of(part):
        box = ((start, low), (end, low), (end, high), (start, high))
        pen.path([view.at(*corner) for corner in box], style.OUTLINE, closed=True)
    over = 3.0 / view.scale
    pen.line(view.at(-over, 0), view.at(overall + over, 0), style.CENTRE)
    pen.line(view.at(first, part.offset), view.at(second, part.offset), style.CENTRE)
    size = Size(0.0, part.journal.size / 2, _fitted(part.journal, sheet.units))
    turned.diameters(canvas, view, [size], side="front", edge=0.0)
    _cross_hole(canvas, part, view, sheet)
    row = view.origin[1] - turned.reach(view, part.head_outside / 2) - 4.0
    for number, (start, end, low, _) in enumerate(_steps_of(part)):
        turned.length(
            canvas,
            view,
            ((start, low), (end, low)),
            row - (11.0 if number == 1 else 0.0),
            figures.plain(end - start, sheet.units),
            aside="after" if start > first else "before",
        )


def _steps_of(part: SettingKey) -> tuple[tuple[float, float, float, float], ...]:
    """Journal, eccentric and head: (start, end, lowest, highest)."""
    first = part.journal_length
    second, overall = first + part.eccentric_length, _overall(part)
    journal, eccentric = part.journal.size / 2, part.eccentric.size / 2
    head, off = part.head_outside / 2, part.offset
    return (
        (0.0, first, -journal, journal),
        (first, second, off - eccentric, off + eccentric),
        (second, overall, -head, head),
    )


def _cross_hole(canvas: Canvas, part: SettingKey, view: View, sheet: SheetStyle) -> None:
    head, radius = part.head_outside / 2, part.cross_hole / 2 * view.scale
    cross = view.at(_overall(part) - part.head_length / 2, 0)
    canvas.pen.circle(cross, radius, style.OUTLINE)
    out = -1.0 if view.mirrored else 1.0
    dimensions.diameter(
        canvas,
        cross,
        radius,
        angle=math.radians(90 - out * 40),
        elbow=(cross[0] + out * 10.0, view.origin[1] + max(head * view.scale + 5.0, 12.0)),
        written=figures.plain(part.cross_hole, sheet.units).before("Ø"),
        leftward=out < 0,
    )


def _block(canvas: Canvas, part: SettingKey, column: Box, sheet: SheetStyle) -> None:
    """The block from above, not to scale, and its sizes in words."""
    pen, units = canvas.pen, sheet.units
    x, y = column.left + 3.0, column.top - 10.0
    pen.text("BLOCK, FROM ABOVE", (x, y), style.LABEL_HEIGHT, bold=True)
    pen.text("not to scale", (x, y - 4.6), 2.2)
    _block_picture(pen, part, Box(x, y - 29.0, x + 48.0, y - 9.0))
    along, across = part.block
    turn = figures.degrees(turn_of(part))
    groups = (
        (
            "",
            (
                f"{notes.size(along, units)} long, {notes.size(across, units)} wide; height to "
                "suit: top just under the lever of the spanner, ____",
                f"hole Ø{notes.bounds(part.block_hole, units)}, right through, "
                f"{notes.size(part.hole_from_end, units)} from this end, mid width",
            ),
        ),
        (
            "WHAT IT MOVES",
            (f"{turn} either way at a lever radius of {notes.size(part.lever_radius, units)}",),
        ),
    )
    side_column.write_column(pen, (x, y - 35.0), column.width - 5.0, groups)


def _block_picture(pen: Pen, part: SettingKey, box: Box) -> None:
    pen.path(
        (
            (box.left, box.bottom),
            (box.right, box.bottom),
            (box.right, box.top),
            (box.left, box.top),
        ),
        style.OUTLINE,
        closed=True,
    )
    middle = (box.bottom + box.top) / 2
    at = box.left + box.width * part.hole_from_end / part.block[0]
    radius = box.width * part.block_hole.size / part.block[0] / 2
    pen.circle((at, middle), radius, style.OUTLINE)
    pen.line((at + radius, middle), (box.right, middle), style.THIN)
    pen.text("reading line", (box.right - 1.5, middle + 1.4), 2.2, align="right")
    pen.text("arc", (box.right + 1.2, middle - 1.0), 2.2)
