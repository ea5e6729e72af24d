"""The correct stage as report blocks."""

from __future__ import annotations

import math

from wormwright.core.eccentric import seen_from_own_face
from wormwright.job.blocks import (
    Block,
    Cell,
    ClosingPlane,
    Doubts,
    Heading,
    Paragraph,
    PartDrawing,
    SectionPicture,
    Steps,
    Table,
)
from wormwright.job.corrections import Correction, Plan, Remedy
from wormwright.job.parts import EccentricBushing, Part, ShimRing
from wormwright.job.rotary import Job
from wormwright.stages.correct.bushing import INNER_BUSHING
from wormwright.stages.correct.wording import arc, percent, small_percent, turn

MICRON = 0.001


def report(remedy: Remedy, job: Job) -> tuple[Block, ...]:
    """What to make, whether it will be enough, and what the bench needs for it."""
    blocks: list[Block] = [
        Heading("What to make, and whether it will be enough"),
        _verdict(remedy, job),
        _plans(remedy),
    ]
    blocks += [Paragraph(line) for line in _remarks(remedy)]
    if remedy.chosen is not None:
        for correction in remedy.chosen.corrections:
            blocks += _correction(correction)
        if any(c.key == "bushings" for c in remedy.chosen.corrections):
            blocks += _setting(remedy)
    if remedy.doubts:
        blocks += [Heading("Before you cut metal", 2), Doubts(remedy.doubts)]
    return tuple(blocks)


def _verdict(remedy: Remedy, job: Job) -> Paragraph:
    allowed = f"Allowed at the table: {arc(remedy.allowed_lost_motion)}."
    chosen = remedy.chosen
    if chosen is None:
        return Paragraph(f"{allowed} No plan can be offered; see the reasons below.", strong=True)
    chance = percent(chosen.p_meets_duty)
    if chosen.p_meets_duty < job.duty.probability:
        return Paragraph(
            f"{allowed} Nothing here meets it surely. Best: {chosen.label}; chance {chance}.",
            strong=True,
        )
    return Paragraph(f"{allowed} {chosen.label}: chance of meeting it {chance}.", strong=True)


def _plans(remedy: Remedy) -> Table:
    rows = tuple(_plan_row(p, chosen=p is remedy.chosen) for p in remedy.plans)
    return Table(
        "Plans by effort, with the lost motion they should leave",
        (
            "plan",
            "tightest",
            "mean",
            "loosest",
            "meets the duty",
            "binds",
            "minutes",
            "verdict",
        ),
        rows,
        key="plans",
    )


def _plan_row(plan: Plan, *, chosen: bool) -> tuple[Cell, ...]:
    label = f"{plan.label} (taken)" if chosen else plan.label
    return (
        Cell(label),
        Cell(estimate=plan.tight),
        Cell(estimate=plan.mean),
        Cell(estimate=plan.loose),
        Cell(percent(plan.p_meets_duty)),
        Cell(small_percent(plan.p_jam)),
        Cell(f"{plan.minutes:.0f}"),
        Cell(plan.reason),
    )


def _remarks(remedy: Remedy) -> list[str]:
    lines = []
    if remedy.limits_it:
        lines.append("Still there afterwards: " + "; ".join(remedy.limits_it) + ".")
    lines += remedy.advice
    if remedy.strategy_reason:
        lines.append(f"Depth of the mesh: {remedy.strategy_reason}")
    lines += [f"Not taken: {name}, because {why}." for name, why in remedy.rejected_strategies]
    if remedy.not_measured:
        lines.append("Not measured: " + ", ".join(remedy.not_measured) + ".")
    lines.append(
        "Tightest is as set, cold. Mean and loosest are after the edges have bedded in; the chance "
        "counts the warm mesh as well."
    )
    return lines


def _correction(correction: Correction) -> list[Block]:
    blocks: list[Block] = [Heading(correction.label, 2), Paragraph(correction.why)]
    if correction.sizes:
        rows = tuple(
            (Cell(name), Cell(estimate=size, both=size.dimension == "length"))
            for name, size in correction.sizes
        )
        blocks.append(Table("Sizes", ("what", "size"), rows, key=f"sizes {correction.key}"))
    blocks.append(Steps(correction.steps, ticks=True))
    blocks += [PartDrawing(_caption(p), _name(p), p) for p in correction.parts]
    if correction.doubts:
        blocks.append(Doubts(correction.doubts))
    return blocks


def _name(part: Part) -> str:
    if isinstance(part, EccentricBushing):
        return f"bushing-{part.side.lower()}{'-outer' if _is_outer(part) else ''}"
    return "shim-ring" if isinstance(part, ShimRing) else "worm-relief"


def _is_outer(part: EccentricBushing) -> bool:
    return part.bearing == INNER_BUSHING


def _caption(part: Part) -> str:
    if isinstance(part, EccentricBushing):
        which = "Outer eccentric bushing" if _is_outer(part) else "Eccentric bushing"
        return f"{which}, end {part.side}, seen on its own flange face"
    return part.name if isinstance(part, ShimRing) else "Worm, outside turned down"


def _setting(remedy: Remedy) -> list[Block]:
    blocks: list[Block] = []
    if remedy.setting_chart:
        blocks += [Heading("Setting chart", 2), setting_table(remedy)]
    if remedy.picture is not None:
        blocks.append(
            ClosingPlane("Where the worm may stand: sideways against closing", remedy.picture)
        )
    bushing = _first_bushing(remedy)
    if bushing is not None and remedy.worm_outside is not None:
        blocks.append(
            SectionPicture(
                "The bushing in its bore, seen on the flange face of A, throw enlarged",
                bushing.outside.size,
                bushing.bore.size,
                bushing.throw,
                -bushing.start_angle,
                remedy.worm_outside,
                math.pi,
            )
        )
    return blocks


def _first_bushing(remedy: Remedy) -> EccentricBushing | None:
    chosen = remedy.chosen
    parts = [p for c in chosen.corrections for p in c.parts] if chosen else []
    return next((p for p in parts if isinstance(p, EccentricBushing)), None)


def setting_table(remedy: Remedy) -> Table:
    """The setting chart: both sides of the circle, both bushings from their own faces."""

    def size(value: float | None) -> Cell:
        if value is None:
            return Cell("not read")
        return Cell(number=value, dimension="length", resolution=MICRON)

    rows = tuple(
        (
            Cell(turn(r.angle)),
            Cell(turn(seen_from_own_face(angle=r.angle, side="A"))),
            Cell(turn(seen_from_own_face(angle=r.angle, side="B"))),
            size(r.closing),
            size(r.sideways),
            size(r.backlash_hob_equal),
            size(r.backlash_oversize),
            size(r.backlash_helical),
            size(r.tip_clearance),
            size(r.indicator_a),
            size(r.indicator_b),
            Cell("FALSE TIGHT" if r.false_tight else ""),
        )
        for r in remedy.setting_chart
    )
    return Table(_CHART_CAPTION, _CHART_COLUMNS, rows, key="setting chart")


_CHART_CAPTION = (
    "Angle from the wheel (+ toward the table top), and what it gives at the tight spot. "
    "Backlash below zero is shut. The indicator is zeroed at the planned angle. Seen on its "
    "own face, counter-clockwise is +."
)
_CHART_COLUMNS = (
    "angle",
    "A, own face",
    "B, own face",
    "closing",
    "sideways",
    "backlash hob-equal",
    "backlash oversize hob",
    "backlash helical",
    "crest clearance",
    "indicator A",
    "indicator B",
    "",
)
