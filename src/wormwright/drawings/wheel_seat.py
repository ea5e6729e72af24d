"""The wheel bored true to its teeth and sleeved: section, stations and set-up."""

from __future__ import annotations

import math
from fractions import Fraction

from wormwright.drawings import dimensions, figures, frames, notes, style, turned
from wormwright.drawings.canvas import Canvas, Pen, Point, View
from wormwright.drawings.figures import Written
from wormwright.drawings.refusal import refuse_faults
from wormwright.drawings.style import Box, SheetStyle
from wormwright.drawings.turned import Size
from wormwright.job.parts import Limits, WheelSeat
from wormwright.job.rotary import Units

_LEAST_SLEEVE = 1.0
"""A thinner sleeve [mm of wall] does not stay round when it is fixed."""
_LEAST_HUB = 2.0
_MOST_STATIONS = 24
_COLUMN = 58.0
_DATUM_OUT = 14.0


def checked(part: WheelSeat) -> WheelSeat:
    """The same wheel, or a refusal that names what cannot be made."""
    new = part.bore.size + part.bore.lower
    cleans = part.bore_found + part.runout_found
    sleeve = (part.bore.size - part.seat.size) / 2
    hub = (part.hub_outside - part.bore.size) / 2
    faults = (
        (
            new < cleans,
            f"a bore of {new:.3f} mm does not clean up; expected {cleans:.3f} mm or more "
            "(bore as found plus its TIR)",
        ),
        (sleeve < _LEAST_SLEEVE, f"sleeve wall {sleeve:.2f} mm is under {_LEAST_SLEEVE:g} mm"),
        (hub < _LEAST_HUB, f"hub wall {hub:.2f} mm is under {_LEAST_HUB:g} mm"),
        (part.hub_outside >= part.wheel_outside, "the hub is as large as the wheel"),
        (part.face_width > part.hub_length, "the rim is wider than the hub is long"),
        (
            not 3 <= part.stations <= min(part.teeth, _MOST_STATIONS),
            f"expected 3 to {_MOST_STATIONS} stations, at most one a tooth",
        ),
        (part.runout >= part.runout_found, "it already runs as true as is asked; leave it alone"),
    )
    refuse_faults("wheel on its seat cannot be trued", faults)
    return part


def scale_for(part: WheelSeat, views: Box) -> Fraction:
    """The largest standard scale at which the views fit."""
    return turned.scale_for(
        views, face=part.wheel_outside * 1.12, overall=part.hub_length, column=_COLUMN
    )


def draw_views(canvas: Canvas, part: WheelSeat, views: Box, sheet: SheetStyle) -> None:
    """Stations on the face, section with the indicated surfaces, the set-up."""
    across = part.wheel_outside * 1.12
    face, cut = turned.stand(
        canvas, views, sheet, face=across, overall=part.hub_length, column=_COLUMN
    )
    _face_view(canvas, part, face, sheet)
    _section(canvas, part, cut, sheet)
    column = Box(views.right - _COLUMN, views.bottom, views.right, views.top)
    _set_up(canvas.pen, part, column, sheet)


def station_teeth(part: WheelSeat) -> tuple[int, ...]:
    """The tooth spaces at which the pin is read, the first is 1."""
    return tuple(1 + round(n * part.teeth / part.stations) for n in range(part.stations))


