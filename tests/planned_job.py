"""A made-up job with a remedy, readings and sign-offs, for the tests of the traveler."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping

import numpy as np

from wormwright.job.corrections import ClosingPicture, Correction, Plan, Remedy
from wormwright.job.operation import Operation, SignOff, Verdict
from wormwright.job.parts import Limits, WormRelief
from wormwright.job.reading import Reading
from wormwright.job.result import Estimate
from wormwright.job.rotary import Duty, Job, Rotary
from wormwright.quantities import Dimension
from wormwright.traveler import plan_operations

ARCMIN = math.radians(1 / 60)
CORRECTIONS = ("table_shim", "worm_shim", "bushings", "setting", "relief")

JOB = Job(
    "made-up job",
    Rotary("table", "unit 7", "steel", "bronze", "cast iron"),
    Duty(
        radius_mm=60,
        error_mm=0.07,
        direction="tangential",
        approach="both ways",
        work="indexed",
        torque_resist_nmm=6000,
        drag_limit_nmm=400,
        play_min_cold_mm=0.01,
        shop_low_c=12,
        shop_high_c=28,
    ),
    made_up=True,
)

_RELIEF = WormRelief(
    outside_before=30.2,
    outside=Limits(30.0, 0.0, -0.05),
    length=40.0,
    lead_angle=0.06,
    axial_pitch=4.7,
    shaft_diameter=15.0,
    hand="right",
)


def estimate(value: float, u: float, dimension: Dimension = "angle") -> Estimate:
    return Estimate(value, u, value - 2 * u, value + 2 * u, dimension, "made up")


def correction(key: str, operations: tuple[str, ...] = ()) -> Correction:
    parts = (_RELIEF,) if key == "relief" else ()
    return Correction(key, key, "made up", (), parts, (), operations, 100.0)


def remedy(keys: Iterable[str], *, operations: tuple[str, ...] = ()) -> Remedy:
    """A remedy whose chosen plan has these corrections; 0.21 mm of closing by a throw of 0.3 mm."""
    plan = Plan(
        key="chosen",
        label="made up",
        corrections=tuple(correction(key, operations) for key in keys),
        tight=estimate(1.2 * ARCMIN, 0.2 * ARCMIN),
        mean=estimate(2 * ARCMIN, 0.2 * ARCMIN),
        loose=estimate(3 * ARCMIN, 0.2 * ARCMIN),
        tip_clearance=None,
        p_meets_duty=0.95,
        p_jam=0.0,
        minutes=300.0,
        offered=True,
        reason="",
    )
    picture = ClosingPicture(
        throw=0.3,
        closing=estimate(0.21, 0.02, "length"),
        sideways_to_throat=estimate(0.0, 0.1, "length"),
        sideways_tolerance=(("hob-equal", 0.03), ("helical", 5.0)),
        tip_limit_closing=None,
        fit_clearance=0.01,
        grid_sideways=np.zeros(2),
        grid_closing=np.zeros(2),
        contours=(),
        chosen_angle=math.radians(45),
    )
    return Remedy(
        plans=(plan,),
        chosen=plan,
        strategy="single pair",
        strategy_reason="",
        rejected_strategies=(),
        closing=estimate(0.21, 0.02, "length"),
        setting_chart=(),
        picture=picture,
        allowed_lost_motion=4 * ARCMIN,
        limits_it=(),
        not_measured=(),
        doubts=(),
        draws=1000,
    )


def planned(*keys: str) -> tuple[Operation, ...]:
    return plan_operations(JOB, remedy(keys))


def reading(seq: int, kind: str, *, station: str = "", supersedes: int | None = None) -> Reading:
    return Reading(
        seq, kind, "0.1 mm", value=0.1, station=station, supersedes=supersedes, when="2024-01-01"
    )


def sign_off(
    seq: int,
    operation: str,
    verdict: Verdict = "passed",
    values: Mapping[str, float] | None = None,
) -> SignOff:
    gate_values = tuple((key, value, str(value)) for key, value in (values or {}).items())
    return SignOff(seq, operation, "2024-01-01", "AB", gate_values, verdict)


def good_values(operation: Operation) -> dict[str, float]:
    """A value inside every gate, unequal where two ends are asked for."""
    values: dict[str, float] = {}
    for gate in operation.gates:
        low = gate.low if gate.low is not None else (gate.high or 0.0) * 0.5
        high = gate.high if gate.high is not None else low * 1.5 + 1e-6
        values[gate.key] = low + 0.4 * (high - low)
    if "closing_b" in values:
        values["closing_b"] -= 0.004
        values.pop("ends_apart")
    return values
