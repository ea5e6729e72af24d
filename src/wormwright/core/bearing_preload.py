"""Axial give of ball bearings under thrust, and the preload a shim change sets up."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from wormwright.core.ball_contact import ball_constant
from wormwright.core.bearing import BallSet, free_contact_angle

Floats = NDArray[np.float64]

UNLOADING_RATIO = 2.0**1.5
"""External thrust over preload at which one of an equal preloaded pair goes slack (2.83).

Source: point contact, load = c * deflection^1.5, constant angle: at twice the preload deflection
the lighter bearing is free and the other carries 2^1.5 preloads. Standard in bearing handbooks.
"""


@dataclass(frozen=True, slots=True)
class AxialSpring:
    """One bearing as a spring along its axis: groove distance, angle at first touch, Z * K_n."""

    groove_distance: float
    angle: float
    constant: float


def axial_spring(balls: BallSet, *, radial_clearance: float) -> AxialSpring:
    """The axial spring of one bearing with a given mounted radial clearance.

    Source: Harris, Rolling Bearing Analysis, 4th ed., ch. 7.
    Formula: constant = Z K_n, K_n taken at the free contact angle.
    Inputs: balls; radial_clearance, mounted, diametral [mm]. Outputs: AxialSpring.
    Valid for: clearance not below zero and below twice the groove distance.
    Raises: ValueError outside.

    >>> spring = axial_spring(BallSet(8, 7.9375, 33.5), radial_clearance=0.010)
    >>> round(math.degrees(spring.angle), 1)
    10.2
    """
    angle = free_contact_angle(
        radial_clearance=radial_clearance, groove_distance=balls.groove_distance
    )
    constant = balls.balls * ball_constant(balls, angle=angle)
    return AxialSpring(balls.groove_distance, angle, constant)


def thrust_at(spring: AxialSpring, deflection: ArrayLike) -> Floats:
    """Thrust of one bearing pushed in by a deflection from first touch.

    Source: Harris, Rolling Bearing Analysis, 4th ed., ch. 7, written as the stretch of the line
        between the groove centres.
    Formula: s = hypot(A cos a0, A sin a0 + d); F = Z K_n (s - A)^1.5 (A sin a0 + d) / s.
    Inputs: deflection d [mm], any shape. Outputs: F [N], same shape; 0 where d <= 0.
    Valid for: d below half of A.
    Raises: ValueError outside.

    >>> spring = axial_spring(BallSet(8, 7.938, 33.5, 0.5177, 0.5177), radial_clearance=0.010)
    >>> round(float(thrust_at(spring, 0.0146)), -1)
    100.0
    """
    A = spring.groove_distance
    d = np.maximum(np.asarray(deflection, dtype=np.float64), 0.0)
    if not np.all(d < A / 2):
        raise ValueError(f"axial deflection: expected below {A / 2:.3f} mm; check unit and preload")
    along = A * math.sin(spring.angle) + d
    s = np.hypot(A * math.cos(spring.angle), along)
    return np.asarray(spring.constant * np.maximum(s - A, 0.0) ** 1.5 * along / s, dtype=np.float64)


def stiffness_at(spring: AxialSpring, deflection: ArrayLike) -> Floats:
    """Axial stiffness of one bearing at a deflection from first touch: the slope of its thrust.

    Source: derivative of `thrust_at`.
    Formula: k = Z K_n [1.5 q^0.5 (v/s)^2 + q^1.5 (A cos a0)^2 / s^3], q = s - A, v = A sin a0 + d.
    Inputs: deflection d [mm], any shape. Outputs: k [N/mm], same shape.
    Valid for: 0 <= d < A/2.
    Raises: ValueError outside.

    >>> spring = axial_spring(BallSet(8, 7.938, 33.5, 0.5177, 0.5177), radial_clearance=0.010)
    >>> 10e3 < float(stiffness_at(spring, 0.0146)) < 15e3
    True
    """
    A = spring.groove_distance
    d = np.asarray(deflection, dtype=np.float64)
    if not np.all((d >= 0) & (d < A / 2)):
        raise ValueError(f"axial deflection: expected 0 to {A / 2:.3f} mm")
    across, along = A * math.cos(spring.angle), A * math.sin(spring.angle) + d
    s = np.hypot(across, along)
    q = np.maximum(s - A, 0.0)
    k = spring.constant * (1.5 * np.sqrt(q) * (along / s) ** 2 + q**1.5 * across**2 / s**3)
    return np.asarray(k, dtype=np.float64)


def deflection_under(spring: AxialSpring, thrust: float) -> float:
    """Axial deflection of one bearing from first touch under a thrust.

    Source: inverse of `thrust_at`.
    Inputs: thrust F [N]. Outputs: d [mm].
    Valid for: 0 <= F up to the thrust at a deflection of A/2.
    Raises: ValueError outside.

    >>> spring = axial_spring(BallSet(8, 7.938, 33.5, 0.5177, 0.5177), radial_clearance=0.010)
    >>> round(deflection_under(spring, 100.0), 4)
    0.0146
    """
    from scipy.optimize import brentq  # noqa: PLC0415 - only where needed

    most = spring.groove_distance * 0.4999
    if not 0 <= thrust <= float(thrust_at(spring, most)):
        raise ValueError(f"thrust {thrust} N: expected 0 to {float(thrust_at(spring, most)):.0f} N")
    return float(brentq(lambda d: float(thrust_at(spring, d)) - thrust, 0.0, most, xtol=1e-12))


def squeeze_for_preload(
    first: AxialSpring, second: AxialSpring, *, preload: float, seat: float = math.inf
) -> float:
    """How far a pair must be drawn together past zero end float to carry a preload.

    Source: springs in series.
    Formula: squeeze = d_1(F) + d_2(F) + F / k_seat.
    Inputs: preload F [N]; seat, stiffness of cover and housing along the shaft [N/mm].
    Outputs: squeeze [mm].
    Valid for: preload not below zero, seat above zero.
    Raises: ValueError outside.

    >>> one = axial_spring(BallSet(8, 7.938, 33.5, 0.5177, 0.5177), radial_clearance=0.010)
    >>> round(squeeze_for_preload(one, one, preload=100.0), 4)
    0.0292
    """
    if not seat > 0:
        raise ValueError(f"seat stiffness must be above zero, got {seat}")
    return deflection_under(first, preload) + deflection_under(second, preload) + preload / seat


def preload_from_squeeze(
    first: AxialSpring, second: AxialSpring, squeeze: ArrayLike, *, seat: float = math.inf
) -> Floats:
    """Preload that a squeeze past zero end float gives; the inverse of `squeeze_for_preload`.

    Source: springs in series, solved on a table of 400 preloads and read between its rows.
    Inputs: squeeze [mm], any shape, below zero is end float; seat stiffness [N/mm].
    Outputs: preload [N], same shape; 0 where the squeeze is not above zero.
    Valid for: squeeze up to what 0.49 of the groove distance allows.
    Raises: ValueError above that.

    >>> one = axial_spring(BallSet(8, 7.938, 33.5, 0.5177, 0.5177), radial_clearance=0.010)
    >>> round(float(preload_from_squeeze(one, one, 0.0292)), 0)
    100.0
    """
    wanted = np.asarray(squeeze, dtype=np.float64)
    loads = np.geomspace(1e-3, 0.99 * _least_limit(first, second), 400)
    total = loads / seat
    for spring in (first, second):
        total = total + _deflections(spring, loads)
    if not np.all(wanted <= total[-1]):
        raise ValueError(f"squeeze: expected up to {total[-1]:.3f} mm; check the unit")
    safe = np.maximum(wanted, total[0])
    found = np.exp(np.interp(np.log(safe), np.log(total), np.log(loads)))
    return np.where(wanted > total[0], found, 0.0)


def _least_limit(first: AxialSpring, second: AxialSpring) -> float:
    return min(float(thrust_at(s, 0.4999 * s.groove_distance)) for s in (first, second))


def _deflections(spring: AxialSpring, loads: Floats) -> Floats:
    """Deflections under many loads, from a fine table of thrust against deflection."""
    d = np.geomspace(1e-9, 0.4999 * spring.groove_distance, 4000)
    return np.exp(np.interp(np.log(loads), np.log(thrust_at(spring, d)), np.log(d)))


def preload_to_stay_loaded(thrust: float) -> float:
    """Least preload of an equal pair that keeps both bearings loaded under an outside thrust.

    Source: standard result of bearing handbooks, see UNLOADING_RATIO.
    Formula: F_0 = P / 2.83.
    Inputs: thrust P, size of the alternating axial load [N]. Outputs: F_0 [N].
    Valid for: equal bearings, angle taken as constant (a deep groove opens: on the safe side).
    Raises: ValueError below zero.

    >>> round(preload_to_stay_loaded(333.0), 0)
    118.0
    """
    if thrust < 0:
        raise ValueError(f"thrust is a size and must not be below zero, got {thrust}")
    return thrust / UNLOADING_RATIO


SPRING_RESERVE = 1.3
"""Spring force over the thrust it has to hold: springs vary and the worm must not lift off."""


def spring_force_to_hold(thrust: float) -> float:
    """Least force of a spring that preloads the worm and is never overcome by the wheel.

    Source: common practice: a spring holds one direction only up to its own force.
    Formula: F_s = 1.3 P.
    Inputs: thrust P, size of the axial load at the duty's torque [N]. Outputs: F_s [N].
    Valid for: steady loads; the other direction must run against a solid shoulder.
    Raises: ValueError below zero.

    >>> spring_force_to_hold(120.0)
    156.0
    """
    if thrust < 0:
        raise ValueError(f"thrust is a size and must not be below zero, got {thrust}")
    return SPRING_RESERVE * thrust
