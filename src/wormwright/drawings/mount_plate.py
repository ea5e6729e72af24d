"""Base plate or riser block: view from above with its holes, edge section, hole table, words."""

from __future__ import annotations

import math
from fractions import Fraction
from itertools import combinations

from wormwright.drawings import dimensions, figures, frames, notes, side_column, style
from wormwright.drawings.canvas import Canvas, Point, View
from wormwright.drawings.general import EDGES, general_tolerance, surface
from wormwright.drawings.refusal import refuse_faults
from wormwright.drawings.sheet import PartText
from wormwright.drawings.style import Box, SheetStyle
from wormwright.job.parts import MountPlate
from wormwright.job.rotary import Units

_HEAD, _FOOT, _LEFT, _SECTION, _COLUMN = 18.0, 22.0, 22.0, 54.0, 66.0
_WALL = 2.0


def checked(part: MountPlate) -> MountPlate:
    """The same plate, or a refusal that names what cannot be made."""
    holes = [(*at, max(part.bolt_hole, part.bolt_head) / 2) for at in part.bolt_holes]
    holes += [(*at, part.foot_drill / 2) for at in part.foot_holes]
    stroke = part.bolt_stroke / 2
    off = any(
        not (r < x - stroke and x + stroke < part.length - r and r < y < part.width - r)
        for x, y, r in holes[: len(part.bolt_holes)]
    ) or any(
        not (r < x < part.length - r and r < y < part.width - r)
        for x, y, r in holes[len(part.bolt_holes) :]
    )
    meet = any(
        math.dist(one[:2], other[:2]) < one[2] + other[2] + _WALL
        for one, other in combinations(holes, 2)
    )
    refuse_faults(
        f"{part.name} cannot be made",
        (
            (min(part.length, part.width) <= 0, "length and width must be above 0"),
            (not part.bolt_holes, "it has no hold-down bolts"),
            (off, "a hole breaks out of the edge"),
            (meet, "two holes meet; move the bolts further from the feet"),
            (
                part.head_depth + _WALL >= part.thickness.size,
                "bolt heads sink through the plate",
            ),
            (
                part.key_slot is not None and part.key_slot[1] + _WALL >= part.thickness.size,
                "the key groove is as deep as the plate",
            ),
        ),
    )
    return part


def scale_for(part: MountPlate, views: Box) -> Fraction:
    """The largest standard scale at which the view from above fits."""
    return style.largest_scale(
        views.width - _LEFT - _SECTION - _COLUMN,
        views.height - _HEAD - _FOOT,
        part.length,
        part.width,
    )


def draw_views(canvas: Canvas, part: MountPlate, views: Box, sheet: SheetStyle) -> None:
    """View from above, edge section and hole table."""
    scale = float(canvas.scale)
    long, wide = part.length * scale, part.width * scale
    room = views.width - _LEFT - _SECTION - _COLUMN
    left = views.left + _LEFT + (room - long) / 2
    bottom = views.bottom + _FOOT + (views.height - _HEAD - _FOOT - wide) / 2
    view = View((left, bottom), scale)
    _from_above(canvas, part, view, sheet)
    _edge(canvas, part, (left + long + 20.0, bottom), sheet)
    column = (views.right - _COLUMN + 5.0, views.top - 9.0)
    side_column.write_column(canvas.pen, column, _COLUMN - 7.0, _groups(part, sheet.units))


def _from_above(canvas: Canvas, part: MountPlate, view: View, sheet: SheetStyle) -> None:
    pen, s, units = canvas.pen, view.scale, sheet.units
    corners = ((0.0, 0.0), (part.length, 0.0), (part.length, part.width), (0.0, part.width))
    pen.path([view.at(*c) for c in corners], style.OUTLINE, closed=True)
    if part.key_slot is not None:
        width, _, middle = part.key_slot
        for y in (middle - width / 2, middle + width / 2):
            pen.line(view.at(0, y), view.at(part.length, y), style.HIDDEN)
    number = 0
    for places, size, head in (
        (part.foot_holes, part.foot_drill, 0.0),
        (part.bolt_holes, part.bolt_hole, part.bolt_head),
    ):
        for x, y in places:
            number += 1
            stroke = part.bolt_stroke if places is part.bolt_holes else 0.0
            for each in (size, head):
                if each:
                    _slot(canvas, view, (x, y), each, stroke)
            reach = (max(size, head) / 2) * s + 1.2
            frames.centre_cross(pen, view.at(x, y), reach)
            at = view.at(x + stroke / 2, y)
            pen.text(str(number), (at[0] + reach + 0.2, at[1] + 0.9), 2.4, bold=True)
    low, high = view.at(0, 0)[1], view.at(0, part.width)[1]
    left, right = view.at(0, 0)[0], view.at(part.length, 0)[0]
    dimensions.linear(
        canvas,
        (left, low),
        (right, low),
        (0.0, low - 12.0),
        figures.plain(part.length, units),
        place="on" if right - left > 34 else "after",
    )
    dimensions.linear(
        canvas,
        (left, low),
        (left, high),
        (left - 9.0, 0.0),
        figures.plain(part.width, units),
        angle=math.pi / 2,
        place="on" if high - low > 34 else "after",
    )
    pen.dot((left, low), 0.9, style.ACCENT)
    pen.text("0, 0", (left - 1.5, low - 4.0), 2.4, layer=style.ACCENT, bold=True, align="right")
    middle = (left + right) / 2
    pen.text("From above, chuck end to the right", (middle, high + 4.5), 2.8, align="centre")


