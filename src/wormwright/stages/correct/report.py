"""The correct stage as report blocks: a first screen, and everything."""

from __future__ import annotations

import math
from dataclasses import replace

from wormwright.job.blocks import (
    Bar,
    Block,
    Cell,
    ClosingPlane,
    ContributorBars,
    Doubts,
    Heading,
    Paragraph,
    PartDrawing,
    SectionPicture,
    Steps,
    Table,
)
from wormwright.job.corrections import Correction, Plan, Remedy
from wormwright.job.parts import EccentricBushing
from wormwright.job.result import Doubt, Estimate
from wormwright.job.rotary import Job
from wormwright.stages.correct.blue import blue_blocks
from wormwright.stages.correct.part_names import part_caption, part_name
from wormwright.stages.correct.report_buys import buys_table, error_line, errors_table
from wormwright.stages.correct.report_chart import setting_table
from wormwright.stages.correct.report_mesh import false_tight_words, mesh_table_of
from wormwright.stages.correct.report_plans import plan_blocks, short_names, verdict
from wormwright.stages.correct.report_turn import turn_blocks

DEPTH = ("bushings", "setting", "centre_shim", "wheel_centring")
"""Corrections after which the mesh is looked at with blue."""

TITLE = "What to make, and whether it will be enough"


def summary(remedy: Remedy, job: Job) -> tuple[Block, ...]:
    """The first screen: verdict, plans, what to make, what limits it, what is in doubt."""
    blocks: list[Block] = [Heading(TITLE), verdict(remedy, job), *plan_blocks(remedy)]
    if remedy.chosen is not None and remedy.chosen.corrections:
        blocks.append(_key_sizes(remedy))
        blocks += [*buys_table(remedy), *error_line(remedy)]
    lines = (*_limits(remedy), *remedy.advice, *_unread(remedy))
    blocks += [Paragraph(line) for line in lines]
    doubts = _all_doubts(remedy)
    if doubts:
        brief = tuple(replace(d, why="") for d in doubts)
        blocks += [Heading("Before you cut metal", 2), Doubts(brief)]
    return tuple(blocks)


def report(remedy: Remedy, job: Job) -> tuple[Block, ...]:
    """Everything: plans, sizes, set-ups, chart, pictures and every part to make."""
    blocks: list[Block] = [Heading(TITLE), verdict(remedy, job), *plan_blocks(remedy)]
    if remedy.chosen is not None and remedy.lost_motion_found is not None:
        blocks.append(_bars(remedy.chosen, remedy.lost_motion_found, remedy, job))
    blocks += [*buys_table(remedy), *errors_table(remedy), *mesh_table_of(remedy)]
    blocks += [Paragraph(line) for line in _remarks(remedy)]
    if remedy.chosen is not None:
        for correction in remedy.chosen.corrections:
            blocks += _correction(correction)
        if any(c.key == "bushings" for c in remedy.chosen.corrections):
            blocks += _setting(remedy, job)
        if remedy.stands is not None and any(c.key in DEPTH for c in remedy.chosen.corrections):
            blocks += turn_blocks(remedy.stands, job.units)
            blocks += blue_blocks(remedy.stands, job.units)
    shown = {d for c in _taken(remedy) for d in c.doubts}
    rest = tuple(d for d in remedy.doubts if d not in shown)
    if rest:
        blocks += [Heading("Before you cut metal", 2), Doubts(rest)]
    return tuple(blocks)


def _bars(chosen: Plan, found: Estimate, remedy: Remedy, job: Job) -> ContributorBars:
    """Each cause as found and as the taken plan should leave it, mean round the turn."""
    bars = tuple(Bar(cause.label, cause.found, cause.left) for cause in chosen.parts_left)
    allowed = remedy.allowed_lost_motion if job.duty.approach == "both ways" else None
    return ContributorBars("Contributors as found and predicted", bars, found, allowed, chosen.mean)


def _taken(remedy: Remedy) -> tuple[Correction, ...]:
    return remedy.chosen.corrections if remedy.chosen is not None else ()


def _all_doubts(remedy: Remedy) -> tuple[Doubt, ...]:
    own = (d for c in _taken(remedy) for d in c.doubts)
    return tuple(dict.fromkeys((*remedy.doubts, *own)))


def _key_sizes(remedy: Remedy) -> Table:
    names = short_names(remedy)
    rows = tuple(
        (
            Cell(names[c.label]),
            Cell(what),
            Cell(estimate=size, both=size.dimension == "length"),
        )
        for c in _taken(remedy)
        for what, size in c.sizes
    )
    return Table("What to make and to set", ("work", "what", "size"), rows, key="key sizes")


def _limits(remedy: Remedy) -> list[str]:
    if not remedy.limits_it:
        return []
    return ["Still there afterwards: " + "; ".join(remedy.limits_it) + "."]


def _unread(remedy: Remedy) -> list[str]:
    return ["Not measured: " + ", ".join(remedy.not_measured) + "."] if remedy.not_measured else []


def _remarks(remedy: Remedy) -> list[str]:
    lines = [*_limits(remedy), *remedy.advice]
    if remedy.strategy_reason:
        lines.append(f"Depth of the mesh: {remedy.strategy_reason}")
    lines += [f"Not taken: {name}, because {why}." for name, why in remedy.rejected_strategies]
    lines += _unread(remedy)
    lines.append(
        "Tightest is as set, cold. Mean and loosest are after the edges have bedded in; the chance "
        "counts the warm mesh as well."
    )
    return lines


def _correction(correction: Correction) -> list[Block]:
    blocks: list[Block] = [Heading(correction.label, 2), Paragraph(correction.why)]
    for title, figures, key in (
        ("Sizes", correction.sizes, "sizes"),
        ("Looked at on the way", correction.checked, "checked"),
    ):
        if figures:
            rows = tuple(
                (Cell(name), Cell(estimate=size, both=size.dimension == "length"))
                for name, size in figures
            )
            blocks.append(Table(title, ("what", "size"), rows, key=f"{key} {correction.key}"))
    blocks.append(Steps(correction.steps, ticks=True))
    blocks += [PartDrawing(part_caption(p), part_name(p), p) for p in correction.parts]
    if correction.doubts:
        blocks.append(Doubts(correction.doubts))
    return blocks


def _setting(remedy: Remedy, job: Job) -> list[Block]:
    blocks: list[Block] = []
    bushing = _first_bushing(remedy)
    if remedy.setting_chart and bushing is not None:
        blocks += [Heading("Setting chart", 2), setting_table(remedy, bushing)]
        blocks += false_tight_words(remedy, job.units)
    if remedy.picture is not None:
        blocks.append(
            ClosingPlane("Where the worm may stand: sideways against closing", remedy.picture)
        )
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
    parts = [p for c in _taken(remedy) for p in c.parts]
    return next((p for p in parts if isinstance(p, EccentricBushing)), None)
