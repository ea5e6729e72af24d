"""What still limits the taken plan, what needs no metal, and what has not been read."""

from __future__ import annotations

import numpy as np

from wormwright.bench import Bench
from wormwright.job.corrections import Plan
from wormwright.stages.correct.choice import Choice, Kit
from wormwright.stages.correct.effort import effort_of_plan
from wormwright.stages.correct.facts import Facts
from wormwright.stages.correct.judge import allowed_lost_motion
from wormwright.stages.correct.plans import changes_use
from wormwright.stages.correct.truing import spacing_line
from wormwright.stages.correct.unit import UnitRows
from wormwright.stages.correct.wording import arc, hours, percent

WORTH_NAMING = 0.15
"""A cause that takes this share of the allowed lost motion after the work is named."""


def limits_after(facts: Facts, unit: UnitRows, chosen: Plan | None) -> tuple[str, ...]:
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


def advice_on(
    facts: Facts, unit: UnitRows, plans: tuple[Plan, ...], chosen: Plan | None
) -> tuple[str, ...]:
    """Answers that need no metal, where the duty allows them."""
    duty = facts.job.duty
    lines = [*_used_otherwise(plans, chosen, duty.probability)]
    if duty.approach == "one way":
        table = unit.parts["table_radial"] + unit.parts["table_axial"]
        left = float(np.mean(table)) / unit.pair.r2
        lines.append(
            "One-way approach: mesh, worm end play, joint and drive always lie to one side and do "
            f"not count; {arc(left)} of table play is left, because a cut can push the table. "
            "The cut must not reverse the load."
        )
    elif duty.work == "indexed" and not lines:
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
    spacing = spacing_line(facts)
    if spacing:
        lines.append(spacing)
    if chosen is None or chosen.p_meets_duty < duty.probability:
        lines.append(_what_then(facts, chosen))
    return tuple(lines)


def _used_otherwise(plans: tuple[Plan, ...], chosen: Plan | None, wanted: float) -> list[str]:
    """The least work that would do if the axis may be used in another way."""
    ways = [p for p in plans if changes_use(p) and p.offered and p.p_meets_duty >= wanted]
    if not ways or chosen is None:
        return []
    way = min(ways, key=lambda p: (effort_of_plan(p), p.key))
    if changes_use(chosen) or effort_of_plan(way) >= effort_of_plan(chosen):
        return []
    return [
        f"If the axis may be used that way, far less work does it: {way.label[0].lower()}"
        f"{way.label[1:]} (--plan {way.key}, chance {percent(way.p_meets_duty)})."
    ]


def beside(kit: Kit, taken: Choice) -> tuple[str, ...]:
    """Work that does not lessen the lost motion and is worth doing in the same go."""
    plate = kit.cure("adapter")
    if plate is None or taken.has("adapter"):
        return ()
    both = kit.made((*taken.cures, plate), taken.depth)
    if both is None:
        return ()
    hours_more = hours(plate.correction.minutes)
    return (
        f"{plate.correction.label}: it lessens runout, not lost motion; {hours_more} hours more, "
        f"after all else on the unit (--plan {both.key}).",
    )


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


def not_measured(facts: Facts, bench: Bench) -> tuple[str, ...]:
    """Readings that the corrections would use and that are not there, in words."""
    wanted = (
        (facts.adjusting, "how it adjusts"),
        (facts.end_play, "worm end play"),
        (facts.table_axial, "table axial play"),
        (facts.table_radial, "table radial play"),
        (bench.figure("wheel_joint_play"), "play of the wheel on the table"),
        (bench.figure("drive_play"), "play between motor and worm"),
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
