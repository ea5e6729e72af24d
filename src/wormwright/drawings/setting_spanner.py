"""The pin spanner that turns an eccentric bushing by its slots and reads how far: its views."""

from __future__ import annotations

import math
from fractions import Fraction

from wormwright.drawings import dimensions, figures, frames, notes, side_column, style
from wormwright.drawings.canvas import Canvas, View
from wormwright.drawings.refusal import refuse_faults
from wormwright.drawings.setting_spanner_words import (
    LINES,
    RIM,
    angle_for,
    free_words,
    spread_for,
)
from wormwright.drawings.style import Box, SheetStyle
from wormwright.job.parts import SettingSpanner

_LEAST_WALL = 1.5
"""Metal left round a pin and round the middle hole [mm]."""
_CIRCLE_TOLERANCE = 0.05
"""Circle of the pins [mm]: far less than their play in the slots."""
_RADIUS_TOLERANCE = 0.1
"""Radius of the reading edge [mm]: a tenth of a per cent of a turn read at 100 mm."""
_SPREAD_SLACK = math.radians(0.25)
"""Play of the spanner in the slots; more than a degree line can be read to would hide a turn."""
_SPREAD_TOLERANCE = math.radians(0.1)
"""As drawn: less than half a tenth of a millimetre on a pin circle of 50 mm."""
_WIDEST_SCALE = math.radians(45)
_HEAD, _FOOT, _LEFT, _RIGHT, _BESIDE, _BETWEEN = 17.0, 31.0, 38.0, 62.0, 24.0, 21.0


def checked(part: SettingSpanner) -> SettingSpanner:
    """The same spanner, or a refusal that names what cannot be made or would not turn."""
    faults = (*_pin_faults(part), *_lever_faults(part))
    refuse_faults("setting spanner cannot be made", faults)
    return part


def _pin_faults(part: SettingSpanner) -> tuple[tuple[bool, str], ...]:
    pin, circle = part.pin.size + part.pin.upper, part.pin_circle
    return (
        (pin >= part.slot_width, "the pins do not enter the slots"),
        (
            part.pin_reach >= part.flange_thickness,
            "the pins reach through the flange and rub on the housing",
        ),
        (circle + pin + 2 * _LEAST_WALL > part.head_outside, "the pins break out of the rim"),
        (
            circle - pin - 2 * _LEAST_WALL < part.centre_hole,
            "the middle hole breaks into the pin holes",
        ),
        (
            abs(part.pin_spread - spread_for(part)) > _SPREAD_SLACK,
            f"pins {figures.degrees(part.pin_spread)} apart do not bear on the slot ends, "
            f"expected {figures.degrees(spread_for(part))}",
        ),
        (
            circle * math.sin(min(part.pin_spread, math.pi) / 2) <= pin,
            "the two pins meet; the slots are too close together",
        ),
    )


def _lever_faults(part: SettingSpanner) -> tuple[tuple[bool, str], ...]:
    return (
        (part.lever_width >= part.head_outside, "the lever is as wide as the head"),
        (
            part.reading_radius <= part.head_outside / 2 + RIM,
            "the reading edge lies in the head; lengthen the lever",
        ),
        (
            not math.radians(1) <= part.scale_range <= _WIDEST_SCALE,
            "expected a scale of 1 to 45 degrees either way",
        ),
        (
            part.key_radius - part.key_slot_length / 2 < part.head_outside / 2 + _LEAST_WALL
            or part.key_radius + part.key_slot_length / 2 > part.reading_radius - RIM,
            "the key slot does not lie in the lever; lengthen the lever",
        ),
        (
            part.key_slot.size + part.key_slot.upper + 2 * _LEAST_WALL > part.lever_width,
            "the key slot leaves no wall in the lever",
        ),
    )


def _high(part: SettingSpanner) -> float:
    return max(part.head_outside, 2 * part.reading_radius * math.sin(part.scale_range))


def scale_for(part: SettingSpanner, views: Box) -> Fraction:
    """The largest standard scale at which plan and edge view fit."""
    return style.largest_scale(
        views.width - _LEFT - _RIGHT - _BESIDE,
        views.height - _HEAD - _FOOT - _BETWEEN,
        part.head_outside / 2 + part.reading_radius,
        _high(part) + part.plate_thickness + part.pin_reach,
    )


def draw_views(canvas: Canvas, part: SettingSpanner, views: Box, sheet: SheetStyle) -> None:
    """Plan from the pin side, edge view below it, what a millimetre at the edge means."""
    scale = float(canvas.scale)
    half = _high(part) / 2 * scale
    thick = (part.plate_thickness + part.pin_reach) * scale
    used = 2 * half + thick + _HEAD + _FOOT + _BETWEEN
    middle = views.top - _HEAD - half - max(views.height - used, 0.0) / 2
    plan = View((views.left + _LEFT + part.head_outside / 2 * scale, middle), scale)
    _plan(canvas, part, plan, sheet)
    above = part.plate_thickness if sheet.first_angle else part.pin_reach
    edge = View((plan.origin[0], middle - half - _BETWEEN - above * scale), scale)
    _edge_view(canvas, part, edge, sheet)
    column = Box(views.right - _RIGHT, views.bottom, views.right, views.top)
    _reading(canvas, part, column, sheet)


