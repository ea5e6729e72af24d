"""Reductions between motor and table: ratio, wind-up, stiffness in series, back-driving."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from wormwright.core.friction import Interval
from wormwright.core.refused_input import above_zero

BackDriving = Literal["drives back", "uncertain", "stays at rest without vibration"]
HOLDS_BELOW, DRIVES_ABOVE = 0.45, 0.55
"""Efficiency below which a worm stays at rest by itself, and above which it surely does not."""


def strain_wave_ratio(*, flexible: int, rigid: int) -> float:
    """Ratio of a strain wave gear with its rigid ring held; the output turns the other way.

    Source: kinematics. Formula: i = Z_f / (Z_c - Z_f).
    Inputs: teeth of the flexible ring Z_f and of the rigid ring Z_c. Outputs: i [1].
    Valid for: Z_c > Z_f > 0. Raises: ValueError outside.

    >>> strain_wave_ratio(flexible=200, rigid=202)
    100.0
    """
    if not 0 < flexible < rigid:
        raise ValueError(f"expected more teeth outside than inside, got {flexible} and {rigid}")
    return flexible / (rigid - flexible)


def wind_up_in_steps(*, torque: float, stiffness: Sequence[float], up_to: Sequence[float]) -> float:
    """Wind-up of a drive whose maker gives a stiffness for each range of torque.

    Source: strain wave makers' catalogues, K1 to K3 with T1, T2.
    Formula: T/K1 up to T1; then T1/K1 + (T - T1)/K2 up to T2; then with K3.
    Inputs: torque T [N·mm]; stiffness K1, K2 .. [N·mm/rad]; up_to T1, T2 .. one fewer [N·mm].
    Outputs: angle [rad], with the sign of T.
    Valid for: rising T1 < T2, stiffness above zero. Raises: ValueError outside.

    >>> angle = wind_up_in_steps(torque=20e3, stiffness=(1.6e7, 2.5e7), up_to=(7e3,))
    >>> round(math.degrees(angle) * 60, 2)
    3.29
    """
    if len(stiffness) != len(up_to) + 1 or not all(k > 0 for k in stiffness):
        raise ValueError("expected one stiffness more than torques between them, all above zero")
    ends = [0.0, *up_to, math.inf]
    if any(b <= a for a, b in pairwise(ends)):
        raise ValueError(f"expected torques that rise from zero, got {tuple(up_to)}")
    load = abs(torque)
    parts = (
        (min(load, end) - start) / k
        for (start, end), k in zip(pairwise(ends), stiffness, strict=True)
        if load > start
    )
    return math.copysign(sum(parts), torque)


def belt_stiffness(*, tensile: float, radius: float, span: float) -> float:
    """Torsional stiffness of a tensioned toothed belt at its pulley.

    Source: statics: both taut spans act while neither goes slack. Formula: k = 2 EA r²/L.
    Inputs: tensile EA of the belt by its maker, per unit strain [N]; pulley radius r, free span
        L [mm]. Outputs: k [N·mm/rad].
    Valid for: each span tensioned above T/(2 r); half of it once a span is slack.
    Raises: ValueError for figures not above zero.

    >>> round(belt_stiffness(tensile=200_000, radius=30, span=100) / 1e6, 1)
    3.6
    """
    above_zero(tensile=tensile, radius=radius, span=span)
    return 2 * tensile * radius**2 / span


def belt_tension(*, torque: float, radius: float) -> float:
    """Least tension of each span so that none goes slack under a torque.

    Source: statics. Formula: F = T/(2 r). Inputs: torque T at the pulley [N·mm]; radius r [mm].
    Outputs: F [N]. Valid for: radius above zero. Raises: ValueError outside.

    >>> belt_tension(torque=6000, radius=30)
    100.0
    """
    above_zero(radius=radius)
    return abs(torque) / (2 * radius)


def motor_field_stiffness(*, holding: float, rotor_teeth: int = 50) -> float:
    """Stiffness of the magnetic field of a stepper about its step, at the motor.

    Source: torque of a hybrid stepper is T_hold sin(N_r theta). Formula: K = N_r T_hold.
    Inputs: holding torque [N·mm]; rotor_teeth N_r, a quarter of the full steps.
    Outputs: K [N·mm/rad]. Valid for: loads below half of T_hold. Raises: ValueError outside.

    >>> motor_field_stiffness(holding=2200)
    110000.0
    """
    above_zero(holding=holding, rotor_teeth=rotor_teeth)
    return float(rotor_teeth * holding)


def in_series(*stiffness: float) -> float:
    """Stiffness of springs behind each other, all at one shaft.

    Source: statics. Formula: 1/K = sum of 1/K_j. Inputs: K_j [N·mm/rad]; inf for a stiff one.
    Outputs: K [N·mm/rad]. Valid for: above zero. Raises: ValueError outside.

    >>> in_series(2.0, 2.0)
    1.0
    """
    if not stiffness or not all(k > 0 for k in stiffness):
        raise ValueError(f"stiffness: expected figures above zero, got {stiffness}")
    return 1 / sum(1 / k for k in stiffness) if min(stiffness) < math.inf else math.inf


def at_table(stiffness: float, *, ratio: float) -> float:
    """Stiffness at the motor as the table feels it.

    Source: statics of a reduction. Formula: K i². Inputs: stiffness at the motor [N·mm/rad]; i.
    Outputs: [N·mm/rad]. Valid for: above zero; without friction, which only stiffens.
    Raises: ValueError outside.

    >>> at_table(110000.0, ratio=6)
    3960000.0
    """
    above_zero(stiffness=stiffness, ratio=ratio)
    return stiffness * ratio**2


@dataclass(frozen=True, slots=True)
class TableError:
    """What a force does to the work at its radius, mm: wind-up, and the full lost motion."""

    wind_up: float
    lost_motion: float

    @property
    def one_way(self) -> float:
        """From where it should be, cut one way: wind-up and half of the lost motion."""
        return self.wind_up + self.lost_motion / 2

    @property
    def to_and_fro(self) -> float:
        """Between a force one way and the other: twice the wind-up and all of the lost motion."""
        return 2 * self.wind_up + self.lost_motion


def table_error(*, force: float, radius: float, stiffness: float, lost_motion: float) -> TableError:
    """How far the work gives way under a tangential force at its radius.

    Source: statics. Formula: wind-up F r²/K; lost motion times r.
    Inputs: force F [N]; radius r [mm]; stiffness K at the table [N·mm/rad]; lost_motion [rad].
    Outputs: TableError [mm]. Valid for: small angles, figures of zero or more.
    Raises: ValueError outside.

    >>> got = table_error(force=40, radius=60, stiffness=1.934e6, lost_motion=8.727e-5)
    >>> round(got.wind_up, 3), round(got.one_way, 3)
    (0.074, 0.077)
    """
    above_zero(radius=radius, stiffness=stiffness)
    if force < 0 or lost_motion < 0:
        raise ValueError(f"force {force} N, lost motion {lost_motion} rad: expected zero or more")
    return TableError(force * radius**2 / stiffness, lost_motion * radius)


def back_driving_by_efficiency(efficiency: Interval) -> BackDriving:
    """Whether a load at rest can turn a drive backwards, from its efficiency alone.

    Source: gearmotor makers' rule for worms: below 0.45 it stays, above 0.55 it does not; theory
        puts the change at 0.5.
    Formula: compare the interval with 0.45 and 0.55.
    Inputs: efficiency driving forwards, an interval [1]. Outputs: one of three words.
    Valid for: at rest; vibration lowers friction, so it is never a brake. Raises: ValueError for
        an efficiency outside 0..1 or crossed ends.

    >>> back_driving_by_efficiency(Interval(0.9, 0.97))
    'drives back'
    """
    if not 0 < efficiency.low <= efficiency.high <= 1:
        raise ValueError(f"efficiency {efficiency}: expected between 0 and 1, lower end first")
    if efficiency.high < HOLDS_BELOW:
        return "stays at rest without vibration"
    return "drives back" if efficiency.low > DRIVES_ABOVE else "uncertain"


def heat(*, torque: float, rpm: float, efficiency: float, drag: float = 0.0) -> float:
    """Heat that a drive makes while its output turns.

    Source: energy balance. Formula: P = T omega (1/eta - 1) + T_drag omega i, given at the output.
    Inputs: torque T at the output and drag referred to it [N·mm]; rpm of the output;
        efficiency eta [1]. Outputs: [W].
    Valid for: 0 < eta <= 1, torques of zero or more. Raises: ValueError outside.

    >>> round(heat(torque=3000, rpm=10, efficiency=0.4), 2)
    4.71
    """
    if not (0 < efficiency <= 1 and torque >= 0 and drag >= 0):
        raise ValueError(f"torque {torque}, drag {drag}, efficiency {efficiency}: out of range")
    omega = 2 * math.pi * abs(rpm) / 60
    return (torque * (1 / efficiency - 1) + drag) * omega / 1000
