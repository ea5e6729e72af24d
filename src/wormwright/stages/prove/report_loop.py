"""Rock loops as report blocks."""

from __future__ import annotations

import math

import numpy as np

from wormwright.job.blocks import Block, Cell, Heading, Paragraph, Plot, Table, Trace
from wormwright.job.proof import Proof
from wormwright.job.proof_loop import LoopAt
from wormwright.job.rotary import Job


def loop_blocks(proof: Proof, job: Job) -> tuple[Block, ...]:  # noqa: ARG001
    """What the loops showed, or nothing when none was read."""
    if proof.loop is None:
        return ()
    blocks: list[Block] = [
        Heading("Rock loop", 2),
        Paragraph(
            "Table against the held worm, torque up and down: clearance is what moves at no "
            "torque, springing goes with the torque, and the width of the loop is friction, which "
            "neither shims nor closing cure."
        ),
    ]
    for place in proof.loop.places:
        blocks += _place(place)
    return tuple(blocks)


def _place(found: LoopAt) -> list[Block]:
    rows = [(Cell(f.label), Cell(estimate=f.estimate)) for f in found.figures]
    if found.stiffness is not None:
        rows.append((Cell("torque for one minute of arc"), Cell(estimate=found.stiffness)))
    at = f"{math.degrees(found.place):.6g}°"
    return [
        _plot(found, at),
        Table(f"Loop at table angle {at}", ("figure", "value"), tuple(rows)),
        *(Paragraph(text) for text in found.words),
    ]


def _plot(found: LoopAt, at: str) -> Plot:
    used = found.used
    traces = [
        Trace("torque rising", found.line_torque, found.rising),
        Trace("torque falling", found.line_torque, found.falling, "dashed"),
        Trace("readings", found.torque[used], found.angle[used], "dots"),
    ]
    if not np.all(used):
        traces.append(Trace("not used", found.torque[~used], found.angle[~used], "hollow"))
    return Plot(
        f"Rock loop at {at}",
        "Readings of the loop and the two branches fitted to them, straight either side of the "
        "gap; the step at no torque is the clearance.",
        "torque at the table",
        "torque",
        "table angle from the middle",
        "angle",
        tuple(traces),
    )
