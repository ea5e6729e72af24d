"""Rating life and static safety of deep-groove ball bearings (ISO 281, ISO 76)."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise


def thrust_factors_at(
    relative_thrust: float, table: Sequence[tuple[float, float, float]]
) -> tuple[float, float]:
    """Factors e and Y for a relative thrust, between the rows of the ISO 281 table.

    Source: ISO 281, table for radial ball bearings; straight line between rows.
    Inputs: relative_thrust f0 Fa / C0r [1]; table of (f0 Fa/C0r, e, Y), rising.
    Outputs: e, Y [1]. Below the first row the first row holds.
    Valid for: up to the last row.
    Raises: ValueError above it or below zero.

    >>> e, y = thrust_factors_at(0.782, ((0.689, 0.26, 1.71), (1.03, 0.28, 1.55)))
    >>> round(e, 3), round(y, 2)
    (0.265, 1.67)
    """
    if not 0 <= relative_thrust <= table[-1][0]:
        raise ValueError(
            f"f0 Fa/C0r = {relative_thrust:.3g}: expected 0 to {table[-1][0]:g}; the thrust is too "
            "much for this bearing, take a larger one"
        )
    if relative_thrust <= table[0][0]:
        return table[0][1], table[0][2]
    for (x0, e0, y0), (x1, e1, y1) in pairwise(table):
        if relative_thrust <= x1:
            part = (relative_thrust - x0) / (x1 - x0)
            return e0 + part * (e1 - e0), y0 + part * (y1 - y0)
    return table[-1][1], table[-1][2]


def equivalent_load(*, radial: float, axial: float, e: float, y: float) -> float:
    """Equivalent dynamic load of a deep-groove bearing.

    Source: ISO 281; X = 1, Y = 0 up to Fa/Fr = e, then X = 0.56.
    Formula: P = Fr, or 0.56 Fr + Y Fa (never less than Fr).
    Inputs: radial Fr, axial Fa [N]; factors e, Y [1]. Outputs: P [N].
    Valid for: loads not below zero.
    Raises: ValueError outside.

    >>> round(equivalent_load(radial=2500, axial=1000, e=0.265, y=1.67))
    3070
    """
    if radial < 0 or axial < 0:
        raise ValueError(f"loads are sizes and must not be below zero, got {radial} and {axial} N")
    if axial <= e * radial:
        return radial
    return max(radial, 0.56 * radial + y * axial)


def life_million_turns(*, dynamic_rating: float, load: float) -> float:
    """Basic rating life of a ball bearing.

    Source: ISO 281.
    Formula: L10 = (C / P)^3.
    Inputs: dynamic_rating C, load P [N]. Outputs: L10 [million turns].
    Valid for: full turning under P up to C/2; a table that only rocks is sized by static safety.
    Raises: ValueError when P is not above zero or above C/2.

    >>> round(life_million_turns(dynamic_rating=55_300, load=10_000))
    169
    """
    if not 0 < load <= dynamic_rating / 2:
        raise ValueError(f"load {load} N: expected above 0 up to C/2 = {dynamic_rating / 2:.0f} N")
    return (dynamic_rating / load) ** 3


def life_hours(*, million_turns: float, rpm: float) -> float:
    """Life in hours at a steady speed.

    Source: ISO 281. Formula: L10h = 10^6 L10 / (60 n).
    Inputs: million_turns [10^6]; rpm n [1/min]. Outputs: [h].
    Valid for: rpm above zero.
    Raises: ValueError outside.

    >>> round(life_hours(million_turns=169, rpm=3000))
    939
    """
    if not rpm > 0:
        raise ValueError(f"speed must be above zero, got {rpm} rpm")
    return 1e6 * million_turns / (60 * rpm)


def static_safety(*, static_rating: float, radial: float, axial: float) -> float:
    """Static safety of a deep-groove bearing.

    Source: ISO 76. Formula: s0 = C0 / max(Fr, 0.6 Fr + 0.5 Fa).
    Inputs: static_rating C0, radial Fr, axial Fa [N]. Outputs: s0 [1].
    Valid for: loads not below zero and not both zero. Wanted: 1 normal, 1.5 shock, 2 quiet.
    Raises: ValueError outside.

    >>> round(static_safety(static_rating=6600, radial=300, axial=600), 2)
    13.75
    """
    load = max(radial, 0.6 * radial + 0.5 * axial)
    if radial < 0 or axial < 0 or load == 0:
        raise ValueError(f"loads: expected not below zero and not both zero, got {radial}, {axial}")
    return static_rating / load


def thrust_limit(*, static_rating: float, bore: float, light_series: bool) -> float:
    """Largest steady pure thrust on a deep-groove bearing.

    Source: SKF general catalogue, deep-groove bearings.
    Formula: 0.5 C0, or 0.25 C0 for a bore up to 12 mm and for diameter series 8, 9, 0 and 1.
    Inputs: static_rating C0 [N]; bore [mm]; light_series: series 618, 619, 60 and the like.
    Outputs: [N].
    Valid for: ratings above zero.
    Raises: ValueError outside.

    >>> thrust_limit(static_rating=3700, bore=20, light_series=True)
    925.0
    """
    if not (static_rating > 0 and bore > 0):
        raise ValueError(f"rating {static_rating} N and bore {bore} mm must be above zero")
    return (0.25 if light_series or bore <= 12 else 0.5) * static_rating


def worm_bearing_radials(
    *,
    thrust: float,
    tan_pressure: float,
    tan_lead: float,
    friction: float,
    worm_radius: float,
    span: float,
) -> tuple[float, float]:
    """Radial loads of the two worm bearings while the wheel pushes along the worm.

    Source: statics of a shaft on two supports, the mesh half way between them.
    Formula: separating S = P t; round the worm W = P (g + mu)/(1 - mu g); the thrust acts r1 off
        the axis and turns the worm over by P r1, carried as P r1/L up and down:
        R = hypot(S/2 +- P r1/L, W/2).
    Inputs: thrust P along the worm [N]; tan_pressure t (axial), tan_lead g, friction mu [1];
        worm_radius r1 (pitch), span L between the bearings [mm].
    Outputs: R of the more and of the less loaded bearing [N].
    Valid for: thrust not below zero, span above zero, mu g below 1.
    Raises: ValueError outside.

    >>> more, less = worm_bearing_radials(thrust=120, tan_pressure=0.364, tan_lead=0.057,
    ...                                   friction=0.06, worm_radius=11, span=54)
    >>> round(more, 1), round(less, 1)
    (46.8, 7.5)
    """
    if not (thrust >= 0 and span > 0 and worm_radius > 0 and friction * tan_lead < 1):
        raise ValueError(
            f"thrust {thrust} N, span {span} mm, worm radius {worm_radius} mm: expected a thrust "
            "not below zero and lengths above zero"
        )
    apart = thrust * tan_pressure / 2
    around = thrust * (tan_lead + friction) / (1 - friction * tan_lead) / 2
    couple = thrust * worm_radius / span
    return math.hypot(apart + couple, around), math.hypot(apart - couple, around)
