"""Cutting forces: specific force by Kienzle, milling, turning, drilling."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from wormwright.core.refused_input import above_zero

ANGLES = 180
"""Places of a cutter turn at which the forces of its teeth are added up."""


def specific_force(*, k11: float, mc: float, chip: float) -> float:
    """Cutting force for each mm² of chip.

    Source: Kienzle's law as in the machining handbooks. Formula: k_c = k_c1.1 h^(-m_c).
    Inputs: k11 k_c1.1, at a chip of 1 x 1 mm [N/mm²]; mc [1]; chip thickness h [mm].
    Outputs: k_c [N/mm²].
    Valid for: h 0.002 to 3 mm, m_c 0 to below 1; sharp cutter. Tables differ by a fifth and more.
    Raises: ValueError outside.

    >>> round(specific_force(k11=2220, mc=0.14, chip=0.05))
    3377
    """
    above_zero(k11=k11)
    if not 0 <= mc < 1:
        raise ValueError(f"m_c: expected 0 to below 1, got {mc}")
    if not 0.002 <= chip <= 3:
        raise ValueError(f"chip thickness: expected 0.002 to 3 mm, got {chip}; check the feed")
    return float(k11 * chip**-mc)


@dataclass(frozen=True, slots=True)
class Kienzle:
    """The two figures of a material in Kienzle's law, N/mm² and 1."""

    k11: float
    mc: float


def kienzle_fit(*, chip: ArrayLike, force: ArrayLike) -> Kienzle:
    """Kienzle's figures from a maker's table of specific forces.

    Source: least squares on the logarithms. Formula: ln k_c = ln k_c1.1 - m_c ln h.
    Inputs: chip thickness h [mm, shape (n,)]; force k_c [N/mm², shape (n,)].
    Outputs: Kienzle. Valid for: two places or more, all above zero. Raises: ValueError outside.

    >>> found = kienzle_fit(chip=(0.1, 0.4), force=(2000.0, 1000.0))
    >>> round(found.mc, 3), round(found.k11)
    (0.5, 632)
    """
    h, k = np.asarray(chip, float), np.asarray(force, float)
    if h.shape != k.shape or h.size < 2 or not (np.all(h > 0) and np.all(k > 0)):
        raise ValueError("expected two or more chips with a force each, all above zero")
    slope, level = np.polyfit(np.log(h), np.log(k), 1)
    return Kienzle(float(np.exp(level)), float(-slope))


def engagement(*, width: float, diameter: float) -> float:
    """Angle over which a tooth of an end mill is in the cut.

    Source: geometry of side milling. Formula: acos(1 - 2 a_e/D).
    Inputs: width a_e, cutter diameter D [mm]. Outputs: [rad].
    Valid for: 0 < a_e <= D. Raises: ValueError outside.

    >>> round(math.degrees(engagement(width=3, diameter=6)))
    90
    """
    above_zero(width=width, diameter=diameter)
    if width > diameter:
        raise ValueError(f"width of cut {width} mm: expected at most the cutter, {diameter} mm")
    return math.acos(1 - 2 * width / diameter)


def force_reverses(*, width: float, diameter: float) -> bool:
    """Whether the force on the work changes sign along the feed within one pass of a tooth.

    Source: geometry: beyond a quarter turn of engagement the tooth cuts up and down in one pass.
    Formula: acos(1 - 2 a_e/D) > 90 degrees.
    Inputs: width a_e, cutter diameter D [mm]. Outputs: True or False.
    Valid for: 0 < a_e <= D. Raises: ValueError outside.

    >>> force_reverses(width=6, diameter=6), force_reverses(width=1, diameter=6)
    (True, False)
    """
    return engagement(width=width, diameter=diameter) > math.pi / 2 + 1e-9


