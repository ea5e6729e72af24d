"""The plate between table and chuck: face view with both bolt circles, section, words."""

from __future__ import annotations

import math
from collections.abc import Sequence
from fractions import Fraction

from wormwright.drawings import figures, frames, notes, side_column, style, turned
from wormwright.drawings.canvas import Canvas, View
from wormwright.drawings.refusal import refuse_faults
from wormwright.drawings.style import Box, SheetStyle
from wormwright.drawings.turned import Size
from wormwright.job.parts import ChuckAdapter

TIGHTEST, LOOSEST = -0.03, 0.10
"""Play of a fixed register in its recess [mm on diameter]: light press to a bare slide."""
ADJUSTING = (0.20, 1.00)
"""Play of an adjustable register [mm on diameter]: about 0.25 to 0.5 is usual in the trade."""
_LEAST_WALL = 1.0
_COLUMN = 58.0


def checked(part: ChuckAdapter) -> ChuckAdapter:
    """The same plate, or a refusal that names what cannot be made or would not hold."""
    faults = (*_register_faults(part), *_hole_faults(part))
    refuse_faults(f"adapter {part.name} cannot be made", faults)
    return part


def _register_faults(part: ChuckAdapter) -> tuple[tuple[bool, str], ...]:
    least = part.chuck_recess - part.spigot.size - part.spigot.upper
    most = part.chuck_recess - part.spigot.size - part.spigot.lower
    low, high = ADJUSTING if part.adjustable else (TIGHTEST, LOOSEST)
    kind = "an adjustable" if part.adjustable else "a fixed"
    return (
        (
            not low <= least <= most <= high,
            f"play of {kind} register in the recess is {least:.3f} to {most:.3f} mm, "
            f"expected within {low:g} to {high:g} mm",
        ),
        (part.skim <= 0, "no skim is left to true it in place"),
        (
            part.bore + 2 * _LEAST_WALL >= min(part.spigot.size, part.locating.size),
            "the bore leaves no wall under a spigot",
        ),
        (
            max(part.spigot.size, part.locating.size) >= part.outside,
            "a spigot is as large as the plate",
        ),
    )


def _hole_faults(part: ChuckAdapter) -> tuple[tuple[bool, str], ...]:
    table, head = part.table_circle / 2, part.table_head / 2
    chuck, tap = part.chuck_circle / 2, part.chuck_drill / 2
    rim, wall = part.outside / 2, _LEAST_WALL
    nearest = min(
        math.dist(one, other)
        for one in _places(table, part.table_count, 0.0)
        for other in _places(chuck, part.chuck_count, part.chuck_turn)
    )
    return (
        (min(part.table_count, part.chuck_count) < 2, "each bolt circle needs 2 holes or more"),
        (part.table_head <= part.table_hole, "screw heads fall through their holes"),
        (part.table_head_depth + wall >= part.thickness, "screw heads sink through the plate"),
        (table - head - wall < part.spigot.size / 2, "table screw heads cut into the register"),
        (table - part.table_hole / 2 <= part.locating.size / 2, "table screws cut the back spigot"),
        (table + head + wall > rim, "table screw heads break out of the rim"),
        (chuck - tap - wall < part.spigot.size / 2, "chuck screws cut into the register"),
        (chuck - tap <= part.locating.size / 2, "chuck screws cut into the back spigot"),
        (chuck + tap + wall > rim, "chuck screws break out of the rim"),
        (
            nearest < head + tap + wall,
            f"chuck and table screws meet ({nearest:.1f} mm apart); change chuck_turn",
        ),
    )


def _places(radius: float, count: int, turn: float) -> list[tuple[float, float]]:
    return [
        (radius * math.cos(angle), radius * math.sin(angle))
        for angle in (math.pi / 2 + turn + math.tau * n / count for n in range(count))
    ]


def _overall(part: ChuckAdapter) -> float:
    return part.spigot_length + part.thickness + part.locating_length


def scale_for(part: ChuckAdapter, views: Box) -> Fraction:
    """The largest standard scale at which the views fit."""
    return turned.scale_for(views, face=part.outside, overall=_overall(part), column=_COLUMN)


