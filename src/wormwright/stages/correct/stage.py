"""Correct: from the diagnosis to what to make, and whether it will be enough."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from wormwright.bench import Bench
from wormwright.core.monte_carlo import draws_for_probability
from wormwright.job.corrections import (
    FalseTight,
    MeshCompared,
    Plan,
    Remedy,
    WormPlace,
)
from wormwright.job.findings import VECTORS, Diagnosis
from wormwright.job.reading import Reading
from wormwright.job.result import Doubt
from wormwright.job.rotary import Job
from wormwright.stages.correct.adapter import adapter_truing
from wormwright.stages.correct.advice import advice_on, beside, limits_after, not_measured
from wormwright.stages.correct.approach import approach_rule
from wormwright.stages.correct.buys import bought_by
from wormwright.stages.correct.centring import centred, off_centre, wheel_centring
from wormwright.stages.correct.chart import TightSpotBacklash
from wormwright.stages.correct.choice import Choice, Kit
from wormwright.stages.correct.compare import meshes_compared
from wormwright.stages.correct.cure import Cure
from wormwright.stages.correct.depth import DepthPlan, depth_plans
from wormwright.stages.correct.facts import Facts, facts_of
from wormwright.stages.correct.false_tight import false_tight_places
from wormwright.stages.correct.holding import bias_weight_and_cord, clamp, friction_brake
from wormwright.stages.correct.joint import coupling, wheel_joint
from wormwright.stages.correct.journal import journal_bushes
from wormwright.stages.correct.judge import Judge, allowed_lost_motion
from wormwright.stages.correct.plans import all_plans, best_plan
from wormwright.stages.correct.rings import unread_outlines
from wormwright.stages.correct.seat_part import unread_seat
from wormwright.stages.correct.sensitivity import error_shares
from wormwright.stages.correct.shims import ShimPlan, table_shim, worm_shim
from wormwright.stages.correct.trial import Trial, trial_read
from wormwright.stages.correct.truing import trued, wheel_truing
from wormwright.stages.correct.unit import UnitRows, unit_rows
from wormwright.stages.correct.warm import WarmMesh, warm_mesh
from wormwright.stages.correct.wording import percent

PRINTED_PROBABILITY = 0.01
"""Probabilities are printed to whole per cent; draws follow from that."""


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
    warm = warm_mesh(facts, bench)
    table, worm = table_shim(facts), worm_shim(facts)
    trial, trial_doubts = trial_read(bench)
    kit = _kit(facts, bench, warm, Made(table, worm, trial))
    trials = draws or draws_for_probability(PRINTED_PROBABILITY)
    judge = Judge(facts, kit, warm, trials, threads or 1)
    plans = all_plans(judge, kit, plan or job.plan)
    chosen, doubts = best_plan(plans, job.duty, plan or job.plan)
    taken = (kit.named(chosen.key) if chosen else None) or Choice()
    depths = kit.depths_trued if taken.has("wheel_truing") else kit.depths
    depth = taken.depth or depths[0]
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
        limits_it=limits_after(facts, kit.unit_of(taken), chosen),
        not_measured=(
            *not_measured(facts, bench),
            *unread_outlines(chosen.corrections if chosen else ()),
            *unread_seat(chosen.corrections if chosen else ()),
        ),
        doubts=_each_once(
            doubts,
            trial_doubts,
            worm.doubts,
            table.doubts,
            depth.doubts,
            warm.doubts,
            kit.unit.meshes.doubts,
        ),
        draws=trials,
        advice=(*advice_on(facts, kit.unit, plans, chosen), *beside(kit, taken)),
        lost_motion_found=diagnosis.lost_motion_mean,
        worm_outside=diagnosis.pair.worm_od.value if diagnosis.pair.worm_od else None,
        buys=bought_by(judge, kit, taken),
        error_shares=error_shares(judge, taken),
        stands=_stands(facts, kit.unit, kit.unit_of(taken), depth),
        meshes=_compared(kit.unit_of(Choice(taken.cures, depth)), depth),
        false_tight=_false_tight(facts, kit.unit_of(Choice(taken.cures, depth)), depth),
    )


def _compared(unit: UnitRows, depth: DepthPlan) -> tuple[MeshCompared, ...]:
    """The mesh models against each other at the planned move; nothing without one."""
    if depth.closing is None:
        return ()
    return meshes_compared(unit, closing=depth.closing.value, aside=depth.aside)


def _false_tight(facts: Facts, unit: UnitRows, depth: DepthPlan) -> tuple[FalseTight, ...]:
    """Where the planned bushings would shut the mesh by standing sideways."""
    picture = depth.picture
    if picture is None or not depth.chart:
        return ()
    return false_tight_places(
        TightSpotBacklash(facts, unit),
        unit,
        throw=picture.throw,
        throat=picture.sideways_to_throat.value,
    )


def _stands(facts: Facts, before: UnitRows, unit: UnitRows, depth: DepthPlan) -> WormPlace:
    """How far from where its wheel was cut the worm stands, before and after, and its runouts."""
    found = float(unit.opened.mean())
    left = found
    if depth.depth is not None:
        left = float((unit.opened - depth.depth.closing).mean())
    seen = {key: float(facts.diagnosis.posterior.of(key).mean()) for key in VECTORS}
    wheel = (seen["wheel_x"], seen["wheel_y"])
    share = float(unit.wheel_swing.mean()) / max(float(before.wheel_swing.mean()), 1e-9)
    return WormPlace(
        pair=unit.pair,
        found=found,
        left=left,
        sideways=0.0,
        backlash=float(before.mesh.mean()),
        to_set=depth.depth.target if depth.depth else None,
        wheel=wheel,
        wheel_left=(share * wheel[0], share * wheel[1]),
        worm=(seen["worm_x"], seen["worm_y"]),
        tight=facts.diagnosis.tight_spot.angle,
    )


@dataclass(frozen=True, slots=True)
class Made:
    """The shims of both bearings, and what a trial pair told if one was tried."""

    table: ShimPlan
    worm: ShimPlan
    trial: Trial | None


def _kit(facts: Facts, bench: Bench, warm: WarmMesh, made: Made) -> Kit:
    """All that is possible on this unit."""
    pair, posterior = facts.pair, facts.diagnosis.posterior
    unit = unit_rows(pair, posterior, centre_distance=facts.centre_distance)
    centring = wheel_centring(facts, bench)
    plate = adapter_truing(facts)
    if centring is not None:
        unit = off_centre(unit)
    truing = wheel_truing(facts, bench)
    cures = (
        *(Cure(s.correction, s.leaves) for s in (made.table, made.worm) if s.correction),
        wheel_joint(facts, bench),
        truing,
        journal_bushes(facts),
        centring,
        coupling(facts, bench),
        clamp(facts, bench),
        bias_weight_and_cord(facts, bench),
        friction_brake(facts, bench),
        Cure(plate) if plate else None,
        approach_rule(facts),
    )
    middle = centred(unit)
    depths = _depths(facts, middle, warm, made)
    runout = truing.trues if truing else None
    after = _depths(facts, trued(middle, runout), warm, made) if runout is not None else ()
    return Kit(unit, tuple(c for c in cures if c is not None), depths, after)


def _depths(facts: Facts, unit: UnitRows, warm: WarmMesh, made: Made) -> tuple[DepthPlan, ...]:
    """Ways to set the depth of the mesh on that unit; never empty."""
    shimmed = made.worm.correction is not None
    depths = depth_plans(facts, unit, warm, shimmed=shimmed, trial=made.trial)
    if shimmed:
        return depths
    return tuple(_unless_bearings_must_be_set(d) for d in depths)


def _each_once(*groups: tuple[Doubt, ...]) -> tuple[Doubt, ...]:
    return tuple(dict.fromkeys(d for group in groups for d in group))


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
