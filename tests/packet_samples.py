"""Invented blocks and documents for the tests of packet and charts. No figure is a real unit's."""

from __future__ import annotations

import math

import numpy as np

from wormwright.job.blocks import (
    Bar,
    Block,
    BluePicture,
    BlueState,
    Cautions,
    Cell,
    ClosingPlane,
    ContributorBars,
    Doubts,
    FlankMark,
    Heading,
    OperationBlock,
    Paragraph,
    PartDrawing,
    Plot,
    PolarMap,
    SectionPicture,
    Steps,
    Table,
    Trace,
)
from wormwright.job.corrections import ClosingPicture, SettingRow
from wormwright.job.parts import EccentricBushing, Limits, ShimRing, WormRelief
from wormwright.job.result import Doubt, Estimate
from wormwright.packet import Document
from wormwright.quantities import Dimension

ARCMIN = math.radians(1 / 60)
HOSTILE = (
    "#panic() $x^2$ <script>alert(1)</script> \\evil{a} {{ 7*7 }} {% raw %} *bold* _it_ `code` "
    "@ref <label> \"quoted\" 'single' & &amp; \x1b[31mred\x00 \u202egnirts\u202c 🔧🛠️ "
    + "Unbreakable"
    * 30
)


def estimate(
    value: float, u: float, dimension: Dimension = "angle", *, skew: float = 0.0
) -> Estimate:
    """An estimate with its 95 % interval; `skew` shifts the interval upward by parts of u."""
    low, high = value - (2 - skew) * u, value + (2 + skew) * u
    return Estimate(value, u, max(0.0, low), high, dimension, "invented")


def arcmin(value: float, u: float, *, skew: float = 0.0) -> Estimate:
    """The same in minutes of arc."""
    return estimate(value * ARCMIN, u * ARCMIN, skew=skew)


def contributor_bars() -> ContributorBars:
    """A full set of causes, one of them not predicted."""
    causes = (
        ("Mesh backlash between worm and wheel", arcmin(6.2, 0.5), arcmin(1.6, 0.4)),
        ("Worm end play against the housing", arcmin(3.1, 0.2), arcmin(0.3, 0.15, skew=1)),
        ("Worm float in its bearings, toward the wheel", arcmin(1.1, 0.4), arcmin(0.9, 0.4)),
        ("Table shaft, radial play", arcmin(1.4, 0.5, skew=0.5), arcmin(0.4, 0.3, skew=1)),
        ("Table shaft, axial play", arcmin(0.3, 0.2, skew=1), arcmin(0.1, 0.1, skew=1.5)),
        ("Wheel-to-table joint", arcmin(0.4, 0.3, skew=1), None),
        ("Not explained by any reading", arcmin(0.5, 0.4, skew=1), None),
    )
    return ContributorBars(
        "Where the lost motion comes from",
        tuple(Bar(label, found, after) for label, found, after in causes),
        arcmin(13.0, 0.4),
        4.5 * ARCMIN,
        arcmin(3.8, 0.5),
    )


def polar_map(*, refused: bool = False) -> PolarMap:
    """A map with one tight spot at 215 degrees, and eight readings."""
    angles = np.linspace(0.0, 2 * math.pi, 181)
    mean = ARCMIN * (12.0 - 4.0 * np.cos(angles - math.radians(215)))
    at = np.arange(8) * math.pi / 4
    wobble = np.array([0.3, -0.2, 0.1, 0.4, -0.3, 0.0, 0.2, -0.1])
    value = ARCMIN * (12.0 - 4.0 * np.cos(at - math.radians(215)) + wobble)
    spot = Estimate(
        math.radians(215),
        math.radians(7),
        math.radians(201),
        math.radians(229),
        "angle",
        "invented",
    )
    return PolarMap(
        "Lost motion round the turn",
        angles,
        mean,
        mean - 0.9 * ARCMIN,
        mean + 0.9 * ARCMIN,
        at,
        value,
        None if refused else spot,
    )


def turn_plot() -> Plot:
    """Errors of twelve positions round the turn with their interval, and those of an artefact."""
    at = np.arange(12) * math.pi / 6
    table = ARCMIN * (0.4 * np.cos(at - 1.0) + 0.1 * np.cos(3 * at))
    square = ARCMIN * 0.2 * np.sin(2 * at)
    return Plot(
        "Errors round the turn",
        "Error of each position and of the artefact, as dots and crosses.",
        "table angle",
        "angle",
        "error",
        "angle",
        (
            Trace("table", at, table, "dots", np.full(12, 0.06 * ARCMIN), numbers=True),
            Trace("artefact", at, square, "crosses", np.full(12, 0.06 * ARCMIN), numbers=True),
        ),
        limits=(("allowed", 0.5 * ARCMIN),),
    )


