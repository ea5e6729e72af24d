"""What the topics of a proof come to: error at the part, verdict, before and after, record."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from wormwright.bench import Bench
from wormwright.job.findings import Diagnosis
from wormwright.job.proof import Proof
from wormwright.job.reading import Reading
from wormwright.job.sheet import PROOF_KINDS
from wormwright.stages.prove.at_the_part import other_features, part_error
from wormwright.stages.prove.axis_figures import axis_figures
from wormwright.stages.prove.compared import comparison
from wormwright.stages.prove.record import record_of
from wormwright.stages.prove.verdict import verdict_of


def judged_proof(
    proof: Proof, bench: Bench, diagnosis: Diagnosis | None, before: Sequence[Reading]
) -> Proof:
    """The proof with everything that is made of its topics.

    `diagnosis` is of the finished unit and stands in where no reading of the proof tells a figure;
    `before` are the readings of the unit as found.
    """
    job = bench.job
    figures = axis_figures(bench, proof, diagnosis)
    part = part_error(figures, job.duty, seed=job.seed)
    if part is not None:
        part = replace(part, others=other_features(figures, job.duty, seed=job.seed))
    return replace(
        proof,
        part=part,
        verdict=verdict_of(bench, proof, part, diagnosis),
        compared=comparison(job, before, bench.readings),
        record=record_of(bench, rows_of_the_proof(bench.readings, before)),
    )


def rows_of_the_proof(
    readings: Sequence[Reading], before: Sequence[Reading]
) -> tuple[Reading, ...]:
    """Readings taken on the finished unit: those of the proof, and those read again."""
    old = {r.seq for r in before}
    return tuple(r for r in readings if r.kind in PROOF_KINDS or (old and r.seq not in old))
