"""Parts that the drawing tests draw: ordinary ones, the smallest and the largest."""

from __future__ import annotations

import io
import math
from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache
from typing import TYPE_CHECKING, Any, Literal, NamedTuple

from drawings.further_parts import FURTHER
from wormwright.drawings import Drawing, SheetStyle, TitleBlock, draw_part
from wormwright.drawings.lettering import drawing_library
from wormwright.job.parts import EccentricBushing, Limits, Part, ShimRing, WormRelief

if TYPE_CHECKING:
    from ezdxf.document import Drawing as DxfDocument

TITLE = TitleBlock("RT-6 no. 2", "garage router", "RT6-01", "2025-03-01", "1 of 4", made_up=True)
STYLES = (SheetStyle("mm", "A4"), SheetStyle("in", "letter"))


def bushing(side: Literal["A", "B"] = "A", **changed: Any) -> EccentricBushing:
    """A bushing for a 47 mm housing; the mark stands mirrored on B."""
    sizes: dict[str, Any] = {
        "side": side,
        "outside": Limits(47.0, -0.009, -0.025, "g6"),
        "bore": Limits(35.0, 0.011, -0.005, "J6"),
        "throw": 0.4,
        "throw_tolerance": 0.01,
        "length": 18.0,
        "flange_outside": 66.0,
        "flange_thickness": 5.0,
        "bearing_depth": 11.0,
        "shoulder_bore": 30.0,
        "wall_thin": 5.6,
        "wall_thick": 6.4,
        "mark_angle": math.radians(30 if side == "A" else -30),
        "start_angle": math.radians(20),
        "work_range": (math.radians(-10), math.radians(60)),
        "slot_circle": 56.0,
        "slot_width": 4.5,
        "slot_sweep": math.radians(40),
        "material": "steel 11SMn30",
        "bearing": "6003 (17 x 35 x 10)",
    }
    return EccentricBushing(**{**sizes, **changed})


def small(side: Literal["A", "B"] = "A", **changed: Any) -> EccentricBushing:
    """A Ø20 bushing."""
    sizes: dict[str, Any] = {
        "outside": Limits(20.0, -0.007, -0.02, "g6"),
        "bore": Limits(16.0, 0.008, -0.003, "J6"),
        "throw": 0.05,
        "throw_tolerance": 0.005,
        "length": 10.0,
        "flange_outside": 32.0,
        "flange_thickness": 3.0,
        "bearing_depth": 5.0,
        "shoulder_bore": 13.0,
        "wall_thin": 1.95,
        "wall_thick": 2.05,
        "slot_circle": 26.0,
        "slot_width": 2.7,
        "slot_count": 2,
    }
    return bushing(side, **{**sizes, **changed})


def large(side: Literal["A", "B"] = "A", **changed: Any) -> EccentricBushing:
    """A Ø120 bushing."""
    sizes: dict[str, Any] = {
        "outside": Limits(120.0, 0.008, 0.0),
        "bore": Limits(90.0, 0.035, 0.0, "H7"),
        "throw": 2.0,
        "throw_tolerance": 0.02,
        "length": 45.0,
        "flange_outside": 160.0,
        "flange_thickness": 12.0,
        "bearing_depth": 30.0,
        "shoulder_bore": 80.0,
        "wall_thin": 13.0,
        "wall_thick": 17.0,
        "slot_circle": 140.0,
        "slot_width": 8.5,
        "slot_sweep": math.radians(25),
        "slot_count": 4,
    }
    return bushing(side, **{**sizes, **changed})


SHIM = ShimRing(
    "Worm end-float shim",
    "Worm end float at A: between the cover and the outer ring. Taking it out tightens.",
    Limits(29.0, 0.1, 0.0),
    Limits(34.8, 0.0, -0.1),
    Limits(0.35, 0.005, -0.005),
    "shim steel",
    stack=(0.25, 0.1),
)
THICK_SHIM = ShimRing(
    "Table shim",
    "Under the retainer: a thicker ring loosens the table.",
    Limits(120.0, 0.2, 0.0),
    Limits(150.0, 0.0, -0.2),
    Limits(3.214, 0.004, -0.004),
    "ground flat stock",
)
HOLED_SHIM = ShimRing(
    "Worm shim",
    "Worm end play: lies under the flange of the cover; thinner tightens",
    Limits(28.6, 0.2, 0.0),
    Limits(45.9, 0.0, -0.2),
    Limits(0.259, 0.005, -0.005),
    "shim steel",
    stack=(0.03, 0.03, 0.2),
    holes=3,
    hole=3.5,
    circle=37.0,
    touches="Lies flat between cover and housing",
    stack_least=0.234,
    stack_most=0.292,
)
RELIEF = WormRelief(
    32.6,
    Limits(32.2, 0.0, -0.05),
    38.0,
    math.radians(4.2),
    4.712,
    20.0,
    "right",
    "case-hardened steel",
)

