"""Hold-down bolts: what a torque clamps, and how far the joint is from slipping."""

from __future__ import annotations

import math
from collections.abc import Sequence

DRY, OILED = 0.20, 0.15
"""Nut factor K of the short torque formula (common practice)."""


def preload_of_torque(*, torque: float, diameter: float, nut_factor: float = DRY) -> float:
    """Clamping force of a bolt from its torque.

    Source: short torque formula of the trade (handbooks, from memory).
    Formula: F = T/(K d). Inputs: torque T [N mm], diameter d [mm], nut_factor K [1].
    Outputs: force [N]. Valid for: above zero. Raises: ValueError outside.

    >>> round(preload_of_torque(torque=25000.0, diameter=8.0))
    15625
    """
    if not (torque > 0 and diameter > 0 and nut_factor > 0):
        raise ValueError(
            f"bolt {diameter} mm at {torque} N mm, K {nut_factor}: expected above zero"
        )
    return torque / (nut_factor * diameter)


def slip_margin(
    *,
    places: Sequence[tuple[float, float]],
    clamp: float,
    friction: float,
    load: tuple[float, float],
    at: tuple[float, float],
) -> float:
    """How many times the side load may grow before the joint creeps at the hardest-worked bolt.

    Source: friction joint loaded off its middle, shared as the load and its turning moment share
        it (elastic method of bolt groups, handbooks, from memory).
    Formula: q_i = P/n + M x r_i/sum r^2; margin = mu F/max |q_i|.
    Inputs: places of the bolts in plan [mm]; clamp F of one bolt [N]; friction mu [1]; load P in
        plan [N] acting at a place [mm]. Outputs: margin [1]; above 1.5 is usual practice.
    Valid for: two bolts or more apart, a load. Raises: ValueError otherwise.

    >>> square = [(50.0, 50.0), (-50.0, 50.0), (-50.0, -50.0), (50.0, -50.0)]
    >>> round(slip_margin(places=square, clamp=10000.0, friction=0.15, load=(0.0, 400.0),
    ...                   at=(0.0, 0.0)), 3)
    15.0
    """
    n = len(places)
    if n < 2 or not (clamp > 0 and friction > 0 and math.hypot(*load) > 0):
        raise ValueError(f"{n} bolts, clamp {clamp} N, load {load} N: expected two or more, a load")
    cx, cy = (math.fsum(p[k] for p in places) / n for k in (0, 1))
    polar = math.fsum((x - cx) ** 2 + (y - cy) ** 2 for x, y in places)
    if polar <= 0:
        raise ValueError("bolts: expected them apart from each other")
    moment = (at[0] - cx) * load[1] - (at[1] - cy) * load[0]
    worst = max(
        math.hypot(load[0] / n - moment * (y - cy) / polar, load[1] / n + moment * (x - cx) / polar)
        for x, y in places
    )
    return friction * clamp / worst


def lift_margin(*, clamp: float, bolts: int, moment: float, spacing: float) -> float:
    """How many times a tipping moment may grow before the joint opens at its pulled row of bolts.

    Source: statics: the moment is carried by a row of half the bolts against the far row.
    Formula: F n s/(2 M). Inputs: clamp F of one bolt [N], number n, moment M [N mm], spacing s of
        the rows [mm]. Outputs: margin [1]. Valid for: above zero. Raises: ValueError outside.

    >>> round(lift_margin(clamp=10000.0, bolts=4, moment=40000.0, spacing=130.0))
    65
    """
    if not (clamp > 0 and bolts >= 2 and moment > 0 and spacing > 0):
        raise ValueError(
            f"clamp {clamp}, bolts {bolts}, moment {moment}, spacing {spacing}: expected above zero"
        )
    return clamp * bolts * spacing / (2 * moment)
