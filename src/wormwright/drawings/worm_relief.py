"""The worm relieved on its outside diameter: side view, the crest enlarged, words."""

from __future__ import annotations

import math
from fractions import Fraction

from wormwright.drawings import dimensions, figures, frames, style
from wormwright.drawings.canvas import Canvas, Point
from wormwright.drawings.figures import Written
from wormwright.drawings.general import general_tolerance
from wormwright.drawings.sheet import PartText
from wormwright.drawings.style import Box, SheetStyle
from wormwright.job.parts import WormRelief
from wormwright.job.rotary import Units

RUNOUT = 0.010
"""Crest to journals [mm]: more would give back part of the clearance once a turn."""
CREST_CHAMFER = 0.15
"""Both edges of the crest, after turning [mm]."""
_HARD = "If a file skates off it the worm is hard: grind it, or turn with a boron nitride insert."
_STUB = 0.8
_HEAD, _FOOT = 26.0, 24.0
_RIGHT = 78.0


def checked(part: WormRelief) -> WormRelief:
    """The same relief, or a refusal that names what cannot be made."""
    if part.outside.size + part.outside.upper >= part.outside_before:
        raise ValueError(
            f"worm relief takes nothing off: {part.outside.size} mm wanted, "
            f"{part.outside_before} mm as found"
        )
    if part.shaft_diameter >= part.outside.size:
        raise ValueError(
            f"worm relief to {part.outside.size} mm would reach the shaft "
            f"of {part.shaft_diameter} mm"
        )
    return part


def _overall(part: WormRelief) -> float:
    return part.length + 2 * _STUB * part.shaft_diameter


def scale_for(part: WormRelief, views: Box) -> Fraction:
    """The largest standard scale at which the side view fits."""
    return style.largest_scale(
        views.width - _RIGHT - 62.0,
        views.height - _HEAD - _FOOT,
        _overall(part),
        part.outside_before,
    )


def draw_views(canvas: Canvas, part: WormRelief, views: Box, sheet: SheetStyle) -> None:
    """Side view and the crest."""
    scale = float(canvas.scale)
    middle = views.bottom + _FOOT + (views.height - _HEAD - _FOOT) / 2
    left = views.left + 30.0 + (views.width - _RIGHT - 62.0 - _overall(part) * scale) / 2
    start = left + _STUB * part.shaft_diameter * scale
    _side_view(canvas, part, (start, middle))
    _side_dimensions(canvas, part, (start, middle), sheet)
    _crest(canvas, part, Box(views.right - _RIGHT, views.bottom, views.right, views.top), sheet)


def _side_view(canvas: Canvas, part: WormRelief, at: Point) -> None:
    pen, s = canvas.pen, float(canvas.scale)
    x, y = at
    length, r, shaft = part.length * s, part.outside.size / 2 * s, part.shaft_diameter / 2 * s
    end = x + length
    pen.path(((x, y - r), (end, y - r), (end, y + r), (x, y + r)), style.OUTLINE, closed=True)
    stub = _STUB * part.shaft_diameter * s
    for edge, way in ((x, -1.0), (end, 1.0)):
        far = edge + way * stub
        pen.line((edge, y + shaft), (far, y + shaft), style.OUTLINE)
        pen.line((edge, y - shaft), (far, y - shaft), style.OUTLINE)
        pen.path(
            (
                (far, y + shaft),
                (far + way, y + shaft / 2),
                (far, y),
                (far - way, y - shaft / 2),
                (far, y - shaft),
            ),
            style.THIN,
        )
    before = part.outside_before / 2 * s
    lift = max(before - r, 0.8)
    for sign in (1.0, -1.0):
        pen.line((x - 4, y + sign * (r + lift)), (end + 4, y + sign * (r + lift)), style.HIDDEN)
    pen.line((x - stub - 4, y), (end + stub + 4, y), style.CENTRE)
    _threads(canvas, part, at)


