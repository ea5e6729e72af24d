"""Correct: from the diagnosis to what to make, and whether it will be enough."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from wormwright.bench import Bench
from wormwright.core.monte_carlo import draws_for_probability
from wormwright.job.corrections import Plan, Remedy
from wormwright.job.findings import Diagnosis
from wormwright.job.reading import Reading
from wormwright.job.result import Doubt
from wormwright.job.rotary import Job
from wormwright.stages.correct.depth import DepthPlan, depth_plans
from wormwright.stages.correct.facts import Facts, facts_of
from wormwright.stages.correct.plans import Kit, all_plans, allowed_lost_motion, best_plan
from wormwright.stages.correct.rings import unread_outlines
from wormwright.stages.correct.shims import table_shim, worm_shim
from wormwright.stages.correct.unit import UnitRows, unit_rows
from wormwright.stages.correct.warm import warm_mesh
from wormwright.stages.correct.wording import arc, percent

PRINTED_PROBABILITY = 0.01
"""Probabilities are printed to whole per cent; draws follow from that."""

WORTH_NAMING = 0.15
"""A cause that takes this share of the allowed lost motion after the work is named."""


def correct(
    job: Job,
    readings: Sequence[Reading],
    diagnosis: Diagnosis,
    *,
    draws: int | None = None,
    threads: int | None = None,
    plan: str | None = None,
) -> Remedy:
    """Plans with their predicted results, the chosen one, and what the bench needs for it.

    `draws` is how many trials predict a plan (default: enough for whole per cents), `plan` the key
    of a wanted plan (default: the job's own choice, else the cheapest that meets the duty).
    """
    bench = Bench(job, tuple(readings))
    facts = facts_of(job, bench, diagnosis)
    unit = unit_rows(diagnosis.pair, diagnosis.posterior, centre_distance=facts.centre_distance)
    warm = warm_mesh(facts, bench)
    worm = worm_shim(facts)
    depths = depth_plans(facts, unit, warm, shimmed=worm.correction is not None)
    if worm.correction is None:
        depths = tuple(_unless_bearings_must_be_set(d) for d in depths)
    kit = Kit(table_shim(facts), worm, depths)
    trials = draws or draws_for_probability(PRINTED_PROBABILITY)
    plans = all_plans(facts, unit, warm, kit, draws=trials, threads=threads or 1)
    chosen, doubts = best_plan(plans, job.duty, plan or job.plan)
    depth = _depth_of(chosen, depths)
    return Remedy(
        plans=plans,
        chosen=chosen,
        strategy=depth.strategy,
        strategy_reason=depth.reason,
        rejected_strategies=_rejected(depth, depths, plans),
        closing=depth.closing,
        setting_chart=depth.chart,
        picture=depth.picture,
        allowed_lost_motion=allowed_lost_motion(job.duty),
        limits_it=_limits(facts, unit, chosen),
        not_measured=(
            *_not_measured(facts),
            *unread_outlines(chosen.corrections if chosen else ()),
        ),
        doubts=_each_once(doubts, kit.worm.doubts, kit.table.doubts, depth.doubts, warm.doubts),
        draws=trials,
        advice=_advice(facts, unit, chosen),
        lost_motion_found=diagnosis.lost_motion_mean,
        worm_outside=diagnosis.pair.worm_od.value if diagnosis.pair.worm_od else None,
    )


def _each_once(*groups: tuple[Doubt, ...]) -> tuple[Doubt, ...]:
    return tuple(dict.fromkeys(d for group in groups for d in group))


def _depth_of(chosen: Plan | None, depths: tuple[DepthPlan, ...]) -> DepthPlan:
    """The depth plan that the chosen plan uses, or the first of the list."""
    used = chosen.corrections if chosen else ()
    return next((d for d in depths if d.correction in used and d.correction), depths[0])


def _rejected(
    used: DepthPlan, depths: tuple[DepthPlan, ...], plans: tuple[Plan, ...]
) -> tuple[tuple[str, str], ...]:
    """Strategies that do not fit, and those before the used one that fit but do not do."""
    out = list(used.rejected)
    for before in depths[: depths.index(used)]:
        chances = [p.p_meets_duty for p in plans if before.correction in p.corrections]
        if chances:
            why = f"it fits, but meets the duty only with a chance of {percent(max(chances))}"
            out.append((before.strategy, why))
    return tuple(out)


def _unless_bearings_must_be_set(depth: DepthPlan) -> DepthPlan:
    """New bearings have to be set; without the worm's shim arrangement there are no bushings."""
    if not depth.needs_worm_shim:
        return depth
    doubt = Doubt(
        "refuse",
        "E-14",
        "New worm bearings would come in, but their end play cannot be set.",
        "Bushings without a shim leave the worm loose along its axis.",
        "Enter `worm_shim_arrangement` and read `worm_end_play`.",
    )
    return replace(depth, correction=None, doubts=(*depth.doubts, doubt))


def _limits(facts: Facts, unit: UnitRows, chosen: Plan | None) -> tuple[str, ...]:
    """What still limits the result after the chosen plan, largest first."""
    if chosen is None:
        return ()
    allowed, r2 = allowed_lost_motion(facts.job.duty), unit.pair.r2
    names = {
        "end_play": "worm end play",
        "worm_float": "worm radial float",
        "table_radial": "table shaft radial play",
        "table_axial": "table axial play",
        "wheel_joint": "wheel-to-table joint (tighten screws and pin; no closing cures it)",
        "drive": "coupling and key between motor and worm",
    }
    left = [(c.left.value, names[c.key]) for c in chosen.parts_left if c.key in names]
    left.append(
        (
            2 * float(np.mean(unit.wheel_swing)) / r2,
            "wheel runout (true the wheel on its seat: the next step if this is too much)",
        )
    )
    left.append((2 * float(np.mean(unit.worm_swing)) / r2, "worm runout"))
    named = [(size, name) for size, name in left if size > WORTH_NAMING * allowed]
    return tuple(f"{name}: {arc(size)}" for size, name in sorted(named, reverse=True))


def _advice(facts: Facts, unit: UnitRows, chosen: Plan | None) -> tuple[str, ...]:
    """Answers that need no metal, where the duty allows them."""
    duty = facts.job.duty
    lines = []
    if duty.approach == "one way":
        table = unit.parts["table_radial"] + unit.parts["table_axial"]
        left = float(np.mean(table)) / unit.pair.r2
        lines.append(
            "One-way approach: mesh, worm end play, joint and drive always lie to one side and do "
            f"not count; {arc(left)} of table play is left, because a cut can push the table. "
            "The cut must not reverse the load."
        )
    elif duty.work == "indexed":
        lines.append(
            "Approach every index from one side, overshooting and coming back half a worm turn: "
            "the lost motion then costs nothing in position. Clamp before the cut."
        )
    if duty.work == "indexed":
        lines.append("Clamp for every cut; lock in the same order and zero after locking.")
    else:
        lines.append(
            "A light drag of the table lock, or a weight on a cord round the table, holds the "
            "flanks to one side while the cutting torque stays below it."
        )
    if chosen is None or chosen.p_meets_duty < duty.probability:
        lines.append(_what_then(facts, chosen))
    return tuple(lines)


def _what_then(facts: Facts, chosen: Plan | None) -> str:
    """The way on when no plan meets the duty: more readings first, else another duty or unit."""
    unread = (facts.adjusting, facts.end_play, facts.worm_arrangement, facts.table_arrangement)
    if any(got is None for got in unread):
        return (
            "No work can be planned that far yet: read what is listed as not measured, and look "
            "again before deciding anything."
        )
    best = percent(chosen.p_meets_duty) if chosen else "none"
    return (
        f"This unit cannot meet the duty with the wanted certainty (best chance {best}): allow "
        "more error, work at a smaller radius, cure what is named above, or take another unit."
    )


def _not_measured(facts: Facts) -> tuple[str, ...]:
    wanted = (
        (facts.adjusting, "how it adjusts"),
        (facts.end_play, "worm end play"),
        (facts.table_axial, "table axial play"),
        (facts.table_radial, "table radial play"),
        (facts.tip_clearance, "crest clearance"),
        (facts.span, "span of the worm bearings"),
        (facts.bearing_kind, "kind of the worm bearings"),
        (facts.ends[0].housing_bore, "housing bore A"),
        (facts.ends[1].housing_bore, "housing bore B"),
        (facts.table_arrangement, "where the table shim acts"),
        (facts.worm_arrangement, "where the worm shim acts"),
        (facts.diagnosis.tight_spot.angle, "the tight spot"),
    )
    return tuple(name for got, name in wanted if got is None)
