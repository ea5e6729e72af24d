"""What the sheets are drawn on: points and sizes in mm on paper, entities in true size.

The DXF holds the part in true size (1 unit = 1 mm). At a scale of 1:2 the sheet around it is
therefore drawn twice as large. `Pen` does that one conversion; everything else speaks paper.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Literal

from wormwright.drawings import style
from wormwright.drawings.lettering import BOLD, NARROW, REGULAR, drawing_library

if TYPE_CHECKING:
    from ezdxf.document import Drawing as DxfDocument
    from ezdxf.layouts.base import BaseLayout

Point = tuple[float, float]
Align = Literal["left", "centre", "right"]
DIMENSION_STYLE = "SHOP"


def clean(words: str) -> str:
    """Words as one printable line; codes that a CAD program would act on are broken up."""
    line = " ".join(words.split())
    line = "".join(sign for sign in line if sign.isprintable())
    return line.replace("%%", "% %").replace("^", "ˆ")


class Pen:
    """Draws on one layout or block."""

    def __init__(self, layout: BaseLayout, per_paper_mm: float) -> None:
        self.layout = layout
        self.k = per_paper_mm

    def true(self, point: Point) -> Point:
        """A paper point as stored in the DXF."""
        return (point[0] * self.k, point[1] * self.k)

    def line(self, start: Point, end: Point, layer: str) -> None:
        """A straight line."""
        self.layout.add_line(self.true(start), self.true(end), dxfattribs={"layer": layer})

    def path(self, points: Sequence[Point], layer: str, *, closed: bool = False) -> None:
        """A run of straight lines."""
        self.layout.add_lwpolyline(
            [self.true(point) for point in points], close=closed, dxfattribs={"layer": layer}
        )

    def circle(self, centre: Point, radius: float, layer: str) -> None:
        """A full circle."""
        self.layout.add_circle(self.true(centre), radius * self.k, dxfattribs={"layer": layer})

    def arc(self, centre: Point, radius: float, start: float, end: float, layer: str) -> None:
        """An arc, counter-clockwise from angle `start` to angle `end` [rad]."""
        self.layout.add_arc(
            self.true(centre),
            radius * self.k,
            math.degrees(start),
            math.degrees(end),
            dxfattribs={"layer": layer},
        )

    def filled(self, corners: Sequence[Point], layer: str) -> None:
        """A filled triangle or four-sided figure."""
        points = [self.true(corner) for corner in corners]
        if len(points) == 4:
            points[2], points[3] = points[3], points[2]
        self.layout.add_solid(points, dxfattribs={"layer": layer})

    def dot(self, centre: Point, radius: float, layer: str) -> None:
        """A filled dot."""
        ring = [
            (centre[0] + radius * math.cos(a), centre[1] + radius * math.sin(a))
            for a in (math.radians(step) for step in range(0, 360, 30))
        ]
        for first, second in zip(ring, [*ring[1:], ring[0]], strict=True):
            self.filled((centre, first, second), layer)

    def arrow_head(self, tip: Point, towards: float, layer: str) -> None:
        """A closed filled arrow head with its tip at `tip`, pointing at angle `towards` [rad]."""
        back = (tip[0] - style.ARROW * math.cos(towards), tip[1] - style.ARROW * math.sin(towards))
        half = style.ARROW / 6
        side = (-half * math.sin(towards), half * math.cos(towards))
        self.filled(
            (tip, (back[0] + side[0], back[1] + side[1]), (back[0] - side[0], back[1] - side[1])),
            layer,
        )

    def text(
        self,
        words: str,
        at: Point,
        height: float,
        *,
        layer: str = style.DIMENSION,
        bold: bool = False,
        align: Align = "left",
        rotation: float = 0.0,
    ) -> None:
        """One line of text; `at` is on its baseline, `rotation` in rad."""
        from ezdxf.enums import TextEntityAlignment as Anchor  # noqa: PLC0415  (slow)

        if not clean(words):
            return
        anchor = {"left": Anchor.LEFT, "centre": Anchor.CENTER, "right": Anchor.RIGHT}[align]
        self.layout.add_text(
            clean(words),
            height=height * self.k,
            rotation=math.degrees(rotation),
            dxfattribs={"layer": layer, "style": "BOLD" if bold else "PLAIN", "width": NARROW},
        ).set_placement(self.true(at), align=anchor)


@dataclass(frozen=True, slots=True)
class View:
    """A view of the part: part mm to paper mm. `mirrored` turns x over."""

    origin: Point
    scale: float
    mirrored: bool = False

    def at(self, x: float, y: float) -> Point:
        """The paper point of a part point."""
        across = -x if self.mirrored else x
        return (self.origin[0] + across * self.scale, self.origin[1] + y * self.scale)

    def polar(self, radius: float, angle: float) -> Point:
        """The paper point at `radius` mm and `angle` rad from the origin."""
        return self.at(radius * math.cos(angle), radius * math.sin(angle))


class Canvas:
    """A DXF document with our layers, lettering and dimension style, and a pen on it."""

    def __init__(self, scale: Fraction) -> None:
        self.scale = scale
        self.k = float(1 / scale)
        self.document = self._document()
        self.pen = Pen(self.document.modelspace(), self.k)

    def _document(self) -> DxfDocument:
        document: DxfDocument = drawing_library().new("R2010", setup=False, units=4)
        document.header["$MEASUREMENT"] = 1
        for name, dashes in style.LINE_TYPES:
            pattern = [sum(abs(d) for d in dashes) * self.k, *(d * self.k for d in dashes)]
            document.linetypes.add(name, pattern)
        for layer, colour, width, line_type in style.LAYERS:
            entry = document.layers.add(layer, color=7, linetype=line_type, lineweight=width)
            if colour:
                entry.rgb = (colour >> 16, colour >> 8 & 0xFF, colour & 0xFF)
        document.styles.add("PLAIN", font=REGULAR)
        document.styles.add("BOLD", font=BOLD)
        self._dimension_style(document)
        return document

    def _dimension_style(self, document: DxfDocument) -> None:
        entry = document.dimstyles.new(DIMENSION_STYLE)
        entry.dxf.dimscale = self.k
        entry.dxf.dimlfac = 1.0
        entry.dxf.dimdsep = ord(".")
        entry.dxf.dimtxt = style.DIM_HEIGHT
        entry.dxf.dimtxsty = "BOLD"
        entry.dxf.dimasz = style.ARROW
        entry.dxf.dimgap = style.GAP
        entry.dxf.dimexo = style.GAP
        entry.dxf.dimexe = style.OVERRUN
        entry.dxf.dimtad = 1
        entry.dxf.dimdec = 3
        entry.dxf.dimzin = 0
        entry.set_arrows(blk="", blk1="", blk2="", ldrblk="")

    def hatch(self, loop: Sequence[Point]) -> None:
        """Section lining at 45 degrees inside a closed run of points."""
        figure = self.document.modelspace().add_hatch(dxfattribs={"layer": style.HATCH})
        figure.set_pattern_fill("ANSI31", scale=0.5 * self.k, color=256)
        figure.paths.add_polyline_path([self.pen.true(point) for point in loop], is_closed=True)
