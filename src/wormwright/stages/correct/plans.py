"""Plans from "leave it" to "all of it", each predicted, judged and put in order of effort."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from wormwright.job.corrections import CauseLeft, Correction, Plan
from wormwright.job.result import Doubt
from wormwright.job.rotary import Duty
from wormwright.stages.correct.depth import DepthPlan, hidden_plays
from wormwright.stages.correct.facts import Facts
from wormwright.stages.correct.left import parts_left
from wormwright.stages.correct.predict import (
    Change,
    Left,
    Outcome,
    Yardstick,
    outcome_of_plan,
)
from wormwright.stages.correct.relief import least_clearance
from wormwright.stages.correct.shims import ShimPlan
from wormwright.stages.correct.unit import Array, UnitRows
from wormwright.stages.correct.warm import WarmMesh
from wormwright.stages.correct.wording import arc, percent, small_percent

MOST_JAM = 0.005
"""A plan that jams more often than this is never offered."""

END_PLAY_LIMIT = 0.013
"""Worm end play above which the mesh is not touched before it is cured, mm (half a thou)."""

NEARLY_AS_GOOD = 0.10
"""When nothing meets the duty, the least work within this chance of the best is taken."""

ALL_PARTS = frozenset(
    ("mesh", "end_play", "worm_float", "table_radial", "table_axial", "wheel_joint", "drive")
)
TABLE_PARTS = frozenset(("table_radial", "table_axial"))
"""What a one-way approach does not take up: a cut can still push the table."""


@dataclass(frozen=True, slots=True)
class Kit:
    """The corrections that are possible on this unit."""

    table: ShimPlan
    worm: ShimPlan
    depths: tuple[DepthPlan, ...]


def all_plans(
    facts: Facts, unit: UnitRows, warm: WarmMesh, kit: Kit, *, draws: int, threads: int
) -> tuple[Plan, ...]:
    """Every sensible set of corrections, cheapest first; those not offered say why."""
    plans: list[Plan] = []
    ways: list[DepthPlan | None] = [None, *(d for d in kit.depths if d.correction)]
    for way in ways:
        # The next strategy of the list is only worth showing when this one does not do.
        if way not in ways[:2] and _some_plan_meets(plans, facts.job.duty):
            break
        for table in (False, True) if kit.table.correction else (False,):
            for worm in (False, True) if kit.worm.correction else (False,):
                if way is not None and way.needs_worm_shim and not worm:
                    continue
                chosen = _Chosen(kit, table=table, worm=worm, depth=way)
                plans.append(_plan(facts, unit, warm, chosen, draws=draws, threads=threads))
    return tuple(sorted(plans, key=lambda p: (p.minutes, p.key)))


def _some_plan_meets(plans: list[Plan], duty: Duty) -> bool:
    return any(p.offered and p.p_meets_duty >= duty.probability for p in plans)


class _Chosen:
    """One set of corrections out of the kit."""

    def __init__(self, kit: Kit, *, table: bool, worm: bool, depth: DepthPlan | None) -> None:
        self.depth = depth
        self.first = depth is None or depth is next(d for d in kit.depths if d.correction)
        self.table, self.worm = table, worm
        parts: list[Correction | None] = []
        plays: dict[str, Left] = {}
        if table:
            parts.append(kit.table.correction)
            plays |= kit.table.leaves
        if worm:
            parts.append(kit.worm.correction)
            plays |= kit.worm.leaves
        if depth:
            parts += [depth.relief, depth.correction]
            plays |= depth.leaves or {}
        self.corrections = tuple(c for c in parts if c)
        self.plays = plays

    @property
    def key(self) -> str:
        """Keys of its corrections, or "leave"; a later strategy of the list is named as well."""
        keys = "+".join(c.key for c in self.corrections) or "leave"
        if self.depth is None or self.first:
            return keys
        return f"{keys}:{self.depth.strategy.replace(' ', '-')}"

    @property
    def label(self) -> str:
        """The plan in words."""
        return "; ".join(c.label for c in self.corrections) or "Leave it as it is"


def _plan(
    facts: Facts, unit: UnitRows, warm: WarmMesh, chosen: _Chosen, *, draws: int, threads: int
) -> Plan:
    depth = chosen.depth
    relief = depth.relief_adds if depth and depth.relief else 0.0
    setting = depth.depth if depth else None
    if setting is not None:
        hidden = hidden_plays(unit, without=tuple(chosen.plays))
        setting = replace(setting, hidden=hidden)
    change = Change(chosen.plays, setting, relief)
    by = yardstick_of(facts, unit, warm, chosen.plays)
    outcome = outcome_of_plan(unit, change, by, draws=draws, seed=facts.job.seed, threads=threads)
    reason, offered = _verdict(facts, chosen, outcome, by)
    return Plan(
        key=chosen.key,
        label=chosen.label,
        corrections=chosen.corrections,
        tight=outcome.tight,
        mean=outcome.mean,
        loose=outcome.loose,
        tip_clearance=outcome.tip_clearance,
        p_meets_duty=outcome.p_meets_duty,
        p_jam=outcome.p_jam,
        minutes=sum(c.minutes for c in chosen.corrections),
        offered=offered,
        reason=reason,
        doubts=tuple(d for c in chosen.corrections for d in c.doubts),
        parts_left=_parts_left(facts, unit, change, by),
    )


def _parts_left(
    facts: Facts, unit: UnitRows, change: Change, by: Yardstick
) -> tuple[CauseLeft, ...]:
    """Each cause of the diagnosis, largest first, with what the plan leaves of it."""
    left = parts_left(unit, change, by, seed=facts.job.seed)
    return tuple(
        CauseLeft(c.key, c.label, c.at_table, left[c.key]) for c in facts.diagnosis.contributors
    )


def yardstick_of(facts: Facts, unit: UnitRows, warm: WarmMesh, plays: dict[str, Left]) -> Yardstick:
    """What the duty feels, and what it allows."""
    duty, tip = facts.job.duty, facts.tip_clearance
    return Yardstick(
        allowed=allowed_lost_motion(duty),
        counts=TABLE_PARTS if duty.approach == "one way" else ALL_PARTS,
        apart=_apart(duty, unit, plays),
        warm_closes=warm.closes,
        warm_opens=warm.opens,
        warm_u=warm.u,
        tip=tip.value if tip else None,
        tip_u=tip.u if tip else 0.0,
    )


def allowed_lost_motion(duty: Duty) -> float:
    """Allowed to-and-fro angle of the table at the duty's radius, rad."""
    return duty.error_mm / duty.radius_mm


