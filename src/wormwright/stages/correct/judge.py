"""What a set of corrections is expected to give, and whether it may be offered."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

import numpy as np

from wormwright.job.corrections import CauseLeft, Plan
from wormwright.job.rotary import Duty
from wormwright.stages.correct.choice import Choice, Kit
from wormwright.stages.correct.cure import CHAIN, TABLE_PARTS
from wormwright.stages.correct.depth import hidden_plays
from wormwright.stages.correct.effort import cost_of
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
from wormwright.stages.correct.unit import Array, UnitRows
from wormwright.stages.correct.warm import WarmMesh
from wormwright.stages.correct.wording import arc, percent, small_percent

MOST_JAM = 0.005
"""A plan that jams more often than this is never offered."""

END_PLAY_LIMIT = 0.013
"""Worm end play above which the mesh is not touched before it is cured, mm (half a thou)."""

QUICK = 8192
"""Draws that compare sets while they are put together; what is printed is drawn in full."""

ALL_PARTS = CHAIN | TABLE_PARTS


@dataclass(frozen=True, slots=True)
class Judge:
    """Predicts sets of corrections on one unit, all with the same draws."""

    facts: Facts
    kit: Kit
    warm: WarmMesh
    draws: int
    threads: int
    _quick: dict[str, Outcome] = field(default_factory=dict)

    def quick(self, choice: Choice) -> Outcome:
        """Outcome from few draws, remembered."""
        if choice.key not in self._quick:
            self._quick[choice.key] = self._outcome(choice, QUICK)
        return self._quick[choice.key]

    def meets(self, choice: Choice) -> bool:
        """Whether it may be offered and meets the duty, by few draws."""
        outcome = self.quick(choice)
        sure = outcome.p_meets_duty >= self.facts.job.duty.probability
        return sure and not self._objection(choice, outcome)

    def allowed(self, choice: Choice) -> bool:
        """Whether nothing but chance speaks against it: end play first, crest room, doubts."""
        return not self._objection(choice, replace(self.quick(choice), p_jam=0.0))

    def plan(self, choice: Choice) -> Plan:
        """The set as a plan with its figures, from all draws."""
        outcome = self._outcome(choice, self.draws)
        objection = self._objection(choice, outcome)
        unit, change, by = self.parts(choice)
        return Plan(
            key=choice.key,
            label=choice.label,
            corrections=choice.corrections,
            tight=outcome.tight,
            mean=outcome.mean,
            loose=outcome.loose,
            tip_clearance=outcome.tip_clearance,
            p_meets_duty=outcome.p_meets_duty,
            p_jam=outcome.p_jam,
            minutes=choice.minutes,
            offered=not objection,
            reason=f"Not offered: {objection}" if objection else self._chance(outcome, by),
            doubts=tuple(d for c in choice.corrections for d in c.doubts),
            parts_left=self._parts_left(unit, change, by),
            cost=cost_of(self.facts.job, choice.corrections),
        )

    def parts(self, choice: Choice) -> tuple[UnitRows, Change, Yardstick]:
        """The unit, the change and the yardstick of a set, as the prediction takes them."""
        unit, plays, depth = self.kit.unit_of(choice), choice.plays, choice.depth
        setting = depth.depth if depth else None
        if setting is not None:
            setting = replace(setting, hidden=hidden_plays(unit, without=tuple(plays)))
        relief = depth.relief_adds if depth and depth.relief else 0.0
        by = yardstick_of(self.facts, unit, self.warm, choice)
        return unit, Change(plays, setting, relief), by

    def _outcome(self, choice: Choice, draws: int) -> Outcome:
        unit, change, by = self.parts(choice)
        seed = self.facts.job.seed
        return outcome_of_plan(unit, change, by, draws=draws, seed=seed, threads=self.threads)

    def _objection(self, choice: Choice, outcome: Outcome) -> str:
        """Why the plan may not be offered, in one line; empty when it may."""
        depth = choice.depth
        end_play = self.facts.end_play.value if self.facts.end_play else None
        unset = end_play is None or end_play > END_PLAY_LIMIT
        if depth and not choice.has("worm_shim") and unset:
            return "worm end play comes first; the mesh must not be closed to hide it."
        if outcome.p_jam > MOST_JAM:
            return (
                f"the mesh would bind in {small_percent(outcome.p_jam)} of cases, cold or warm. "
                "The plays hidden in the rock are not known well enough to set it."
            )
        room = outcome.tip_clearance
        least = least_clearance(self.facts.pair.axial_module)
        if depth and room and room.low < 0 and room.value < least:
            return "the worm crest would meet the wheel root."
        refused = [d for c in choice.corrections for d in c.doubts if d.action == "refuse"]
        return refused[0].seen if refused else ""

    def _chance(self, outcome: Outcome, by: Yardstick) -> str:
        chance = percent(outcome.p_meets_duty)
        if outcome.p_meets_duty >= self.facts.job.duty.probability:
            return f"Meets {arc(by.allowed)}: chance {chance}."
        return f"Does not surely meet {arc(by.allowed)}: chance {chance}."

    def _parts_left(self, unit: UnitRows, change: Change, by: Yardstick) -> tuple[CauseLeft, ...]:
        """Each cause of the diagnosis, largest first, with what the plan leaves of it."""
        left = parts_left(unit, change, by, seed=self.facts.job.seed)
        causes = self.facts.diagnosis.contributors
        return tuple(CauseLeft(c.key, c.label, c.at_table, left[c.key]) for c in causes)


def yardstick_of(facts: Facts, unit: UnitRows, warm: WarmMesh, choice: Choice) -> Yardstick:
    """What the duty feels, and what it allows."""
    duty, tip = facts.job.duty, facts.tip_clearance
    counts = TABLE_PARTS if duty.approach == "one way" else ALL_PARTS
    for cure in choice.cures:
        counts -= cure.takes_up
    return Yardstick(
        allowed=allowed_lost_motion(duty),
        counts=counts,
        apart=_apart(duty, unit, choice),
        warm_closes=warm.closes,
        warm_opens=warm.opens,
        warm_u=warm.u,
        tip=tip.value if tip else None,
        tip_u=tip.u if tip else 0.0,
    )


def allowed_lost_motion(duty: Duty) -> float:
    """Allowed to-and-fro angle of the table at the duty's radius, rad."""
    return duty.error_mm / duty.radius_mm


def _apart(duty: Duty, unit: UnitRows, choice: Choice) -> Array | None:
    """What a locked table, or a radial or axial duty, feels as an angle at its radius, rad."""
    shifts = [cure.shift for cure in choice.cures if cure.shift > 0]
    if shifts:
        return np.full(unit.count, max(shifts))
    name = {"radial": "table_radial", "axial": "table_axial"}.get(duty.direction)
    if name is None:
        return None
    rows = unit.table_radial if name == "table_radial" else unit.table_axial
    left: Left | None = choice.plays.get(name)
    if left is not None:
        rows = np.full(unit.count, left.mean + left.sd)
    return rows / duty.radius_mm
