"""A made-up job with a remedy, readings and sign-offs, for the tests of the traveler."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import replace

import numpy as np

from wormwright.job.corrections import ClosingPicture, Correction, Plan, Remedy
from wormwright.job.operation import Gate, Operation, SignOff, Verdict
from wormwright.job.pair import WormPair
from wormwright.job.parts import EccentricBushing, Limits, Part, WormRelief
from wormwright.job.reading import Reading
from wormwright.job.result import Estimate
from wormwright.job.rotary import Duty, Job, Rotary
from wormwright.quantities import Dimension
from wormwright.traveler import plan_operations, progress
from wormwright.traveler.branches import DERIVED
from wormwright.traveler.needs import NEEDS

ARCMIN = math.radians(1 / 60)
CORRECTIONS = ("table_shim", "worm_shim", "bushings", "setting", "relief")
ALL_CORRECTIONS = tuple(NEEDS)

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


_BUSHING = EccentricBushing(
    side="A",
    outside=Limits(47.0, -0.002, -0.008),
    bore=Limits(35.0, 0.011, -0.005),
    throw=0.3,
    throw_tolerance=0.005,
    length=18.0,
    flange_outside=66.0,
    flange_thickness=5.0,
    bearing_depth=11.0,
    shoulder_bore=30.0,
    wall_thin=5.7,
    wall_thick=6.3,
    mark_angle=0.5,
    start_angle=0.8,
    work_range=(0.2, 1.2),
    slot_circle=56.0,
    slot_width=4.5,
    slot_sweep=0.7,
    material="steel",
    bearing="6003",
)
PARTS: Mapping[str, tuple[Part, ...]] = {
    "relief": (_RELIEF,),
    "bushings": (_BUSHING, replace(_BUSHING, side="B")),
}
"""Parts that a correction makes."""


def estimate(value: float, u: float, dimension: Dimension = "angle") -> Estimate:
    return Estimate(value, u, value - 2 * u, value + 2 * u, dimension, "made up")


def correction(key: str, operations: tuple[str, ...] = ()) -> Correction:
    parts = PARTS.get(key, ())
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
        if gate.low is None and gate.high is None:
            values[gate.key] = 0.1
            continue
        low = gate.low if gate.low is not None else (gate.high or 0.0) * 0.5
        high = gate.high if gate.high is not None else low * 1.5 + 1e-6
        values[gate.key] = low + 0.4 * (high - low)
    if "closing_b" in values:
        values["closing_b"] -= 0.004
    return {key: value for key, value in values.items() if key not in DERIVED}


PAIR = WormPair(
    teeth=72,
    starts=1,
    hand="right",
    axial_module=1.5,
    pressure_angle=math.radians(20),
    pressure_angle_u=0.01,
    worm_d1=28.0,
    face_width=14.0,
    kinds=(("hob-equal", 1.0),),
    hob_excess_max=1.0,
)


def keys_of(operations: tuple[Operation, ...]) -> list[str]:
    return [op.key for op in operations]


def by_key(operations: tuple[Operation, ...], key: str) -> Operation:
    return next(op for op in operations if op.key == key)


def gate(operations: tuple[Operation, ...], operation: str, key: str) -> Gate:
    return next(g for g in by_key(operations, operation).gates if g.key == key)


def worked(operations: tuple[Operation, ...], *upto: str) -> list[SignOff]:
    """Sign-offs of the operations before the first of `upto`, numbered from 101."""
    found = []
    for seq, op in enumerate(operations, start=101):
        if op.key in upto:
            break
        found.append(sign_off(seq, op.key, values=good_values(op)))
    return found


def tight(seq: int) -> Reading:
    """A worm end play inside its limit, so that the mesh may be touched."""
    return replace(reading(seq, "worm_end_play"), value=0.005, raw="0.005 mm")


def states(
    operations: tuple[Operation, ...], readings: list[Reading], sign_offs: list[SignOff]
) -> dict[str, str]:
    return {s.operation.key: s.state for s in progress(operations, readings, sign_offs)}
