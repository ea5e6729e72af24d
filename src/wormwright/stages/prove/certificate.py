"""The certificate: one page that says what was tested, how, how well, and what was not."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wormwright.job.blocks import Block, Cell, Heading, Paragraph, Table
from wormwright.job.proof import Proof
from wormwright.job.proof_record import ProofRecord
from wormwright.job.result import Estimate
from wormwright.job.rotary import Job
from wormwright.quantities import shown
from wormwright.stages.prove.report_verdict import OVER, demands_table, not_tested_blocks

NO_ACCREDITATION = (
    "Made by the owner of the unit with the instruments named above. No accredited laboratory, no "
    "calibration mark and no traceability beyond that of these instruments is claimed."
)
BLANK = Cell("_" * 16)
SIGN = ((Cell("tested by"), BLANK, BLANK), (Cell("seen by"), BLANK, BLANK))
COVERAGE = (
    "Every figure stands with its 95 % interval: in so many cases out of a hundred the true value "
    "lies within it."
)


def certificate(proof: Proof, job: Job) -> tuple[Block, ...]:
    """The certificate of a proof; nothing while there is no verdict."""
    verdict, record = proof.verdict, proof.record
    if verdict is None or record is None:
        return ()
    return (
        Paragraph(OVER[verdict.answer], strong=True),
        _tested(job, record),
        *_figures(proof),
        demands_table(verdict, job),
        *record_blocks(record),
        *not_tested_blocks(proof),
        Heading("Signed", 2),
        Paragraph(NO_ACCREDITATION),
        Table("To sign", ("", "initials", "date"), SIGN),
    )


def record_blocks(record: ProofRecord) -> tuple[Block, ...]:
    """Instruments and conditions of the test."""
    used = tuple(
        (Cell(one.name), Cell(", ".join(one.readings)), Cell(str(one.rows)))
        for one in record.instruments
    )
    blocks: list[Block] = [
        Heading("Instruments and conditions", 2),
        Table("Instruments", ("instrument", "what was read with it", "readings"), used),
    ]
    if record.conditions:
        rows = tuple((Cell(name), Cell(words)) for name, words in record.conditions)
        blocks.append(Table("Conditions, as written with the readings", ("what", "value"), rows))
    return tuple(blocks)


def _tested(job: Job, record: ProofRecord) -> Table:
    duty, units = job.duty, job.units
    days = " to ".join(dict.fromkeys(day for day in (record.first, record.last) if day))
    rows = [
        ("unit", job.rotary.marked),
        ("job", job.name),
        ("readings", f"{record.rows}{f', taken {days}' if days else ''}"),
        ("radius", shown(duty.radius_mm, "length", resolution=0.1, units=units)),
        ("direction", duty.direction),
        ("approach", duty.approach),
        ("held against the cut", duty.held),
        ("torque to resist", shown(duty.torque_resist_nmm, "torque", resolution=10.0, units=units)),
    ]
    return Table("What was tested", ("what", "value"), tuple((Cell(a), Cell(b)) for a, b in rows))


def _figures(proof: Proof) -> tuple[Block, ...]:
    """The figures that the proof gives, with their uncertainty."""
    rows = tuple(_rows(proof))
    if not rows:
        return ()
    cells = tuple((Cell(label), Cell(estimate=value)) for label, value in rows)
    return (Table("Figures", ("figure", "value"), cells, key="figures"), Paragraph(COVERAGE))


def _rows(proof: Proof) -> Iterator[tuple[str, Estimate]]:
    """The error at the part first, then every topic that was read."""
    if proof.part is not None:
        yield f"error at the part: {proof.part.label}", proof.part.error
    if proof.positioning is not None:
        yield from ((f.label, f.estimate) for f in proof.positioning.figures)
    if proof.closure is not None:
        yield "closed circle, largest less smallest error", proof.closure.span
    for wave in proof.harmonics.waves if proof.harmonics else ():
        if wave.size is not None and wave.stands_out:
            yield f"wave, {wave.label}{' (of the play)' if wave.of_play else ''}", wave.size
    for place in proof.loop.places if proof.loop else ():
        at = f" at {math.degrees(place.place):.0f}°"
        yield from ((f"rock loop{at}: {f.label}", f.estimate) for f in place.figures)
    for runout in proof.axis.runouts if proof.axis else ():
        yield f"eccentricity of the {runout.surface}", runout.eccentricity
