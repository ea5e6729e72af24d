"""An invented diagnosis and remedy for the tests of the results file."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from packet_samples import ARCMIN, arcmin, bushing, estimate, relief, shim
from wormwright.job.corrections import Correction, Plan, Remedy
from wormwright.job.findings import (
    Contributor,
    Diagnosis,
    Drag,
    Figured,
    Finding,
    Judged,
    Lobes,
    NextReading,
    Posterior,
    RockPoint,
    Runout,
    TightSpot,
    Unseparated,
    Verdict,
)
from wormwright.job.operation import Gate, Operation
from wormwright.job.pair import WormPair
from wormwright.job.result import Doubt
from wormwright.job.rotary import Duty, Job, Rotary

DOUBT = Doubt("warn", "E-6", "seen", "why", "do", (3, 4))


def job() -> Job:
    """A metric job."""
    return Job(
        name="sample",
        rotary=Rotary("sample", "RT-6 no. 1", "steel", "bronze", "cast iron"),
        duty=Duty(
            radius_mm=100.0,
            error_mm=0.13,
            direction="tangential",
            approach="both ways",
            work="indexed",
            torque_resist_nmm=8000.0,
            drag_limit_nmm=300.0,
            play_min_cold_mm=0.01,
            shop_low_c=12.0,
            shop_high_c=28.0,
        ),
        made_up=True,
    )


def diagnosis() -> Diagnosis:
    """A diagnosis with one contributor, one reading and a fit without freedom left."""
    angles = np.linspace(0.0, 2 * math.pi, 5)
    mean = np.full(5, 12.0123456789 * ARCMIN)
    return Diagnosis(
        pair=WormPair(
            teeth=72,
            starts=1,
            hand="right",
            axial_module=1.5,
            pressure_angle=math.radians(20),
            pressure_angle_u=0.01,
            worm_d1=28.0,
            face_width=12.0,
            kinds=(("hob-equal", 1.0),),
            hob_excess_max=0.5,
        ),
        contributors=(
            Contributor(
                "mesh",
                "Mesh",
                estimate(0.08123456, 0.006, "length"),
                arcmin(6.2, 0.5),
                estimate(0.48, 0.05, "ratio"),
                identifiable=True,
                measured=True,
            ),
        ),
        lost_motion_mean=arcmin(13.0, 0.4),
        lost_motion_tight=arcmin(8.0, 0.6),
        lost_motion_loose=arcmin(16.0, 0.6),
        unexplained=arcmin(0.5, 0.4),
        chi_square=math.nan,
        degrees_of_freedom=0,
        chi_square_p=math.nan,
        tight_spot=TightSpot(None, "two positions are too few"),
        wheel_runout=estimate(0.04, 0.006, "length"),
        wheel_runout_angle=None,
        worm_runout=None,
        worm_runout_angle=None,
        inseparable=("mesh and drive",),
        points=(RockPoint(5, 0.5, None, 12 * ARCMIN, 0.3 * ARCMIN, 0.1 * ARCMIN),),
        map_angles=angles,
        map_mean=mean,
        map_low=mean - ARCMIN,
        map_high=mean + ARCMIN,
        posterior=Posterior(np.zeros((2, 11)), 1),
        next_reading="rock at two more positions",
        drag=(("in_mesh", estimate(60.0, 8.0, "torque")),),
        not_measured=("table radial play",),
        doubts=(DOUBT,),
        **parts(),
    )


def parts() -> dict[str, Any]:
    """What a diagnosis holds beside the lost motion: one of everything."""
    figure = Figured("in_mesh", "drag in mesh", estimate(60.0, 8.0, "torque"))
    runout = estimate(0.0212345678, 0.0011, "length")
    at = estimate(1.2, 0.1, "angle")
    lean = estimate(0.0003, 0.00002, "angle")
    return {
        "drag_apart": Drag((figure,), estimate(1.4, 0.1, "ratio"), at, "agree", ("It peaks.",)),
        "runouts": (
            Runout(
                "face", "table face", 0.05, runout, at, lean, at, (Lobes(3, runout, at),), "Skim"
            ),
            Runout("bar", "bar at the jaws", 0.04, runout, None),
        ),
        "findings": (Finding("clamp", "Clamp shift", (figure,), ("Lock slowly.",)),),
        "unseparated": (
            Unseparated(("mesh", "drive"), (("mesh", 0.6), ("drive", 0.8)), 0.001, "they add up"),
        ),
        "next_readings": (
            NextReading("worm_float", "Worm float", 8.0, 0.912345, 1.0, "its share of the rock"),
        ),
        "verdict": Verdict(
            "fix it at home",
            ("It misses its duty.",),
            0.012345678,
            (Judged("mesh", "Mesh", runout, (0.0, 0.3), 0.6, "inside", "close it", "practice"),),
            ("Pitch error.",),
        ),
        "wear": estimate(0.02, 0.01, "length"),
    }


def remedy() -> Remedy:
    """One plan that makes every kind of part."""
    correction = Correction(
        key="bushings",
        label="Eccentric bushings",
        why="fixed bores",
        sizes=(("throw", estimate(0.35, 0.01, "length")),),
        parts=(bushing(), shim(), relief()),
        steps=("turn",),
        operations=("bushings_in",),
        minutes=240.0,
        doubts=(DOUBT,),
    )
    plan = Plan(
        key="all",
        label="All of it",
        corrections=(correction,),
        tight=arcmin(1.0, 0.4),
        mean=arcmin(2.0, 0.4),
        loose=arcmin(3.0, 0.4),
        tip_clearance=estimate(0.12, 0.02, "length"),
        p_meets_duty=0.934567,
        p_jam=0.000012,
        minutes=400.0,
        offered=True,
        reason="",
    )
    return Remedy(
        plans=(plan,),
        chosen=plan,
        strategy="single pair",
        strategy_reason="the wheel is plain helical",
        rejected_strategies=(("trial pair", "not needed"),),
        closing=estimate(0.165, 0.018, "length"),
        setting_chart=(),
        picture=None,
        allowed_lost_motion=4.5 * ARCMIN,
        limits_it=("mesh",),
        not_measured=(),
        doubts=(DOUBT,),
        draws=40_000,
    )


def operations() -> tuple[Operation, ...]:
    """One operation with a gate that is open upward."""
    gate = Gate("rock", "Rock", "angle", None, 4.5 * ARCMIN, "how", "what next")
    operation = Operation(
        "final_depth", "8", "Final depth", (), (), (), (), (gate,), (), (), "", (), 90.0
    )
    return (operation,)