def pin_angles(part: SettingSpanner) -> tuple[float, float]:
    """Where the pins stand, the lever at 0 [rad]: opposite it, half the spread either way."""
    return math.pi - part.pin_spread / 2, math.pi + part.pin_spread / 2


def _outline(canvas: Canvas, part: SettingSpanner, view: View) -> None:
    """Head, lever and the arc at its end."""
    pen, s, r = canvas.pen, view.scale, part.head_outside / 2
    reading, turn = part.reading_radius, part.scale_range + math.radians(1)
    root = math.asin(part.lever_width / part.head_outside)
    pen.arc(view.origin, r * s, root, math.tau - root, style.OUTLINE)
    inner = reading - RIM
    neck = math.asin(part.lever_width / 2 / inner)
    pen.arc(view.origin, reading * s, -turn, turn, style.OUTLINE)
    for sign in (1.0, -1.0):
        start = view.polar(r, sign * root)
        pen.line(start, view.polar(inner, sign * min(neck, turn)), style.OUTLINE)
        if neck < turn:
            low, high = sorted((sign * neck, sign * turn))
            pen.arc(view.origin, inner * s, low, high, style.OUTLINE)
        end = view.polar(reading, sign * turn)
        pen.line(view.polar(inner, sign * turn), end, style.OUTLINE)


def _graduations(canvas: Canvas, part: SettingSpanner, view: View) -> None:
    """A line a degree, longer at fives and tens; the tens are numbered."""
    pen, reading = canvas.pen, part.reading_radius
    most = int(math.degrees(part.scale_range) + 1e-9)
    for degree in range(-most, most + 1):
        angle = math.radians(degree)
        long = LINES[2 if degree % 10 == 0 else 1 if degree % 5 == 0 else 0]
        pen.line(view.polar(reading, angle), view.polar(reading - long, angle), style.THIN)
        if degree % 10 == 0:
            x, y = view.polar(reading, angle)
            at = (x + 1.6 * math.cos(angle), y + 1.6 * math.sin(angle) - 1.0)
            pen.text(str(abs(degree)), at, 2.2, bold=degree == 0)


def _plan(canvas: Canvas, part: SettingSpanner, view: View, sheet: SheetStyle) -> None:
    pen, s = canvas.pen, view.scale
    _outline(canvas, part, view)
    _graduations(canvas, part, view)
    pen.circle(view.origin, part.centre_hole / 2 * s, style.OUTLINE)
    pen.circle(view.origin, part.pin_circle / 2 * s, style.CENTRE)
    edge = part.head_outside / 2 * s
    frames.centre_cross(pen, view.origin, edge + 2.0)
    pen.line(view.at(part.head_outside / 2, 0), view.at(part.reading_radius, 0), style.CENTRE)
    for angle in pin_angles(part):
        at = view.polar(part.pin_circle / 2, angle)
        pen.circle(at, part.pin.size / 2 * s, style.OUTLINE)
    _key_slot(canvas, part, view)
    dimensions.angular(
        canvas,
        view.origin,
        (part.pin_circle / 2 * s, edge + 5.0),
        pin_angles(part),
        f"{figures.degrees(part.pin_spread)} ±{figures.degrees(_SPREAD_TOLERANCE)}",
    )
    _plan_diameters(canvas, part, view, sheet)


def _key_slot(canvas: Canvas, part: SettingSpanner, view: View) -> None:
    """The slot of the key, round at both ends, on the line of the lever."""
    pen, half = canvas.pen, part.key_slot.size / 2
    straight = part.key_slot_length / 2 - half
    quarter = math.pi / 2
    for way in (1.0, -1.0):
        x = part.key_radius + way * straight
        start = -quarter if way > 0 else quarter
        pen.arc(view.at(x, 0), half * view.scale, start, start + math.pi, style.OUTLINE)
        pen.line(
            view.at(part.key_radius - straight, way * half),
            view.at(part.key_radius + straight, way * half),
            style.OUTLINE,
        )
    pen.line(view.at(part.key_radius, -2 * half), view.at(part.key_radius, 2 * half), style.CENTRE)


def _plan_diameters(canvas: Canvas, part: SettingSpanner, view: View, sheet: SheetStyle) -> None:
    """Pins above at the left, middle hole above at the right, pin circle below at the right."""
    s, units, (x, y) = view.scale, sheet.units, view.origin
    half = _high(part) / 2 * s
    pins = figures.limits(part.pin, units).before("Ø").fitted(part.pin.fit)
    hole = figures.plain(part.centre_hole, units).before("Ø")
    circle = figures.plus_minus(part.pin_circle, _CIRCLE_TOLERANCE, units).before("Ø")
    on_circle = view.polar(part.pin_circle / 2, pin_angles(part)[0])
    above, below = y + half + 11.0, y - half - 8.0
    for centre, size, degree, elbow, written in (
        (on_circle, part.pin.size, 100, (x - 3.0, above), pins),
        (view.origin, part.centre_hole, 62, (x + 6.0, above), hole),
        (view.origin, part.pin_circle, 292, (x + 4.0, below), circle),
    ):
        dimensions.diameter(
            canvas,
            centre,
            size / 2 * s,
            angle=math.radians(degree),
            elbow=elbow,
            written=written,
            leftward=elbow[0] < x,
        )
    label = (x + 62.0, y + half + 11.0)
    canvas.pen.text("Seen from the pins", label, 2.8, bold=True, align="centre")


