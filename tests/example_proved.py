"""The invented axis that was rebuilt and proved: its truth, its test, what to expect."""

from __future__ import annotations

import math

import numpy as np

from example_units import Example, router_plays
from results_samples import job
from simulated_axis import ARCSEC, SimulatedAxis
from simulated_rotary import Taker, Truth
from wormwright.job.proof_plan import PlanSettings
from wormwright.job.reading import Reading
from wormwright.stages.prove import plan_test

CAM = 0.006
"""By how much the worm goes to and fro along its axis in each turn, mm in all."""
PROVED_TRUTH = Truth(
    mesh=0.024,
    end_play=0.004,
    worm_float=0.004,
    table_radial=0.004,
    table_axial=0.004,
    wheel_joint=0.001,
    drive_angle=math.radians(0.1),
    wheel=(0.012, math.radians(215)),
    worm=(0.003, math.radians(110)),
    opening=0.01,
)
_R2, _T = PROVED_TRUTH.r2, PROVED_TRUTH.t
_E, _HIGH = PROVED_TRUTH.wheel

AXIS = SimulatedAxis(
    waves={
        1.0: (_E / _R2 / ARCSEC, -_HIGH),
        PROVED_TRUTH.ratio: (CAM / 2 / _R2 / ARCSEC, 1.0),
    },
    play=0.031 / _R2 / ARCSEC,
    play_waves={1.0: (2 * _T * _E / _R2 / ARCSEC, math.pi / 2 - _HIGH)},
    noise=2.0,
    drift=4.0,
)
"""The same unit as its control drives it."""

PROVED_JOB = """\
# Made up: the router axis after its rebuild, proved under power. See truth.toml.
format = 1
name = "proved router axis"
units = "mm"
sheet = "A4"
made_up = true
seed = 7

[rotary]
name = "150 mm rotary axis, 80:1, rebuilt"
unit_id = "GR-2"
worm_material = "mild steel"
wheel_material = "tin bronze"
housing_material = "cast Al-Si"
table_axis = "vertical"

[duty]
radius = "50 mm"
error = "0.11 mm"
direction = "tangential"
approach = "both ways"
work = "continuous"
torque_to_resist = "6 N·m"
drag_limit = "0.4 N·m"
play_min_cold = "0.006 mm"
shop_low = "12 °C"
shop_high = "30 °C"
rise = "15 K"
probability = "90 %"

[machine]
name = "gantry router"
kind = "router"

[motor]
name = "closed-loop stepper, 60 mm frame"
holding_torque = "2 N·m"
steps_per_turn = 200

[pair]

[stock]
shims = ["0.02 mm", "0.03 mm", "0.05 mm", "0.1 mm", "0.15 mm", "0.2 mm", "0.3 mm", "0.5 mm"]
"""


def take_proved(taker: Taker) -> None:
    """The sheet read again after the rebuild, then the test under power as it was planned."""
    router_plays(taker)
    pick = np.random.default_rng(52)
    plan = plan_test(job(), taker.readings, PlanSettings())
    tested = AXIS.test(plan.targets, plan.settings.runs, pick)
    swept = AXIS.test(plan.sweep, 1, pick)
    again = np.linspace(0.0, AXIS.drift, plan.settings.runs + 1) + pick.normal(0, 1.0, 6)
    at = {"read": plan.targets, "fine": plan.sweep}
    drift = 0
    for move in plan.moves:
        if move.purpose == "again":
            error = float(again[drift] + AXIS.truth(0.0)[0])
            drift += 1
            _written(taker, "position_drift", move.angle, error, {"approach": move.approach})
        elif move.purpose in at:
            side = 0 if move.approach == "forward" else 1
            place = int(np.argmin(np.abs(at[move.purpose] - move.angle)))
            source = tested if move.purpose == "read" else swept
            conditions: dict[str, float | str] = {
                "approach": move.approach,
                "run": float(move.run),
            }
            kind = "position_error" if move.purpose == "read" else "fine_error"
            error = float(source[side][place, move.run - 1])
            _written(taker, kind, move.angle, error, conditions)


def _written(
    taker: Taker, kind: str, angle: float, error: float, conditions: dict[str, float | str]
) -> None:
    taker.readings.append(
        Reading(
            seq=len(taker.readings) + 1,
            kind=kind,
            raw=f"{error:.1f} arcsec",
            value=error * ARCSEC,
            table_angle=angle,
            conditions={**conditions, "means": "sensor table"},
        )
    )


PROVED_README = """\
# The proved router axis

Made up. The 150 mm router axis after a rebuild, read again at the bench and then tested under
power: 11 targets, five runs from each side, the first target again after every run, and a sweep of
two worm turns, all with a sensor table. `wormwright prove DIR` gives its figures.

What was put in, and is to be found: a wheel eccentric by 0.012 mm, a worm that cams 0.006 mm to and
fro in each turn, 4 arcsec of drift and 2 arcsec of scatter. The eccentric wheel shows twice, in the
mean of both sides and in the reversal. The control can take off the wave of the wheel and the play;
what comes with the worm stays.
"""
PROVED = Example("proved-axis", 52, PROVED_TRUTH, PROVED_JOB, take_proved, PROVED_README)
