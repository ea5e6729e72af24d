"""Largest safe speed and acceleration: by pulses, by torque at the tight spot cold, by sliding."""

from __future__ import annotations

import math
from dataclasses import dataclass

from wormwright.bench import Bench
from wormwright.bench.motor import planned_torque
from wormwright.core.drag import cold_drag
from wormwright.core.friction import Interval, sliding_speed
from wormwright.core.rotating import acceleration, cylinder_inertia, reflected_inertia
from wormwright.core.steps import rpm_of_pulse_rate
from wormwright.job.commissioning import SpeedLimit
from wormwright.job.given import Given
from wormwright.job.pair import WormPair
from wormwright.job.result import Estimate
from wormwright.job.rotary import Job, Motor
from wormwright.stages.commission.ratio import Gearing

COLD = Interval(1.2, 2.0)
"""Drag at the coldest start against the drag as read, ends of belief (common practice)."""
SLIDING = (("bronze", 60_000.0), ("brass", 60_000.0), ("iron", 30_000.0), ("steel", 30_000.0))
"""Most sliding of a greased worm by wheel metal, mm/min (common practice: 1 m/s, 0.5 m/s)."""
SLIDING_ELSE = 30_000.0
ACCELERATION_SHARE = 0.5
"""Share of the torque that is left over to plan an acceleration with (common practice)."""
FASTEST = 6000.0
STEPS = 600


@dataclass(frozen=True, slots=True)
class DragFacts:
    """Drag at the worm as read at its worst place, and at the coldest start, N·mm."""

    peak: float
    cold: Interval
    rows: tuple[int, ...]


def drag_of(bench: Bench) -> DragFacts | None:
    """The largest live drag in mesh: the tight spot."""
    rows = [r for r in bench.of("drag_in_mesh") if r.value is not None]
    if not rows:
        return None
    peak = max(r.value or 0.0 for r in rows)
    return DragFacts(peak, cold_drag(peak, cold_factor=COLD), tuple(r.seq for r in rows))


def limits_of(
    job: Job, gearing: Gearing, drag: DragFacts | None, pair: WormPair | None
) -> tuple[SpeedLimit, ...]:
    """Every limit of the table speed that can be told, and those that cannot with why."""
    return (
        _by_pulses(job, gearing),
        _by_torque(job.motor, gearing, drag),
        _by_wish(job.motor, gearing),
        _by_sliding(job, gearing, pair),
    )


def safe_speed(limits: tuple[SpeedLimit, ...]) -> Estimate | None:
    """The lowest of the limits; None while pulses or torque cannot be told."""
    told = {limit.key: limit.rpm for limit in limits}
    if told["pulses"] is None or told["torque"] is None:
        return None
    return min((rpm for rpm in told.values() if rpm is not None), key=lambda e: e.low)


def _exact(value: float, method: str) -> Estimate:
    return Given.plain(value).estimate("speed", method)


def _by_pulses(job: Job, gearing: Gearing) -> SpeedLimit:
    rate = job.control.pulse_limit if job.control else None
    if rate is None:
        return SpeedLimit("pulses", "by pulses", None, "give pulse_limit in [control]")
    rpm = rpm_of_pulse_rate(per_degree=gearing.per_degree, rate=rate)
    return SpeedLimit("pulses", "by pulses", _exact(rpm, "pulse limit"), "the control's limit")


def _by_torque(motor: Motor, gearing: Gearing, drag: DragFacts | None) -> SpeedLimit:
    label = "by torque, tight spot, cold"
    if drag is None:
        return SpeedLimit("torque", label, None, "read drag_in_mesh round the turn")
    if planned_torque(motor, 1.0) is None:
        why = "give torque_points, or current, resistance, inductance and voltage in [motor]"
        return SpeedLimit("torque", label, None, why)
    low = _fastest_with(motor, drag.cold.high / gearing.belt, "low")
    high = _fastest_with(motor, drag.cold.low / gearing.belt, "high")
    ratio = float(gearing.ratio)
    figure = Given((low + high) / 2 / ratio, low / ratio, high / ratio)
    why = "share of the curve to plan with equals the cold drag; judge by the lower end"
    return SpeedLimit("torque", label, figure.estimate("speed", "curve and drag"), why)


def _fastest_with(motor: Motor, torque: float, end: str) -> float:
    """Largest motor rpm at which the planned torque still carries a torque, found by scanning."""
    best = 0.0
    for i in range(STEPS + 1):
        rpm = FASTEST * i / STEPS
        planned = planned_torque(motor, rpm)
        if planned is None or getattr(planned, end) < torque:
            break
        best = rpm
    return best


def _by_wish(motor: Motor, gearing: Gearing) -> SpeedLimit:
    if motor.useful_rpm is None:
        return SpeedLimit("useful", "by your own limit", None, "useful_speed is not given")
    rpm = motor.useful_rpm / float(gearing.ratio)
    return SpeedLimit("useful", "by your own limit", _exact(rpm, "useful speed"), "useful_speed")


def _by_sliding(job: Job, gearing: Gearing, pair: WormPair | None) -> SpeedLimit:
    label = "by sliding in the mesh"
    if pair is None:
        return SpeedLimit("sliding", label, None, "read the worm's outside and the wheel's teeth")
    wheel = job.rotary.wheel_material.casefold()
    most = next((limit for metal, limit in SLIDING if metal in wheel), SLIDING_ELSE)
    one = sliding_speed(worm_diameter=pair.worm_d1, rpm=1.0, lead_angle=math.atan(pair.g))
    rpm = most / 60_000 / one / gearing.worm_ratio
    why = "1 m/s for bronze, 0.5 m/s for iron or unknown, greased (common practice)"
    return SpeedLimit("sliding", label, _exact(rpm, "sliding limit"), why)


def table_inertia(job: Job) -> float | None:
    """Inertia of chuck and heaviest work at the table, kg·mm²; None where no mass is given."""
    found = [
        cylinder_inertia(mass=task.mass, diameter=2 * task.radius)
        for task in job.work
        if task.mass is not None
    ]
    chuck = job.chuck
    total = max(found, default=0.0)
    if chuck is not None and chuck.mass is not None and chuck.diameter is not None:
        total += cylinder_inertia(mass=chuck.mass, diameter=chuck.diameter)
    return total or None


def safe_acceleration(
    job: Job, gearing: Gearing, drag: DragFacts | None, safe: Estimate | None
) -> Given | None:
    """Acceleration of the table at the safe speed, rad/s², from half of the torque left over."""
    motor = job.motor
    if drag is None or safe is None or motor.inertia is None:
        return None
    rpm = safe.low * float(gearing.ratio)
    planned = planned_torque(motor, rpm)
    if planned is None:
        return None
    load = table_inertia(job) or 0.0
    inertia = motor.inertia + reflected_inertia(load=load, ratio=float(gearing.ratio))

    def at(torque: float, against: float) -> float:
        left = max(0.0, torque - against / gearing.belt) * ACCELERATION_SHARE
        return acceleration(inertia=inertia, torque=left) / float(gearing.ratio)

    low, high = at(planned.low, drag.cold.high), at(planned.high, drag.cold.low)
    return Given((low + high) / 2, low, high)
