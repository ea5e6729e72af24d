"""Stepper motors: torque against speed, resonance, and error under load. Servos in the last lines.

Core units of the electrical figures: V, A, ohm, H; torque N·mm, inertia kg·mm², speed rpm.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from wormwright.core.friction import Interval
from wormwright.core.refused_input import above_zero

SUPPLY_LOST = 2.0
"""Volts that driver and wires keep for themselves (common practice)."""
REAL_SHARE = 0.7
"""Iron loss and current loop: a real motor gives this share of the formula (common practice)."""
OPEN_LOOP, CLOSED_LOOP = Interval(0.4, 0.5), Interval(0.8, 0.9)
"""Share of the pull-out torque to plan with, without and with an encoder (common practice)."""
STEP_ACCURACY = 0.05
"""Error of one full step, as a share of it; it does not add up (data sheets)."""
MID_BAND = (500.0, 1500.0)
"""Full steps a second at which an undamped driver may lose step (common practice)."""


@dataclass(frozen=True, slots=True)
class Winding:
    """Figures of the data sheet: holding torque N·mm with both phases at the rated current A,
    resistance ohm and inductance H of a phase, full steps in a turn."""

    holding: float
    current: float
    resistance: float
    inductance: float
    steps: int = 200

    def __post_init__(self) -> None:
        """Refuse figures that no winding has."""
        above_zero(
            holding_torque=self.holding,
            current=self.current,
            resistance=self.resistance,
            inductance=self.inductance,
        )
        if self.steps < 4 or self.steps % 4:
            raise ValueError(f"full steps in a turn: expected a multiple of 4, got {self.steps}")

    @property
    def rotor_teeth(self) -> int:
        """Teeth of the rotor."""
        return self.steps // 4

    @property
    def peak_current(self) -> float:
        """Peak current for a microstepping driver at the rated current, A."""
        return math.sqrt(2) * self.current


def torque_constant(winding: Winding) -> float:
    """Torque of one phase for each ampere, at its best angle.

    Source: derived: two phases in quadrature at the rated current give the holding torque.
    Formula: K = T_hold / (sqrt(2) I).
    Inputs: winding. Outputs: K [N·m/A, the same as V·s/rad]. Valid for: an unsaturated motor.
    Raises: nothing that Winding does not.

    >>> round(torque_constant(Winding(1890, 2.8, 1.13, 5.4e-3)), 3)
    0.477
    """
    return winding.holding / 1000 / (math.sqrt(2) * winding.current)


def least_step_time(*, inductance: float, current: float, voltage: float) -> float:
    """Least time of a full step if the current is to turn round fully in it.

    Source: inductance alone, makers' estimate. Formula: t = 2 L I / V.
    Inputs: inductance [H]; current [A]; voltage [V]. Outputs: t [s].
    Valid for: above zero. Raises: ValueError outside.

    >>> round(least_step_time(inductance=5.4e-3, current=2.8, voltage=48) * 1e6)
    630
    """
    above_zero(inductance=inductance, current=current, voltage=voltage)
    return 2 * inductance * current / voltage


def full_torque_rpm(*, winding: Winding, voltage: float) -> float:
    """Speed up to which inductance lets the full current flow, as makers estimate it.

    Source: `least_step_time`. Formula: n = 60 V / (2 L I N).
    Inputs: winding; voltage [V]. Outputs: [rpm]. Valid for: rough; resistance left out.
    Raises: ValueError for a voltage not above zero.

    >>> round(full_torque_rpm(winding=Winding(1890, 2.8, 1.13, 5.4e-3), voltage=48))
    476
    """
    step = least_step_time(inductance=winding.inductance, current=winding.current, voltage=voltage)
    return 60 / (step * winding.steps)


def pull_out_torque(*, winding: Winding, voltage: float, rpm: float) -> float:
    """Torque at which a microstepped hybrid stepper falls out of step.

    Source: Acarnley, Stepping Motors (hybrid motor, phasor form); the current limit of the driver
        holds below the corner speed.
    Formula: T_hold while |(K w + I_p R) + j N_r w L I_p| <= V; above it
        K V/|Z| - K² w R/|Z|², Z = R + j N_r w L; both phases together.
    Inputs: winding; voltage V at the winding [V]; rpm. Outputs: [N·mm], not below zero.
    Valid for: two-phase hybrid motors on a current driver; the real curve lies 10 to 30 per cent
        lower: multiply by `REAL_SHARE`, or use points of the data sheet instead.
    Raises: ValueError for a voltage not above zero or a speed below zero.

    >>> round(pull_out_torque(winding=Winding(1890, 2.8, 1.13, 5.4e-3), voltage=48, rpm=600))
    1292
    """
    above_zero(voltage=voltage)
    if rpm < 0:
        raise ValueError(f"speed: expected zero or more, got {rpm} rpm")
    omega = 2 * math.pi * rpm / 60
    k, r, peak = torque_constant(winding), winding.resistance, winding.peak_current
    reactance = winding.rotor_teeth * omega * winding.inductance
    if math.hypot(k * omega + peak * r, reactance * peak) <= voltage:
        return winding.holding
    z = abs(complex(r, reactance))
    above = k * voltage / z - k**2 * omega * r / z**2
    return min(winding.holding, max(0.0, 1000 * above))


def corner_rpm(*, winding: Winding, voltage: float) -> float:
    """Speed up to which the driver can push the full current.

    Source: as `pull_out_torque`. Formula: largest w with |(K w + I_p R) + j N_r w L I_p| = V.
    Inputs: winding; voltage [V]. Outputs: [rpm]; 0 when the voltage does not reach I_p R.
    Valid for: as `pull_out_torque`. Raises: ValueError for a voltage not above zero.

    >>> motor = Winding(1890, 2.8, 1.13, 5.4e-3)
    >>> n = corner_rpm(winding=motor, voltage=48)
    >>> pull_out_torque(winding=motor, voltage=48, rpm=n * 0.999) == motor.holding
    True
    """
    above_zero(voltage=voltage)
    k, peak = torque_constant(winding), winding.peak_current
    drop = peak * winding.resistance
    if drop >= voltage:
        return 0.0
    x = winding.rotor_teeth * winding.inductance * peak
    a, b, c = k**2 + x**2, k * drop, drop**2 - voltage**2
    return (-b + math.sqrt(b**2 - a * c)) / a * 60 / (2 * math.pi)


Points = Sequence[tuple[float, float]]
"""(rpm, N·mm) of a data sheet, speeds rising."""


def torque_of_points(points: Points, *, rpm: float) -> float:
    """Torque between the points of a data sheet.

    Source: the data sheet; straight lines between its points.
    Inputs: points (rpm, N·mm) with rising speeds; rpm. Outputs: [N·mm]; 0 beyond the last point,
        the first value below the first.
    Valid for: speeds of zero or more. Raises: ValueError outside, or for points out of order.

    >>> torque_of_points(((0, 2200), (600, 1100)), rpm=300)
    1650.0
    """
    if rpm < 0 or not points:
        raise ValueError(f"expected points and a speed of zero or more, got {rpm} rpm")
    speeds = [n for n, _ in points]
    if any(b <= a for a, b in pairwise(speeds)):
        raise ValueError(f"expected speeds that rise, got {speeds}")
    torques = [t for _, t in points]
    return float(np.interp(rpm, speeds, torques, right=0.0))


def microstep_torque(*, holding: float, microsteps: int) -> float:
    """Torque that one microstep away from rest brings up.

    Source: motor makers' notes: torque is T_hold sin of the electrical angle.
    Formula: T_hold sin(90°/mu). Inputs: holding [N·mm]; microsteps mu in a full step.
    Outputs: [N·mm]: against a larger drag a single microstep does not move the table.
    Valid for: mu of 1 or more. Raises: ValueError outside.

    >>> round(microstep_torque(holding=1000, microsteps=16))
    98
    """
    above_zero(holding=holding, microsteps=microsteps)
    return holding * math.sin(math.pi / 2 / microsteps)


def load_error(*, load: float, holding: float, rotor_teeth: int = 50) -> float:
    """Angle by which a stepper lags behind its command under a load, at the motor.

    Source: as `microstep_torque`. Formula: asin(T/T_hold)/N_r.
    Inputs: load T, holding torque [N·mm]; rotor_teeth N_r. Outputs: [rad].
    Valid for: load up to the holding torque; beyond it the motor falls out of step.
    Raises: ValueError outside.

    >>> round(math.degrees(load_error(load=500, holding=1000)), 2)
    0.6
    """
    above_zero(holding=holding, rotor_teeth=rotor_teeth)
    if abs(load) > holding:
        raise ValueError(f"load {load} N·mm: expected at most the holding torque, {holding} N·mm")
    return math.asin(load / holding) / rotor_teeth


def natural_frequency(*, holding: float, inertia: float, rotor_teeth: int = 50) -> float:
    """Frequency at which a stepper swings about its step.

    Source: small swings of a hybrid motor. Formula: sqrt(N_r T/J) / (2 pi).
    Inputs: holding T [N·mm]; inertia J of all that turns with the rotor [kg·mm²]; rotor_teeth N_r.
    Outputs: [Hz]; as many full steps a second excite it. Valid for: above zero.
    Raises: ValueError outside.

    >>> round(natural_frequency(holding=1890, inertia=48.0), 1)
    223.3
    """
    above_zero(holding=holding, inertia=inertia, rotor_teeth=rotor_teeth)
    return math.sqrt(rotor_teeth * holding * 1000 / inertia) / (2 * math.pi)


def rpm_of_step_rate(rate: float, *, steps: int) -> float:
    """Motor speed at a rate of full steps.

    Source: definition. Formula: 60 rate / N. Inputs: rate [1/s]; full steps in a turn N.
    Outputs: [rpm]. Valid for: above zero. Raises: ValueError outside.

    >>> round(rpm_of_step_rate(223.3, steps=200))
    67
    """
    above_zero(rate=rate, steps=steps)
    return 60 * rate / steps


def torque_of_power(*, power: float, rpm: float) -> float:
    """Torque of a servo from its rated power and speed.

    Source: definition. Formula: T = P/omega. Inputs: power [W]; rpm. Outputs: [N·mm].
    Valid for: above zero; makers allow about three times it for seconds.
    Raises: ValueError outside.

    >>> round(torque_of_power(power=400, rpm=3000))
    1273
    """
    above_zero(power=power, rpm=rpm)
    return 1000 * power / (2 * math.pi * rpm / 60)