PARTS: dict[str, Part] = {
    "A": bushing("A"),
    "wordy fits": bushing(
        "B",
        outside=Limits(35.004, -0.002, -0.008, "to the measured bore, 2 to 8 µm clearance"),
        bore=Limits(26.0, 0.0065, -0.0065, "JS6: the outer ring must slide for preload"),
        throw=0.237,
        throw_tolerance=0.005,
        length=12.0,
        flange_outside=59.5,
        bearing_depth=13.0,
        shoulder_bore=23.9,
        wall_thin=4.265,
        wall_thick=4.739,
        mark_angle=0.0,
        slot_circle=47.0,
        slot_sweep=math.radians(97.3),
        bearing="61901 deep groove ball bearing, 12 x 24 x 6, shielded both sides",
    ),
    "B": bushing("B"),
    "mark on the throw line": bushing("A", mark_angle=0.0, throw=0.6),
    "mark opposite": bushing("B", mark_angle=math.pi, start_angle=0.0),
    "mark at 90": bushing("B", mark_angle=-math.pi / 2, start_angle=-0.3, throw=1.2),
    "seat from the inner end": bushing("A", seat_opens="inner end"),
    "round holes": bushing("B", slot_sweep=0.0, slot_count=6),
    "small, throw 0.05": small("A"),
    "small, throw 2": small("B", throw=2.0, bore=Limits(14.0, 0.011, 0.0), shoulder_bore=10.0),
    "large, throw 2": large("A"),
    "large, throw 0.05": large("B", throw=0.05, seat_opens="inner end"),
    "long": bushing("A", length=60.0, bearing_depth=12.0),
    "shim": SHIM,
    "thick shim": THICK_SHIM,
    "shim with screw holes": HOLED_SHIM,
    "shim with six holes": replace(
        HOLED_SHIM, holes=6, stack=(), stack_most=0.0, thickness=Limits(2.4, 0.1, 0.0)
    ),
    "relief": RELIEF,
    "long relief": WormRelief(
        60.0, Limits(59.1, 0.0, -0.03), 90.0, math.radians(3), 9.42, 35.0, "left"
    ),
    **FURTHER,
}
CASES = [(name, style) for name in PARTS for style in STYLES]


@lru_cache(maxsize=128)
def drawn(name: str, style: SheetStyle) -> Drawing:
    """The sheet of a part above."""
    return draw_part(PARTS[name], TITLE, style)


@lru_cache(maxsize=128)
def document(name: str, style: SheetStyle) -> DxfDocument:
    """The DXF of it, read back."""
    return read(drawn(name, style))


def read(drawing: Drawing) -> DxfDocument:
    """A DXF read back from its text."""
    made: DxfDocument = drawing_library().read(io.StringIO(drawing.dxf))
    return made


class Extent(NamedTuple):
    """A rectangle on paper, with the text in it if it is one."""

    left: float
    bottom: float
    right: float
    top: float
    words: str = ""


def entities(doc: DxfDocument) -> Iterator[Any]:
    """Everything drawn, the pictures of the dimensions taken apart."""
    for entity in doc.modelspace():
        if entity.dxftype() == "DIMENSION":
            yield from doc.blocks.get(entity.dxf.geometry)
        else:
            yield entity


def paper_per_unit(doc: DxfDocument) -> float:
    """mm on paper per drawing unit: the scale of the sheet."""
    return 1 / float(doc.dimstyles.get("SHOP").dxf.dimscale)


def extent(entity: Any, scale: float) -> Extent:
    """Where an entity lies on paper."""
    from ezdxf.bbox import extents  # noqa: PLC0415  (after the fonts are set)

    box = extents([entity])
    words = entity.dxf.text if entity.dxftype() == "TEXT" else ""
    low, high = box.extmin * scale, box.extmax * scale
    return Extent(low.x, low.y, high.x, high.y, words)
