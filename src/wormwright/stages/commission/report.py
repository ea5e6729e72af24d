"""The commission stage as report blocks."""

from __future__ import annotations

import math

from wormwright.job.blocks import (
    Block,
    Cautions,
    Cell,
    Doubts,
    Heading,
    Paragraph,
    PartDrawing,
    Steps,
    Table,
)
from wormwright.job.commissioning import Commissioning, Turning
from wormwright.job.rotary import Job, Units
from wormwright.quantities import shown
from wormwright.stages.commission.sheet import fraction_text

TITLE = "What is typed into the control, and what the motor will do"
CAUTIONS = (
    "Power off and plug out before a hand goes near worm, belt or coupling; a stepper that holds "
    "still is powered.",
    "Self-locking is never a brake: an unbalanced or hanging work needs one that holds by itself.",
    "First moves with the table bare, chuck key out, nobody in the plane of the chuck, a hand on "
    "the emergency stop.",
    "Motor and driver get hot; let them cool before you take hold of them.",
)


def report(found: Commissioning, job: Job) -> tuple[Block, ...]:
    """Everything: the sheet, what rounding costs, speeds, works, turning, checks, programmes."""
    blocks: list[Block] = [Heading(TITLE), Paragraph(_verdict(found, job), strong=True)]
    if found.doubts:
        blocks.append(Doubts(found.doubts))
    blocks += [Cautions(CAUTIONS), _sheet(found), *_rounding(found)]
    blocks += [Heading("How fast it may turn", 2), _limits(found), _figures(found)]
    blocks += _works(found, job.units)
    if found.turning:
        blocks += [Heading("Turning on the axis", 2), _turning(found, job.units)]
    blocks += _plate(found, job.units)
    blocks += [Heading("First power", 2), Steps(found.checks, ticks=True)]
    blocks += [Heading("Test programmes", 2), _programmes(found)]
    return tuple(blocks)


def _verdict(found: Commissioning, job: Job) -> str:
    exact = f"Pulses for a degree: {fraction_text(found.per_degree)}"
    if found.safe_rpm is None:
        missing = "; ".join(limit.why for limit in found.limits if limit.rpm is None)
        return f"{exact}. The largest safe speed cannot be told yet: {missing}."
    fast = shown(found.safe_rpm.low, "speed", resolution=0.1, units=job.units)
    return f"{exact}; up to {fast} of the table, cold, at the tight spot."


def _sheet(found: Commissioning) -> Table:
    rows = tuple(
        (Cell(s.name), Cell(s.figure, strong=True), Cell(s.remark)) for s in found.settings
    )
    return Table("Parameter sheet", ("quantity", "setting", "remark"), rows, key="sheet")


def _rounding(found: Commissioning) -> list[Block]:
    if found.typed == found.per_degree:
        return [Paragraph("The setting is exact: no turn adds an error.")]
    rows = tuple(
        (
            Cell(f"{cost.turns}"),
            Cell(_signed(float(cost.pulses))),
            Cell(f"{_signed(float(cost.arcsec))} arcsec"),
        )
        for cost in found.rounding
    )
    columns = ("turns one way", "pulses short", "table short of its place")
    return [Table("What the rounded setting costs", columns, rows, key="rounding")]


def _signed(value: float) -> str:
    return f"{value:+.3g}"


def _limits(found: Commissioning) -> Table:
    rows = tuple(
        (
            Cell(limit.label),
            Cell("not known") if limit.rpm is None else Cell(estimate=limit.rpm),
            Cell(limit.why),
        )
        for limit in found.limits
    )
    columns = ("limit", "table speed", "by what")
    return Table("Limits of the table speed", columns, rows, key="limits")


def _figures(found: Commissioning) -> Table:
    rows = tuple((Cell(f.label), Cell(estimate=f.estimate)) for f in found.figures)
    return Table("Motor and home", ("what", "size"), rows, key="motor")