def _edge_view(canvas: Canvas, part: SettingSpanner, view: View, sheet: SheetStyle) -> None:
    """The plate on edge; first angle shows the pins pointing down, third angle up."""
    pen = canvas.pen
    way = -1.0 if sheet.first_angle else 1.0
    r, end, t = part.head_outside / 2, part.reading_radius, part.plate_thickness
    plate = ((-r, 0), (end, 0), (end, -way * t), (-r, -way * t))
    pen.path([view.at(*at) for at in plate], style.OUTLINE, closed=True)
    x, half = part.pin_circle / 2 * math.cos(pin_angles(part)[0]), part.pin.size / 2
    tip = way * part.pin_reach
    pin = ((x - half, 0), (x - half, tip), (x + half, tip), (x + half, 0))
    pen.path([view.at(*at) for at in pin], style.OUTLINE)
    over = 2.0 / view.scale
    pen.line(view.at(x, tip + way * over), view.at(x, -way * (t + over)), style.CENTRE)
    pen.line(view.at(0, way * over), view.at(0, -way * (t + over)), style.CENTRE)
    _edge_dimensions(canvas, part, view, sheet)


def _edge_dimensions(canvas: Canvas, part: SettingSpanner, view: View, sheet: SheetStyle) -> None:
    """Reach of the pins at the left, thickness at the right, reading radius below."""
    units, r, end = sheet.units, part.head_outside / 2, part.reading_radius
    way = -1.0 if sheet.first_angle else 1.0
    back, tip = -way * part.plate_thickness, way * part.pin_reach
    x = part.pin_circle / 2 * math.cos(pin_angles(part)[0]) - part.pin.size / 2
    radius = figures.plus_minus(end, _RADIUS_TOLERANCE, units)
    fits = dimensions.width_of(radius) < end * view.scale
    beyond = 9.0 if fits else dimensions.width_of(radius) + 14.0
    for first, second, column, size in (
        ((x, 0.0), (x, tip), view.at(-r, 0)[0] - 9.0, part.pin_reach),
        ((end, 0.0), (end, back), view.at(end, 0)[0] + beyond, part.plate_thickness),
    ):
        dimensions.linear(  # the figure stands below the plate, clear of the plan
            canvas,
            view.at(*first),
            view.at(*second),
            (column, 0.0),
            figures.plain(size, units),
            angle=math.pi / 2,
            place="after" if second[1] < 0 else "before",
        )
    side, row = min(back, 0.0), view.at(0, min(back, tip))[1]
    key = figures.plain(part.key_radius, units)
    short = dimensions.width_of(key) < part.key_radius * view.scale
    for reach, lower, written, on in (
        (part.key_radius, row - 9.0, key, short),
        (end, row - 18.5, radius, fits),
    ):
        dimensions.linear(
            canvas,
            view.at(0, side),
            view.at(reach, side),
            (0.0, lower),
            written,
            place="on" if on else "after",
        )


def _degrees(angle: float) -> str:
    return f"{math.degrees(angle):.2f}°"


def _reading(canvas: Canvas, part: SettingSpanner, column: Box, sheet: SheetStyle) -> None:
    """What a length at the reading edge means, and what it does to the bore."""
    pen, units = canvas.pen, sheet.units
    x, y = column.left + 3.0, column.top - 12.0
    first, second = (("1 mm", 1.0), ("0.1 in", 2.54))
    lead, other = (first, second) if units == "mm" else (second, first)
    pen.text("AT THE READING EDGE", (x, y), 2.8, bold=True)
    pen.text(f"{lead[0]} = {_degrees(angle_for(lead[1], part))}", (x, y - 8.0), 4.0, bold=True)
    words = f"{other[0]} = {_degrees(angle_for(other[1], part))}"
    pen.text(words, (x, y - 13.0), 2.6, layer=style.OTHER_UNIT)
    step = figures.fine(2 * part.throw * math.sin(math.radians(5)), units).inline
    groups = (
        ("", (f"10° move the bore by {step} (throw {notes.size(part.throw, units)})",)),
        (
            "FREE TURN",
            (free_words(part),),
        ),
        ("DATUM", ("the middle hole: pins, key slot, arc and lines are set out from it",)),
        (
            "OUTLINE",
            (
                f"head Ø{notes.size(part.head_outside, units)}",
                f"lever {notes.size(part.lever_width, units)} wide",
                f"arc {notes.size(RIM, units)} deep, "
                f"{figures.degrees(part.scale_range)} and 1° either way",
            ),
        ),
    )
    side_column.write_column(pen, (x, y - 20.0), column.width - 5.0, groups)
