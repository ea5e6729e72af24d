"""The positioning test as report blocks."""

from __future__ import annotations

from wormwright.job.blocks import Block, Cell, Heading, Paragraph, Table
from wormwright.job.proof import Proof
from wormwright.job.proof_position import PositionTest
from wormwright.job.rotary import Job


def positioning_blocks(proof: Proof, job: Job) -> tuple[Block, ...]:  # noqa: ARG001
    """Figures of the positioning test, or nothing when it was not read."""
    test = proof.positioning
    if test is None:
        return ()
    return (Heading("Positioning test", 2), Paragraph(_what(test)), _figures(test))


def _what(test: PositionTest) -> str:
    means = f", measured with {' and '.join(test.means)}" if test.means else ""
    return f"{len(test.targets)} targets, {test.runs} runs from each side{means}."


def _figures(test: PositionTest) -> Table:
    rows = tuple((Cell(f.label), Cell(estimate=f.estimate)) for f in test.figures)
    return Table("Figures of ISO 230-2, at the table", ("figure", "value"), rows)