def circle_plot() -> Plot:
    """A runout trace round the turn, its fitted circle and what is left."""
    at = np.arange(12) * math.pi / 6
    fine = np.linspace(0.0, 2 * math.pi, 181)
    read = 0.02 * np.cos(at - 0.5) + 0.003 * np.cos(3 * at)
    return Plot(
        "Register, round the turn",
        "Readings as dots, the circle through them as a line.",
        "table angle",
        "angle",
        "reading",
        "length",
        (
            Trace("circle", fine, 0.02 * np.cos(fine - 0.5)),
            Trace("readings", at, read, "dots", numbers=True),
        ),
        polar=True,
    )


def closing_plane() -> ClosingPlane:
    """A throw of 0.35 mm turned 62 degrees from pointing at the wheel."""
    sideways = np.linspace(-0.5, 0.5, 61)
    closing = np.linspace(-0.5, 0.5, 61)
    across, toward = np.meshgrid(sideways, closing)
    play = 0.12
    hob_equal = play - 2 * 0.26 * (0.97 * toward + 0.25 * np.abs(across))
    helical = play - 2 * 0.26 * toward
    oversize = play - 2 * 0.26 * (toward + 0.3 * across**2)
    picture = ClosingPicture(
        throw=0.35,
        closing=estimate(0.165, 0.018, "length"),
        sideways_to_throat=Estimate(0.02, 0.05, -0.08, 0.12, "length", "invented"),
        sideways_tolerance=(("hob-equal", 0.14), ("oversize-hob", 0.21), ("helical", 3.0)),
        tip_limit_closing=0.28,
        fit_clearance=0.016,
        grid_sideways=sideways,
        grid_closing=closing,
        contours=(("hob-equal", hob_equal), ("oversize-hob", oversize), ("helical", helical)),
        chosen_angle=math.radians(62),
    )
    return ClosingPlane("Where the worm line can stand", picture)


def section_picture() -> SectionPicture:
    """The bushing of the drawing, seen from its flange."""
    return SectionPicture(
        "The bushing in its bore, seen from the motor side",
        bushing_outside=35.0,
        bushing_bore=26.0,
        throw=0.35,
        angle=math.radians(62),
        worm_outside=31.0,
        wheel_direction=-math.pi / 2,
    )


def blue_picture() -> BluePicture:
    """A mark in the middle, one at opposite ends, and a worm that has bottomed."""

    def flank(middle: float, *, radii: int = 9) -> FlankMark:
        z, up = np.meshgrid(np.linspace(-6.0, 6.0, 13), np.linspace(0.0, 1.0, radii), indexing="ij")
        root = 0.02 * z[:, 0] ** 2
        height = root[:, None] + 0.5 + 2.5 * up
        gap = 0.001 * (z - middle) ** 2
        gap[:, 0] = np.inf
        return FlankMark(z, height, gap, root, height[:, -1], f"middle at {middle:g}")

    crest = 0.002 * np.linspace(-6.0, 6.0, 13) ** 2
    states = (
        BlueState("As set", flank(0.0), flank(0.0), "This is the mark to work to."),
        BlueState("Too far out, by 0.30 mm", flank(-5.0), flank(5.0, radii=14), "Bring it closer."),
        BlueState("Bottomed on the crest", flank(0.5), flank(-0.5), "Move apart.", crest),
    )
    return BluePicture("Marks of blue on one tooth", 0.008, 1, states)


def bushing() -> EccentricBushing:
    """An eccentric bushing for an existing 35 mm housing bore."""
    return EccentricBushing(
        side="A",
        outside=Limits(35.0, -0.002, -0.008, "fitted to the measured bore"),
        bore=Limits(26.0, 0.021, 0.0, "H7"),
        throw=0.35,
        throw_tolerance=0.01,
        length=14.0,
        flange_outside=48.0,
        flange_thickness=5.0,
        bearing_depth=8.0,
        shoulder_bore=20.0,
        wall_thin=4.15,
        wall_thick=4.85,
        mark_angle=0.0,
        start_angle=math.radians(62),
        work_range=(math.radians(40), math.radians(85)),
        slot_circle=41.0,
        slot_width=4.4,
        slot_sweep=math.radians(60),
        material="bronze or steel, free turning",
        bearing="6803",
    )


def shim() -> ShimRing:
    """A shim built from two pieces of stock."""
    return ShimRing(
        name="worm shim",
        purpose="end float of the worm",
        inside=Limits(26.5, 0.2, 0.0),
        outside=Limits(34.5, 0.0, -0.2),
        thickness=Limits(0.35, 0.005, -0.005),
        material="shim steel",
        stack=(0.25, 0.1),
    )


def relief() -> WormRelief:
    """A worm turned down by two tenths."""
    return WormRelief(
        outside_before=31.0,
        outside=Limits(30.8, 0.0, -0.05),
        length=42.0,
        lead_angle=math.radians(3.07),
        axial_pitch=4.712,
        shaft_diameter=17.0,
        hand="right",
    )


