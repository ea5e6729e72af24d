"""A plain bush for a worm journal: face view, section through the oil groove."""

from __future__ import annotations

import math
from fractions import Fraction

from wormwright.drawings import dimensions, figures, frames, notes, style, turned
from wormwright.drawings.canvas import Canvas, View
from wormwright.drawings.journal_bush_words import LEAD_IN, SQUARE, TURNED
from wormwright.drawings.lettering import wrapped
from wormwright.drawings.refusal import refuse_faults
from wormwright.drawings.style import Box, SheetStyle
from wormwright.drawings.turned import Size
from wormwright.job.parts import JournalBush

_COLUMN = 58.0


def checked(part: JournalBush) -> JournalBush:
    """The same bush, or a refusal that names what cannot be made or would not run."""
    wall = (part.outside.size - part.bore.size) / 2
    least, most = (part.bore.size + d for d in (part.bore.lower, part.bore.upper))
    shaft = part.shaft.size + part.shaft.upper
    overall = part.flange_thickness + part.length
    ends = (part.groove_land, overall - part.groove_land)
    hole = part.oil_hole / 2
    flanged = part.flange_outside > 0
    faults = (
        (wall <= 0, f"no wall is left ({wall:.3f} mm)"),
        (part.groove_depth >= wall / 2, "the oil groove takes half the wall or more"),
        (least <= shaft, f"finished bore {least:.3f} mm is not above the journal {shaft:.3f} mm"),
        (part.closes < 0, "a bush cannot open when it is pressed in; closes must not be below 0"),
        (
            part.bore_turned + TURNED - part.closes >= least,
            "nothing is left to finish in place; turn the bore smaller",
        ),
        (part.groove_land <= 0, "the oil groove runs out of the end and loses its oil"),
        (
            not ends[0] + hole < part.oil_hole_at < ends[1] - hole,
            "the oil hole does not lie in the groove",
        ),
        (
            flanged and part.oil_hole_at - hole <= part.flange_thickness,
            "the oil hole comes out in the flange",
        ),
        (
            flanged and part.flange_outside <= part.outside.size + 2 * part.chamfer,
            "the flange is no larger than the body",
        ),
        (flanged != (part.flange_thickness > 0), "flange outside and thickness go together"),
        (most > part.outside.size, "the bore is larger than the outside"),
    )
    refuse_faults(f"journal bush {part.side} cannot be made", faults)
    return part


def _face(part: JournalBush) -> float:
    return max(part.flange_outside, part.outside.size)


def _overall(part: JournalBush) -> float:
    return part.flange_thickness + part.length


def scale_for(part: JournalBush, views: Box) -> Fraction:
    """The largest standard scale at which the views fit."""
    return turned.scale_for(views, face=_face(part), overall=_overall(part), column=_COLUMN)


def draw_views(canvas: Canvas, part: JournalBush, views: Box, sheet: SheetStyle) -> None:
    """Face view, section, and the groove enlarged."""
    face, cut = turned.stand(
        canvas, views, sheet, face=_face(part), overall=_overall(part), column=_COLUMN
    )
    _face_view(canvas, part, face, sheet)
    _section(canvas, part, cut, sheet)
    column = Box(views.right - _COLUMN, views.bottom, views.right, views.top)
    _groove(canvas, part, column, sheet)


def _face_view(canvas: Canvas, part: JournalBush, view: View, sheet: SheetStyle) -> None:
    pen, s = canvas.pen, view.scale
    flanged = part.flange_outside > 0
    body = style.HIDDEN if flanged else style.OUTLINE
    pen.circle(view.origin, part.outside.size / 2 * s, body)
    pen.circle(view.origin, part.bore.size / 2 * s, style.OUTLINE)
    if flanged:
        pen.circle(view.origin, part.flange_outside / 2 * s, style.OUTLINE)
    half, r, body_r = part.groove_width / 2, part.bore.size / 2, part.outside.size / 2
    deep = r + part.groove_depth
    pen.path(
        [view.at(x, y) for x, y in ((-half, r), (-half, deep), (half, deep), (half, r))],
        style.HIDDEN,
    )
    words = "Seen from the flange face" if flanged else "Seen from the outer end"
    turned.face_label(canvas, view, _face(part) / 2, sheet, words)
    ring = (body_r if flanged else deep, _face(part) / 2)
    count = 1 if part.side == "A" else 2
    frames.pop_mark(pen, view.at(0.0, sum(ring) / 2), math.pi / 2, count=count)
    edge, (x, y) = _face(part) / 2 * s, view.origin
    if flanged:
        dimensions.diameter(
            canvas,
            view.origin,
            edge,
            angle=math.radians(56),
            elbow=(x + max(edge * 0.62, 13.0), y + max(edge + 4.0, turned.LEAST_REACH)),
            written=figures.plain(part.flange_outside, sheet.units).before("Ø"),
        )
    low = y - max(edge, turned.LEAST_REACH) - 14.0
    pen.text("oil hole and mark up as drawn", (x, low), 2.3, align="centre")