def _slot(canvas: Canvas, view: View, at: Point, size: float, stroke: float) -> None:
    """A hole, or the same drawn out along the plate."""
    pen, r = canvas.pen, size / 2 * view.scale
    if not stroke:
        pen.circle(view.at(*at), r, style.OUTLINE)
        return
    x, y = at
    for end, start in ((x - stroke / 2, math.pi / 2), (x + stroke / 2, -math.pi / 2)):
        pen.arc(view.at(end, y), r, start, start + math.pi, style.OUTLINE)
    for side in (-size / 2, size / 2):
        pen.line(
            view.at(x - stroke / 2, y + side), view.at(x + stroke / 2, y + side), style.OUTLINE
        )


def _edge(canvas: Canvas, part: MountPlate, at: Point, sheet: SheetStyle) -> None:
    """The plate from the chuck end: thickness upward to the right, key groove in its foot."""
    scale, pen = float(canvas.scale), canvas.pen
    x, y = at
    thick, wide = part.thickness.size * scale, part.width * scale
    loop: list[Point] = [(x, y)]
    if part.key_slot is not None:
        width, depth, middle = (value * scale for value in part.key_slot)
        low, high = y + middle - width / 2, y + middle + width / 2
        loop += [(x, low), (x + depth, low), (x + depth, high), (x, high)]
    loop += [(x, y + wide), (x + thick, y + wide), (x + thick, y)]
    pen.path(loop, style.OUTLINE, closed=True)
    canvas.hatch(loop)
    dimensions.linear(
        canvas,
        (x, y),
        (x + thick, y),
        (x, y - 12.0),
        figures.limits(part.thickness, sheet.units),
        place="after",
    )
    pen.text("foot", (x - 1.2, y + wide / 2 - 1.0), 2.2, align="right")
    pen.text("SECTION", (x + thick / 2, y + wide + 8.5), style.LABEL_HEIGHT, bold=True)
    pen.text("without holes", (x + thick / 2, y + wide + 4.5), 2.2)


def _groups(part: MountPlate, units: Units) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Where the holes lie, from the corner 0, 0; what they are."""
    places = (*part.foot_holes, *part.bolt_holes)
    rows = tuple(
        f"{number}:  {notes.size(x, units)} along, {notes.size(y, units)} across"
        for number, (x, y) in enumerate(places, start=1)
    )
    feet = len(part.foot_holes)
    groups: list[tuple[str, tuple[str, ...]]] = []
    if feet:
        words = f"{feet} x {part.foot_thread} through, drill {notes.size(part.foot_drill, units)}"
        groups.append(("FEET", (words, *rows[:feet])))
    bolt = f"{len(part.bolt_holes)} x Ø{notes.size(part.bolt_hole, units)} through"
    if part.bolt_stroke:
        bolt += f", drawn out {notes.size(part.bolt_stroke, units)} along"
    sunk: tuple[str, ...] = ()
    if part.bolt_head:
        head, deep = (notes.size(v, units) for v in (part.bolt_head, part.head_depth))
        sunk = (f"sunk {head}, {deep} deep",)
    groups.append(("HOLD-DOWN BOLTS", (bolt, *sunk, *rows[feet:])))
    if part.key_slot is not None:
        width, depth, middle = (notes.size(v, units) for v in part.key_slot)
        groups.append(
            (
                "KEY GROOVE",
                (f"{width} wide, {depth} deep, its middle {middle} across; fit to the key",),
            )
        )
    return tuple(groups)


def plate_text(part: MountPlate, units: Units) -> PartText:
    """All words of the sheet."""
    return PartText(
        name=part.name[:1].upper() + part.name[1:],
        material=part.material,
        quantity=part.quantity,
        fits=(
            f"Thickness {notes.bounds(part.thickness, units)}",
            f"Top and foot flat within {notes.within(part.flat, units)}, parallel within "
            f"{notes.within(part.parallel, units)} over the feet",
            f"Bolts: {part.bolts}",
        ),
        surface=surface("top and foot"),
        general=general_tolerance(units),
        edges=EDGES,
        notes=(
            ("WHAT IT IS FOR", (part.purpose[:1].upper() + part.purpose[1:],)),
            ("HOW TO MAKE", notes.numbered(_steps(part, units))),
            ("CHECK AND WRITE DOWN", notes.ticked(_checks(part, units))),
        ),
    )


def _steps(part: MountPlate, units: Units) -> tuple[str, ...]:
    key = (
        ("Key groove in the foot in the setting of its last cut; two short keys, without shake.",)
        if part.key_slot is not None
        else ()
    )
    feet = (
        ("Foot holes: spot through the feet of the unit if they are not where they are drawn.",)
        if part.foot_holes
        else ()
    )
    return (
        f"Saw {notes.size(part.length + 4, units)} x {notes.size(part.width + 4, units)}, let it "
        "lie after roughing: rolled plate moves.",
        "Face the foot, turn it over on the foot, face the top to thickness; clamped without "
        "springing it, light last cuts both sides.",
        *key,
        "Drill all holes from the corner 0, 0; take every burr off.",
        *feet,
    )


def _checks(part: MountPlate, units: Units) -> tuple[str, ...]:
    return (
        f"Foot on a surface plate: indicator over the top at the four foot places, "
        f"{notes.within(part.parallel, units)} apart at most ____ ____ ____ ____",
        "Blued on the plate: it bears at all four corners and does not rock",
        f"On the machine: {part.bolts}, tightened crosswise in three rounds",
        "Indicator on the plate while each bolt is loosened: it does not lift ____",
    )
