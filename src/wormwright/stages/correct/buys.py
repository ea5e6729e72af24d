"""What each step of the taken plan takes off, cause by cause."""

from __future__ import annotations

from collections.abc import Iterator

from wormwright.job.corrections import Bought, Correction
from wormwright.stages.correct.choice import Choice, Kit
from wormwright.stages.correct.cure import Cure
from wormwright.stages.correct.depth import DepthPlan
from wormwright.stages.correct.effort import cost_of
from wormwright.stages.correct.judge import Judge
from wormwright.stages.correct.left import parts_left

WORTH_TELLING = 0.02
"""A cause is named when a step takes this share of the allowed lost motion off it."""


def bought_by(judge: Judge, kit: Kit, choice: Choice) -> tuple[Bought, ...]:
    """Each step of a set in the order of work, with what it takes off on top of those before it."""
    found: list[Bought] = []
    before = Choice()
    for keys, after in _steps(kit, choice):
        done = tuple(c for c in choice.corrections if c.key in keys)
        found.append(_bought(judge, done, before, after))
        before = after
    return tuple(found)


def _steps(kit: Kit, choice: Choice) -> Iterator[tuple[tuple[str, ...], Choice]]:
    """The set grown one correction at a time; relief goes with the depth that asks for it."""
    depth = choice.depth
    own = depth.correction.key if depth and depth.correction else ""
    cures: tuple[Cure, ...] = ()
    set_deep: DepthPlan | None = None
    for correction in choice.corrections:
        if correction.key == "relief":
            continue
        keys: tuple[str, ...] = (correction.key,)
        if correction.key == own:
            set_deep = depth
            keys = ("relief", own) if depth and depth.relief else keys
        else:
            cures = (*cures, *(c for c in choice.cures if c.key == correction.key))
        way = None
        if set_deep is not None:
            ways = kit.depths_for(cures)
            way = next((d for d in ways if d.strategy == set_deep.strategy), set_deep)
        yield keys, Choice(cures, way, choice.later)


def _bought(judge: Judge, done: tuple[Correction, ...], before: Choice, after: Choice) -> Bought:
    job = judge.facts.job
    taken_off = judge.quick(before).felt - judge.quick(after).felt
    then, now = (parts_left(*judge.parts(choice), seed=job.seed) for choice in (before, after))
    causes = judge.facts.diagnosis.contributors
    least = WORTH_TELLING * judge.parts(after)[2].allowed
    less = ((c.label, then[c.key].value - now[c.key].value) for c in causes)
    return Bought(
        keys=tuple(c.key for c in done),
        label="; ".join(c.label for c in done),
        minutes=sum(c.minutes for c in done),
        cost=cost_of(job, done),
        taken_off=taken_off,
        causes=tuple((label, gain) for label, gain in less if abs(gain) > least),
    )
