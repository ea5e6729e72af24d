"""What the plan adds to an operation in words: steps of its corrections, warnings, the oil."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from wormwright.job.corrections import Correction, Remedy
from wormwright.job.operation import Operation
from wormwright.job.rotary import Job
from wormwright.quantities import shown
from wormwright.traveler.limits import COUPLING_OFFSET
from wormwright.traveler.lubricants import lubricant_lines
from wormwright.traveler.needs import CODE_AT, NEEDS


def cautions_of(op: Operation, remedy: Remedy | None) -> tuple[str, ...]:
    """What cannot be undone, said first, and what the plan warns of at this operation."""
    lasting = (f"Cannot be undone: {op.lasting}",) if op.lasting else ()
    if remedy is None:
        return lasting
    chosen = remedy.chosen.doubts if remedy.chosen else ()
    warned = (
        f"{doubt.seen} {doubt.do}"
        for doubt in (*chosen, *remedy.doubts)
        if CODE_AT.get(doubt.code) == op.key
    )
    return tuple(dict.fromkeys((*lasting, *warned)))


def steps_of(
    op: Operation, job: Job, remedy: Remedy | None, keys: Collection[str]
) -> tuple[str, ...]:
    """Lines of this plan for an operation, each once and none that stands there already."""
    lines: list[str] = []
    if remedy is not None:
        for correction in in_fixed_order(remedy.chosen.corrections) if remedy.chosen else ():
            lines += _merged(correction, op.key, keys)
        lines += _new_worm_line(op.key, job, remedy)
    if op.key == "seal_grease":
        lines += lubricant_lines(job)
    return tuple(line for line in dict.fromkeys(lines) if line not in op.do)


def in_fixed_order(corrections: Iterable[Correction]) -> tuple[Correction, ...]:
    """Corrections by their keys: the same set gives the same traveler, however it was listed."""
    return tuple(sorted(corrections, key=lambda c: list(NEEDS).index(c.key)))


def _merged(correction: Correction, key: str, keys: Collection[str]) -> list[str]:
    """Steps of a correction that belong to this operation."""
    carried = next((k for k in correction.operations if k in keys), NEEDS[correction.key][0])
    places = correction.step_operations or (carried,) * len(correction.steps)
    return [
        step
        for step, place in zip(correction.steps, places, strict=True)
        if (place if place in keys else carried) == key
    ]


def _new_worm_line(key: str, job: Job, remedy: Remedy) -> list[str]:
    """How far the worm line has moved from the motor's, when a coupling would not bear it."""
    closing = remedy.closing
    if key != "coupling" or closing is None or closing.value <= COUPLING_OFFSET:
        return []
    moved = shown(closing.value, "length", resolution=0.01, units=job.units)
    return [
        f"The worm has moved {moved} toward the wheel, more than a coupling of this size bears: "
        "the motor must follow it."
    ]
