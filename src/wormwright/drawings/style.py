"""The drafting style: paper, scales, lettering, line widths. All sizes mm on paper.

Sources (from memory): paper and border ISO 5457, scales ISO 5455, lettering ISO 3098, lines
ISO 128, first and third angle ISO 5456-2.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from wormwright.job.rotary import Sheet, Units

DIM_HEIGHT = 3.5
OTHER_HEIGHT = 2.5
LABEL_HEIGHT = 3.5
NOTE_HEIGHT = 2.0
NOTE_PITCH = 3.35
SMALL_HEIGHT = 1.8
ARROW = 3.0
GAP = 1.0
OVERRUN = 1.5
FRAME_WIDTH, FRAME_HEIGHT = 0.5, 7.0

OUTLINE, THIN, HIDDEN, CENTRE = "OUTLINE", "THIN", "HIDDEN", "CENTRE"
HATCH, DIMENSION, OTHER_UNIT, BORDER, ACCENT = (
    "HATCH",
    "DIMENSION",
    "OTHER-UNIT",
    "BORDER",
    "ACCENT",
)

BLACK = 0x000000
GREY = 0x6B6B6B
BLUE = 0x0B5FA5

LAYERS: tuple[tuple[str, int, int, str], ...] = (
    (OUTLINE, BLACK, 50, "CONTINUOUS"),
    (THIN, BLACK, 25, "CONTINUOUS"),
    (HIDDEN, BLACK, 25, "DASHED-LINE"),
    (CENTRE, BLACK, 25, "CENTRE-LINE"),
    (HATCH, BLACK, 18, "CONTINUOUS"),
    (DIMENSION, BLACK, 25, "CONTINUOUS"),
    (OTHER_UNIT, GREY, 25, "CONTINUOUS"),
    (BORDER, BLACK, 50, "CONTINUOUS"),
    (ACCENT, BLUE, 35, "CONTINUOUS"),
)
"""Layer name, colour (RGB), line width in 1/100 mm, line type."""

LINE_TYPES: tuple[tuple[str, tuple[float, ...]], ...] = (
    ("DASHED-LINE", (3.0, -1.2)),
    ("CENTRE-LINE", (7.0, -1.2, 0.8, -1.2)),
)
"""Dashes (+) and gaps (-) in mm on paper."""

SCALES: tuple[Fraction, ...] = tuple(
    Fraction(*pair)
    for pair in ((10, 1), (5, 1), (2, 1), (1, 1), (1, 2), (2, 5), (1, 5), (1, 10), (1, 20), (1, 50))
)
"""The scales of ISO 5455, largest first, with 1:2.5 for parts too large for 1:2."""

DETAIL_SCALES = tuple(Fraction(n) for n in (2, 5, 10, 20, 50, 100, 200, 500))
SEEN_ON_PAPER = 0.5
"""Below this a distance cannot be seen on paper and is drawn as an enlarged detail."""


@dataclass(frozen=True, slots=True)
class SheetStyle:
    """Which unit system leads, and the paper in the printer. A4: first angle; letter: third."""

    units: Units = "mm"
    sheet: Sheet = "A4"

    @property
    def first_angle(self) -> bool:
        """First-angle projection on A4, third-angle on letter paper."""
        return self.sheet == "A4"


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle on paper."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        """Width on paper."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """Height on paper."""
        return self.top - self.bottom


@dataclass(frozen=True, slots=True)
class Paper:
    """A sheet in landscape with its border."""

    name: str
    width: float
    height: float
    border: Box


PAPERS: dict[Sheet, Paper] = {
    "A4": Paper("A4", 297.0, 210.0, Box(20.0, 10.0, 287.0, 200.0)),
    "letter": Paper("letter", 279.4, 215.9, Box(10.0, 10.0, 269.4, 205.9)),
}


def largest_scale(room_width: float, room_height: float, width: float, height: float) -> Fraction:
    """The largest standard scale at which `width` x `height` mm fits the room on paper."""
    for scale in SCALES:
        if float(scale) * width <= room_width and float(scale) * height <= room_height:
            return scale
    raise ValueError(
        f"part of {width:.0f} x {height:.0f} mm does not fit the sheet even at "
        f"{scale_text(SCALES[-1])}; check its sizes"
    )


def detail_scale(distance: float, wanted: float) -> Fraction:
    """The smallest enlargement at which `distance` mm is at least `wanted` mm on paper."""
    for scale in DETAIL_SCALES:
        if float(scale) * distance >= wanted:
            return scale
    return DETAIL_SCALES[-1]


def scale_text(scale: Fraction) -> str:
    """A scale as written: `2:1`, `1:2.5`."""
    if scale < 1:
        return f"1:{float(1 / scale):g}"
    return f"{scale.numerator}:{scale.denominator}"
