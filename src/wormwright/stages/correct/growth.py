"""Plans put together step by step: always the correction that buys most for its effort."""

from __future__ import annotations

from wormwright.stages.correct.choice import Choice, Kit
from wormwright.stages.correct.effort import effort_of
from wormwright.stages.correct.judge import Judge

LEAST_GAIN = 0.01
"""A correction that takes off less than this share of the allowed lost motion buys nothing."""

WORTH_A_STEP = 0.10
"""A step beyond a plan that meets the duty is shown when it takes off this share of the allowed."""


def grown(judge: Judge, kit: Kit) -> tuple[Choice, ...]:
    """Sets of corrections worth predicting, few however many corrections there are.

    From leaving it as it is, each step adds the correction (with what it needs) that takes most off
    what the duty feels for its effort, until the duty is met; then what proves needless is taken
    out again, and one step further is shown if it buys much. Where the first way to set the depth
    does not do, the next ways of the list are tried with the same corrections.
    """
    chain = [Choice()]
    while not judge.meets(chain[-1]):
        step = best_step(judge, kit, chain[-1], least=LEAST_GAIN)
        if step is None:
            break
        chain.append(step)
    found = [*chain, *_other_depths(judge, kit, chain[-1])]
    done = next((c for c in reversed(found) if judge.meets(c)), None)
    if done is not None:
        lean = pruned(judge, kit, done)
        beyond = best_step(judge, kit, done, least=WORTH_A_STEP)
        found += [lean, *((beyond,) if beyond else ())]
    return tuple({c.key: c for c in found}.values())


def best_step(judge: Judge, kit: Kit, here: Choice, *, least: float) -> Choice | None:
    """The next set with the most gain for its added effort; None when no step gains enough."""
    allowed = judge.parts(here)[2].allowed
    now, spent = judge.quick(here).felt, effort_of(judge.facts.job, here.corrections)
    best: tuple[float, Choice] | None = None
    for step in kit.steps_from(here):
        gain = now - judge.quick(step).felt
        if gain < least * allowed or not judge.allowed(step):
            continue
        more = max(effort_of(judge.facts.job, step.corrections) - spent, 1.0)
        if best is None or gain / more > best[0]:
            best = gain / more, step
    return best[1] if best else None


def _other_depths(judge: Judge, kit: Kit, last: Choice) -> list[Choice]:
    """The other ways to set the depth with the same corrections, until one meets the duty."""
    found: list[Choice] = []
    if last.depth is None or judge.meets(last):
        return found
    for depth in kit.depths_for(last.cures):
        if depth is last.depth:
            continue
        other = kit.made(last.cures, depth)
        if other is not None:
            found.append(other)
            if judge.meets(other):
                break
    return found


def pruned(judge: Judge, kit: Kit, done: Choice) -> Choice:
    """The set less every correction that the duty can do without, the dearest tried first."""
    job = judge.facts.job
    for correction in sorted(done.corrections, key=lambda c: -effort_of(job, (c,))):
        less = kit.without(done, correction.key)
        if less is not None and judge.meets(less):
            done = less
    return done