def draw_views(canvas: Canvas, part: ChuckAdapter, views: Box, sheet: SheetStyle) -> None:
    """Face view, section, and the holes in words."""
    face, cut = turned.stand(
        canvas, views, sheet, face=part.outside, overall=_overall(part), column=_COLUMN
    )
    _face_view(canvas, part, face, sheet)
    _section(canvas, part, cut, sheet)
    _holes(canvas, part, Box(views.right - _COLUMN, views.bottom, views.right, views.top), sheet)


def _face_view(canvas: Canvas, part: ChuckAdapter, view: View, sheet: SheetStyle) -> None:
    pen, s, units = canvas.pen, view.scale, sheet.units
    for size, layer in (
        (part.outside, style.OUTLINE),
        (part.spigot.size, style.OUTLINE),
        (part.bore, style.OUTLINE),
        (part.locating.size, style.HIDDEN),
        (part.table_circle, style.CENTRE),
        (part.chuck_circle, style.CENTRE),
    ):
        pen.circle(view.origin, size / 2 * s, layer)
    for x, y in _places(part.table_circle / 2, part.table_count, 0.0):
        for size in (part.table_hole, part.table_head):
            pen.circle(view.at(x, y), size / 2 * s, style.OUTLINE)
    for x, y in _places(part.chuck_circle / 2, part.chuck_count, part.chuck_turn):
        pen.circle(view.at(x, y), part.chuck_drill / 2 * s, style.OUTLINE)
        start = math.radians(100)
        pen.arc(view.at(x, y), part.chuck_drill * 0.58 * s, start, start + 4.7, style.THIN)
    mark = view.polar((part.outside + part.chuck_circle + part.chuck_drill) / 4, math.radians(72))
    frames.pop_mark(pen, mark, math.radians(72))
    turned.face_label(canvas, view, part.outside / 2, sheet, "Seen from the chuck")
    circles = (part.table_circle, part.chuck_circle, part.bore, part.outside)
    turned.face_diameters(canvas, view, circles, units)


def _section(canvas: Canvas, part: ChuckAdapter, view: View, sheet: SheetStyle) -> None:
    front, back = part.spigot_length, part.spigot_length + part.thickness
    overall, rim = _overall(part), part.outside / 2
    table, chuck = part.table_circle / 2, part.chuck_circle / 2
    sunk = front + part.table_head_depth
    head, hole, tap = part.table_head / 2, part.table_hole / 2, part.chuck_drill / 2
    upper = _walls(part, [(front, head), (sunk, head), (sunk, hole), (back, hole)], table)
    lower = _walls(part, [(front, tap), (back, tap)], chuck)
    ends = ((0.0, part.bore / 2), (overall, part.bore / 2))
    turned.draw_cut(canvas, view, upper, lower, ends, overall=overall)
    pen = canvas.pen
    for x, at, half in (
        (front, table, head),
        (sunk, table, head),
        (back, table, hole),
        (front, -chuck, tap),
        (back, -chuck, tap),
    ):
        pen.line(view.at(x, at - half), view.at(x, at + half), style.OUTLINE)
    over = 3.0 / view.scale
    for at in (table, -chuck):
        pen.line(view.at(front - over, at), view.at(back + over, at), style.CENTRE)
    _sizes(canvas, part, view, sheet)
    top = view.origin[1] + turned.reach(view, rim)
    middle = view.at(overall / 2, 0)[0]
    pen.text("SECTION A-A", (middle, top + 18.5), style.LABEL_HEIGHT, bold=True, align="centre")
    pen.text("holes turned into the plane", (middle, top + 14.6), 2.2, align="centre")


def _walls(
    part: ChuckAdapter, hole: Sequence[tuple[float, float]], at: float
) -> tuple[turned.Loop, ...]:
    """The cut inside and outside a hole at distance `at`; `hole` is its (x, radius) line."""
    front, back = part.spigot_length, part.spigot_length + part.thickness
    overall, bore = _overall(part), part.bore / 2
    register, seat = part.spigot.size / 2, part.locating.size / 2
    inner = (
        (0.0, bore),
        (0.0, register),
        (front, register),
        *((x, at - r) for x, r in hole),
        (back, seat),
        (overall, seat),
        (overall, bore),
    )
    outer = (*((x, at + r) for x, r in hole), (back, part.outside / 2), (front, part.outside / 2))
    return inner, outer


