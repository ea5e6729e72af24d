"""Face view and section of a turned part: where they stand, how the cut and its sizes are drawn.

In the section x runs from the front face inward and y is the distance from the axis. The front
face is the one that the face view shows, so first angle turns the section over.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from fractions import Fraction
from typing import Literal, NamedTuple

from wormwright.drawings import dimensions, figures, frames, style
from wormwright.drawings.canvas import Canvas, View
from wormwright.drawings.figures import Written
from wormwright.drawings.style import Box, SheetStyle
from wormwright.job.rotary import Units

Loop = Sequence[tuple[float, float]]

LEAST_REACH = 25.0
"""Rows of dimensions stay this far from the axis, clear of long texts on short lines."""
_FIRST_COLUMN, _COLUMN = 13.0, 16.5
_COLUMNS = 37.0
_BESIDE_FACE = 16.0
_HALF_LABEL = 43.0
_HEAD, _FOOT = 24.0, 26.0


def scale_for(views: Box, *, face: float, overall: float, column: float) -> Fraction:
    """The largest standard scale at which face view, section and their sizes fit."""
    wide = views.width - column - 2 * _COLUMNS
    least = max(_BESIDE_FACE, _HALF_LABEL - views.height / 2)
    return style.largest_scale(wide - least, views.height - _HEAD - _FOOT, face + overall, face)


def stand(
    canvas: Canvas, views: Box, sheet: SheetStyle, *, face: float, overall: float, column: float
) -> tuple[View, View]:
    """The face view at the left and the section right of it, clear of it."""
    scale = float(canvas.scale)
    half, long = face / 2 * scale, overall * scale
    middle = views.bottom + _FOOT + (views.height - _HEAD - _FOOT) / 2
    left = views.left + max(_BESIDE_FACE + half, _HALF_LABEL)
    start = left + half + _COLUMNS
    spare = views.right - column - _COLUMNS - long - start
    mirrored = sheet.first_angle
    start += spare * (0.5 if mirrored else 0.85)
    at = (start + long, middle) if mirrored else (start, middle)
    return View((left, middle), scale), View(at, scale, mirrored=mirrored)


def face_label(
    canvas: Canvas, view: View, radius: float, sheet: SheetStyle, words: str, *, lift: float = 14.5
) -> None:
    """Cross, cutting plane A-A and, `lift` mm over a face view, its line of words."""
    edge = radius * view.scale
    x, y = view.origin
    frames.centre_cross(canvas.pen, view.origin, edge + 2.0)
    towards = 0.0 if sheet.first_angle else math.pi
    frames.cutting_plane(canvas.pen, x, y - edge - 2, y + edge + 2, towards=towards)
    top = y + max(edge, LEAST_REACH) + lift
    canvas.pen.text(words, (x, top), 2.8, bold=True, align="centre")


def face_diameters(
    canvas: Canvas, view: View, circles: tuple[float, float, float, float], units: Units
) -> None:
    """Four diameters of a face on leaders: lower left, lower right, upper left, and the outside."""
    scale, (x, y) = view.scale, view.origin
    edge = circles[-1] / 2 * scale
    places = ((-1.0, -1.0), (1.0, -1.0), (-1.0, 1.0), (1.0, 1.0))
    for circle, (way, up) in zip(circles, places, strict=True):
        dimensions.diameter(
            canvas,
            view.origin,
            circle / 2 * scale,
            angle=up * (math.pi / 2 - way * math.radians(34)),
            elbow=(x + way * max(edge * 0.62, 13.0), y + up * max(edge + 4.0, LEAST_REACH)),
            written=figures.plain(circle, units).before("Ø"),
            leftward=way < 0,
        )


def reach(view: View, radius: float) -> float:
    """Half the height that a section and its upright texts take on paper."""
    return max(radius * view.scale, LEAST_REACH)


def draw_cut(
    canvas: Canvas,
    view: View,
    upper: Sequence[Loop],
    lower: Sequence[Loop],
    edges: Sequence[tuple[float, float]],
    *,
    overall: float,
) -> None:
    """The cut faces above and below the axis, edges (x, radius) seen behind them, and the axis."""
    pen = canvas.pen
    for sign, loops in ((1.0, upper), (-1.0, lower)):
        for loop in loops:
            points = [view.at(x, sign * y) for x, y in loop]
            pen.path(points, style.OUTLINE, closed=True)
            canvas.hatch(points)
    for x, radius in edges:
        pen.line(view.at(x, -radius), view.at(x, radius), style.OUTLINE)
    over = 3.0 / view.scale
    pen.line(view.at(-over, 0), view.at(overall + over, 0), style.CENTRE)


class Size(NamedTuple):
    """A diameter to dimension: where it starts along the axis, its radius, its figures."""

    x: float
    radius: float
    written: Written


def diameters(
    canvas: Canvas,
    view: View,
    sizes: Sequence[Size],
    *,
    side: Literal["front", "back"],
    edge: float,
) -> tuple[float, ...]:
    """Upright dimensions in columns beside one end at x = `edge`, inner first: the columns.

    Figures longer than their line all stand on its far side, clear of the lines from the part.
    """
    out = (-1.0 if side == "front" else 1.0) * (-1.0 if view.mirrored else 1.0)
    columns = []
    for number, (x, radius, written) in enumerate(sizes):
        column = view.at(edge, 0)[0] + out * (_FIRST_COLUMN + number * _COLUMN)
        span = 2 * radius * view.scale
        short = span < dimensions.width_of(written, stacked=True) + 2 * style.GAP
        far: dimensions.Side = "below" if out > 0 else "above"
        dimensions.linear(
            canvas,
            view.at(x, -radius),
            view.at(x, radius),
            (column, view.origin[1]),
            written,
            angle=math.pi / 2,
            side=far if short else "both",
        )
        columns.append(column)
    return tuple(columns)


def length(
    canvas: Canvas,
    view: View,
    ends: tuple[tuple[float, float], tuple[float, float]],
    row: float,
    written: Written,
    *,
    aside: dimensions.Place,
) -> None:
    """A length along the axis between two (x, y), on its line if it fits there, else `aside`."""
    first, second = (view.at(*end) for end in ends)
    span = abs(second[0] - first[0])
    place = "on" if dimensions.width_of(written) + 2 * style.GAP < span else aside
    dimensions.linear(canvas, first, second, (0.0, row), written, place=place)