def _apart(duty: Duty, unit: UnitRows, plays: dict[str, Left]) -> Array | None:
    """Movement that a radial or axial duty feels, as an angle at its radius, rad."""
    name = {"radial": "table_radial", "axial": "table_axial"}.get(duty.direction)
    if name is None:
        return None
    rows = unit.table_radial if name == "table_radial" else unit.table_axial
    if name in plays:
        left = plays[name]
        rows = np.full(unit.count, left.mean + left.sd)
    return rows / duty.radius_mm


def _verdict(facts: Facts, chosen: _Chosen, outcome: Outcome, by: Yardstick) -> tuple[str, bool]:
    """Why the plan is or is not offered, in one line."""
    if outcome.p_jam > MOST_JAM:
        return (
            f"Not offered: the mesh would bind in {small_percent(outcome.p_jam)} of cases, cold or "
            "warm. The plays hidden in the rock are not known well enough to set it.",
            False,
        )
    end_play = facts.end_play.value if facts.end_play else None
    if chosen.depth and not chosen.worm and (end_play is None or end_play > END_PLAY_LIMIT):
        return (
            "Not offered: worm end play comes first; the mesh must not be closed to hide it.",
            False,
        )
    room = outcome.tip_clearance
    least = least_clearance(facts.pair.axial_module)
    if chosen.depth and room and room.low < 0 and room.value < least:
        return "Not offered: the worm crest would meet the wheel root.", False
    refused = [d for c in chosen.corrections for d in c.doubts if d.action == "refuse"]
    if refused:
        return f"Not offered: {refused[0].seen}", False
    wanted = facts.job.duty.probability
    chance = percent(outcome.p_meets_duty)
    if outcome.p_meets_duty >= wanted:
        return f"Meets {arc(by.allowed)}: chance {chance}.", True
    return f"Does not surely meet {arc(by.allowed)}: chance {chance}.", True


def best_plan(
    plans: tuple[Plan, ...], duty: Duty, wanted: str | None
) -> tuple[Plan | None, tuple[Doubt, ...]]:
    """The wanted plan if it may be offered, else the cheapest that meets the duty, or the best."""
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
    good = [p for p in offered if p.p_meets_duty >= duty.probability]
    if good:
        return min(good, key=lambda p: (p.minutes, p.loose.value)), ()
    if not offered:
        return None, ()
    most = max(p.p_meets_duty for p in offered)
    near = [p for p in offered if p.p_meets_duty >= most - NEARLY_AS_GOOD]
    if most < NEARLY_AS_GOOD:  # hopeless by chance: take what is left of the lost motion instead
        near = [p for p in offered if p.loose.value <= 1.1 * min(q.loose.value for q in offered)]
    return min(near, key=lambda p: (p.minutes, p.loose.value)), ()
