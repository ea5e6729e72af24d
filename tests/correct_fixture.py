"""A made-up unit for tests of the correct stage: job, readings and a diagnosis, nothing solved."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from wormwright.job.findings import UNKNOWNS, Contributor, Diagnosis, Posterior, TightSpot
from wormwright.job.pair import WheelKind, WormPair
from wormwright.job.reading import Reading
from wormwright.job.result import Estimate
from wormwright.job.rotary import Duty, Job, Rotary, Units
from wormwright.stages.diagnose.ranges import LABELS
from wormwright.stages.diagnose.turn import estimate_of, parts_of

ARCMIN = math.radians(1 / 60)

Plays = Mapping[str, tuple[float, float]]

PLAYS: Plays = {
    "mesh": (0.145, 0.006),
    "end_play": (0.030, 0.001),
    "worm_float": (0.020, 0.002),
    "table_radial": (0.008, 0.001),
    "table_axial": (0.012, 0.001),
    "wheel_joint": (0.002, 0.0005),
    "drive": (0.002, 0.0005),
    "wheel_x": (-0.010, 0.001),
    "wheel_y": (-0.007, 0.001),
    "worm_x": (0.005, 0.001),
    "worm_y": (0.003, 0.001),
    "table_share": (0.9, 0.05),
    "worm_share": (0.55, 0.03),
}
"""Mean and standard deviation of each unknown of the usual unit, mm (shares 1)."""

WORDS: Mapping[tuple[str, str], str] = {
    ("adjusting", ""): "fixed bores",
    ("bearing_kind", "A"): "deep groove",
    ("bearing_kind", "B"): "deep groove",
    ("bearing_marking", "A"): "6202",
    ("bearing_marking", "B"): "6202",
    ("table_bearing_kind", ""): "flat ways",
    ("table_shim_arrangement", ""): "retainer on shim",
    ("worm_shim_arrangement", ""): "cover on outer ring",
}

NUMBERS: Mapping[tuple[str, str], float] = {
    ("housing_bore", "A"): 35.006,
    ("housing_bore", "B"): 35.004,
    ("shaft_seat", "A"): 15.001,
    ("shaft_seat", "B"): 15.000,
    ("shaft_step", "A"): 18.0,
    ("shaft_step", "B"): 18.0,
    ("bearing_span", ""): 54.0,
    ("worm_length", ""): 26.0,
    ("table_shim", ""): 0.80,
    ("worm_shim", ""): 0.40,
    ("worm_end_play", ""): 0.030,
    ("table_axial_play", ""): 0.012,
    ("table_radial_play", ""): 0.008,
    ("worm_float", "A"): 0.020,
    ("worm_float", "B"): 0.020,
    ("tip_clearance", ""): 0.45,
    ("temperature", "housing"): 20.0,
}


def pair(kinds: Sequence[tuple[WheelKind, float]] = (("helical", 1.0),)) -> WormPair:
    return WormPair(
        teeth=80,
        starts=1,
        hand="right",
        axial_module=1.25,
        pressure_angle=math.radians(20),
        pressure_angle_u=math.radians(0.3),
        worm_d1=22.0,
        face_width=12.0,
        kinds=tuple(kinds),
        hob_excess_max=0.05 * 11.0,
        worm_od=Estimate(24.5, 0.02, 24.46, 24.54, "length", "caliper"),
        centre_distance=Estimate(61.12, 0.02, 61.08, 61.16, "length", "caliper"),
    )


def job(*, units: Units = "mm", **duty: object) -> Job:
    usual: dict[str, object] = {
        "radius_mm": 50.0,
        "error_mm": 0.07,
        "direction": "tangential",
        "approach": "both ways",
        "work": "continuous",
        "torque_resist_nmm": 6000.0,
        "drag_limit_nmm": 300.0,
        "play_min_cold_mm": 0.005,
        "shop_low_c": 15.0,
        "shop_high_c": 26.0,
        "rise_k": 15.0,
    }
    return Job(
        name="made up",
        rotary=Rotary("made up", "unit 1", "steel", "bronze", "aluminium"),
        duty=Duty(**(usual | duty)),  # type: ignore[arg-type]  # fields are given by name
        units=units,
        made_up=True,
    )


def readings(
    *,
    without: Sequence[str] = (),
    words: Mapping[tuple[str, str], str] | None = None,
    numbers: Mapping[tuple[str, str], float] | None = None,
) -> tuple[Reading, ...]:
    rows: list[Reading] = []
    for (kind, station), word in {**WORDS, **(words or {})}.items():
        if kind not in without:
            rows.append(Reading(len(rows) + 1, kind, word, word=word, station=station))
    for (kind, station), value in {**NUMBERS, **(numbers or {})}.items():
        if kind not in without:
            rows.append(
                Reading(len(rows) + 1, kind, f"{value} mm", value=value, unit="mm", station=station)
            )
    conditions = {"pin_radius": 80.0, "pin_radius_u": 0.3, "torque": 3000.0}
    rows.append(
        Reading(
            len(rows) + 1,
            "rock",
            "0.3 mm",
            value=0.3,
            unit="mm",
            table_angle=0.0,
            conditions={**conditions, "worm_held": "at the worm"},
        )
    )
    return tuple(rows)


def posterior(plays: Plays | None = None) -> Posterior:
    of = {**PLAYS, **(plays or {})}
    stream = np.random.default_rng(7)
    columns = []
    for name in UNKNOWNS:
        mean, sd = of[name]
        drawn = stream.normal(mean, sd, 4096)
        columns.append(drawn if name[-2:] in ("_x", "_y") else np.abs(drawn))
    return Posterior(np.column_stack(columns), 7)


def estimate(value: float, u: float, dimension: str = "angle") -> Estimate:
    return Estimate(value, u, value - 2 * u, value + 2 * u, dimension, "made up")  # type: ignore[arg-type]


def diagnosis(
    *,
    kinds: Sequence[tuple[WheelKind, float]] = (("helical", 1.0),),
    plays: Plays | None = None,
    tight_spot: TightSpot | None = None,
    of_pair: WormPair | None = None,
) -> Diagnosis:
    made = of_pair or pair(kinds)
    angles = np.linspace(0, 2 * math.pi, 13)
    flat = np.full(13, 8 * ARCMIN)
    return Diagnosis(
        pair=made,
        contributors=_contributors(posterior(plays), made),
        lost_motion_mean=estimate(9 * ARCMIN, 0.3 * ARCMIN),
        lost_motion_tight=estimate(8 * ARCMIN, 0.3 * ARCMIN),
        lost_motion_loose=estimate(10 * ARCMIN, 0.3 * ARCMIN),
        unexplained=estimate(0.0, 0.1 * ARCMIN),
        chi_square=8.0,
        degrees_of_freedom=8,
        chi_square_p=0.43,
        tight_spot=tight_spot or TightSpot(estimate(0.61, 0.1)),
        wheel_runout=estimate(0.025, 0.002, "length"),
        wheel_runout_angle=estimate(3.7, 0.1),
        worm_runout=estimate(0.012, 0.002, "length"),
        worm_runout_angle=estimate(0.5, 0.2),
        inseparable=(),
        points=(),
        map_angles=angles,
        map_mean=flat,
        map_low=flat,
        map_high=flat,
        posterior=posterior(plays),
        next_reading="",
        drag=(),
        not_measured=(),
        doubts=(),
    )


def _contributors(of: Posterior, made: WormPair) -> tuple[Contributor, ...]:
    """The causes as the diagnosis would tell them of these draws."""
    nothing = estimate(0.0, 0.0, "ratio")
    return tuple(
        Contributor(
            key,
            LABELS[key],
            estimate_of(rows, "length", "made up"),
            estimate_of(rows / made.r2, "angle", "made up"),
            nothing,
            identifiable=True,
            measured=True,
        )
        for key, rows in parts_of(of, made).items()
    )


def other_hand(made: WormPair) -> WormPair:
    return replace(made, hand="left")