def _face_view(canvas: Canvas, part: WheelSeat, view: View, sheet: SheetStyle) -> None:
    pen, s, r = canvas.pen, view.scale, part.wheel_outside / 2
    for size, layer in (
        (part.wheel_outside, style.OUTLINE),
        (part.hub_outside, style.HIDDEN),
        (part.bore.size, style.OUTLINE),
        (part.seat.size, style.OUTLINE),
    ):
        pen.circle(view.origin, size / 2 * s, layer)
    words = "Stations, seen from the front"
    turned.face_label(canvas, view, r + 3.0 / s, sheet, words, lift=16.0)
    _stations(pen, part, view)
    frames.pop_mark(pen, view.at(0.0, (part.bore.size + part.hub_outside) / 4), math.pi / 2)
    x, y = view.origin
    out, up = max(r * s * 0.6, 14.0), max(r * s + 5.0, turned.LEAST_REACH)
    for size, written, way, above in (
        (part.seat.size, _fitted(part.seat, sheet.units), -1.0, 1.0),
        (part.bore.size, _fitted(part.bore, sheet.units), 1.0, -1.0),
        (part.wheel_outside, _found(part.wheel_outside, sheet.units), -1.0, -1.0),
        (part.hub_outside, _found(part.hub_outside, sheet.units), 1.0, 1.0),
    ):
        dimensions.diameter(
            canvas,
            view.origin,
            size / 2 * s,
            angle=above * (math.pi / 2 - way * math.radians(37)),
            elbow=(x + way * out, y + above * up),
            written=written,
            leftward=way < 0,
            stacked=" / " in written.first,
        )


def _fitted(size: Limits, units: Units) -> Written:
    return figures.limits(size, units).before("Ø").fitted(size.fit)


def _found(diameter: float, units: Units) -> Written:
    """A diameter that is not cut: in brackets."""
    written = figures.plain(diameter, units).before("Ø")
    return Written(f"({written.first})", written.other)


def _stations(pen: Pen, part: WheelSeat, view: View) -> None:
    """The tooth spaces that are read, numbered clockwise from the top."""
    s, r = view.scale, part.wheel_outside / 2
    apart = math.tau * (r * s - 4.6) / part.stations
    every = max(1, math.ceil(4.5 / apart))
    for number, space in enumerate(station_teeth(part), start=1):
        angle = math.pi / 2 - math.tau * (space - 1) / part.teeth
        pen.circle(view.polar(r, angle), max(part.pin / 2 * s, 0.9), style.ACCENT)
        if (number - 1) % every:
            continue
        x, y = view.polar(r - 4.6 / s, angle)
        beside = (x + 2.4 * math.sin(angle), y - 2.4 * math.cos(angle) - 1.2)
        pen.text(str(number), beside, 2.4, bold=True, align="centre")


def _throat(part: WheelSeat) -> tuple[Point, ...]:
    """The hollow of the rim, drawn only: it carries no dimension."""
    r, w = part.wheel_outside / 2, part.face_width
    dip = 0.12 * w
    return tuple((w * i / 12, r - dip * math.sin(math.pi * i / 12)) for i in range(13))


def _section(canvas: Canvas, part: WheelSeat, view: View, sheet: SheetStyle) -> None:
    w, long, hub = part.face_width, part.hub_length, part.hub_outside / 2
    bore, seat = part.bore.size / 2, part.seat.size / 2
    step = ((w, hub),) if long > w else ()
    wheel = ((0.0, bore), *_throat(part), *step, (long, hub), (long, bore))
    sleeve = ((0.0, seat), (0.0, bore), (long, bore), (long, seat))
    loops = (wheel, sleeve)
    turned.draw_cut(canvas, view, loops, loops, ((0.0, seat), (long, seat)), overall=long)
    sleeve_size = Size(long, bore, _fitted(part.sleeve, sheet.units))
    turned.diameters(canvas, view, [sleeve_size], side="back", edge=long)
    _lengths(canvas, part, view, sheet)
    _indicated(canvas, part, view, sheet)
    _datum(canvas.pen, part, view)


def _datum(pen: Pen, part: WheelSeat, view: View) -> None:
    """Datum A is the new seat: on a line that carries its edge out at the front."""
    out = (1.0 if view.mirrored else -1.0) * _DATUM_OUT
    x, y = view.at(0.0, -part.seat.size / 2)
    pen.line((x + math.copysign(style.GAP, out), y), (x + out, y), style.DIMENSION)
    frames.datum_flag(pen, (x + out - math.copysign(2.5, out), y), "A")


