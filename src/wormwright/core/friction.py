"""Friction in the worm mesh: efficiency, self-locking, forces and drag. Carry mu as an interval."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal, NamedTuple

Verdict = Literal["holds", "uncertain", "drives back"]


class Interval(NamedTuple):
    """A figure known between two ends only."""

    low: float
    high: float


def _check(lead_angle: float, friction: float, normal_angle: float) -> None:
    if not 0 < lead_angle < math.pi / 3:
        raise ValueError(f"lead angle: expected 0 to 60 degrees in rad, got {lead_angle}")
    if not 0 <= friction <= 0.5:
        raise ValueError(f"friction: expected 0 to 0.5, got {friction}")
    if not math.radians(5) <= normal_angle <= math.radians(35):
        raise ValueError(
            f"normal pressure angle: expected 5 to 35 degrees in rad, got {normal_angle}"
        )


def normal_pressure_angle(*, axial_angle: float, lead_angle: float) -> float:
    """Normal pressure angle from the axial one.

    Source: worm geometry, ISO/TR 10828. Formula: tan(an) = tan(ax) cos(gamma).
    Inputs: axial_angle, lead_angle [rad]. Outputs: [rad].
    Valid for: axial angle above 0 and below 45 degrees.
    Raises: ValueError outside.

    >>> angle = normal_pressure_angle(
    ...     axial_angle=math.radians(20), lead_angle=math.atan(1.5 / 24))
    >>> round(math.degrees(angle), 4)
    19.9641
    """
    if not 0 < axial_angle < math.pi / 4:
        raise ValueError(
            f"axial pressure angle: expected 0 to 45 degrees in rad, got {axial_angle}"
        )
    return math.atan(math.tan(axial_angle) * math.cos(lead_angle))


def friction_angle(*, friction: float, normal_angle: float) -> float:
    """Friction angle of the flank as seen along the thread.

    Source: screw friction, thread of normal angle an. Formula: tan(rho) = mu / cos(an).
    Inputs: friction mu [1]; normal_angle [rad]. Outputs: rho [rad].
    Valid for: mu 0 to 0.5. Raises: ValueError outside.

    >>> round(math.degrees(friction_angle(friction=0.08, normal_angle=math.radians(20))), 3)
    4.866
    """
    _check(0.1, friction, normal_angle)
    return math.atan(friction / math.cos(normal_angle))


def efficiency_worm_driving(*, lead_angle: float, friction: float, normal_angle: float) -> float:
    """Efficiency of the mesh with the worm driving.

    Source: Shigley, Mechanical Engineering Design, eq. 13-46; SDP/SI D785, eq. 16-21.
    Formula: (cos an - mu tan gamma) / (cos an + mu cot gamma).
    Inputs: lead_angle gamma [rad]; friction mu [1]; normal_angle an [rad]. Outputs: [1].
    Valid for: gamma 0 to 60 degrees, mu 0 to 0.5; mesh only, bearings and seals apart.
    Raises: ValueError outside.

    >>> eta = efficiency_worm_driving(
    ...     lead_angle=math.radians(5), friction=0.05, normal_angle=math.radians(14.5))
    >>> round(eta, 3)
    0.626
    """
    _check(lead_angle, friction, normal_angle)
    tan, cos = math.tan(lead_angle), math.cos(normal_angle)
    return (cos - friction * tan) / (cos + friction / tan)


def efficiency_wheel_driving(*, lead_angle: float, friction: float, normal_angle: float) -> float:
    """Efficiency of the mesh with the wheel driving; below zero it cannot drive: the worm holds.

    Source: SDP/SI D785, eq. 16-23.
    Formula: (cos an - mu cot gamma) / (cos an + mu tan gamma).
    Inputs: lead_angle gamma [rad]; friction mu [1]; normal_angle an [rad]. Outputs: [1].
    Valid for: gamma 0 to 60 degrees, mu 0 to 0.5.
    Raises: ValueError outside.

    >>> eta = efficiency_wheel_driving(
    ...     lead_angle=math.radians(15), friction=0.05, normal_angle=math.radians(20))
    >>> round(eta, 3)
    0.79
    """
    _check(lead_angle, friction, normal_angle)
    tan, cos = math.tan(lead_angle), math.cos(normal_angle)
    return (cos - friction / tan) / (cos + friction * tan)


def over_friction(
    efficiency: Callable[..., float], *, lead_angle: float, friction: Interval, normal_angle: float
) -> Interval:
    """An efficiency over an interval of friction.

    Source: both efficiencies fall steadily with mu, so the ends of mu give the ends.
    Inputs: efficiency, one of the two functions above; lead_angle, normal_angle [rad]; friction.
    Outputs: Interval [1].
    Valid for: friction.low <= friction.high.
    Raises: ValueError when crossed.

    >>> both = over_friction(efficiency_worm_driving, lead_angle=math.radians(4),
    ...                      friction=Interval(0.05, 0.12), normal_angle=math.radians(20))
    >>> round(both.low, 2), round(both.high, 2)
    (0.35, 0.57)
    """
    if friction.low > friction.high:
        raise ValueError(f"friction interval is crossed: {friction}")

    def at(mu: float) -> float:
        return efficiency(lead_angle=lead_angle, friction=mu, normal_angle=normal_angle)

    return Interval(at(friction.high), at(friction.low))


def holding_friction(*, lead_angle: float, normal_angle: float) -> float:
    """Least friction at which the wheel cannot drive the worm.

    Source: Shigley, Mechanical Engineering Design, ch. 13 (self-locking).
    Formula: mu = tan gamma cos an.
    Inputs: lead_angle, normal_angle [rad]. Outputs: mu [1].
    Valid for: a set at rest without vibration. Raises: ValueError for odd angles.

    >>> round(holding_friction(
    ...     lead_angle=math.atan(1.5 / 24), normal_angle=math.radians(19.9641)), 4)
    0.0587
    """
    _check(lead_angle, 0.0, normal_angle)
    return math.tan(lead_angle) * math.cos(normal_angle)


def holding(*, lead_angle: float, friction: Interval, normal_angle: float) -> Verdict:
    """Whether the worm holds the wheel by itself, with friction known as an interval.

    Source: `holding_friction`; vibration lowers friction, so never trust it as the only brake.
    Formula: compare the interval of mu with tan gamma cos an.
    Inputs: lead_angle, normal_angle [rad]; friction. Outputs: holds, uncertain or drives back.
    Valid for: a set at rest. Raises: ValueError for odd angles or a crossed interval.

    >>> holding(lead_angle=math.radians(3.6), friction=Interval(0.05, 0.12),
    ...         normal_angle=math.radians(20))
    'uncertain'
    """
    if friction.low > friction.high:
        raise ValueError(f"friction interval is crossed: {friction}")
    threshold = holding_friction(lead_angle=lead_angle, normal_angle=normal_angle)
    if friction.low > threshold:
        return "holds"
    return "drives back" if friction.high < threshold else "uncertain"


def sliding_speed(*, worm_diameter: float, rpm: float, lead_angle: float) -> float:
    """Speed of the thread over the tooth.

    Source: Shigley, Mechanical Engineering Design, ch. 13.
    Formula: v = pi d1 n / (60 000 cos gamma).
    Inputs: worm_diameter d1 [mm]; rpm n of the worm; lead_angle [rad]. Outputs: v [m/s].
    Valid for: d1 above zero. Raises: ValueError outside.

    >>> round(sliding_speed(worm_diameter=24, rpm=300, lead_angle=math.atan(1.5 / 24)), 4)
    0.3777
    """
    if not worm_diameter > 0:
        raise ValueError(f"worm diameter must be above zero, got {worm_diameter} mm")
    return math.pi * worm_diameter * abs(rpm) / (60_000 * math.cos(lead_angle))


def agma_friction(speed: float) -> float:
    """Friction of a hardened worm on bronze with good oil, by the AGMA law.

    Source: Shigley, Mechanical Engineering Design, eq. 15-62 (AGMA 6034 law).
    Formula: V in ft/min: 0.150 at rest; 0.124 exp(-0.074 V^0.645) up to 10;
        0.103 exp(-0.110 V^0.450) + 0.012 above.
    Inputs: speed, sliding [m/s]. Outputs: mu [1].
    Valid for: 0 to 15 m/s; the two laws do not join at 10 ft/min (a step of 2 per cent). Cast iron
        and grease run higher, other sources differ by a quarter: carry an interval.
    Raises: ValueError outside.

    >>> round(agma_friction(1.0), 4)
    0.0435
    """
    if not 0 <= speed <= 15:
        raise ValueError(f"sliding speed: expected 0 to 15 m/s, got {speed}")
    v = speed * 60 / 0.3048
    if v == 0:
        return 0.150
    if v <= 10:
        return 0.124 * math.exp(-0.074 * v**0.645)
    return 0.103 * math.exp(-0.110 * v**0.450) + 0.012


@dataclass(frozen=True, slots=True)
class MeshForces:
    """Forces in the mesh, N: normal to the flank, round the worm, along the worm, apart."""

    normal: float
    worm_tangential: float
    wheel_tangential: float
    separating: float


def mesh_forces(
    *, wheel_tangential: float, lead_angle: float, friction: float, normal_angle: float
) -> MeshForces:
    """Forces in the mesh with the worm driving, from the tangential force at the wheel.

    Source: Shigley, Mechanical Engineering Design, eq. 13-43; the wheel's tangential force is the
        worm's thrust.
    Formula: W = W_2 / (cos an cos g - mu sin g); W_1 = W (cos an sin g + mu cos g);
        W_r = W sin an.
    Inputs: wheel_tangential W_2 = T_2/r_2 [N]; lead_angle g, normal_angle an [rad]; friction mu.
    Outputs: MeshForces [N].
    Valid for: cos an cos g > mu sin g (always so below 60 degrees of lead).
    Raises: ValueError outside.

    >>> forces = mesh_forces(wheel_tangential=370.37, lead_angle=math.atan(1.5 / 24),
    ...                      friction=0.0, normal_angle=math.radians(19.9641))
    >>> round(forces.separating, 1)
    134.8
    """
    _check(lead_angle, friction, normal_angle)
    sin_g, cos_g, cos_n = math.sin(lead_angle), math.cos(lead_angle), math.cos(normal_angle)
    normal = wheel_tangential / (cos_n * cos_g - friction * sin_g)
    return MeshForces(
        normal=normal,
        worm_tangential=normal * (cos_n * sin_g + friction * cos_g),
        wheel_tangential=wheel_tangential,
        separating=normal * math.sin(normal_angle),
    )


def worm_torque(*, wheel_torque: float, ratio: float, efficiency: float, drag: float) -> float:
    """Torque at the worm to drive a torque at the wheel.

    Source: definition of efficiency. Formula: T_1 = T_2 / (i eta) + T_drag.
    Inputs: wheel_torque T_2, drag at the worm [N·mm]; ratio i; efficiency eta [1].
    Outputs: T_1 [N·mm].
    Valid for: 0 < eta <= 1, ratio above zero, drag not below zero.
    Raises: ValueError outside.

    >>> round(worm_torque(wheel_torque=20_000, ratio=72, efficiency=0.42115, drag=0), 1)
    659.6
    """
    if not (0 < efficiency <= 1 and ratio > 0 and drag >= 0):
        raise ValueError(f"efficiency {efficiency}, ratio {ratio}, drag {drag}: out of range")
    return abs(wheel_torque) / (ratio * efficiency) + drag


def drag_of_tight_mesh(*, flank_load: float, friction: float, worm_diameter: float) -> float:
    """Drag at the worm of a mesh that is tight on both flanks.

    Source: derived here: two flanks, each rubbing at the pitch radius.
    Formula: T = 2 mu N d1/2; the tangential parts of the two flank loads cancel.
    Inputs: flank_load N on each flank [N]; friction mu [1]; worm_diameter d1 [mm].
    Outputs: T [N·mm].
    Valid for: small lead angles (below 10 degrees). Raises: ValueError for figures below zero.

    >>> drag_of_tight_mesh(flank_load=50, friction=0.1, worm_diameter=24)
    120.0
    """
    if flank_load < 0 or friction < 0 or not worm_diameter > 0:
        raise ValueError(
            f"load {flank_load}, friction {friction}, d1 {worm_diameter}: out of range"
        )
    return friction * flank_load * worm_diameter


def drag_of_preloaded_bearings(*, preload: float, friction: float, bore: float) -> float:
    """Drag of a pair of preloaded ball bearings, without seals.

    Source: bearing makers' estimate M = mu F d/2 for one bearing (mu 0.0015 for deep groove;
        from memory), two bearings.
    Formula: T = 2 * (mu F d / 2).
    Inputs: preload F [N]; friction mu [1]; bore d [mm]. Outputs: T [N·mm].
    Valid for: light grease, no seals. Raises: ValueError for figures below zero.

    >>> round(drag_of_preloaded_bearings(preload=100, friction=0.0015, bore=20), 3)
    3.0
    """
    if preload < 0 or friction < 0 or not bore > 0:
        raise ValueError(f"preload {preload}, friction {friction}, bore {bore}: out of range")
    return friction * preload * bore
