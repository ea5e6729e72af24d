"""A job and readings for the tests of mounting."""

from __future__ import annotations

from dataclasses import replace
from typing import Any, Literal

import numpy as np

from simulated_mounting import Standing, take_heights, take_tram
from simulated_rotary import Taker, Truth, job_of
from wormwright.job.mount import Mount
from wormwright.job.reading import Reading
from wormwright.job.rotary import Job, Machine

MOUNT = Mount(
    centre_height=100.0,
    body_length=150.0,
    body_width=150.0,
    body_height=170.0,
    foot_along=130.0,
    foot_across=110.0,
    foot_hole=9.0,
    chuck_outside=100.0,
    chuck_length=75.0,
    jaw_out=20.0,
    jaw_swing=120.0,
    grip_diameter=25.0,
    work_diameter=60.0,
    cut_diameter=40.0,
    work_length=150.0,
    cutter_diameter=6.0,
    cutter_out=25.0,
    nut_diameter=40.0,
    nut_length=35.0,
    side_force=60.0,
    speed=20.0,
)
MACHINE = Machine(
    name="router",
    kind="router",
    daylight=230.0,
    z_travel=110.0,
    x_travel=600.0,
    table_length=700.0,
    bridge=190.0,
    nose_diameter=65.0,
    slot_width=12.0,
    slot_pitch=50.0,
)


def job(
    *,
    kind: Literal["mill", "router", "lathe", "other"] = "router",
    machine: dict[str, Any] | None = None,
    **mount: Any,
) -> Job:
    """The usual set-up with some figures changed."""
    return replace(
        job_of(Truth()),
        machine=replace(MACHINE, kind=kind, **(machine or {})),
        mount=replace(MOUNT, **mount),
        shim_stock_mm=(0.01, 0.02, 0.03, 0.05, 0.1, 0.2, 0.5),
    )


def readings(
    standing: Standing,
    *,
    seed: int = 0,
    noisy: bool = True,
    heights: bool = True,
    repeats: int = 1,
    travel: bool = True,
) -> list[Reading]:
    """What is read of that standing."""
    taker = Taker(Truth(), np.random.default_rng(seed), noisy=noisy)
    take_tram(taker, standing, repeats=repeats, travel=travel)
    if heights:
        take_heights(taker, standing)
    return taker.readings
