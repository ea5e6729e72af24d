"""The depth of the mesh: how this unit adjusts, what that asks for, and what it leaves."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from wormwright.bench import PITCH_NOISE
from wormwright.job.corrections import ClosingPicture, Correction, SettingRow
from wormwright.job.parts import Part
from wormwright.job.result import Doubt, Estimate
from wormwright.stages.correct.bearings import bearing_sizes
from wormwright.stages.correct.bushing import (
    FIT_CLEARANCE,
    FIT_LEAST,
    PLACED,
    RUNNING_LEAST,
    RUNNING_MOST,
    THROW_TOLERANCE,
    bushing_part,
    making_steps,
    nested_parts,
    setting_steps,
    way_of,
)
from wormwright.stages.correct.chart import TightSpotBacklash, closing_picture, setting_chart
from wormwright.stages.correct.facts import BALLS, PLAIN, Facts
from wormwright.stages.correct.fits import bushing_fits
from wormwright.stages.correct.predict import DepthSet, Left
from wormwright.stages.correct.relief import least_clearance, relief_needed
from wormwright.stages.correct.rings import WHEEL_TOLERANCE, Ring, wheel_ring
from wormwright.stages.correct.setting import setting_move
from wormwright.stages.correct.setting_tools import TOOLS_MINUTES, setting_tools
from wormwright.stages.correct.shims import shim_moves_with_bushings
from wormwright.stages.correct.stacks import stack_size
from wormwright.stages.correct.strategy import (
    LEAST_BELIEF,
    Strategy,
    Wanted,
    strategies_that_fit,
    wanted_point,
)
from wormwright.stages.correct.trial import Trial, found_by_trial
from wormwright.stages.correct.unit import Array, UnitRows, bedding_loss, closing_that_gives
from wormwright.stages.correct.warm import (
    WORM_PHASE_U,
    WarmMesh,
    backlash_to_set,
)
from wormwright.stages.correct.wording import length, made_to, sized, turn

LEAST_CLOSING = 0.005
"""A mesh nearer than this to its setting is left alone, mm."""


@dataclass(frozen=True, slots=True)
class DepthPlan:
    """The depth correction, or why there is none. `leaves` is what new bearings do to the float.

    `aside` is how far off the throat centre it leaves the worm on the average, mm.
    """

    correction: Correction | None = None
    relief: Correction | None = None
    relief_adds: float = 0.0
    depth: DepthSet | None = None
    leaves: dict[str, Left] | None = None
    strategy: str = "none"
    reason: str = ""
    rejected: tuple[tuple[str, str], ...] = ()
    closing: Estimate | None = None
    aside: float = 0.0
    chart: tuple[SettingRow, ...] = ()
    picture: ClosingPicture | None = None
    doubts: tuple[Doubt, ...] = ()
    needs_worm_shim: bool = False


def depth_plans(
    facts: Facts, unit: UnitRows, warm: WarmMesh, *, shimmed: bool, trial: Trial | None = None
) -> tuple[DepthPlan, ...]:
    """The depth corrections for this unit, in the order of the strategy list; never empty.

    `shimmed`: worm end play is set in the same plan. `trial`: what a trial pair told.
    """
    refused = _refused(facts)
    if refused:
        return (DepthPlan(reason=refused.seen, doubts=(refused,)),)
    lock = FIT_CLEARANCE / 2
    hidden = hidden_plays(unit, without=("end_play", "worm_float") if shimmed else ())
    target = backlash_to_set(
        facts,
        warm,
        u_set=facts.rock_u,
        lock=lock,
        others_u=float(hidden.std()),
        worm_swing=float(unit.worm_swing.mean()),
    )
    target += wobble_takes(unit)
    closing = closing_that_gives(unit, target)
    if float(closing.mean()) < LEAST_CLOSING:
        least = length(target, facts.job.units)
        why = f"The mesh is already as near as it may be set: {least} at the tight spot is needed "
        why += "for oil film, warmth, reading and locking."
        return (DepthPlan(reason=why, strategy="leave the depth"),)
    base = DepthSet(
        target=target,
        u_set=facts.rock_u,
        u_lock=2 * facts.pair.t * lock / math.sqrt(3),
        u_phase=WORM_PHASE_U,
        u_pitch=PITCH_NOISE,
        short=np.zeros(unit.count),
        bedding=np.zeros(unit.count),
        hidden=hidden,
        closing=closing,
    )
    if facts.adjusting == "fixed bores":
        return _bushings(facts, unit, base, trial)
    return (_setting(facts, unit, base),)


def hidden_plays(unit: UnitRows, *, without: tuple[str, ...]) -> Array:
    """Plays in the rock that are not mesh, off their mean: they hide in the setting, mm at r2."""
    kept = [p for p in unit.parts if p not in (*without, "drive")]
    total: Array = sum((unit.parts[p] for p in kept), np.zeros(unit.count))
    return total - float(total.mean())


def wobble_takes(unit: UnitRows) -> float:
    """Backlash that the wheel's wobble takes up where it swings farthest, mm at r2.

    On the least forgiving kind still possible, at the depth where the wheel was cut.
    """
    if unit.pair.wobble <= 0:
        return 0.0
    aside = unit.pair.wobble / 2
    lost = (
        -float(unit.meshes.of(mesh.kind).backlash_change(da=0.0, dz=aside))
        for mesh in unit.meshes.kinds
        if mesh.belief >= LEAST_BELIEF
    )
    return max(0.0, *lost)


def _refused(facts: Facts) -> Doubt | None:
    if facts.adjusting is None:
        return Doubt(
            "refuse",
            "adjusting",
            "How this unit adjusts has not been entered.",
            "A factory eccentric, pivot or block is set, not bushed; new bushings are for fixed "
            "bores.",
            "Look and enter `adjusting`; no bush and no move is given before.",
        )
    if facts.end_play is None:
        return Doubt(
            "refuse",
            "E-44",
            "Worm end play has not been read, so the rock cannot be split into mesh and end play.",
            "Closing the mesh to hide end play wears the wheel fast and cures nothing.",
            "Read `worm_end_play` while rocking the table.",
        )
    if facts.adjusting == "split housing":
        return Doubt(
            "warn",
            "split housing",
            "A split housing has no adjustment: taking metal off the joint closes the mesh and "
            "the bearing bores together.",
            "The bores come out oval and have to be bored again in line.",
            "Have the joint skimmed and the bores line-bored as one job, or approach from one "
            "side and clamp.",
        )
    return None


def _bushings(
    facts: Facts, unit: UnitRows, base: DepthSet, trial: Trial | None
) -> tuple[DepthPlan, ...]:
    throat = None
    if trial is not None:
        told = found_by_trial(unit, trial, target=base.target)
        throat, base = told.centre, replace(base, closing=told.closing)
    wanted = wanted_point(facts, base.closing, target=base.target, meshes=unit.meshes)
    fitting, rejected = strategies_that_fit(facts, wanted, base.closing, throat)
    if fitting:
        here = _Here(unit, base, wanted, TightSpotBacklash(facts, unit))
        made = (_bushing(facts, here, s) for s in fitting)
        return tuple(replace(plan, rejected=rejected) for plan in made)
    doubt = Doubt(
        "warn",
        "no bushing fits",
        "No eccentric pair reaches the depth on this unit.",
        "; ".join(f"{name}: {reason}" for name, reason in rejected),
        "Enter a smaller bearing of your own, bore the housing larger if it has the wall, or "
        "approach from one side and clamp.",
    )
    none = DepthPlan(
        strategy="none fits",
        reason=doubt.seen,
        rejected=rejected,
        closing=wanted.closing,
        doubts=(doubt,),
    )
    return (none,)


@dataclass(frozen=True, slots=True)
class _Here:
    """What every strategy starts from: the unit, the depth wanted, the backlash in the plane."""

    unit: UnitRows
    base: DepthSet
    wanted: Wanted
    backlash: TightSpotBacklash


def _bushing(facts: Facts, here: _Here, strategy: Strategy) -> DepthPlan:
    unit, base, wanted = here.unit, here.base, here.wanted
    depth = _with_sideways(unit, base, strategy.sideways, strategy.reach)
    aside = float(np.mean(np.abs(strategy.sideways)))
    relief, adds, doubts = relief_needed(facts, unit, wanted.closing, aside)
    nested = strategy.key == "nested pair"
    return DepthPlan(
        correction=_bushing_correction(facts, strategy, wanted, base.target, doubts),
        relief=relief,
        relief_adds=adds,
        depth=depth,
        leaves=_float_left(facts),
        strategy=strategy.key,
        reason=strategy.reason,
        closing=wanted.closing,
        aside=aside,
        chart=() if nested else setting_chart(facts, here.backlash, strategy, wanted, relief=adds),
        picture=closing_picture(
            facts,
            here.backlash,
            strategy,
            wanted,
            least_room=least_clearance(facts.pair.axial_module) - adds,
        ),
        doubts=doubts,
        needs_worm_shim=True,
    )


def _with_sideways(unit: UnitRows, base: DepthSet, sideways: Array, reach: Array) -> DepthSet:
    closing = np.minimum(base.closing, reach)
    centred = (unit.model.backlash_change(da=unit.opened - c) for c in (closing, base.closing))
    reached, wanted = (np.asarray(change) for change in centred)
    return replace(
        base,
        short=reached - wanted,
        bedding=bedding_loss(unit, closing, sideways),
        closing=closing,
    )


def _float_left(facts: Facts) -> dict[str, Left]:
    if facts.bearing_kind == PLAIN:
        return {"worm_float": Left((RUNNING_LEAST + RUNNING_MOST) / 2, 0.005)}
    if facts.bearing_kind in BALLS:
        return {"worm_float": Left(0.0, 0.001)}
    return {"worm_float": Left(0.005, 0.005)}


def _bushing_correction(
    facts: Facts,
    strategy: Strategy,
    wanted: Wanted,
    target: float,
    doubts: tuple[Doubt, ...],
) -> Correction:
    units, turned = facts.job.units, strategy.turned
    names = " / ".join(dict.fromkeys(s.name for s in strategy.swaps))
    sizes: tuple[tuple[str, Estimate], ...] = (
        ("closing wanted", wanted.closing),
        ("throw (TIR is twice this)", made_to(turned.throw, THROW_TOLERANCE, strategy.key)),
        ("backlash to set at the tight spot, at r2", sized(target, facts.rock_u, "see reason")),
    )
    checked = (
        *bearing_sizes(facts, tuple(s.row for s in strategy.swaps if s.row is not None)),
        *bushing_fits(facts, strategy.swaps, least=FIT_LEAST, most=FIT_CLEARANCE),
    )
    first = _first_steps(strategy, facts)
    making = (f"Into the bushings: {names}.", *making_steps(facts, strategy.swaps, turned))
    moved = strategy.wheel_shift
    setting = setting_steps(facts, turned, units, wheel_shift=moved, skew=wanted.skew)
    at_first = "trial_pair" if strategy.key == "trial pair" else "bushings_made"
    own = tuple(d for s in strategy.swaps for d in s.doubts)
    own += shim_moves_with_bushings(facts)
    ring = Ring(None)
    if strategy.wheel_shift > 0:
        shift = length(strategy.wheel_shift, units, to=PLACED)
        ring = wheel_ring(facts, strategy.wheel_shift, way_of(turned))
        own += (_ask_wheel_shift(shift), *ring.doubts)
        placed = made_to(strategy.wheel_shift, WHEEL_TOLERANCE, strategy.key)
        sizes += (("wheel shim, thickness", placed), *stack_size(ring.stack))
    return Correction(
        "bushings",
        f"Eccentric bushings with smaller bearings ({strategy.key})",
        strategy.reason,
        sizes,
        (*_parts(facts, strategy), *ring.parts),
        (*first, *making, *(step for _, step in setting)),
        ("bushings_in", "end_play_reread", "axial_centring", "final_depth", "coupling"),
        strategy.minutes + TOOLS_MINUTES,
        (*doubts, *own),
        step_operations=(
            *(at_first for _ in first),
            *("bushings_made" for _ in making),
            *(operation for operation, _ in setting),
        ),
        checked=checked,
    )


def _parts(facts: Facts, strategy: Strategy) -> tuple[Part, ...]:
    if strategy.key == "nested pair" and strategy.first is not None:
        both = (nested_parts(facts, s, strategy.turned, strategy.first) for s in strategy.swaps)
        bushings = tuple(part for pair in both for part in pair)
    else:
        bushings = tuple(bushing_part(facts, s, strategy.turned) for s in strategy.swaps)
    return (*bushings, *setting_tools(bushings))


def _ask_wheel_shift(by: str) -> Doubt:
    return Doubt(
        "ask",
        "wheel shift",
        f"The plan needs the wheel shifted {by} along the table axis.",
        "If the wheel cannot be shimmed, the worm would stand off the throat centre and jam.",
        "Look whether shims can go under the wheel, and whether it then clears the housing.",
    )


def _first_steps(strategy: Strategy, facts: Facts) -> tuple[str, ...]:
    first, units = strategy.first, facts.job.units
    if first is None:
        return ()
    throw = length(first.throw, units)
    if strategy.key == "graded pairs":
        return (
            f"FIRST pair: throw {throw}, all else as below. With it in, end play set and the wheel "
            "centred by blue, read the rock at the tight spot.",
            "What that reading is over the backlash to set, over "
            f"{2 * facts.pair.t:.2f}, is how much deeper the next pair may stand; take the next "
            "smaller step. Keep the first pair: it is the way back.",
        )
    if strategy.key == "nested pair":
        return (
            f"Outer pair: throw {throw}, put in {turn(abs(first.start))} the other way; the inner "
            "pair below sits in it. Turn the two against each other by equal angles: the worm then "
            "moves straight toward the wheel.",
        )
    return (
        f"TRIAL pair first: throw {throw}, same outside and seat as below, soft steel or brass.",
        "Start with its mark square to the wheel, toward the table top; turn toward the wheel "
        "until the mesh just drags at the tight spot; write the angle. The same from the table "
        "base. "
        "Read the worm with the indicator at both ends.",
        "Depth and throat centre follow from the two angles; make the final pair to them.",
    )


def _setting(facts: Facts, unit: UnitRows, base: DepthSet) -> DepthPlan:
    move = setting_move(facts, base.closing, target=base.target, model=unit.meshes.used)
    depth = _with_sideways(unit, base, move.sideways, move.reach)
    aside = float(np.abs(move.sideways).mean())
    relief, adds, doubts = relief_needed(facts, unit, move.closing, aside)
    return DepthPlan(
        correction=move.correction,
        relief=relief,
        relief_adds=adds,
        depth=depth,
        leaves={},
        strategy=move.strategy,
        reason=move.correction.why,
        closing=move.closing,
        aside=aside,
        doubts=doubts,
    )