def mean_chip(*, feed_tooth: float, width: float, diameter: float) -> float:
    """Mean chip thickness of an end mill.

    Source: milling formulas of tool makers, setting angle 90 degrees.
    Formula: h_m = f_z (a_e/D) (2/phi_s).
    Inputs: feed for each tooth f_z, width a_e, cutter diameter D [mm]. Outputs: h_m [mm].
    Valid for: 0 < a_e <= D. Raises: ValueError outside.

    >>> round(mean_chip(feed_tooth=0.03, width=3, diameter=6), 4)
    0.0191
    """
    above_zero(feed_tooth=feed_tooth)
    angle = engagement(width=width, diameter=diameter)
    return feed_tooth * width / diameter * 2 / angle


@dataclass(frozen=True, slots=True)
class Milling:
    """What milling asks for: power W, mean and highest force along the cut N."""

    power: float
    mean_force: float
    peak_force: float


def milling_power(
    *, depth: float, width: float, feed_rate: float, specific: float, efficiency: float = 1.0
) -> float:
    """Power of milling.

    Source: milling formula of tool makers. Formula: P = a_p a_e v_f k_c / (60 000 eta).
    Inputs: depth a_p, width a_e [mm]; feed_rate v_f [mm/min]; specific k_c [N/mm²]; efficiency [1].
    Outputs: P [W]. Valid for: all above zero, efficiency up to 1. Raises: ValueError outside.

    >>> round(milling_power(depth=2, width=80, feed_rate=280, specific=1800, efficiency=0.8))
    1680
    """
    above_zero(depth=depth, width=width, feed_rate=feed_rate, specific=specific)
    if not 0 < efficiency <= 1:
        raise ValueError(f"efficiency: expected above 0 to 1, got {efficiency}")
    return depth * width * feed_rate * specific / (60_000 * efficiency)


def milling(
    *,
    material: Kienzle,
    depth: float,
    width: float,
    diameter: float,
    teeth: int,
    feed_tooth: float,
    spindle: float,
) -> Milling:
    """Power and forces of side milling with straight teeth.

    Source: mean force from the power; highest force as the sum over the teeth in the cut.
    Formula: F = sum of k_c1.1 a_p h^(1-m_c), h = f_z sin(phi), largest over the turn;
        F_mean = P/v_c.
    Inputs: material; depth a_p, width a_e, cutter diameter D [mm]; teeth z; feed_tooth f_z [mm];
        spindle speed [rpm].
    Outputs: Milling; forces along the cut, without the radial part (0.3 to 0.5 of it).
    Valid for: chips of 0.002 mm and thicker; helix smooths the peak, wear adds 30 to 50 per cent.
    Raises: ValueError outside.

    >>> cut = milling(material=Kienzle(700, 0.25), depth=3, width=3, diameter=6, teeth=2,
    ...               feed_tooth=0.03, spindle=12_000)
    >>> round(cut.mean_force, 1), round(cut.peak_force)
    (53.9, 151)
    """
    above_zero(depth=depth, spindle=spindle)
    if teeth < 1:
        raise ValueError(f"teeth: expected 1 or more, got {teeth}")
    chip = mean_chip(feed_tooth=feed_tooth, width=width, diameter=diameter)
    specific = specific_force(k11=material.k11, mc=material.mc, chip=chip)
    rate = feed_tooth * teeth * spindle
    power = milling_power(depth=depth, width=width, feed_rate=rate, specific=specific)
    speed = math.pi * diameter * spindle / 60_000
    end = engagement(width=width, diameter=diameter)
    turn = np.linspace(0, 2 * np.pi / teeth, ANGLES + 1)
    at = turn[:, None] + 2 * np.pi / teeth * np.arange(teeth)
    chips = np.where(at % (2 * np.pi) <= end + 1e-9, feed_tooth * np.sin(at), 0.0)
    each = material.k11 * depth * np.maximum(chips, 0.0) ** (1 - material.mc)
    return Milling(power, power / speed, float(each.sum(axis=1).max()))


