"""The plans that are shown, each predicted in full, and the choice among them."""

from __future__ import annotations

from wormwright.job.corrections import CHANGE_OF_USE, Plan
from wormwright.job.result import Doubt
from wormwright.job.rotary import Duty
from wormwright.stages.correct.choice import Choice, Kit
from wormwright.stages.correct.effort import effort_of_plan
from wormwright.stages.correct.growth import LEAST_GAIN, grown
from wormwright.stages.correct.judge import Judge

NEARLY_AS_GOOD = 0.10
"""When nothing meets the duty, the least work within this chance of the best is taken."""

ALWAYS_SHOWN = ("worm_shim", "wheel_centring")
"""Corrections whose plan by itself is shown whenever it is possible: they come first in any job."""


def all_plans(judge: Judge, kit: Kit, wanted: str | None) -> tuple[Plan, ...]:
    """The plans worth showing, least effort first, with the wanted one among them.

    Raises nothing: a wanted plan that is not possible here is left out.
    """
    sets = [*grown(judge, kit), *_alone(judge, kit), *_used_otherwise(kit)]
    named = kit.named(wanted) if wanted else None
    if named is not None:
        sets.append(named)
    plans = [judge.plan(choice) for choice in {c.key: c for c in sets}.values()]
    return tuple(sorted(plans, key=lambda p: (effort_of_plan(p), p.minutes, p.key)))


def _alone(judge: Judge, kit: Kit) -> list[Choice]:
    """Each correction by itself, where that buys something."""
    now = judge.quick(Choice()).felt
    least = LEAST_GAIN * judge.parts(Choice())[2].allowed
    found = []
    for cure in kit.cures:
        alone = None if cure.agreed else kit.made((cure,), None)
        if alone is None:
            continue
        if cure.key in ALWAYS_SHOWN or now - judge.quick(alone).felt >= least:
            found.append(alone)
    return found


def _used_otherwise(kit: Kit) -> list[Choice]:
    """The ways of using the axis that need no metal, each by itself."""
    made = (kit.made((cure,), None) for cure in kit.cures if cure.agreed)
    return [choice for choice in made if choice is not None]


def changes_use(plan: Plan) -> bool:
    """Whether the plan alters how the axis is used."""
    return any(c.key in CHANGE_OF_USE for c in plan.corrections)


def best_plan(
    plans: tuple[Plan, ...], duty: Duty, wanted: str | None
) -> tuple[Plan | None, tuple[Doubt, ...]]:
    """The wanted plan if it may be offered, else the cheapest that meets the duty, or the best.

    A plan that changes how the axis is used is only taken when it is wanted.
    """
    offered = [p for p in plans if p.offered]
    if wanted:
        named = [p for p in plans if p.key == wanted]
        if named and named[0].offered:
            return named[0], ()
        seen = (
            f"The plan {wanted!r} is not offered: {named[0].reason}"
            if named
            else f"There is no plan {wanted!r}."
        )
        keys = ", ".join(p.key for p in offered)
        doubt = Doubt("warn", "plan", seen, "Another was taken.", f"Choose one of: {keys}.")
        return best_plan(plans, duty, None)[0], (doubt,)
    unasked = [p for p in offered if not changes_use(p)]
    good = [p for p in unasked if p.p_meets_duty >= duty.probability]
    if good:
        return min(good, key=lambda p: (effort_of_plan(p), p.loose.value)), ()
    if not unasked:
        return None, ()
    most = max(p.p_meets_duty for p in unasked)
    near = [p for p in unasked if p.p_meets_duty >= most - NEARLY_AS_GOOD]
    if most < NEARLY_AS_GOOD:  # hopeless by chance: take what is left of the lost motion instead
        near = [p for p in unasked if p.loose.value <= 1.1 * min(q.loose.value for q in unasked)]
    return min(near, key=lambda p: (effort_of_plan(p), p.loose.value)), ()
