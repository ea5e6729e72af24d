"""An axis and a ball with known motion and form, read as set and turned half round."""

from __future__ import annotations

import math
from collections.abc import Callable

from parts_read import EIGHT
from simulated_rotary import Taker

Trace = Callable[[float], float]


def reversal(
    taker: Taker,
    axis: Trace,
    ball: Trace,
    *,
    turns: int = 2,
    places: tuple[float, ...] = EIGHT,
    runs: tuple[str, ...] = ("first", "turned"),
) -> None:
    """Turns of both runs about the set-up's own offset, closed by position 0 once more."""
    for run, sign, off in (("first", 1.0, 0.02), ("turned", -1.0, -0.03)):
        if run not in runs:
            continue
        for turn in range(1, turns + 1):
            for phi in (*places, 2 * math.pi):
                value = ball(phi) + sign * axis(phi) + off * math.cos(phi - 0.7) + 0.05
                said: dict[str, float | str] = {"run": run, "turn": float(turn)}
                taker.take("axis_reversal", value, phi=phi, conditions=said)
