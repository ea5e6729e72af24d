"""The verdict as report blocks: three answers, the guard band, what would decide."""

from __future__ import annotations

from wormwright.job.blocks import Block, Cell, Heading, Paragraph, Steps, Table
from wormwright.job.proof import Proof
from wormwright.job.proof_verdict import Demand, ProofVerdict
from wormwright.job.rotary import Job
from wormwright.quantities import Dimension, shown

OVER = {
    "met": "Verdict: met. Every demand of the duty is met.",
    "not met": "Verdict: not met.",
    "cannot be told": "Verdict: cannot be told yet. No demand is missed for certain, and not all "
    "are met for certain.",
}


def verdict_blocks(proof: Proof, job: Job) -> tuple[Block, ...]:
    """The answer to each demand, and which reading would settle an open one."""
    verdict = proof.verdict
    if verdict is None:
        return ()
    blocks: list[Block] = [
        Paragraph(_over(verdict), strong=True),
        demands_table(verdict, job),
        Paragraph(_how(verdict)),
    ]
    open_ = tuple(f"{_first(d.label)}: read {d.decide}." for d in verdict.demands if d.decide)
    if open_:
        blocks += [Heading("What would decide it", 2), Steps(open_)]
    return tuple(blocks)


def _over(verdict: ProofVerdict) -> str:
    words = OVER[verdict.answer]
    missed = ", ".join(d.label for d in verdict.demands if d.answer == "not met")
    return f"{words} Missed: {missed}." if missed else words


def demands_table(verdict: ProofVerdict, job: Job) -> Table:
    """Each demand with its figure, limit, answer and chance."""
    return Table(
        "Each demand of the duty",
        ("demand", "found", "limit", "answer", "chance that it is met", "why"),
        tuple(_row(d, job) for d in verdict.demands),
        key="demands",
    )


def _row(one: Demand, job: Job) -> tuple[Cell, ...]:
    return (
        Cell(one.label),
        Cell("not read") if one.value is None else Cell(estimate=one.value),
        Cell(_limit(one, job)),
        Cell(one.answer, strong=True),
        Cell("" if one.chance is None else _percent(one.chance)),
        Cell(one.reason),
    )


def _limit(one: Demand, job: Job) -> str:
    words = []
    dimension: Dimension = _dimension(one)
    for how, limit in (("at least", one.low), ("at most", one.high)):
        if limit is not None:
            step = abs(limit) / 100
            words.append(
                f"{how} {shown(limit, dimension, resolution=step, units=job.units)}"
                if limit
                else f"{how} 0"
            )
    return ", ".join(words)


def _dimension(one: Demand) -> Dimension:
    if one.value is not None:
        return one.value.dimension
    return "torque" if one.key == "drag" else "length"


def _percent(chance: float) -> str:
    if chance > 0.99:
        return "above 99 %"
    return "below 1 %" if chance < 0.01 else f"{chance:.0%}"


def _how(verdict: ProofVerdict) -> str:
    return (
        "Met and not met are said only where the figure lies inside or outside its limit by more "
        "than the guard band, so that each is wrong in less than one case out of "
        f"{1 / (1 - verdict.certainty):.0f} (ISO 14253-1). A zone no wider than four guard bands "
        "is judged by the chance alone (JCGM 106)."
    )


def _first(text: str) -> str:
    return text[:1].upper() + text[1:]


def not_tested_blocks(proof: Proof) -> tuple[Block, ...]:
    """What the proof says nothing about."""
    if proof.verdict is None:
        return ()
    return (Heading("Not tested", 2), Steps(tuple(_first(t) for t in proof.verdict.not_tested)))