def _section(canvas: Canvas, part: JournalBush, view: View, sheet: SheetStyle) -> None:
    overall, t, c = _overall(part), part.flange_thickness, part.chamfer
    bore, body = part.bore.size / 2, part.outside.size / 2
    rim = part.flange_outside / 2 if t else body
    drop = c * math.tan(LEAD_IN)
    top = ((0.0, rim), (t, rim), (t, body)) if t else ((0.0, body - drop), (c, body))
    outer = (*top, (overall - c, body), (overall, body - drop))
    deep, land = bore + part.groove_depth, part.groove_land
    hole, at = part.oil_hole / 2, part.oil_hole_at
    front = (
        *top,
        (at - hole, body),
        (at - hole, deep),
        (land, deep),
        (land, bore),
        (0.0, bore),
    )
    back = (
        (at + hole, body),
        *outer[-2:],
        (overall, bore),
        (overall - land, bore),
        (overall - land, deep),
        (at + hole, deep),
    )
    lower = ((*outer, (overall, bore), (0.0, bore)),)
    turned.draw_cut(
        canvas, view, (front, back), lower, ((0.0, bore), (overall, bore)), overall=overall
    )
    pen = canvas.pen
    pen.line(view.at(at - hole, body), view.at(at + hole, body), style.OUTLINE)
    over = 2.0 / view.scale
    pen.line(view.at(at, deep - over), view.at(at, body + over), style.CENTRE)
    _sizes(canvas, part, view, sheet)
    y = view.origin[1] + turned.reach(view, rim)
    middle = view.at(overall / 2, 0)[0]
    pen.text("SECTION A-A", (middle, y + 16.5), style.LABEL_HEIGHT, bold=True, align="centre")


def _sizes(canvas: Canvas, part: JournalBush, view: View, sheet: SheetStyle) -> None:
    units, overall, t = sheet.units, _overall(part), part.flange_thickness
    bore = figures.limits(part.bore, units).before("Ø").fitted(part.bore.fit)
    outside = figures.limits(part.outside, units).before("Ø").fitted(part.outside.fit)
    turned.diameters(canvas, view, [Size(0.0, part.bore.size / 2, bore)], side="front", edge=0.0)
    body = Size(overall, part.outside.size / 2, outside)
    (column,) = turned.diameters(canvas, view, [body], side="back", edge=overall)
    low = view.at(0, -part.outside.size / 2)[1]
    frames.datum_flag(canvas.pen, (column, low), "A")
    _lengths(canvas, part, view, sheet)
    if t:
        _square(canvas, part, view, sheet)


def _lengths(canvas: Canvas, part: JournalBush, view: View, sheet: SheetStyle) -> None:
    units, overall, t = sheet.units, _overall(part), part.flange_thickness
    body, rim = part.outside.size / 2, _face(part) / 2
    row = view.origin[1] - turned.reach(view, rim) - 9.0
    if t:
        thick = figures.plain(t, units)
        turned.length(canvas, view, ((0.0, -rim), (t, -rim)), row - 11.0, thick, aside="before")
    long = figures.plain(part.length, units)
    turned.length(canvas, view, ((t, -body), (overall, -body)), row - 11.0, long, aside="after")
    high = view.origin[1] + max(rim * view.scale, turned.LEAST_REACH) + 4.0
    at = figures.plain(part.oil_hole_at, units)
    dimensions.linear(
        canvas,
        view.at(0.0, rim),
        view.at(part.oil_hole_at, body),
        (0.0, high),
        at,
        place="before",
    )


def _square(canvas: Canvas, part: JournalBush, view: View, sheet: SheetStyle) -> None:
    """The thrust face square to the outside, its frame below the flange rows."""
    tolerance = figures.at_most(SQUARE, sheet.units)
    r = (part.flange_outside + part.outside.size) / 4
    x, y = view.at(0.0, -r)
    out = 1.0 if view.mirrored else -1.0
    foot = view.origin[1] - turned.reach(view, part.flange_outside / 2) - 9.0
    width = frames.frame_width(tolerance, "A")
    left = x + 7.0 if out > 0 else x - 7.0 - width
    frames.leader(
        canvas.pen,
        ((x + out * 7.0, foot + 3.5), (x + out * 4.0, foot + 3.5), (x + out * 4.0, y), (x, y)),
    )
    frames.control_frame(canvas.pen, (left, foot), "square", tolerance, "A")


def _groove(canvas: Canvas, part: JournalBush, column: Box, sheet: SheetStyle) -> None:
    """The groove and the oil hole as a picture with their sizes in words."""
    pen, units = canvas.pen, sheet.units
    x, y = (column.left + column.right) / 2, column.top - 34.0
    wide, deep, radius = 9.0, 6.0, 24.0
    pen.text("OIL GROOVE", (x, column.top - 10), style.LABEL_HEIGHT, bold=True, align="centre")
    pen.text("in the bore, not to scale", (x, column.top - 14.6), 2.2, align="centre")
    lean, spread = math.asin(wide / radius), math.radians(40)
    foot = y - radius
    edge = foot + radius * math.cos(lean)
    bore = [
        (x + radius * math.sin(turn), foot + radius * math.cos(turn))
        for turn in (spread + (lean - spread) * step / 8 for step in range(9))
    ]
    groove = [(x + wide - 2, edge + deep), (x - wide + 2, edge + deep)]
    inside = [*bore, *groove, *((2 * x - px, py) for px, py in reversed(bore))]
    pen.path(inside, style.OUTLINE)
    top = edge + deep + 6.0
    canvas.hatch([*inside, (inside[-1][0], top), (inside[0][0], top)])
    lines = (
        f"groove {notes.size(part.groove_width, units)} wide,",
        f"{notes.size(part.groove_depth, units)} deep, edges rounded,",
        f"stops {notes.size(part.groove_land, units)} from both ends",
        f"oil hole Ø{notes.size(part.oil_hole, units)},",
        "burr inside removed",
    )
    for number, words in enumerate(lines):
        pen.text(words, (x, y - 16.0 - 4.2 * number), 2.4, align="centre")
    where = (
        "The mesh pushes the worm away from the wheel: the groove stands on the wheel side. Oil "
        "hole of the housing elsewhere: a short groove round the outside leads the oil to it."
    )
    for number, words in enumerate(wrapped(where, column.width - 6.0, 2.2)):
        pen.text(words, (x, y - 42.0 - 3.6 * number), 2.2, align="centre")
