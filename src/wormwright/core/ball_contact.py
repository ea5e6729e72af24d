"""Hertz contact of a ball in its grooves: how far it gives under load."""

from __future__ import annotations

import math

from wormwright.core.bearing import BallSet

STEEL_MODULUS = 207_000.0
STEEL_POISSON = 0.3


def curvature(
    *, ball: float, pitch: float, groove: float, angle: float, inner: bool
) -> tuple[float, float]:
    """Curvature sum and difference where a ball touches its inner or outer groove.

    Source: Harris, Rolling Bearing Analysis, 4th ed., ch. 2.
    Formula: G = D_w cos a / d_m; inner: sum * D_w = 4 - 1/f + 2G/(1 - G),
        outer: sum * D_w = 4 - 1/f - 2G/(1 + G);
        difference = (1/f +/- 2G/(1 -/+ G)) / (sum D_w).
    Inputs: ball D_w, pitch d_m [mm]; groove f, radius over ball diameter [1]; angle a [rad].
    Outputs: sum of curvatures [1/mm], difference F [1].
    Valid for: f > 0.5, D_w < d_m.
    Raises: ValueError outside.

    >>> total, difference = curvature(ball=12.7, pitch=65, groove=0.52, angle=0, inner=True)
    >>> round(total, 3), round(difference, 2)
    (0.202, 0.94)
    """
    if not (groove > 0.5 and 0 < ball < pitch):
        raise ValueError(
            f"groove {groove}, ball {ball}, pitch {pitch}: expected f > 0.5, ball < pitch"
        )
    ratio = ball * math.cos(angle) / pitch
    roll = 2 * ratio / (1 - ratio) if inner else -2 * ratio / (1 + ratio)
    total = 4 - 1 / groove + roll
    return total / ball, (1 / groove + roll) / total


def ellipse_ratio(difference: float) -> float:
    """Long over short half-axis of a Hertz contact ellipse.

    Source: Harris, Rolling Bearing Analysis, 4th ed., ch. 6.
    Formula: F = [(k^2 + 1) E - 2 K] / [(k^2 - 1) E], solved for k; E, K complete elliptic
        integrals of parameter 1 - 1/k^2.
    Inputs: difference F of curvatures [1]. Outputs: k [1].
    Valid for: 0.01 <= F <= 0.9995.
    Raises: ValueError outside.

    >>> round(ellipse_ratio(0.9), 2)
    6.71
    """
    if not 0.01 <= difference <= 0.9995:
        raise ValueError(f"curvature difference: expected 0.01 to 0.9995, got {difference}")
    from scipy.optimize import brentq  # noqa: PLC0415 - only where needed
    from scipy.special import ellipe, ellipk  # noqa: PLC0415 - only where needed

    def residual(k: float) -> float:
        m = 1 - 1 / k**2
        second = float(ellipe(m))
        return ((k**2 + 1) * second - 2 * float(ellipk(m))) / ((k**2 - 1) * second) - difference

    return float(brentq(residual, 1.000001, 1000.0, xtol=1e-12))


def contact_constant(
    *,
    total: float,
    difference: float,
    modulus: float = STEEL_MODULUS,
    poisson: float = STEEL_POISSON,
) -> float:
    """Constant c of load = c * deflection^1.5 for one contact.

    Source: Harris, Rolling Bearing Analysis, 4th ed., ch. 6.
    Formula: d* = (2K/pi)(pi/(2 k^2 E))^(1/3);
        deflection = d* [3 Q / (2 sum) * 2 (1 - nu^2)/Em]^(2/3) * sum/2.
    Inputs: total, sum of curvatures [1/mm]; difference F [1]; modulus Em [N/mm^2]; poisson nu [1].
    Outputs: c [N/mm^1.5].
    Valid for: both bodies of one material, smooth and elastic.
    Raises: ValueError through the ellipse ratio.

    >>> c = contact_constant(total=0.202, difference=0.9399)
    >>> f"{c:.2g}"
    '1e+06'
    """
    from scipy.special import ellipe, ellipk  # noqa: PLC0415 - only where needed

    k = ellipse_ratio(difference)
    m = 1 - 1 / k**2
    first, second = float(ellipk(m)), float(ellipe(m))
    approach = 2 * first / math.pi * (math.pi / (2 * k**2 * second)) ** (1 / 3)
    per_load = approach * (3 / (2 * total) * 2 * (1 - poisson**2) / modulus) ** (2 / 3) * total / 2
    return float(per_load**-1.5)


def ball_constant(balls: BallSet, *, angle: float) -> float:
    """Constant K_n of load = K_n * approach^1.5 of both grooves, one ball between them.

    Source: Harris, Rolling Bearing Analysis, 4th ed., ch. 7.
    Formula: K_n = (c_i^(-2/3) + c_o^(-2/3))^(-3/2).
    Inputs: balls; angle, contact angle [rad]. Outputs: K_n [N/mm^1.5].
    Valid for: steel balls and rings.
    Raises: ValueError through the curvatures.

    >>> k = ball_constant(BallSet(8, 7.9375, 33.5), angle=0.19)
    >>> f"{k:.2g}"
    '2.9e+05'
    """
    soft = 0.0
    for groove, inner in ((balls.inner, True), (balls.outer, False)):
        total, difference = curvature(
            ball=balls.ball, pitch=balls.pitch, groove=groove, angle=angle, inner=inner
        )
        soft += contact_constant(total=total, difference=difference) ** (-2 / 3)
    return float(soft**-1.5)
