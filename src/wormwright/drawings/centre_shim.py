"""Packing that sets the centre distance: face view with holes, edge section, hole table, words."""

from __future__ import annotations

import math
from fractions import Fraction
from itertools import combinations

from wormwright.drawings import dimensions, figures, frames, notes, style
from wormwright.drawings.canvas import Canvas, Point, View
from wormwright.drawings.general import general_tolerance
from wormwright.drawings.sheet import PartText
from wormwright.drawings.style import Box, SheetStyle
from wormwright.job.parts import CentreShim
from wormwright.job.rotary import Units

_LEAST_DRAWN = 2.0
"""A thinner edge [mm on paper] would be one thick line."""
_FROM_STOCK = 0.5
"""Up to this thickness [mm] it is cut from shim stock; thicker packing is ground or lapped."""
_MOST_HOLES = 12
_HEAD, _FOOT, _LEFT, _SECTION, _TABLE = 24.0, 24.0, 26.0, 58.0, 62.0


def checked(part: CentreShim) -> CentreShim:
    """The same packing, or a refusal that names what cannot be made."""
    r = part.hole / 2
    window = part.window or (0.0, 0.0)
    corner = ((part.length - window[0]) / 2, (part.width - window[1]) / 2)
    off_edge = any(not (r < x < part.length - r and r < y < part.width - r) for x, y in part.holes)
    in_window = part.window is not None and any(
        _distance_to_window(hole, corner, window) <= r for hole in part.holes
    )
    least, most = (part.thickness.size + d for d in (part.thickness.lower, part.thickness.upper))
    total = sum(part.stack)
    faults = (
        (min(part.length, part.width, part.hole) <= 0, "length, width and hole must be above 0"),
        (not 1 <= len(part.holes) <= _MOST_HOLES, f"expected 1 to {_MOST_HOLES} bolt holes"),
        (off_edge, "a bolt hole breaks out of the edge"),
        (any(math.dist(*pair) <= 2 * r for pair in combinations(part.holes, 2)), "bolt holes meet"),
        (min(corner) <= 0, "the window is as large as the plate"),
        (in_window, "a bolt hole breaks into the window"),
        (part.change == 0, "it changes nothing; leave it out"),
        (
            part.match > part.thickness.upper - part.thickness.lower,
            f"match {part.match} mm is wider than the limits of one piece",
        ),
        (
            bool(part.stack) and not least - 1e-6 <= total <= most + 1e-6,
            f"the stack adds to {total:.3f} mm, expected {least:.3f} to {most:.3f} mm",
        ),
    )
    for wrong, why in faults:
        if wrong:
            raise ValueError(f"packing {part.name} cannot be made: {why}")
    return part


def _distance_to_window(hole: Point, corner: Point, window: Point) -> float:
    """From a hole centre to the opening; zero inside it [mm]."""
    outside = [
        max(low - at, at - low - span, 0.0)
        for at, low, span in zip(hole, corner, window, strict=True)
    ]
    return math.hypot(*outside)


def scale_for(part: CentreShim, views: Box) -> Fraction:
    """The largest standard scale at which the face view fits."""
    return style.largest_scale(
        views.width - _LEFT - _SECTION - _TABLE,
        views.height - _HEAD - _FOOT,
        part.length,
        part.width,
    )


def draw_views(canvas: Canvas, part: CentreShim, views: Box, sheet: SheetStyle) -> None:
    """Face view, section and hole table."""
    scale = float(canvas.scale)
    long, wide = part.length * scale, part.width * scale
    left = views.left + _LEFT
    bottom = views.bottom + _FOOT + (views.height - _HEAD - _FOOT - wide) / 2
    view = View((left, bottom), scale)
    _face_view(canvas, part, view, sheet)
    _section(canvas, part, (left + long + 24.0, bottom + wide / 2), sheet)
    _table(canvas, part, Box(views.right - _TABLE, views.bottom, views.right, views.top), sheet)


def _rectangle(view: View, corner: Point, long: float, wide: float) -> list[Point]:
    x, y = corner
    return [view.at(*at) for at in ((x, y), (x + long, y), (x + long, y + wide), (x, y + wide))]