def _works(found: Commissioning, units: Units) -> list[Block]:
    blocks: list[Block] = []
    if found.divided:
        rows = tuple(
            (
                Cell(one.work),
                Cell(str(one.divisions)),
                Cell(", ".join(f"{times} x {pulses}" for pulses, times in one.moves)),
                Cell(f"{float(one.worst):.2g} arcsec"),
                Cell(shown(one.at_radius, "length", resolution=1e-4, units=units)),
                Cell(f"{one.lost} pulses" if one.lost else "nothing: it divides"),
            )
            for one in found.divided
        )
        columns = ("work", "divisions", "moves, pulses", "worst place", "at its radius", "cut down")
        blocks += [
            Heading("Divided turns", 2),
            Paragraph(
                "Each place is rounded from the start of the turn, so the moves add up to it. The "
                "last column is what a turn would lose if each move were cut down by itself."
            ),
            Table("Remainders spread over the turn", columns, rows, key="divided"),
        ]
    if found.wrapped:
        blocks += [Heading("Cylinders and feeds", 2), _wrapped(found, units)]
    return blocks


def _wrapped(found: Commissioning, units: Units) -> Table:
    rows = tuple(
        (
            Cell(one.work),
            Cell(shown(one.diameter, "length", units=units)),
            Cell(f"{one.degrees_per_mm:.4g}"),
            Cell("no feed given" if one.feed is None else shown(one.feed, "feed", units=units)),
            Cell("" if one.degrees_a_minute is None else f"F{one.degrees_a_minute:.0f}"),
            Cell(one.inverse_time),
            Cell("" if one.most_feed is None else shown(one.most_feed, "feed", units=units)),
            Cell(shown(one.seam, "length", resolution=0.01, units=units)),
        )
        for one in found.wrapped
    )
    columns = (
        "work",
        "diameter at the cut",
        "degrees for a mm",
        "feed",
        "turning alone, degrees/min",
        "inverse time, 10 mm and 90 degrees",
        "most feed there",
        "seam, diameter 0.1 mm off",
    )
    return Table("Degrees and feeds on the cylinder", columns, rows, key="wrapped")


def _turning(found: Commissioning, units: Units) -> Table:
    rows = tuple(
        (
            Cell(one.work),
            Cell(number=one.rpm, dimension="speed"),
            Cell(one.allowed.upper() if one.allowed == "refused" else one.allowed, strong=True),
            Cell(_time(one, units)),
            Cell("; ".join(one.reasons)),
        )
        for one in found.turning
    )
    columns = ("work", "speed", "verdict", "how long", "why")
    return Table("Speed, time and warmth", columns, rows, key="turning")


def _plate(found: Commissioning, units: Units) -> list[Block]:
    if found.plate is None:
        return []
    rows = tuple(
        (
            Cell(one.kind),
            Cell(shown(one.left, "length", resolution=0.01, units=units)),
            Cell(shown(one.offset, "length", resolution=0.01, units=units)),
            Cell("takes it" if one.takes else "NOT THIS ONE", strong=not one.takes),
            Cell("turns evenly" if one.carries_true else "wave once a worm turn"),
            Cell(one.play),
        )
        for one in found.couplings
    )
    columns = ("coupling", "offset left", "it takes", "verdict", "when offset", "play")
    return [
        Heading("Motor plate and coupling", 2),
        Paragraph(
            "The motor must follow the worm after closing: the smaller offset is left by "
            "alignment, the larger one if the motor stays where it was."
        ),
        Table("Couplings for the offset that is left", columns, rows, key="couplings"),
        PartDrawing("Motor plate", "motor-plate", found.plate),
    ]


def _time(one: Turning, units: Units) -> str:
    if one.minutes is None:
        return ""
    if math.isinf(one.minutes):
        return "as long as wanted"
    spell = shown(60 * one.minutes, "time", resolution=60, units=units)
    return f"{spell} from cold, or {one.share or 0:.0%} of the time in short spells"


def _programmes(found: Commissioning) -> Table:
    rows = tuple((Cell(p.name), Cell(p.shows)) for p in found.programmes)
    caption = "Plain words of ISO 6983, written by: wormwright commission DIR --write"
    return Table(caption, ("programme", "what it shows"), rows, key="programmes")
