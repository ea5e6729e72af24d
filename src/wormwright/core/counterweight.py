"""Holding the table against cutting: bias weight and cord, friction brake, clamp.

A worm that locks itself at rest creeps under vibration, so it is never counted here as holding.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from wormwright.core.friction import Interval

GRAVITY = 9.80665
"""Standard acceleration of free fall, m/s² (N per kg)."""

CLAMP_MARGIN = 2.0
"""A clamp holds this many times the peak of the cut (common practice)."""


def bias_torque(*, mass: float, drum_radius: float, cord_efficiency: float = 0.95) -> float:
    """Torque that a weight on a cord keeps on the table.

    Source: statics. Formula: T = m g R eta.
    Inputs: mass m [kg]; drum_radius R where the cord winds, to its middle [mm]; cord_efficiency eta
        of pulleys and cord [1].
    Outputs: T [N·mm].
    Valid for: a hanging weight that neither touches nor swings. Raises: ValueError outside.

    >>> round(bias_torque(mass=5, drum_radius=60, cord_efficiency=1.0))
    2942
    """
    if not (mass > 0 and drum_radius > 0 and 0 < cord_efficiency <= 1):
        raise ValueError(
            f"mass {mass} kg, drum {drum_radius} mm, efficiency {cord_efficiency}: out of range"
        )
    return mass * GRAVITY * drum_radius * cord_efficiency


def bias_torque_needed(*, reversing_torque: float, table_drag: float, margin: float = 1.5) -> float:
    """Least bias torque that keeps the same flank of the mesh in contact.

    Source: statics, common practice for the margin: the weight must pull the table along when the
        worm runs away from it (its drag) and overcome the cut that pushes the other way.
    Formula: margin (T_reversing + T_drag).
    Inputs: reversing_torque, peak of the cut against the bias; table_drag of the table alone, worm
        out [N·mm]; margin [1].
    Outputs: torque at the table [N·mm].
    Valid for: margin 1.2 or more. Raises: ValueError outside.

    >>> bias_torque_needed(reversing_torque=1500, table_drag=300)
    2700.0
    """
    if not (reversing_torque >= 0 and table_drag >= 0 and margin >= 1.2):
        raise ValueError(
            f"reversing torque {reversing_torque}, drag {table_drag}, margin {margin}: expected "
            "torques not below zero and a margin of 1.2 or more"
        )
    return margin * (reversing_torque + table_drag)


@dataclass(frozen=True, slots=True)
class Bias:
    """A bias weight that holds: torque and need at the table (N·mm), what it costs elsewhere."""

    torque: float
    needed: float
    worm_thrust: float
    motor_torque: Interval
    drop_per_turn: float


def bias_weight(
    *,
    mass: float,
    drum_radius: float,
    reversing_torque: float,
    table_drag: float,
    pitch_radius: float,
    ratio: float,
    efficiency: Interval,
    cord_efficiency: float = 0.95,
    margin: float = 1.5,
) -> Bias:
    """A bias weight and cord: whether it holds, and the thrust, motor torque and drop it brings.

    Source: statics. Formula: T = m g R eta_c; thrust = (m g R)/r2; motor = (m g R + T_drag)/(i eta)
        when it lifts the weight; drop = 2 pi R a turn.
    Inputs: mass [kg]; drum_radius, pitch_radius r2 of the wheel [mm]; torques [N·mm]; ratio i;
        efficiency, interval; cord_efficiency, margin [1].
    Outputs: Bias.
    Valid for: turns within the cord's drop; cuts that push with the bias add to it.
    Raises: ValueError when the bias is below the reversing torque and drag with the margin, and for
        figures out of range.

    >>> bias = bias_weight(mass=6, drum_radius=60, reversing_torque=1500, table_drag=300,
    ...     pitch_radius=54, ratio=90, efficiency=Interval(0.3, 0.5))
    >>> round(bias.torque), round(bias.needed), round(bias.drop_per_turn)
    (3354, 2700, 377)
    """
    torque = bias_torque(mass=mass, drum_radius=drum_radius, cord_efficiency=cord_efficiency)
    needed = bias_torque_needed(
        reversing_torque=reversing_torque, table_drag=table_drag, margin=margin
    )
    if torque < needed:
        raise ValueError(
            f"bias of {torque:.0f} N·mm: expected {needed:.0f} N·mm or more against a cut of "
            f"{reversing_torque:.0f} N·mm; hang {mass * needed / torque:.1f} kg, use a larger drum "
            "or take a lighter cut"
        )
    if not (pitch_radius > 0 and ratio > 0 and 0 < efficiency.low <= efficiency.high <= 1):
        raise ValueError(f"r2 {pitch_radius}, ratio {ratio}, efficiency {efficiency}: out of range")
    pull = torque / cord_efficiency
    at_table = pull + table_drag
    return Bias(
        torque=torque,
        needed=needed,
        worm_thrust=pull / pitch_radius,
        motor_torque=Interval(
            at_table / (ratio * efficiency.high), at_table / (ratio * efficiency.low)
        ),
        drop_per_turn=2 * math.pi * drum_radius,
    )


def brake_torque_needed(
    *, reversing_torque: float, table_drag: float, margin: float = 1.5
) -> float:
    """Friction brake to add on the table so that a reversing cut cannot carry it over the play.

    Source: statics, common practice for the margin; the table's own drag helps.
    Formula: max(0, margin T_reversing - T_drag).
    Inputs: reversing_torque, peak; table_drag, the least seen round the turn [N·mm]; margin [1].
    Outputs: brake torque at the table [N·mm].
    Valid for: margin 1.2 or more. The motor drives the brake all the time it turns.
    Raises: ValueError outside.

    >>> brake_torque_needed(reversing_torque=1500, table_drag=300)
    1950.0
    """
    if not (reversing_torque >= 0 and table_drag >= 0 and margin >= 1.2):
        raise ValueError(
            f"reversing torque {reversing_torque}, drag {table_drag}, margin {margin}: expected "
            "torques not below zero and a margin of 1.2 or more"
        )
    return max(0.0, margin * reversing_torque - table_drag)


def brake_heat(*, brake_torque: float, table_rpm: float) -> float:
    """Heat that a dragging brake makes.

    Source: power of a torque. Formula: P = T omega, omega = 2 pi n/60, T in N·m.
    Inputs: brake_torque [N·mm]; table_rpm [1/min]. Outputs: P [W].
    Valid for: torque not below zero. Raises: ValueError outside.

    >>> round(brake_heat(brake_torque=2000, table_rpm=10), 2)
    2.09
    """
    if brake_torque < 0:
        raise ValueError(f"brake torque must not be below zero, got {brake_torque} N·mm")
    return brake_torque / 1000 * 2 * math.pi * abs(table_rpm) / 60


def clamp_torque_needed(peak_torque: float) -> float:
    """Torque that a clamp must hold for an indexed cut.

    Source: common practice. Formula: 2 T_peak.
    Inputs: peak_torque of the cut about the table axis [N·mm]. Outputs: [N·mm].
    Valid for: interrupted cuts with the worm's own holding left out. Raises: ValueError below zero.

    >>> clamp_torque_needed(4000)
    8000.0
    """
    if not peak_torque >= 0:
        raise ValueError(f"peak torque must not be below zero, got {peak_torque} N·mm")
    return CLAMP_MARGIN * peak_torque


def clamp_torque(*, force: float, friction: Interval, radius: float, faces: int = 1) -> Interval:
    """Torque at which a clamped table slips.

    Source: Coulomb friction. Formula: T = mu F r n.
    Inputs: force F of one clamp on the table, all clamps together [N]; friction mu, interval [1];
        radius r of the rubbing [mm]; faces n that rub.
    Outputs: Interval [N·mm]; judge by the low end.
    Valid for: dry or oiled iron and steel, 0 < mu < 0.5. Raises: ValueError outside.

    >>> clamp_torque(force=2000, friction=Interval(0.1, 0.15), radius=70)
    Interval(low=14000.0, high=21000.0)
    """
    low, high = friction
    if not (force >= 0 and 0 < low <= high < 0.5 and radius > 0 and faces >= 1):
        raise ValueError(
            f"force {force} N, friction {low} to {high}, radius {radius} mm, faces {faces}: out of "
            "range"
        )
    return Interval(low * force * radius * faces, high * force * radius * faces)


def holding_torque(*, brake: float = 0.0, clamp: float = 0.0) -> float:
    """Torque that may be counted on to hold the table; the worm's self-locking is left out.

    Source: a worm that locks at rest creeps under vibration (Machinery's Handbook, on self-locking
        worm gearing; from memory).
    Formula: brake + clamp.
    Inputs: brake, clamp, torques that they surely hold [N·mm]. Outputs: [N·mm].
    Valid for: torques not below zero. Raises: ValueError outside.

    >>> holding_torque()
    0.0
    """
    if brake < 0 or clamp < 0:
        raise ValueError(f"brake {brake}, clamp {clamp} N·mm: expected not below zero")
    return brake + clamp
