"""The error at the part as report blocks."""

from __future__ import annotations

from wormwright.job.blocks import Bar, Block, Cell, ContributorBars, Heading, Paragraph, Table
from wormwright.job.proof import Proof
from wormwright.job.proof_part import Contribution, PartError
from wormwright.job.rotary import Job
from wormwright.quantities import shown, shown_estimate


def part_blocks(proof: Proof, job: Job) -> tuple[Block, ...]:
    """The budget at the duty's radius, its biggest part named, and other features beside it."""
    part = proof.part
    if part is None:
        return ()
    counting = sorted(
        (c for c in part.contributions if c.share > 0), key=lambda c: c.share, reverse=True
    )
    blocks: list[Block] = [Heading("At the part", 2), Paragraph(_headline(part, job), strong=True)]
    if part.assumed:
        blocks.append(Paragraph(f"Taken, as the duty does not say: {'; '.join(part.assumed)}."))
    blocks.append(_table(part))
    if counting:
        blocks.append(_bars(part, counting))
    if part.others:
        blocks.append(_others(part))
    return tuple(blocks)


def _headline(part: PartError, job: Job) -> str:
    radius = shown(job.duty.radius_mm, "length", resolution=0.1, units=job.units)
    allowed = shown(part.allowed, "length", resolution=part.allowed / 10, units=job.units)
    error = shown_estimate(part.error, units=job.units)
    words = f"{_first(part.label)} at {radius}: {error} of error, {allowed} is allowed."
    if not part.biggest:
        return words
    most = part.of(part.biggest)
    return f"{words} The biggest part of it is the {most.figure.label} ({most.share:.0%})."


def _first(text: str) -> str:
    return text[:1].upper() + text[1:]


def _table(part: PartError) -> Table:
    rows = tuple(_row(c) for c in part.contributions)
    total = (
        Cell("all together", strong=True),
        Cell(""),
        Cell(""),
        Cell("known parts added, random ones covered at 95 %"),
        Cell(estimate=part.error, strong=True),
        Cell("100 %"),
    )
    missing = tuple(
        (Cell(m.what), Cell("not read"), Cell(""), Cell("left out"), Cell(""), Cell(""))
        for m in part.missing
    )
    return Table(
        "Error budget at the part, from one extreme to the other",
        ("cause", "at the axis", "from", "how it counts here", "makes at the part", "share"),
        (*rows, *missing, total),
        key="part error",
    )


def _row(one: Contribution) -> tuple[Cell, ...]:
    makes = Cell(estimate=one.at_part) if one.share > 0 else Cell("nothing")
    return (
        Cell(one.figure.label),
        Cell(estimate=one.figure.estimate),
        Cell(one.figure.source),
        Cell(one.rule),
        makes,
        Cell(f"{one.share:.0%}"),
    )


def _bars(part: PartError, counting: list[Contribution]) -> ContributorBars:
    return ContributorBars(
        "Error at the part, by cause",
        tuple(Bar(c.figure.label, c.at_part) for c in counting),
        part.error,
        part.allowed,
        measures="Error at the part",
    )


def _others(part: PartError) -> Table:
    rows = tuple((Cell(o.label), Cell(estimate=o.error)) for o in part.others)
    return Table(
        "The same axis at the same radius, as other features would show it",
        ("feature", "error"),
        rows,
        key="other features",
    )
