"""Rock-loop readings gathered by place and taken apart."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from wormwright.bench.figures import Bench, noise
from wormwright.core.rock_loop import RockLoop, rock_loop
from wormwright.job.reading import Reading

Array = NDArray[np.float64]

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


@dataclass(frozen=True, slots=True)
class LoopColumns:
    """A loop in the order read: torque N·mm, angle rad, branch ±1; u of one angle, rad.

    `least_torque` is where the play is surely taken up, N·mm.
    """

    torque: Array
    angle: Array
    branch: Array
    u: float
    least_torque: float


def loop_columns(readings: list[Reading]) -> LoopColumns:
    """The readings of one place as columns."""
    torque = np.array([r.number("torque") or 0.0 for r in readings])
    radius = np.array([r.number("pin_radius") or math.nan for r in readings])
    branch = np.array([1.0 if r.said("branch") == "up" else -1.0 for r in readings])
    value = np.array([r.value if r.value is not None else math.nan for r in readings])
    u = math.sqrt(sum((noise(r) / p) ** 2 for r, p in zip(readings, radius, strict=True)))
    least = max(GAP_CLOSED * float(np.abs(torque).max()), 1.0)
    return LoopColumns(torque, value / radius, branch, u / math.sqrt(len(readings)), least)


def loop_of(readings: list[Reading]) -> RockLoop:
    """The loop of one place. Raises ValueError naming what it lacks."""
    c = loop_columns(readings)
    return rock_loop(c.torque, c.angle, c.branch, u=c.u, least_torque=c.least_torque)
