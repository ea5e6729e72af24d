"""Centre height and side place of an axis: by height gauge or by probe, the bar turned half round.

`wormwright.core.alignment.centre_height` is the height from two readings over a bar.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Placed:
    """One coordinate of an axis with its standard uncertainty, mm."""

    value: float
    u: float


def _mean(readings: Sequence[float], what: str) -> float:
    if not readings:
        raise ValueError(
            f"{what}: expected a reading half a turn apart, got none; turn it and read"
        )
    return math.fsum(readings) / len(readings)


def height_over_bar(
    *,
    at_start: Sequence[float],
    turned: Sequence[float],
    diameter: float,
    reading_u: float,
    diameter_u: float,
    tip: float = 0.0,
) -> Placed:
    """Height of an axis from readings over a bar in it, half a turn apart.

    Source: geometry: the half turn cancels how far the bar stands off.
    Formula: h = (a + b)/2 - D/2 - tip/2; u^2 = u_r^2 (1/n_a + 1/n_b)/4 + (u_D/2)^2.
    Inputs: readings as started and turned [mm]; diameter D of the bar there with its u; reading_u
        of one reading; tip, diameter of a probe's ball whose centre was read, 0 for a height
        gauge [mm]. Outputs: Placed [mm].
    Valid for: a reading each way, diameter above zero. Raises: ValueError otherwise.

    >>> h = height_over_bar(at_start=[80.034], turned=[80.012], diameter=25.0, reading_u=0.004,
    ...                     diameter_u=0.002)
    >>> round(h.value, 3), round(h.u, 4)
    (67.523, 0.003)
    """
    if not (diameter > 0 and tip >= 0 and reading_u > 0 and diameter_u >= 0):
        raise ValueError(
            f"bar {diameter} mm, tip {tip}, u {reading_u}, {diameter_u}: expected sizes above zero"
        )
    a, b = _mean(at_start, "height over a bar"), _mean(turned, "height over a bar")
    u = math.sqrt(reading_u**2 * (1 / len(at_start) + 1 / len(turned)) / 4 + diameter_u**2 / 4)
    return Placed((a + b) / 2 - diameter / 2 - tip / 2, u)


def side_by_same_line(*, front: Sequence[float], back: Sequence[float], reading_u: float) -> Placed:
    """Side place of an axis: the SAME line of a rod touched from the front, and from behind after
    half a turn.

    Source: geometry: at the front the probe stops at y - a - tip, behind at y + a + tip, a being
        how far that line of the rod stands from the axis.
    Formula: y = (front + back)/2; size and bend of the rod and the tip of the probe cancel.
    Inputs: coordinates at which the probe stopped, front and back; reading_u of one touch [mm].
    Outputs: Placed [mm]. Valid for: one touch or more each way. Raises: ValueError otherwise.

    >>> round(side_by_same_line(front=[-14.53], back=[14.59], reading_u=0.003).value, 3)
    0.03
    """
    if not reading_u > 0:
        raise ValueError(f"u of a touch must be above zero, got {reading_u}")
    a, b = _mean(front, "touch in front"), _mean(back, "touch behind")
    return Placed((a + b) / 2, reading_u * math.sqrt(1 / len(front) + 1 / len(back)) / 2)


def apart(tail: Placed, head: Placed) -> Placed:
    """Tail less head: what the tail stands too high, or too far to plus.

    Source: JCGM 100:2008, 5.1.2. Formula: tail - head, u = sqrt(u_t^2 + u_h^2).
    Inputs: both places [mm]. Outputs: Placed [mm]. Valid for: read from the same datum.
    Raises: nothing.

    >>> round(apart(Placed(99.882, 0.003), Placed(100.019, 0.004)).value, 3)
    -0.137
    """
    return Placed(tail.value - head.value, math.hypot(tail.u, head.u))


@dataclass(frozen=True, slots=True)
class TailPlan:
    """What to do with the tail: a shim under it, or so much to grind off; one of them is zero."""

    shim: float
    grind: float
    head_shim: float


def tail_plan(*, too_high: float) -> TailPlan:
    """Shim under a low tail; for a high one what to grind off, or the shim under the head instead.

    Source: geometry. Formula: shim = -dh for a low tail; grind = dh, or head shim = dh.
    Inputs: too_high dh, tail less head [mm]. Outputs: TailPlan [mm].
    Valid for: finite dh. Raises: ValueError otherwise.

    >>> round(tail_plan(too_high=-0.137).shim, 3), tail_plan(too_high=0.04).grind
    (0.137, 0.04)
    """
    if not math.isfinite(too_high):
        raise ValueError(f"tail: expected a height, got {too_high}")
    return TailPlan(max(-too_high, 0.0), max(too_high, 0.0), max(too_high, 0.0))
