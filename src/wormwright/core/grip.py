"""Grip and speed of a chuck: what the jaws lose when they turn, and what the cut asks of them."""

from __future__ import annotations

import math

KEPT_AT_LIMIT = 1 / 3
"""Share of the grip at rest that must be left at the highest speed (EN 1550, from memory)."""


def grip_lost(*, jaws: int, jaw_mass: float, radius: float, speed: float) -> float:
    """Grip that the jaws lose by their own weight at speed.

    Source: mechanics. Formula: n m r w^2. Inputs: jaws n, jaw_mass m [kg], radius r of their
        middle [mm], speed [rpm]. Outputs: force [N]. Valid for: none below zero.
    Raises: ValueError outside.

    >>> round(grip_lost(jaws=3, jaw_mass=0.12, radius=35.0, speed=1000.0), 1)
    138.2
    """
    if not (jaws >= 2 and jaw_mass >= 0 and radius >= 0 and speed >= 0):
        raise ValueError(
            f"jaws {jaws}, mass {jaw_mass}, radius {radius}, speed {speed}: expected none below"
        )
    turning = 2 * math.pi * speed / 60
    return jaws * jaw_mass * radius / 1000 * turning**2


def speed_at_limit(*, jaws: int, jaw_mass: float, radius: float, grip: float) -> float:
    """Speed at which only a third of the grip at rest is left.

    Source: EN 1550 (from memory). Formula: n m r w^2 = (2/3) F.
    Inputs: jaws, jaw_mass [kg], radius [mm], grip F at rest [N]. Outputs: speed [rpm].
    Valid for: above zero. Raises: ValueError outside.

    >>> round(speed_at_limit(jaws=3, jaw_mass=0.12, radius=35.0, grip=3000.0))
    3805
    """
    if not (jaws >= 2 and jaw_mass > 0 and radius > 0 and grip > 0):
        raise ValueError(
            f"jaws {jaws}, mass {jaw_mass}, radius {radius}, grip {grip}: expected above zero"
        )
    turning = math.sqrt((1 - KEPT_AT_LIMIT) * grip / (jaws * jaw_mass * radius / 1000))
    return turning * 60 / (2 * math.pi)


def grip_needed(
    *, force: float, cut_radius: float, grip_radius: float, friction: float, safety: float
) -> float:
    """Sum of the jaw forces that holds the work against turning in the jaws.

    Source: friction. Formula: S F r_c/(mu r_g). Inputs: force F at cut_radius r_c, grip_radius
        r_g [N, mm], friction mu, safety S [1]. Outputs: force [N]. Valid for: above zero.
    Raises: ValueError outside.

    >>> grip_needed(force=100.0, cut_radius=30.0, grip_radius=15.0, friction=0.2, safety=2.0)
    2000.0
    """
    if not min(force, cut_radius, grip_radius, friction, safety) > 0:
        raise ValueError(
            f"grip: expected above zero, got {force}, {cut_radius}, {grip_radius}, {friction}, "
            f"{safety}"
        )
    return safety * force * cut_radius / (friction * grip_radius)
