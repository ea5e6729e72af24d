"""A finished axis with figures made up for the tests of budget, verdict and certificate."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

import numpy as np

from stages.prove.position_rows import ARCSEC, position_rows
from wormwright.job.proof_part import AxisFigure
from wormwright.job.reading import Reading
from wormwright.job.result import Estimate
from wormwright.job.rotary import Duty, Job, Rotary
from wormwright.quantities import Dimension
from wormwright.stages.prove.axis_figures import AxisFigures, Wave

RADIUS = 50.0


def duty(**changed: Any) -> Duty:
    fields: dict[str, Any] = {
        "radius_mm": RADIUS,
        "error_mm": 0.05,
        "direction": "tangential",
        "approach": "both ways",
        "work": "indexed",
        "torque_resist_nmm": 5000.0,
        "drag_limit_nmm": 400.0,
        "play_min_cold_mm": 0.01,
        "shop_low_c": 15.0,
        "shop_high_c": 25.0,
    }
    return Duty(**{**fields, **changed})


def job(**changed: Any) -> Job:
    rotary = Rotary("table", "T-1", "steel", "bronze", "cast iron")
    return Job("made-up axis", rotary, duty(**changed), made_up=True)


def figure(
    label: str, value: float, u: float, dimension: Dimension = "angle", source: str = "test"
) -> AxisFigure:
    low, high = max(0.0, value - 1.96 * u), value + 1.96 * u
    return AxisFigure(label, Estimate(value, u, low, high, dimension, "made up"), source)


def figures(**changed: Any) -> AxisFigures:
    """Angles in arcsec: reversal 40, scatter 4, swing 30, waves 10 once and 5 at 90, gap 36."""
    fields: dict[str, Any] = {
        "reversal": figure("reversal", 40 * ARCSEC, 2 * ARCSEC),
        "scatter": figure("scatter", 4 * ARCSEC, 0.5 * ARCSEC),
        "swing": figure("swing", 30 * ARCSEC, 2 * ARCSEC),
        "swing_both": figure("swing of both", 28 * ARCSEC, 2 * ARCSEC),
        "waves": (
            Wave(1.0, figure("once per turn", 10 * ARCSEC, ARCSEC)),
            Wave(90.0, figure("once per worm turn", 5 * ARCSEC, ARCSEC)),
        ),
        "gap": figure("gap", 36 * ARCSEC, 2 * ARCSEC),
        "warm_gap": figure("warm", 6 * ARCSEC, 1.5 * ARCSEC),
        "springing": figure("springing", 12 * ARCSEC, ARCSEC),
        "table_radial": figure("radial play", 0.004, 0.001, "length"),
        "table_axial": figure("axial play", 0.003, 0.001, "length"),
        "clamp_scatter": figure("clamp scatter", 3 * ARCSEC, ARCSEC),
        "runout": figure("eccentricity", 0.010, 0.001, "length"),
        "face_slope": figure("slope", 20 * ARCSEC, ARCSEC),
    }
    return AxisFigures(**{**fields, **changed})


def loop_rows(
    *, clearance: float, compliance: float, first: int, u: float = 1e-4
) -> tuple[Reading, ...]:
    """A rock loop on a pin at 100 mm; clearance rad, compliance rad per N·mm."""
    torques = [1e3 * k for k in range(-8, 9) if k]
    rows: list[Reading] = []
    for branch, order in (("up", torques), ("down", torques[::-1])):
        for torque in order:
            angle = torque * compliance + math.copysign(clearance / 2, torque)
            angle -= 5e-6 if branch == "up" else -5e-6
            rows.append(
                Reading(
                    seq=first + len(rows),
                    kind="rock_loop",
                    raw=f"{angle * 100:.4f} mm",
                    value=angle * 100,
                    u=u,
                    table_angle=0.0,
                    conditions={
                        "pin_radius": 100.0,
                        "pin_radius_u": 0.5,
                        "torque": torque,
                        "branch": branch,
                        "worm_held": "at the worm",
                    },
                )
            )
    return tuple(rows)


def play_rows(*, value: float, first: int, kind: str = "table_radial_play") -> tuple[Reading, ...]:
    return tuple(
        Reading(
            seq=first + i,
            kind=kind,
            raw=f"{value} mm",
            value=value,
            u=0.0004,
            instrument="test indicator, 0.001 mm",
            when=f"2026-03-0{i + 1}T10:00:00",
            conditions={"force": 30.0},
        )
        for i in range(2)
    )


TARGETS = (0.0, 46.3, 90.0, 134.1, 180.0, 227.2, 270.0, 313.6)


def position_runs(
    *,
    wave: float,
    reversal: float,
    scatter: float,
    seed: int | Sequence[int],
    runs: int = 5,
    first: int = 1,
) -> tuple[Reading, ...]:
    """Runs of an axis with one wave once per turn; amplitude, reversal and scatter in arcsec."""
    pick = np.random.default_rng(seed)
    mean = wave * np.sin(np.radians(TARGETS))[:, None]
    up = mean - reversal / 2 + pick.normal(0, scatter, (len(TARGETS), runs))
    down = mean + reversal / 2 + pick.normal(0, scatter, (len(TARGETS), runs))
    return position_rows(TARGETS, up.tolist(), down.tolist(), first=first)
