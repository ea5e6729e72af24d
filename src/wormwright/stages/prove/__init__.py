"""prove: is the finished axis as good as it must be?"""

from __future__ import annotations

from collections.abc import Sequence

from wormwright.bench import Bench
from wormwright.job.findings import Diagnosis
from wormwright.job.proof import Proof
from wormwright.job.reading import Reading
from wormwright.job.result import Doubt, StageRefusal
from wormwright.job.rotary import Job
from wormwright.stages.prove.axis import axis_of
from wormwright.stages.prove.certificate import certificate
from wormwright.stages.prove.closure import closure_of
from wormwright.stages.prove.compensation import compensation_of
from wormwright.stages.prove.harmonics import harmonics_of
from wormwright.stages.prove.judged import judged_proof, rows_of_the_proof
from wormwright.stages.prove.loop import loops_of
from wormwright.stages.prove.means import means_blocks
from wormwright.stages.prove.plan import plan_test
from wormwright.stages.prove.positioning import positioning_of
from wormwright.stages.prove.report import report
from wormwright.stages.prove.report_closure import closure_plan_blocks
from wormwright.stages.prove.report_compensation import compensation_files
from wormwright.stages.prove.report_plan import plan_report

__all__ = [
    "certificate",
    "closure_plan_blocks",
    "compensation_files",
    "means_blocks",
    "plan_report",
    "plan_test",
    "prove",
    "report",
]

NOTHING_READ = Doubt(
    "refuse",
    "",
    "No reading of the finished axis is on file.",
    "What the axis is worth shows only in readings taken on it under power.",
    "Read position errors at targets from both sides (`wormwright measure DIR --kinds "
    "position_error`).",
)


def prove(
    job: Job,
    readings: Sequence[Reading],
    *,
    diagnosis: Diagnosis | None = None,
    before: Sequence[Reading] = (),
) -> Proof:
    """What the live readings of the finished axis show; topics that were not read stay None.

    `diagnosis` of the finished unit stands in where the proof did not read a figure, and causes are
    compared with it; `before` are the readings of the unit as found, to compare with.

    Raises:
        StageRefusal: nothing was read on the finished axis, or not enough for any topic.
    """
    bench = Bench(job, tuple(readings))
    positioning, doubts = positioning_of(bench)
    harmonics, sweep_doubts = harmonics_of(bench, positioning, diagnosis)
    closure, closure_doubts = closure_of(bench)
    finished = bool(rows_of_the_proof(readings, before))
    axis, axis_doubts = axis_of(bench, finished=finished)
    loop, loop_doubts = loops_of(bench) if finished else (None, ())
    proof = Proof(
        positioning=positioning,
        harmonics=harmonics,
        compensation=compensation_of(positioning, diagnosis),
        closure=closure,
        axis=axis,
        loop=loop,
        doubts=(*doubts, *sweep_doubts, *closure_doubts, *axis_doubts, *loop_doubts),
    )
    if proof.empty and diagnosis is None:
        raise StageRefusal("prove", proof.doubts or (NOTHING_READ,))
    return judged_proof(proof, bench, diagnosis, before)
