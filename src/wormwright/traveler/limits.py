"""The limits that gates share, each worked out from the duty and the chosen plan."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from wormwright.bench.tram import allowed_lean, tail_limit
from wormwright.bench.warm import HOUSING_SHARE, WHEEL_SHARE, expansions_of, mesh_change
from wormwright.core.counterweight import CLAMP_MARGIN
from wormwright.core.eccentric import least_wall
from wormwright.core.thermal import warm_states
from wormwright.job.corrections import Plan, Remedy
from wormwright.job.pair import WormPair
from wormwright.job.parts import EccentricBushing, Part, WormRelief
from wormwright.job.result import Estimate
from wormwright.job.rotary import Job
from wormwright.job.sheet import KINDS
from wormwright.quantities import shown

HALF_THOU = 0.013
"""Largest end play of a worm and play of a table bearing that good work takes (trade practice)."""
ONE_TENTH = 0.0025
"""Smallest movement a test indicator shows for certain; a tight joint shows none (practice)."""
ENDS_APART = 0.010
COUPLING_OFFSET = 0.05
DRAG_RATIO = 2.0
"""Highest drag of a turn against its median (common practice)."""
MOTOR_MARGIN = 2.0
"""Holding torque of the motor against the highest drag of the worm (common practice)."""
NEAR_TIGHT = math.radians(15)
SPOT_CHECK_SD = 3.0
"""A spot check repeats when it is within this many times the noise of one careful reading."""
LOOSE_FIT = 0.008
"""Most clearance of a bushing in its bore, and most out-of-round of the bore, mm."""
LEAST_TIP, LEAST_TIP_MODULES = 0.05, 0.05
"""Least room between worm crest and wheel root: the larger of 0.05 mm and 0.05 m (practice)."""
WHEEL_SWING = 0.020
"""Swing of a wheel that truing on its seat reaches, mm (common practice)."""
CLAMP_SHIFT = 0.025
"""Shift of a hand-clamped table at its rim: the usual ten tenths at most (common practice)."""
DRIFT_SHARE = 5
"""The first target may move during a test by so many times less than the duty allows (practice)."""
ARCMIN = math.radians(1 / 60)


@dataclass(frozen=True, slots=True)
class BushingLimits:
    """What one bushing is checked against, mm: swing of the needle, thin wall, clearance."""

    end: str
    swing: tuple[float, float]
    wall: float
    slack: tuple[float, float]


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
    sets_depth: bool = True
    tip: float = LEAST_TIP
    spot: float = 0.0075
    wheel_swing: float = WHEEL_SWING
    clamp_shift: float = CLAMP_SHIFT
    clamp_torque: float = 0.0
    bushings: tuple[BushingLimits, ...] = ()
    warm_closes: float = 0.0
    lock_shift: float = LOOSE_FIT
    lean: float = 0.0
    lean_span: str = ""
    tail: float = 0.0
    chuck_swing: float = 0.0
    error: float = 0.0
    drift: float = 0.0


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
        drag=_drag(job),
        seen=up(ONE_TENTH / duty.radius_mm, ARCMIN),
        closing=remedy.closing if remedy else None,
        sideways=_sideways(remedy),
        turn=_turn(remedy),
        relief=_relief(plan),
        drive=down(0.1 * allowed * pair.ratio, ARCMIN) if pair else None,
        sets_depth=plan is None or any(c.key in SETS_DEPTH for c in plan.corrections),
        tip=max(LEAST_TIP, up(LEAST_TIP_MODULES * pair.axial_module)) if pair else LEAST_TIP,
        spot=SPOT_CHECK_SD * (KINDS["rock"].noise or 0.0),
        wheel_swing=_wheel_swing(allowed, pair),
        clamp_shift=min(CLAMP_SHIFT, down(duty.error_mm / 3)),
        clamp_torque=up(CLAMP_MARGIN * duty.torque_resist_nmm),
        bushings=bushing_limits(parts_of(plan)),
        warm_closes=_warm_closes(job, pair),
        lock_shift=_lock_shift(allowed, pair),
        lean=down(allowed_lean(job).over),
        lean_span=shown(allowed_lean(job).span, "length", resolution=1.0, units=job.units),
        tail=down(tail_limit(job)),
        chuck_swing=_chuck_swing(job),
        error=down(duty.error_mm),
        drift=down(duty.error_mm / duty.radius_mm / DRIFT_SHARE, ARCMIN),
    )


SETS_DEPTH = ("bushings", "setting", "centre_shim")
"""Corrections that move the worm toward the wheel."""


def parts_of(plan: Plan | None) -> tuple[Part, ...]:
    """Every part that the plan makes, in the order of its corrections."""
    return tuple(p for c in plan.corrections for p in c.parts) if plan else ()


def bushing_limits(parts: tuple[Part, ...]) -> tuple[BushingLimits, ...]:
    """What each bushing is checked against; the second at an end is the outer of a nested pair."""
    found: list[BushingLimits] = []
    for part in parts:
        if not isinstance(part, EccentricBushing):
            continue
        end = part.side.lower()
        if any(b.end == end for b in found):
            end = f"{end}_outer"
        low, high = part.throw - part.throw_tolerance, part.throw + part.throw_tolerance
        wall = min(
            up(least_wall(outside=part.outside.size)), down(part.wall_thin - part.throw_tolerance)
        )
        slack = (max(0.0, -part.outside.upper), max(LOOSE_FIT, -part.outside.lower))
        found.append(BushingLimits(end, (2 * low, 2 * high), wall, slack))
    return tuple(found)


CHUCK_SWING = {"three-jaw": 0.10, "four-jaw": 0.02, "collet": 0.02}
"""Swing of a bar that each kind of chuck reaches in good order, mm (common practice)."""


def _chuck_swing(job: Job) -> float:
    """Swing of a bar near the jaws: what the chuck reaches, at most what the duty allows."""
    usual = CHUCK_SWING[job.mount.hold] if job.mount else CHUCK_SWING["three-jaw"]
    return min(usual, down(job.duty.error_mm))


def _drag(job: Job) -> float:
    """Highest drag at the worm: the duty's, and half of what the motor holds."""
    drag, hold = job.duty.drag_limit_nmm, job.motor.torque_hold_nmm
    return down(drag if hold is None else min(drag, hold / MOTOR_MARGIN))


def _wheel_swing(allowed: float, pair: WormPair | None) -> float:
    """Swing of the wheel whose rise and fall of play, 2 t x swing, is half of what is allowed."""
    if pair is None:
        return WHEEL_SWING
    return max(WHEEL_SWING, down(allowed * pair.r2 / (4 * pair.t)))


def _lock_shift(allowed: float, pair: WormPair | None) -> float:
    """Shift of the worm on locking whose play, 2 t x shift, is a tenth of what is allowed."""
    return min(LOOSE_FIT, down(0.1 * allowed * pair.r2 / (2 * pair.t))) if pair else LOOSE_FIT


def _warm_closes(job: Job, pair: WormPair | None) -> float:
    """How much the mesh closes on its way to working warmth, rad at the table (0: it opens)."""
    if pair is None:
        return 0.0
    try:
        grows = expansions_of(job)
    except ValueError:
        return 0.0
    states = warm_states(
        start=0.0, rise=job.duty.rise_k, housing_share=HOUSING_SHARE, wheel_share=WHEEL_SHARE
    )
    return max(0.0, *(-mesh_change(pair, state, grows) for state in states)) / pair.r2


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
    for part in parts_of(plan):
        if isinstance(part, WormRelief):
            return part.outside.size + part.outside.lower, part.outside.size + part.outside.upper
    return None
