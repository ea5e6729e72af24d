"""The limits that gates share, each worked out from the duty and the chosen plan."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from wormwright.job.corrections import Plan, Remedy
from wormwright.job.pair import WormPair
from wormwright.job.parts import WormRelief
from wormwright.job.result import Estimate
from wormwright.job.rotary import Job

HALF_THOU = 0.013
"""Largest end play of a worm and play of a table bearing that good work takes (trade practice)."""
ONE_TENTH = 0.0025
"""Smallest movement a test indicator shows for certain; a tight joint shows none (practice)."""
ENDS_APART = 0.010
COUPLING_OFFSET = 0.05
DRAG_RATIO = 2.0
"""Highest drag of a turn against its median (common practice)."""
NEAR_TIGHT = math.radians(15)
ARCMIN = math.radians(1 / 60)


@dataclass(frozen=True, slots=True)
class Limits:
    """The limits that the gates share, mm and rad at the table; None where the plan has none."""

    allowed: float
    play_min: float
    tight_high: float
    end_play: float
    table_play: tuple[float, float]
    ends_apart: float
    drag: float
    seen: float
    closing: Estimate | None = None
    sideways: float | None = None
    turn: float | None = None
    relief: tuple[float, float] | None = None
    drive: float | None = None


def down(value: float, unit: float = 1.0) -> float:
    """An upper limit cut to two figures in its unit, so that what is printed is what is judged."""
    return _to_two_figures(value, unit, math.floor)


def up(value: float, unit: float = 1.0) -> float:
    """A lower limit raised to two figures in its unit."""
    return _to_two_figures(value, unit, math.ceil)


def _to_two_figures(value: float, unit: float, cut: Callable[[float], int]) -> float:
    if value == 0:
        return 0.0
    step = 10.0 ** (math.floor(math.log10(abs(value) / unit)) - 1)
    return cut(round(value / unit / step, 6)) * step * unit


def limits(
    job: Job, remedy: Remedy | None, *, pair: WormPair | None = None, span: float | None = None
) -> Limits:
    """Shared limits from the duty, the chosen plan, and (if known) pair and bearing span in mm.

    The smallest play of the duty is backlash at the wheel pitch radius. While the pair is not
    known it is judged at the radius of the duty.
    """
    duty = job.duty
    plan = remedy.chosen if remedy else None
    allowed = remedy.allowed_lost_motion if remedy else duty.error_mm / duty.radius_mm
    play_min = duty.play_min_cold_mm / (pair.r2 if pair else duty.radius_mm)
    tight = min(allowed, plan.tight.high) if plan else allowed
    return Limits(
        allowed=down(allowed, ARCMIN),
        play_min=up(play_min, ARCMIN),
        tight_high=down(tight if tight > play_min else allowed, ARCMIN),
        end_play=_end_play(allowed, pair),
        table_play=_table_play(job),
        ends_apart=_ends_apart(allowed, pair, span),
        drag=down(duty.drag_limit_nmm),
        seen=up(ONE_TENTH / duty.radius_mm, ARCMIN),
        closing=remedy.closing if remedy else None,
        sideways=_sideways(remedy),
        turn=_turn(remedy),
        relief=_relief(plan),
        drive=down(0.1 * allowed * pair.ratio, ARCMIN) if pair else None,
    )


def _end_play(allowed: float, pair: WormPair | None) -> float:
    """At most a third of the allowed lost motion: end play counts 1:1 at the wheel radius."""
    return min(HALF_THOU, down(allowed * pair.r2 / 3)) if pair else HALF_THOU


def _table_play(job: Job) -> tuple[float, float]:
    """Largest (axial, radial) table play: half a thou, or the duty where it looks that way."""
    duty = job.duty
    least = min(HALF_THOU, down(duty.error_mm))
    axial = least if duty.direction == "axial" else HALF_THOU
    return axial, least if duty.direction == "radial" else HALF_THOU


def _ends_apart(allowed: float, pair: WormPair | None, span: float | None) -> float:
    """Mismatch of the two ends whose skew costs at most a tenth of the allowed lost motion.

    A skew s costs 2 s r1 tan(th) of backlash at r2, th the half angle of the face on the worm.
    """
    if pair is None or span is None:
        return ENDS_APART
    tan_face = pair.sin_face / math.sqrt(1 - pair.sin_face**2)
    skew = 0.1 * allowed * pair.r2 / (2 * pair.r1 * tan_face)
    return min(ENDS_APART, down(skew * span))


def _sideways(remedy: Remedy | None) -> float | None:
    """Sideways error that costs no depth, for the least forgiving wheel kind of the picture."""
    if remedy is None or remedy.picture is None or not remedy.picture.sideways_tolerance:
        return None
    return down(min(tolerance for _, tolerance in remedy.picture.sideways_tolerance))


def _turn(remedy: Remedy | None) -> float | None:
    """Turn of the bushings that uses up the sideways tolerance: dz / (e cos(angle)).

    Nested pairs are turned against each other and stay in the line to the wheel: no such limit.
    """
    tolerance = _sideways(remedy)
    if remedy is None or remedy.picture is None or tolerance is None:
        return None
    if "nested" in remedy.strategy:
        return None
    depth = remedy.picture.throw * abs(math.cos(remedy.picture.chosen_angle))
    return down(tolerance / depth, math.radians(1)) if tolerance < depth * math.pi / 2 else None


def _relief(plan: Plan | None) -> tuple[float, float] | None:
    parts = [p for c in plan.corrections for p in c.parts] if plan else []
    for part in parts:
        if isinstance(part, WormRelief):
            return part.outside.size + part.outside.lower, part.outside.size + part.outside.upper
    return None