def _face_view(canvas: Canvas, part: CentreShim, view: View, sheet: SheetStyle) -> None:
    pen, units, s = canvas.pen, sheet.units, view.scale
    pen.path(_rectangle(view, (0, 0), part.length, part.width), style.OUTLINE, closed=True)
    for number, (x, y) in enumerate(part.holes, start=1):
        at, r = view.at(x, y), part.hole / 2 * s
        pen.circle(at, r, style.OUTLINE)
        frames.centre_cross(pen, at, r + 1.2)
        pen.text(str(number), (at[0] + r + 0.6, at[1] + 0.8), 2.4, bold=True)
    if part.window:
        corner = ((part.length - part.window[0]) / 2, (part.width - part.window[1]) / 2)
        pen.path(_rectangle(view, corner, *part.window), style.OUTLINE, closed=True)
    x, (low, high) = view.at(part.length / 2, 0)[0], (view.at(0, 0)[1], view.at(0, part.width)[1])
    towards = 0.0 if sheet.first_angle else math.pi
    frames.cutting_plane(pen, x, low - 2, high + 2, towards=towards)
    left = view.at(0, 0)[0]
    dimensions.linear(
        canvas,
        view.at(0, 0),
        view.at(part.length, 0),
        (0.0, low - 16.0),
        figures.plain(part.length, units),
    )
    tall = figures.plain(part.width, units)
    fits = dimensions.width_of(tall) + 2 * style.GAP < part.width * s
    dimensions.linear(
        canvas,
        view.at(0, 0),
        view.at(0, part.width),
        (left - 10.0, 0.0),
        tall,
        angle=math.pi / 2,
        place="on" if fits else "after",
    )
    pen.dot(view.at(0, 0), 0.9, style.ACCENT)
    pen.text("0, 0", (left - 1.5, low - 4.2), 2.4, layer=style.ACCENT, bold=True, align="right")
    pen.text("Worm side up as drawn", (x, high + 13.0), 2.8, bold=True, align="centre")


def _section(canvas: Canvas, part: CentreShim, at: Point, sheet: SheetStyle) -> None:
    scale, pen = float(canvas.scale), canvas.pen
    thick = part.thickness.size
    times = 1 if thick * scale >= _LEAST_DRAWN else style.detail_scale(thick * scale, _LEAST_DRAWN)
    drawn = thick * scale * int(times)
    x, y = at
    half = part.width / 2 * scale
    gap = part.window[1] / 2 * scale if part.window else 0.0
    for low, high in ((gap, half), (-half, -gap)) if gap else ((-half, half),):
        loop = ((x, y + low), (x + drawn, y + low), (x + drawn, y + high), (x, y + high))
        pen.path(loop, style.OUTLINE, closed=True)
        canvas.hatch(loop)
    for side in (x, x + drawn) if gap else ():
        pen.line((side, y - gap), (side, y + gap), style.OUTLINE)
    dimensions.linear(
        canvas,
        (x, y - half),
        (x + drawn, y - half),
        (x, y - half - 9.0),
        figures.limits(part.thickness, sheet.units),
        place="after",
        factor=float(1 / Fraction(times)),
    )
    label = (x + drawn / 2 + 6.0, y + half + 13.0)
    pen.text("SECTION A-A", label, style.LABEL_HEIGHT, bold=True, align="centre")
    if times > 1:
        for line, words in enumerate(
            (f"thickness drawn {times} times", "larger; the figure is true")
        ):
            pen.text(words, (label[0], label[1] - 4.2 - 3.2 * line), 2.2, align="centre")