def operation() -> OperationBlock:
    """One operation with two gates, one already read."""
    return OperationBlock(
        number="8",
        title="Final depth at the tight spot",
        state="next",
        cautions=("Motor unplugged. Keep fingers out of the mesh while the table is rocked.",),
        tools=("indicator 0.001 mm", "C-spanner", "drag wrench"),
        do=(
            "Turn the table to the tight spot, 215 degrees, by whole worm turns.",
            "Turn both bushings together, a little at a time, until the rock reads the gate value.",
            "Lock both bushings with the indicator still on the table; read again LOCKED.",
        ),
        read=("Rock on two opposite pins at 100 mm.", "Drag in mesh, both directions."),
        gates=(
            ("Rock at the tight spot, locked", "0.020 mm to 0.060 mm at 100 mm", ""),
            ("Drag in mesh, peak over median", "2.0 or less", "1.6"),
        ),
        makes_stale="rock; drag in mesh",
        go_back="Loosen both locks, turn both bushings back to the witness mark.",
        sign="",
    )


def figures_table() -> Table:
    """A table with estimates, a bare number, both units and words."""
    return Table(
        "What was found",
        ("What", "Found", "Remark"),
        (
            (
                Cell("Worm end play"),
                Cell(estimate=estimate(0.082, 0.006, "length"), both=True),
                Cell("measured"),
            ),
            (
                Cell("Lost motion, mean"),
                Cell(estimate=arcmin(13.0, 0.4)),
                Cell("from eight rock readings"),
            ),
            (
                Cell("Centre distance"),
                Cell(number=54.12, dimension="length", resolution=0.02, both=True),
                Cell("by caliper; the words of a long remark have to wrap inside their column"),
            ),
        ),
        "found",
    )


def doubts() -> Doubts:
    """One of each action."""
    return Doubts(
        (
            Doubt(
                "refuse",
                "E-3",
                "Row 7 has no pin radius.",
                "Angle = travel / radius.",
                "Measure it.",
                (7,),
            ),
            Doubt(
                "ask",
                "E-1",
                "Row 9 is 25.4 times its neighbours.",
                "A mm/inch slip.",
                "Read again.",
                (9,),
            ),
            Doubt(
                "warn",
                "E-6",
                "The first position reads 9 µm more at the end.",
                "Drift.",
                "Fix the stand.",
            ),
        )
    )


def every_block() -> tuple[Block, ...]:
    """One of every block kind."""
    return (
        Heading("What we found"),
        Heading("In short", 2),
        Paragraph("Half of the lost motion sits in the mesh.", strong=True),
        Paragraph("The rest is mostly worm end play, which a shim takes out in an hour."),
        Cautions(("Unplug the motor.", "Wear eye protection when turning bronze.")),
        doubts(),
        figures_table(),
        contributor_bars(),
        polar_map(),
        turn_plot(),
        circle_plot(),
        closing_plane(),
        section_picture(),
        blue_picture(),
        Steps(("Clean the bore.", "Oil the bushing.", "Slide it in by hand."), ticks=True),
        operation(),
        PartDrawing("Bushing for the motor side", "bushing-a", bushing()),
        PartDrawing("Shim for the worm", "worm-shim", shim()),
        PartDrawing("Worm turned down", "worm-relief", relief()),
    )


def document(*blocks: Block, title: str = "Report", bench: bool = False) -> Document:
    """A made-up document of those blocks, or of one of every kind."""
    return Document(title, "Unit RT-6 no. 1", True, blocks or every_block(), "1 March 2026", bench)


def hostile_blocks() -> tuple[Block, ...]:
    """Every text field of the plain blocks filled with text that is code somewhere."""
    word = HOSTILE
    return (
        Heading(word),
        Heading(word, 2),
        Paragraph(word, strong=True),
        Paragraph(word),
        Cautions((word,)),
        Doubts((Doubt("ask", word, word, word, word, (1,)),)),
        Table(word, (word, "b"), ((Cell(word), Cell(estimate=arcmin(1, 0.1))),), word),
        Steps((word,), ticks=True),
        OperationBlock(
            word,
            word,
            word,
            (word,),
            (word,),
            (word,),
            (word,),
            ((word, word, word),),
            word,
            word,
            word,
        ),
        ContributorBars(word, (Bar(word, arcmin(1, 0.1)),), arcmin(2, 0.1)),
    )


def setting_rows() -> tuple[SettingRow, ...]:
    """A setting chart of three angles on each side."""
    rows = []
    for degrees in (-75, -62, -40, 40, 62, 75):
        angle = math.radians(degrees)
        rows.append(
            SettingRow(
                angle=angle,
                closing=0.35 * math.cos(angle),
                sideways=0.35 * math.sin(angle),
                backlash_hob_equal=0.02,
                backlash_oversize=0.035,
                backlash_helical=0.034,
                tip_clearance=None if degrees == 75 else 0.15,
                indicator_a=0.186,
                indicator_b=0.185,
                false_tight=degrees == 75,
            )
        )
    return tuple(rows)
