"""The proof as report blocks: one file a topic, joined here."""

from __future__ import annotations

from wormwright.job.blocks import Block, Doubts, Heading
from wormwright.job.proof import Proof
from wormwright.job.rotary import Job
from wormwright.stages.prove.certificate import record_blocks
from wormwright.stages.prove.report_axis import axis_blocks
from wormwright.stages.prove.report_closure import closure_blocks
from wormwright.stages.prove.report_compared import compared_blocks
from wormwright.stages.prove.report_compensation import compensation_blocks
from wormwright.stages.prove.report_harmonics import harmonics_blocks
from wormwright.stages.prove.report_loop import loop_blocks
from wormwright.stages.prove.report_part import part_blocks
from wormwright.stages.prove.report_positioning import positioning_blocks
from wormwright.stages.prove.report_verdict import not_tested_blocks, verdict_blocks


def report(proof: Proof, job: Job) -> tuple[Block, ...]:
    """What the readings of the finished axis show, most important first."""
    blocks: list[Block] = [Heading("Is the axis as good as it must be?"), Doubts(proof.doubts)]
    blocks.extend(verdict_blocks(proof, job))
    blocks.extend(part_blocks(proof, job))
    for topic in (positioning_blocks, harmonics_blocks, compensation_blocks):
        blocks.extend(topic(proof))
    blocks.extend(closure_blocks(proof, job))
    blocks.extend(loop_blocks(proof, job))
    blocks.extend(axis_blocks(proof, job))
    blocks.extend(compared_blocks(proof))
    if proof.record is not None:
        blocks.extend(record_blocks(proof.record))
    blocks.extend(not_tested_blocks(proof))
    return tuple(blocks)