def _threads(canvas: Canvas, part: WormRelief, at: Point) -> None:
    """Crest lines of the thread, leaning as the hand says, cut off at the ends."""
    pen, s = canvas.pen, float(canvas.scale)
    x, y = at
    r, length = part.outside.size / 2 * s, part.length * s
    pitch = part.axial_pitch * s
    lean = math.tan(part.lead_angle) * math.pi * r * (-1.0 if part.hand == "right" else 1.0)
    count = int((length + 2 * abs(lean)) / pitch) + 2
    for number in range(-count, count + 1):
        for crest in (-0.18, 0.18):
            foot = x + length / 2 + (number + crest) * pitch - lean / 2
            clipped = _clip((foot, y - r), (foot + lean, y + r), x, x + length)
            if clipped:
                pen.line(*clipped, style.THIN)


def _clip(low: Point, high: Point, left: float, right: float) -> tuple[Point, Point] | None:
    """The part of a line between two uprights."""
    (x1, y1), (x2, y2) = low, high
    if max(x1, x2) <= left or min(x1, x2) >= right:
        return None
    ends = []
    for px, py in (low, high):
        inside = min(max(px, left), right)
        ends.append((inside, py if inside == px else y1 + (inside - x1) / (x2 - x1) * (y2 - y1)))
    return ends[0], ends[1]


def _side_dimensions(canvas: Canvas, part: WormRelief, at: Point, sheet: SheetStyle) -> None:
    s, units = float(canvas.scale), sheet.units
    x, y = at
    r, shaft = part.outside.size / 2 * s, part.shaft_diameter / 2 * s
    stub = _STUB * part.shaft_diameter * s
    end = x + part.length * s
    after = figures.limits(part.outside, units).before("Ø").fitted(part.outside.fit)
    column = end + stub + 18.0
    dimensions.linear(canvas, (end, y - r), (end, y + r), (column, y), after, angle=math.pi / 2)
    dimensions.linear(
        canvas,
        (x - stub + 2, y - shaft),
        (x - stub + 2, y + shaft),
        (x - stub - 9.0, y),
        _in_brackets(figures.plain(part.shaft_diameter, units).before("Ø")),
        angle=math.pi / 2,
    )
    dimensions.linear(
        canvas, (x, y - r), (end, y - r), (x, y - r - 10.0), figures.plain(part.length, units)
    )
    before = part.outside_before / 2 * s
    dimensions.linear(
        canvas,
        (end, y - before),
        (end, y + before),
        (column + 17.0, y),
        _in_brackets(figures.fine(part.outside_before, units).before("Ø")),
        angle=math.pi / 2,
    )
    tolerance = figures.at_most(RUNOUT, units)
    pen = canvas.pen
    pen.text("thread drawn simplified", ((x + end) / 2, y - r - 19.0), 2.2, align="centre")
    reach = max(r, dimensions.width_of(after, stacked=True) / 2)
    pen.line((column, y + r), (column, y + reach + 6), style.DIMENSION)
    left = column + 6.0 - frames.frame_width(tolerance, "A-B")
    frames.control_frame(pen, (left, y + reach + 6), "runout", tolerance, "A-B")
    for place, letter in ((x - stub * 0.5, "A"), (end + stub * 0.5, "B")):
        frames.datum_flag(pen, (place, y - shaft), letter, stem=r - shaft + 3.0)


def _in_brackets(written: Written) -> Written:
    """A size for information only: first figure in round brackets."""
    return Written(f"({written.first})", written.other)


