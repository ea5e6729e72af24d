"""The drawn document as an SVG picture, the size of the paper, at the scale of the sheet.

The drawing library can do this too, but it works out every letter afresh: most of the time of
a sheet went there. Only the entities that `canvas` draws are known here, anything else is
refused, so that nothing can be in the DXF and missing on paper.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator
from typing import TYPE_CHECKING, Any
from xml.sax.saxutils import escape

from wormwright.drawings import style
from wormwright.drawings.canvas import Canvas, Point
from wormwright.drawings.lettering import BOLD, NARROW, REGULAR, em_height, placed_letters

if TYPE_CHECKING:
    from wormwright.drawings.style import Paper

_LINING = 1.6
"""Distance of section lining [mm on paper]."""
_FILLED = ("SOLID", "TEXT")


def svg_text(canvas: Canvas, paper: Paper, *, outlined: bool = True) -> str:
    """The SVG of everything drawn on the canvas, layer by layer.

    Letters are outlines, so that the picture is the same where our font is not installed. For
    the typesetter, which is given the font, they stay letters (`outlined` false): its PDF can
    then be searched, and is a fraction of the size.
    """
    ink: dict[str, tuple[list[str], list[str]]] = {name: ([], []) for name, *_ in style.LAYERS}
    for entity in _entities(canvas):
        kind, layer = entity.dxftype(), entity.dxf.layer
        draw = _words if kind == "TEXT" and not outlined else _DRAWN.get(kind)
        if draw is None:
            raise ValueError(f"no way to print a {kind}; draw it with the pen")
        ink[layer][kind in _FILLED].append(draw(entity, canvas.k, paper.height))
    body = "\n".join(_layer(row, *ink[row[0]]) for row in style.LAYERS)
    return (
        '<?xml version="1.0" encoding="utf-8"?>\n'
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{paper.width:g}mm" '
        f'height="{paper.height:g}mm" viewBox="0 0 {paper.width:g} {paper.height:g}">\n'
        f'<rect width="{paper.width:g}" height="{paper.height:g}" fill="#ffffff"/>\n'
        f"{body}\n</svg>\n"
    )


def _entities(canvas: Canvas) -> Iterator[Any]:
    """Everything drawn, dimensions by their pictures."""
    for entity in canvas.document.modelspace():
        if entity.dxftype() == "DIMENSION":
            yield from canvas.document.blocks.get(entity.dxf.geometry)
        else:
            yield entity


def _layer(row: tuple[str, int, int, str], lines: list[str], filled: list[str]) -> str:
    _, colour, width, line_type = row
    dashes = ",".join(
        f"{abs(d):g}" for name, run in style.LINE_TYPES if name == line_type for d in run
    )
    dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
    ink = f"#{colour:06x}"
    return "\n".join(
        (
            f'<g fill="none" stroke="{ink}" stroke-width="{width / 100:g}" '
            f'stroke-linecap="round" stroke-linejoin="round"{dashed}>',
            *lines,
            f'</g>\n<g fill="{ink}">',
            *filled,
            "</g>",
        )
    )


def _n(number: float) -> str:
    """A length on paper to a thousandth of a millimetre."""
    text = f"{number:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _run(points: Iterable[Point], k: float, height: float, *, closed: bool = False) -> str:
    words = "L".join(f"{_n(x / k)} {_n(height - y / k)}" for x, y in points)
    return f'<path d="M{words}{"Z" if closed else ""}"/>'


def _line(entity: Any, k: float, height: float) -> str:
    return _run(((e.x, e.y) for e in (entity.dxf.start, entity.dxf.end)), k, height)


def _polyline(entity: Any, k: float, height: float) -> str:
    return _run(entity.get_points("xy"), k, height, closed=entity.closed)


def _circle(entity: Any, k: float, height: float) -> str:
    at, r = entity.dxf.center, entity.dxf.radius
    return f'<circle cx="{_n(at.x / k)}" cy="{_n(height - at.y / k)}" r="{_n(r / k)}"/>'


def _arc(entity: Any, k: float, height: float) -> str:
    at, r = entity.dxf.center, entity.dxf.radius
    start, end = math.radians(entity.dxf.start_angle), math.radians(entity.dxf.end_angle)
    from_, to = (
        f"{_n((at.x + r * math.cos(a)) / k)} {_n(height - (at.y + r * math.sin(a)) / k)}"
        for a in (start, end)
    )
    large = int((end - start) % math.tau > math.pi)
    return f'<path d="M{from_}A{_n(r / k)} {_n(r / k)} 0 {large} 0 {to}"/>'


def _solid(entity: Any, k: float, height: float) -> str:
    corners = [(p.x, p.y) for p in entity.vertices()]
    return _run(corners, k, height, closed=True)


def _letters(entity: Any, k: float, height: float) -> str:
    wide, outlines = placed_letters(entity.dxf.text, _font(entity))
    return f'<path transform="{_foot(entity, wide, k, height)}" d="{outlines}"/>'


def _words(entity: Any, k: float, height: float) -> str:
    font = _font(entity)
    wide, _ = placed_letters(entity.dxf.text, font)
    weight = ' font-weight="bold"' if font == BOLD else ""
    return (
        f'<text transform="{_foot(entity, wide, k, height)} scale(1 -1)"{weight} '
        f'font-family="DejaVu Sans" font-size="{_n(em_height(font))}" style="font-kerning:none">'
        f"{escape(entity.dxf.text)}</text>"
    )


def _font(entity: Any) -> str:
    return BOLD if entity.dxf.style == "BOLD" else REGULAR


def _foot(entity: Any, wide: float, k: float, height: float) -> str:
    """Where a line `wide` units long begins and which way it runs; capitals 1000 units, y up."""
    align, first, second = entity.get_placement()
    at = first if second is None else second
    size = entity.dxf.height / k
    back = {"LEFT": 0.0, "CENTER": wide / 2, "RIGHT": wide}[align.name]
    turn = math.radians(entity.dxf.rotation)
    c, s = math.cos(turn) * size / 1000, math.sin(turn) * size / 1000
    x, y = at.x / k - back * c * NARROW, height - at.y / k + back * s * NARROW
    square = " ".join(f"{value:.6g}" for value in (c * NARROW, -s * NARROW, -s, -c))
    return f"matrix({square} {_n(x)} {_n(y)})"


def _hatch(entity: Any, k: float, height: float) -> str:
    """Section lining: lines rising at 45 degrees, inside the loops of the hatch."""
    loops = [[(x / k, y / k) for x, y, *_ in path.vertices] for path in entity.paths]
    return "".join(_run(ends, 1.0, height) for ends in lining(loops))


def lining(loops: list[list[Point]]) -> list[tuple[Point, Point]]:
    """The pieces of parallel lines at 45 degrees, a fixed distance apart, inside closed loops."""
    step = _LINING * math.sqrt(2)
    sides = [(a, b) for loop in loops for a, b in zip(loop, [*loop[1:], loop[0]], strict=True)]
    offsets = [y - x for loop in loops for x, y in loop]
    pieces: list[tuple[Point, Point]] = []
    first = math.floor(min(offsets) / step) + 0.5
    for number in range(int((max(offsets) - min(offsets)) / step) + 2):
        lift = (first + number) * step
        cuts = sorted(x for side in sides for x in _crossing(*side, lift))
        ends = [(x, x + lift) for x in cuts]
        pieces.extend(zip(ends[::2], ends[1::2], strict=True))
    return pieces


def _crossing(a: Point, b: Point, lift: float) -> tuple[float, ...]:
    """Where the side from `a` to `b` crosses the line y = x + lift; an end counts once."""
    over, under = a[1] - a[0] - lift, b[1] - b[0] - lift
    if (over > 0) == (under > 0):
        return ()
    return (a[0] + over / (over - under) * (b[0] - a[0]),)


_DRAWN: dict[str, Callable[[Any, float, float], str]] = {
    "LINE": _line,
    "LWPOLYLINE": _polyline,
    "CIRCLE": _circle,
    "ARC": _arc,
    "SOLID": _solid,
    "TEXT": _letters,
    "HATCH": _hatch,
}
