"""The diagnosis as report blocks."""

from __future__ import annotations

import math

import numpy as np

from wormwright.job.blocks import (
    Bar,
    Block,
    Cell,
    ContributorBars,
    Doubts,
    Heading,
    Paragraph,
    PolarMap,
    Steps,
    Table,
)
from wormwright.job.findings import Contributor, Diagnosis
from wormwright.job.result import Estimate
from wormwright.job.rotary import Job
from wormwright.quantities import shown_estimate
from wormwright.stages.diagnose.report_parts import (
    judged_blocks,
    next_blocks,
    not_curable_blocks,
    part_blocks,
    unseparated_blocks,
    verdict_blocks,
)


def report(found: Diagnosis, job: Job) -> tuple[Block, ...]:
    """What the diagnosis found, most important first."""
    blocks: list[Block] = [
        Heading("Where the lost motion comes from"),
        Paragraph(_verdict(found), strong=True),
        *verdict_blocks(found),
        Doubts(found.doubts),
        _contributors(found),
        Paragraph(_fit_words(found)),
    ]
    blocks.extend(unseparated_blocks(found))
    blocks.append(_bars(found, job))
    blocks.extend(_turn(found))
    blocks.extend(part_blocks(found))
    if found.not_measured:
        blocks.append(Heading("Not measured (the usual range is taken)", 2))
        blocks.append(Steps(found.not_measured))
    blocks.extend(next_blocks(found))
    blocks.extend(judged_blocks(found))
    blocks.extend(not_curable_blocks(found))
    return tuple(blocks)


def _words(e: Estimate) -> str:
    return shown_estimate(e)


def _verdict(found: Diagnosis) -> str:
    first = found.contributors[0]
    known = [c for c in found.contributors if c.identifiable]
    head = f"The table has {_words(found.lost_motion_mean)} of lost motion from the motor"
    if known and known[0].key == first.key:
        return f"{head}; most of it, {_words(first.at_table)}, is the {first.label}."
    return f"{head}; the readings do not yet show which cause is the largest."


def _contributors(found: Diagnosis) -> Table:
    def row(c: Contributor) -> tuple[Cell, ...]:
        state = "found" if c.identifiable else "not separated" if c.measured else "not read"
        return (
            Cell(c.label),
            Cell(estimate=c.at_table),
            Cell(estimate=c.at_r2),
            Cell(f"{c.share.low:.0%} to {c.share.high:.0%}"),
            Cell(f"{state}; {c.note}" if c.note else state),
        )

    rows = tuple(row(c) for c in found.contributors)
    total = (
        Cell("all together, mean round the turn"),
        Cell(estimate=found.lost_motion_mean),
        Cell(""),
        Cell(""),
        Cell(""),
    )
    unexplained = (
        Cell("unexplained rest of the rock readings"),
        Cell(estimate=found.unexplained),
        Cell(""),
        Cell(""),
        Cell(""),
    )
    return Table(
        "Contributors to the lost motion at the table, 95 % intervals",
        ("cause", "at the table", "at the wheel pitch radius", "share of all", "state"),
        (*rows, total, unexplained),
    )


def _fit_words(found: Diagnosis) -> str:
    if found.degrees_of_freedom < 1:
        return (
            "There are no more readings than unknowns, so the readings cannot check each other. "
            "Every figure above that was not read directly leans on the usual ranges."
        )
    agree = "agree" if found.chi_square_p >= 0.01 else "do NOT agree"
    return (
        f"The readings {agree} with each other: chi-square {found.chi_square:.1f} on "
        f"{found.degrees_of_freedom} degrees of freedom."
    )


def _bars(found: Diagnosis, job: Job) -> ContributorBars:
    bars = tuple(Bar(c.label, c.at_table) for c in found.contributors)
    allowed = job.duty.error_mm / job.duty.radius_mm if job.duty.approach == "both ways" else None
    return ContributorBars("Contributors as found", bars, found.lost_motion_mean, allowed)


def _turn(found: Diagnosis) -> list[Block]:
    blocks: list[Block] = [Heading("Round the turn", 2)]
    spot = found.tight_spot
    if spot.angle:
        middle, half = math.degrees(spot.angle.value), math.degrees(2 * spot.angle.u)
        where = f"Tight spot at {middle:.0f}° ± {half:.0f}° of table angle: set the mesh there."
        blocks.append(Paragraph(where, strong=True))
    else:
        blocks.append(Paragraph(f"No tight spot can be named: {spot.refusal}"))
    blocks.append(_map_table(found))
    points = [p for p in found.points if p.table_angle is not None]
    if len(points) >= 3:
        blocks.append(
            PolarMap(
                "Lost motion round the turn, worm held at the worm",
                found.map_angles,
                found.map_mean,
                found.map_low,
                found.map_high,
                np.array([p.table_angle for p in points]),
                np.array([p.lost_motion for p in points]),
                spot.angle,
            )
        )
    return blocks


def _map_table(found: Diagnosis) -> Table:
    rows = [
        (Cell("lost motion at the tightest place"), Cell(estimate=found.lost_motion_tight)),
        (Cell("lost motion at the loosest place"), Cell(estimate=found.lost_motion_loose)),
    ]
    for label, size, angle in (
        ("wheel runout (TIR)", found.wheel_runout, found.wheel_runout_angle),
        ("worm runout (TIR)", found.worm_runout, found.worm_runout_angle),
    ):
        if size:
            rows.append((Cell(label), Cell(estimate=size)))
        if size and angle:
            rows.append((Cell(f"{label}, opens the mesh most at"), Cell(estimate=angle)))
    return Table("Map of the turn", ("what", "value"), tuple(rows), key="map")