def _crest(canvas: Canvas, part: WormRelief, column: Box, sheet: SheetStyle) -> None:
    """One thread enlarged: what comes off is hatched, the flanks stay."""
    pen, units = canvas.pen, sheet.units
    x = (column.left + column.right) / 2 - 3.0
    base = column.bottom + 30.0
    off, height, top, foot = 9.0, 34.0, 9.0, 21.0
    pen.path(((x - foot - 8, base), (x - foot, base), (x - top, base + height)), style.OUTLINE)
    pen.path(((x + foot + 8, base), (x + foot, base), (x + top, base + height)), style.OUTLINE)
    narrow = top - (foot - top) / height * off
    pen.line((x - top, base + height), (x + top, base + height), style.OUTLINE)
    removed = (
        (x - top, base + height),
        (x + top, base + height),
        (x + narrow, base + height + off),
        (x - narrow, base + height + off),
    )
    pen.path(removed, style.HIDDEN, closed=True)
    canvas.hatch(removed)
    depth = (
        part.outside_before - part.outside.size - (part.outside.upper + part.outside.lower) / 2
    ) / 2
    dimensions.linear(
        canvas,
        (x - top, base + height),
        (x - narrow, base + height + off),
        (x - top - 12.0, 0.0),
        figures.fine(depth, units),
        angle=math.pi / 2,
        factor=depth / (off * canvas.k),
        side="above",
    )
    frames.leader(pen, ((x + 24, base + 20), (x + 15.4, base + 16.0)))
    frames.leader(pen, ((x - 24, base + 20), (x - 15.4, base + 16.0)))
    pen.text("do not touch the flanks", (x, base + 6.0), 2.2, align="centre")
    pen.text("crest only", (x + top + 4, base + height + off - 1), 2.2)
    chamfer = figures.plain(CREST_CHAMFER, units)
    frames.leader(pen, ((x + top + 6, base + height - 6), (x + top + 0.4, base + height - 0.4)))
    for line, words in enumerate((chamfer.inline, "x 45°, both edges")):
        pen.text(words, (x + top + 7, base + height - 7 - 3.4 * line), 2.2)
    label = "ONE THREAD, not to scale"
    pen.text(label, (x, column.top - 12), style.LABEL_HEIGHT, bold=True, align="centre")
    pen.text("hatched: comes off, per side", (x, column.top - 17), 2.2, align="centre")


def relief_text(part: WormRelief, units: Units) -> PartText:
    """All words of the sheet."""
    before = figures.fine(part.outside_before, units).before("Ø").inline
    after = figures.limits(part.outside, units).before("Ø").inline
    return PartText(
        name="Worm, outside diameter relieved",
        material=part.material or "the worm as supplied",
        quantity=1,
        fits=(f"Outside as found {before}", f"Outside to {after}"),
        surface="crest Ra 1.6 µm [63 µin]; flanks and journals as they are",
        general=general_tolerance(units),
        edges="Crest edges as drawn; no burr on a flank",
        notes=(
            ("HOW TO MAKE", tuple(f"{n} {line}" for n, line in enumerate(_steps(part, units), 1))),
            ("CHECK AND WRITE DOWN", tuple(f"☐ {line}" for line in _checks(part, units))),
        ),
    )


def _steps(part: WormRelief, units: Units) -> tuple[str, ...]:
    cut = figures.plain(0.05, units).inline
    return (
        "Measure the outside over the crests at three places before cutting; if it is already at "
        "or under the limits, leave the worm alone.",
        f"Set up between centres, or in a collet on one journal with a centre in the other end. "
        f"Journals A and B run true within {figures.at_most(RUNOUT, units).inline}.",
        f"{_HARD} Cover the flanks with marking blue.",
        f"Sharp pointed tool, light cuts of {cut} deep: the cut is broken by the thread. Turn the "
        f"crest only, over the whole {figures.plain(part.length, units).inline}; "
        f"{part.hand}-hand thread.",
        "Edges of the crest: fine stone or needle file, "
        f"{figures.plain(CREST_CHAMFER, units).inline} x 45°, both sides, along the whole thread. "
        "Lift the stone off the flank.",
        "Take the feather edge off where the thread starts and ends. Brush, wash, oil.",
    )


def _checks(part: WormRelief, units: Units) -> tuple[str, ...]:
    return (
        "Outside over the crests at 3 places, micrometer with wide anvils: "
        f"{figures.limits(part.outside, units).inline} ____ ____ ____",
        "Crest to journals, indicator with a flat foot: "
        f"{figures.at_most(RUNOUT, units).inline} ____",
        "Blue on both flanks unbroken: no tool mark, no burr to the fingernail",
        "Back in mesh: the tip clearance is read again; flank backlash has not changed",
    )
