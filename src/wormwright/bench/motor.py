"""What the motor of a drive gives at a speed, and what it costs to swing with its load."""

from __future__ import annotations

import math
from collections.abc import Callable

from wormwright.core.friction import Interval
from wormwright.core.stepper import (
    CLOSED_LOOP,
    OPEN_LOOP,
    REAL_SHARE,
    SUPPLY_LOST,
    Winding,
    pull_out_torque,
    torque_of_points,
)
from wormwright.job.given import Given
from wormwright.job.rotary import Motor

SHARES = {
    "stepper": OPEN_LOOP,
    "closed-loop stepper": CLOSED_LOOP,
    "servo": Interval(0.9, 1.0),
}
"""Share of its curve that a motor may be planned with."""


def curve_of(motor: Motor) -> Callable[[float], float] | None:
    """Pull-out torque N·mm against rpm: points of the data sheet, else the winding, else None."""
    if motor.points:
        return lambda rpm: torque_of_points(motor.points, rpm=rpm)
    winding = winding_of(motor)
    voltage = motor.voltage
    if winding is None or voltage is None or voltage <= SUPPLY_LOST:
        return None
    share = REAL_SHARE

    def pulled(rpm: float) -> float:
        torque = pull_out_torque(winding=winding, voltage=voltage - SUPPLY_LOST, rpm=rpm)
        return torque if torque == winding.holding else share * torque

    return pulled


def winding_of(motor: Motor) -> Winding | None:
    """The figures of the winding, or None where one is missing."""
    holding, current = motor.torque_hold_nmm, motor.current
    if holding is None or current is None or motor.kind == "servo":
        return None
    if motor.resistance is None or motor.inductance is None:
        return None
    steps = motor.steps_per_turn or 200
    return Winding(holding, current, motor.resistance, motor.inductance, steps)


def planned_torque(motor: Motor, rpm: float) -> Given | None:
    """Torque to plan with at a speed; None when only the holding torque is known and it turns."""
    share = SHARES[motor.kind]
    curve = curve_of(motor)
    if curve is not None:
        torque = curve(rpm)
    elif rpm == 0.0 and motor.torque_hold_nmm is not None:
        torque = motor.torque_hold_nmm
    else:
        return None
    return Given(torque * (share.low + share.high) / 2, torque * share.low, torque * share.high)


def field_stiffness(motor: Motor) -> float:
    """Stiffness of the field at the motor, N·mm/rad; inf where an encoder closes the loop."""
    if motor.kind != "stepper" or motor.torque_hold_nmm is None:
        return math.inf
    return (motor.steps_per_turn or 200) / 4 * motor.torque_hold_nmm