def turning_force(*, material: Kienzle, depth: float, feed: float) -> float:
    """Main cutting force of turning.

    Source: Kienzle, setting angle 90 degrees. Formula: F_c = k_c1.1 a_p f^(1-m_c).
    Inputs: material; depth a_p [mm]; feed f each turn [mm]. Outputs: F_c [N].
    Valid for: f 0.002 to 3 mm; feed force is 0.4 to 0.5 and radial force 0.2 to 0.5 of it.
    Raises: ValueError outside.

    >>> round(turning_force(material=Kienzle(1780, 0.17), depth=0.5, feed=0.1))
    132
    """
    above_zero(depth=depth)
    specific = specific_force(k11=material.k11, mc=material.mc, chip=feed)
    return specific * depth * feed


def turning_power(
    *, depth: float, feed: float, speed: float, specific: float, efficiency: float = 1.0
) -> float:
    """Power of turning.

    Source: turning formula of tool makers. Formula: P = a_p f v_c k_c / (60 eta).
    Inputs: depth a_p [mm]; feed f [mm]; cutting speed v_c [m/min]; specific k_c [N/mm²];
        efficiency eta [1].
    Outputs: P [W]. Valid for: all above zero, efficiency up to 1. Raises: ValueError outside.

    >>> round(turning_power(depth=3, feed=0.2, speed=120, specific=3100, efficiency=0.8))
    4650
    """
    above_zero(depth=depth, feed=feed, speed=speed, specific=specific)
    if not 0 < efficiency <= 1:
        raise ValueError(f"efficiency: expected above 0 to 1, got {efficiency}")
    return depth * feed * speed * specific / (60 * efficiency)


@dataclass(frozen=True, slots=True)
class Drilling:
    """Thrust of a drill N and torque N·mm."""

    thrust: float
    torque: float


def drilling(
    *, specific: float, diameter: float, feed: float, point_angle: float = math.radians(118)
) -> Drilling:
    """Thrust and torque of a two-lipped drill.

    Source: drilling formulas of tool makers.
    Formula: F_f = 0.5 k_c f D/2 sin(kappa), kappa half the point angle; M = k_c f D²/8.
    Inputs: specific k_c [N/mm²]; diameter D, feed f each turn [mm]; point_angle [rad].
    Outputs: Drilling. Valid for: thinned point; an unthinned chisel edge adds half to all of the
        thrust again. Raises: ValueError outside.

    >>> got = drilling(specific=1570.3, diameter=6, feed=0.1)
    >>> round(got.thrust), round(got.torque)
    (202, 707)
    """
    above_zero(specific=specific, diameter=diameter, feed=feed, point_angle=point_angle)
    half = math.sin(point_angle / 2)
    return Drilling(
        thrust=0.5 * specific * feed * diameter / 2 * half,
        torque=specific * feed * diameter**2 / 8,
    )


def drill_chip(*, feed: float, point_angle: float = math.radians(118)) -> float:
    """Chip thickness of a two-lipped drill.

    Source: geometry of the point. Formula: h = f/2 sin(kappa), kappa half the point angle.
    Inputs: feed f each turn [mm]; point_angle [rad]. Outputs: h [mm].
    Valid for: above zero. Raises: ValueError outside.

    >>> round(drill_chip(feed=0.1), 4)
    0.0429
    """
    above_zero(feed=feed, point_angle=point_angle)
    return feed / 2 * math.sin(point_angle / 2)


def surface_speed(*, diameter: float, rpm: float) -> float:
    """Speed of a turning surface.

    Source: geometry. Formula: v = pi d n / 1000. Inputs: diameter d [mm]; rpm n.
    Outputs: v [m/min]. Valid for: d above zero. Raises: ValueError outside.

    >>> round(surface_speed(diameter=30, rpm=30), 2)
    2.83
    """
    above_zero(diameter=diameter)
    return math.pi * diameter * abs(rpm) / 1000
