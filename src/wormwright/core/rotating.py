"""Masses that turn: inertia through a ratio, time to speed, unbalance, jaw forces."""

from __future__ import annotations

import math

from wormwright.core.refused_input import above_zero, not_below_zero

GRAVITY = 9.80665
"""Standard acceleration of free fall, m/s²."""
MM_PER_M = 1000.0


def cylinder_inertia(*, mass: float, diameter: float, bore: float = 0.0) -> float:
    """Inertia of a cylinder about its own axis.

    Source: mechanics. Formula: J = m (D² + d²)/8. Inputs: mass m [kg]; diameter D, bore d [mm].
    Outputs: J [kg·mm²]. Valid for: 0 <= d < D. Raises: ValueError outside.

    >>> cylinder_inertia(mass=4, diameter=100)
    5000.0
    """
    above_zero(mass=mass, diameter=diameter)
    if not 0 <= bore < diameter:
        raise ValueError(f"bore {bore} mm: expected below the diameter, {diameter} mm")
    return mass * (diameter**2 + bore**2) / 8


def reflected_inertia(*, load: float, ratio: float, efficiency: float = 1.0) -> float:
    """Inertia at the table as the motor feels it while it speeds it up.

    Source: energy. Formula: J/(i² eta). Inputs: load J [kg·mm²]; ratio i; efficiency eta [1].
    Outputs: [kg·mm²]. Valid for: 0 < eta <= 1. Raises: ValueError outside.

    >>> round(reflected_inertia(load=5000, ratio=90), 3)
    0.617
    """
    not_below_zero(load=load)
    above_zero(ratio=ratio, efficiency=efficiency)
    if efficiency > 1:
        raise ValueError(f"efficiency: expected up to 1, got {efficiency}")
    return load / (ratio**2 * efficiency)


def best_ratio(*, load: float, motor: float) -> float:
    """Ratio that speeds a load up fastest with a given motor torque.

    Source: mechanics: the load at the motor equals the rotor. Formula: sqrt(J_load/J_motor).
    Inputs: load, motor [kg·mm²]. Outputs: i [1]. Valid for: above zero. Raises: ValueError outside.

    >>> round(best_ratio(load=5000, motor=48), 2)
    10.21
    """
    above_zero(load=load, motor=motor)
    return math.sqrt(load / motor)


def time_to_speed(*, inertia: float, rpm: float, torque: float) -> float:
    """Time to bring an inertia to a speed.

    Source: mechanics. Formula: t = J omega / T, with N·mm = kg·mm²/s² · 1000.
    Inputs: inertia J [kg·mm²]; rpm; torque T left over for it [N·mm]. Outputs: t [s].
    Valid for: torque above zero. Raises: ValueError outside.

    >>> round(time_to_speed(inertia=48.6, rpm=600, torque=500), 4)
    0.0061
    """
    above_zero(torque=torque)
    not_below_zero(inertia=inertia, rpm=rpm)
    return inertia * 2 * math.pi * rpm / 60 / (torque * MM_PER_M)


def acceleration(*, inertia: float, torque: float) -> float:
    """Angular acceleration of an inertia.

    Source: mechanics. Formula: T/J. Inputs: torque T left over [N·mm]; inertia J [kg·mm²].
    Outputs: [rad/s²]. Valid for: inertia above zero, torque not below. Raises: ValueError outside.

    >>> acceleration(inertia=50.0, torque=100.0)
    2000.0
    """
    above_zero(inertia=inertia)
    not_below_zero(torque=torque)
    return torque * MM_PER_M / inertia


def unbalance_torque(*, mass: float, off_centre: float) -> float:
    """Torque of a mass off centre about a level axis, at its worst place of the turn.

    Source: statics. Formula: m g e. Inputs: mass m [kg]; off_centre e [mm]. Outputs: [N·mm].
    Valid for: a horizontal axis; a vertical one feels none. Raises: ValueError outside.

    >>> round(unbalance_torque(mass=3.0, off_centre=10.0), 1)
    294.2
    """
    not_below_zero(mass=mass, off_centre=off_centre)
    return mass * GRAVITY * off_centre


def centrifugal_force(*, mass: float, radius: float, rpm: float) -> float:
    """Force of a mass that goes round.

    Source: mechanics. Formula: m r omega². Inputs: mass m [kg]; radius r [mm]; rpm.
    Outputs: [N]. Valid for: zero or more. Raises: ValueError outside.

    >>> round(3 * centrifugal_force(mass=0.12, radius=35, rpm=1000), 1)
    138.2
    """
    not_below_zero(mass=mass, radius=radius, rpm=rpm)
    return mass * radius / MM_PER_M * (2 * math.pi * rpm / 60) ** 2


def jaw_speed_limit(*, grip: float, mass: float, radius: float, jaws: int, share: float) -> float:
    """Speed at which the jaws have lost a share of their grip.

    Source: mechanics; EN 1550 sets the limit where a third of the static grip is left (recalled).
    Formula: jaws m r omega² = share of the grip. Inputs: grip of all jaws at rest [N]; mass [kg]
        and radius [mm] of the centre of mass of one jaw; jaws; share 0 to 1 that may be lost.
    Outputs: [rpm]. Valid for: jaws that grip from outside. Raises: ValueError outside.

    >>> round(jaw_speed_limit(grip=6000, mass=0.12, radius=35, jaws=3, share=2 / 3))
    5380
    """
    above_zero(grip=grip, mass=mass, radius=radius, jaws=jaws, share=share)
    if share > 1:
        raise ValueError(f"share of the grip: expected up to 1, got {share}")
    return math.sqrt(share * grip / (jaws * mass * radius / MM_PER_M)) * 60 / (2 * math.pi)