def _sizes(canvas: Canvas, part: ChuckAdapter, view: View, sheet: SheetStyle) -> None:
    units, overall = sheet.units, _overall(part)
    front, back = part.spigot_length, part.spigot_length + part.thickness
    register = figures.limits(part.spigot, units).before("Ø").fitted(part.spigot.fit)
    seat = figures.limits(part.locating, units).before("Ø").fitted(part.locating.fit)
    sizes = [Size(0.0, part.spigot.size / 2, register)]
    (column,) = turned.diameters(canvas, view, sizes, side="front", edge=0.0)
    sizes = [Size(overall, part.locating.size / 2, seat)]
    turned.diameters(canvas, view, sizes, side="back", edge=overall)
    rim = part.outside / 2
    row = view.origin[1] - turned.reach(view, rim) - 8.0
    locating, register_ = part.locating.size / 2, part.spigot.size / 2
    long = figures.plain(part.spigot_length, units)
    ends = ((0.0, -register_), (front, -register_))
    turned.length(canvas, view, ends, row, long, aside="before")
    short = figures.plain(part.locating_length, units)
    ends = ((back, -locating), (overall, -locating))
    turned.length(canvas, view, ends, row, short, aside="after")
    thick = figures.plain(part.thickness, units)
    turned.length(canvas, view, ((front, -rim), (back, -rim)), row - 11.0, thick, aside="after")
    _frames(canvas, part, view, column, sheet)


def _frames(
    canvas: Canvas, part: ChuckAdapter, view: View, column: float, sheet: SheetStyle
) -> None:
    """Register and face run true to A, the axis that the table turns about."""
    pen, rim = canvas.pen, part.outside / 2
    tolerance = figures.at_most(part.runout, sheet.units)
    width = frames.frame_width(tolerance, "A")
    bottom = view.origin[1] + turned.reach(view, rim) + 5.0
    out = 1.0 if view.mirrored else -1.0
    left = column - 4.0 if out > 0 else column + 4.0 - width
    high = view.at(0, part.spigot.size / 2)[1]
    pen.line((column, high), (column, bottom), style.DIMENSION)
    frames.control_frame(pen, (left, bottom), "runout", tolerance, "A")
    on_face = view.at(part.spigot_length, (part.table_circle + part.table_head + part.outside) / 4)
    bend = on_face[0] + out * 5.0
    beside = left - 3.0 - width if out > 0 else left + width + 3.0
    bend = min(max(bend, beside + 2.0), beside + width - 2.0)
    frames.leader(pen, ((bend, bottom), (bend, on_face[1]), on_face))
    frames.control_frame(pen, (beside, bottom), "runout", tolerance, "A")


def _holes(canvas: Canvas, part: ChuckAdapter, column: Box, sheet: SheetStyle) -> None:
    units = sheet.units
    way = "counter-clockwise" if part.chuck_turn >= 0 else "clockwise"
    groups = (
        (
            "TABLE SCREWS",
            (
                f"{part.table_count} x Ø{notes.size(part.table_hole, units)}, evenly spaced",
                f"heads Ø{notes.size(part.table_head, units)}, "
                f"{notes.size(part.table_head_depth, units)} deep",
            ),
        ),
        (
            "CHUCK SCREWS",
            (
                f"{part.chuck_count} x {part.chuck_thread}, evenly spaced",
                f"drill Ø{notes.size(part.chuck_drill, units)} through",
                f"first one {figures.degrees(abs(part.chuck_turn))} {way} from a table screw",
            ),
        ),
        ("DATUM A", ("the axis that the table turns about, not a surface of this plate",)),
        (
            "SKIM",
            (
                f"leave {notes.size(part.skim, units)} on the face and on the radius of the "
                "register until they are trued in place",
            ),
        ),
    )
    side_column.write_column(
        canvas.pen, (column.left + 3.0, column.top - 12.0), column.width - 5.0, groups
    )