def _lengths(canvas: Canvas, part: WheelSeat, view: View, sheet: SheetStyle) -> None:
    units, w, long = sheet.units, part.face_width, part.hub_length
    rim, hub = part.wheel_outside / 2, part.hub_outside / 2
    row = view.origin[1] - turned.reach(view, rim) - 9.0
    wide = figures.plain(w, units)
    bracketed = Written(f"({wide.first})", wide.other)
    turned.length(canvas, view, ((0.0, -rim), (w, -rim)), row, bracketed, aside="before")
    if long > w:
        plain = figures.plain(long, units)
        whole = Written(f"({plain.first})", plain.other)
        ends = ((0.0, -rim), (long, -hub))
        turned.length(canvas, view, ends, row - 11.0, whole, aside="after")


def _indicated(canvas: Canvas, part: WheelSeat, view: View, sheet: SheetStyle) -> None:
    """The two surfaces read before boring, numbered, with what they may run out afterwards."""
    pen, r, w = canvas.pen, part.wheel_outside / 2, part.face_width
    top = view.origin[1] + turned.reach(view, r)
    dip = r - 0.12 * w
    radius = part.pin / 2 * view.scale
    x, low = view.at(w / 2, dip)
    pen.circle((x, low + radius), radius, style.ACCENT)
    touch = low + 2 * radius
    high = max(top + 5.0, touch + 4.0)
    first = figures.at_most(part.runout, sheet.units)
    second = figures.at_most(part.face_runout, sheet.units)
    out = 1.0 if view.mirrored else -1.0
    wide, other = frames.frame_width(first, "A"), frames.frame_width(second, "A")
    left = x - wide + 4.0 if out > 0 else x - 4.0
    frames.leader(pen, ((x, high), (x, touch)))
    frames.control_frame(pen, (left, high), "runout", first, "A")
    on_face = view.at(0.0, (dip + part.hub_outside / 2) / 2)
    beside = left + wide + 9.0 if out > 0 else left - 9.0 - other
    bend = min(max(on_face[0] + out * 9.0, beside + 2.0), beside + other - 2.0)
    frames.leader(pen, ((bend, high), (bend, on_face[1]), on_face))
    frames.control_frame(pen, (beside, high), "runout", second, "A")
    for number, at in (
        ("1", (left + wide / 2, high + 10.2)),
        ("2", (beside + other / 2, high + 10.2)),
    ):
        _balloon(pen, at, number)
    label = (view.at(part.hub_length / 2, 0)[0], high + 16.0)
    pen.text("SECTION A-A", label, style.LABEL_HEIGHT, bold=True, align="centre")


def _balloon(pen: Pen, at: Point, number: str) -> None:
    pen.circle(at, 2.3, style.ACCENT)
    pen.text(number, (at[0], at[1] - 1.3), 2.6, bold=True, align="centre", layer=style.ACCENT)


def _set_up(pen: Pen, part: WheelSeat, column: Box, sheet: SheetStyle) -> None:
    """What is read where, and the table to write into."""
    x, y = column.left + 2.0, column.top - 12.0
    units = sheet.units
    pen.text("SET-UP", (x, y), 2.8, bold=True)
    rows = (
        ("1", "over a pin or ball in the tooth space,"),
        ("", f"Ø{notes.size(part.pin, units)}, at the lowest point"),
        ("2", "front of the rim, near the teeth"),
    )
    for line, (number, words) in enumerate(rows):
        at = y - 6.0 - 4.6 * line
        if number:
            _balloon(pen, (x + 2.4, at + 1.0), number)
        pen.text(words, (x + 6.5, at), 2.2)
    _reading_table(pen, part, (x, y - 24.0), y - 24.0 - column.bottom - 4.0)


def _reading_table(pen: Pen, part: WheelSeat, at: Point, room: float) -> None:
    x, y = at
    for across, words in ((0.0, "station"), (13.0, "space"), (25.0, "1"), (40.0, "2")):
        pen.text(words, (x + across, y), 2.2, bold=True)
    shown = station_teeth(part)
    pitch = min(4.6, room / len(shown))
    height = min(2.2, pitch * 0.6)
    for number, space in enumerate(shown, start=1):
        row = y - 1.0 - pitch * number
        pen.text(str(number), (x, row), height)
        pen.text(str(space), (x + 13.0, row), height)
        for across in (24.0, 39.0):
            pen.line((x + across, row - 0.4), (x + across + 12.0, row - 0.4), style.THIN)
