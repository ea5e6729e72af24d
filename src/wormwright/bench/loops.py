"""Rock-loop readings gathered by place and taken apart."""

from __future__ import annotations

import math

import numpy as np

from wormwright.bench.figures import Bench, noise
from wormwright.core.rock_loop import RockLoop, rock_loop
from wormwright.job.reading import Reading

GAP_CLOSED = 0.25
"""Share of the full torque above which the play is surely taken up."""


def loops_by_place(bench: Bench) -> dict[int, list[Reading]]:
    """Loop readings that can be used, by table angle in degrees."""
    out: dict[int, list[Reading]] = {}
    for r in bench.of("rock_loop"):
        usable = r.value is not None and r.number("pin_radius") and r.said("branch")
        if usable and r.number("torque") is not None:
            out.setdefault(round(math.degrees(r.table_angle or 0.0)) % 360, []).append(r)
    return dict(sorted(out.items()))


def loop_of(readings: list[Reading]) -> RockLoop:
    """The loop of one place. Raises ValueError naming what it lacks."""
    torque = np.array([r.number("torque") or 0.0 for r in readings])
    radius = np.array([r.number("pin_radius") or math.nan for r in readings])
    branch = np.array([1.0 if r.said("branch") == "up" else -1.0 for r in readings])
    value = np.array([r.value if r.value is not None else math.nan for r in readings])
    u = math.sqrt(sum((noise(r) / p) ** 2 for r, p in zip(readings, radius, strict=True)))
    return rock_loop(
        torque,
        value / radius,
        branch,
        u=u / math.sqrt(len(readings)),
        least_torque=max(GAP_CLOSED * float(np.abs(torque).max()), 1.0),
    )