def _table(canvas: Canvas, part: CentreShim, column: Box, sheet: SheetStyle) -> None:
    """Where the bolt holes and the window lie, from the corner 0, 0."""
    pen, units = canvas.pen, sheet.units
    left, top = column.left + 4.0, column.top - 10.0
    pen.text("BOLT HOLES", (left, top), style.LABEL_HEIGHT, bold=True)
    hole = f"{len(part.holes)} x Ø{notes.size(part.hole, units)}, from 0, 0:"
    pen.text(hole, (left, top - 5.5), 2.4)
    rows = [("", "along", "up")] + [
        (str(number), notes.size(x, units), notes.size(y, units))
        for number, (x, y) in enumerate(part.holes, start=1)
    ]
    y = top - 10.5
    for number, row in enumerate(rows):
        for tab, words in zip((0.0, 6.0, 31.0), row, strict=True):
            pen.text(words, (left + tab, y), 2.4, bold=tab == 0.0 or number == 0)
        y -= 4.4
    pen.line((left, top - 11.6), (left + 54.0, top - 11.6), style.THIN)
    if part.window:
        along, across = (notes.size(size, units) for size in part.window)
        for words in ("Window in the middle, for the wheel:", f"{along} along x {across}"):
            pen.text(words, (left, y - 1.0), 2.4)
            y -= 4.2


def packing_text(part: CentreShim, units: Units) -> PartText:
    """All words of the sheet."""
    way = "APART" if part.change > 0 else "CLOSER"
    return PartText(
        name=part.name[:1].upper() + part.name[1:],
        material=part.material,
        quantity=part.quantity,
        fits=(
            f"Thickness {notes.bounds(part.thickness, units)}",
            f"{_alike(part)} within {notes.within(part.match, units)}",
            f"Moves worm and wheel {way} by {figures.fine(abs(part.change), units).inline}",
        ),
        surface="both faces ground, lapped or as rolled, Ra 0.8 µm [32 µin]; edges 3.2 [125]",
        general=general_tolerance(units),
        edges="No burr at all on either face or round a hole; do not chamfer",
        notes=(
            ("WHAT IT SETS", (part.purpose[:1].upper() + part.purpose[1:],)),
            ("HOW TO MAKE", notes.numbered(_steps(part, units))),
            ("CHECK AND WRITE DOWN", notes.ticked(_checks(part, units))),
        ),
    )


def _alike(part: CentreShim) -> str:
    if part.quantity == 1:
        return "One thickness all over"
    return f"The {part.quantity} pieces alike"


def _steps(part: CentreShim, units: Units) -> tuple[str, ...]:
    finish: tuple[str, ...]
    if part.thickness.size <= _FROM_STOCK or part.stack:
        finish = (
            "Cut from stock, all pieces from one sheet. Clamp the pack between two plates; drill "
            "and file it as one, so that no edge curls.",
        )
    else:
        finish = (
            "Saw and mill all pieces together. Drill the holes, then take the burrs off.",
            "Grind both faces on a magnetic chuck, all pieces side by side in one setting, the "
            "last pass over all of them; or lap them in turn on a surface plate.",
        )
    stack = " + ".join(figures.fine(piece, units).inline for piece in part.stack)
    stacked = (
        (f"Each piece is a stack of {len(part.stack)}: {stack}; thin between thick.",)
        if len(part.stack) > 1
        else ()
    )
    return (
        *stacked,
        *finish,
        "Stamp the pieces 1, 2 … and pop-mark the corner 0, 0 on the worm side, outside the "
        "clamped area. They go back in the same place, the same way up.",
        "Stone housing and block faces clean; a burr under packing tilts the worm.",
        "Put in dry. Draw the bolts up in turn, in three rounds, to one torque.",
    )


def _checks(part: CentreShim, units: Units) -> tuple[str, ...]:
    places = ", ".join(f"piece {n} ____ ____ ____ ____" for n in range(1, part.quantity + 1))
    return (
        f"Thickness at the four corners, clean, micrometer: {notes.bounds(part.thickness, units)}; "
        f"{places}",
        f"Largest less smallest of all the readings: {notes.within(part.match, units)} ____; "
        "more than that skews or tilts the worm",
        "Flat: on a surface plate no rock under a fingertip, no light under a straight-edge",
        "Bolts drop through all holes by hand; the wheel clears the packing all round",
        "Bolted up: no feeler of 0.02 mm [0.0008 in] enters anywhere at the joint",
        "Mesh read again at the tight spot; rock ____",
    )
