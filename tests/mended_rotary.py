"""A simulated rotary is mended as a plan says: what it then really has, and whether it binds.

Worked out from the truth and from what hands do (a shim ground to the wrong size, a rock read
wrong, a clamp that shifts), not from the rows and normals of the prediction.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from simulated_rotary import PITCH_SD, Truth, lost_motion
from wormwright.bench import Bench
from wormwright.bench.warm import duty_states, expansions_of, mesh_change
from wormwright.core.backlash import ClosedFormMesh, sine_of_half_face
from wormwright.job.corrections import Plan
from wormwright.job.findings import UNKNOWNS, Diagnosis
from wormwright.job.rotary import Job

ROCK_AT = 80.0
"""Radius of the pin that the depth is set with, mm."""

CLAMP_SHIFTS = 0.004
"""How far a bushing moves in its fit when it is clamped, half-width, mm."""

OFF_THROAT = 0.036
"""How far off the throat the worm may stand after centring by blue and fine setting, mm."""

DEPTHS = {"bushings", "setting"}


@dataclass(frozen=True)
class Unit:
    """What a unit really has: motion at r2 by cause, worm end play, eccentricities, all mm."""

    at_r2: Mapping[str, float]
    end_play: float
    wheel: float
    worm: float


def unit_of_truth(truth: Truth) -> Unit:
    """The unit that the sheet was read on."""
    real = {"table_axial": 0.0, **lost_motion(truth)}
    return Unit(real, truth.end_play, truth.wheel[0], truth.worm[0])


def unit_of_draw(found: Diagnosis, row: int) -> Unit:
    """One of the units that the sheet is equally true of."""
    of = dict(zip(UNKNOWNS, found.posterior.draws[row], strict=True))
    real = {name: of[name] for name in ("mesh", "end_play", "wheel_joint", "drive")}
    real["worm_float"] = of["worm_float"] * of["worm_share"]
    real["table_radial"] = of["table_radial"] * of["table_share"]
    real["table_axial"] = 0.0
    wheel = math.hypot(of["wheel_x"], of["wheel_y"])
    return Unit(real, of["end_play"], wheel, math.hypot(of["worm_x"], of["worm_y"]))


@dataclass(frozen=True)
class Mended:
    """Felt at the loosest place, warm [rad]; least backlash over the temperatures [mm]."""

    felt: float
    least: float


class Hands:
    """Carries out plans on one unit, with the same slips of the hand for every plan."""

    def __init__(self, unit: Unit, job: Job, found: Diagnosis, rng: np.random.Generator) -> None:
        self.unit, self.job, self.found, self.pair = unit, job, found, found.pair
        names = ("table", "rock", "pitch", "joint", "drive", "float", "true", "too")
        self.slip = {name: float(rng.standard_normal()) for name in names}
        self.even = {name: float(rng.uniform(-1, 1)) for name in ("ground", "clamp", "aside")}
        kinds = [kind for kind, _ in self.pair.kinds]
        self.kind = str(rng.choice(kinds, p=[p for _, p in self.pair.kinds]))
        least = 0.01 * self.pair.r1
        most = max(self.pair.hob_excess_max, least)
        self.excess = float(rng.uniform(least, most)) if self.kind == "oversize-hob" else 0.0
        self.opened_share = float(rng.uniform())

    def mended(self, plan: Plan) -> Mended:
        """The unit after the plan."""
        keys = {c.key for c in plan.corrections}
        after = self._plays_after(keys, plan)
        if keys & DEPTHS:
            tight = self._set_depth(plan, after)
            bedded = self._bedding(after)
        else:
            tight, bedded = self.unit.at_r2["mesh"] - self._swing(after), 0.0
        closes, opens = self._warm()
        others = sum(size for cause, size in after.at_r2.items() if cause != "mesh")
        loose = max(tight, 0.0) + max(opens, 0.0) + 2 * self._swing(after) + bedded
        return Mended((others + loose) / self.pair.r2, tight + min(closes, 0.0))

    def _swing(self, unit: Unit) -> float:
        return 2 * self.pair.t * (unit.wheel + unit.worm)

    def _plays_after(self, keys: set[str], plan: Plan) -> Unit:
        now, wheel = dict(self.unit.at_r2), self.unit.wheel
        if "worm_shim" in keys:
            ground = 0.005 * self.even["ground"]
            take_up = self._size(plan, "worm_shim", "take-up")
            now["end_play"] = max(0.0, self.unit.end_play - take_up + ground)
        if keys & {"worm_shim", "bushings"}:
            now["worm_float"] = abs(0.0006 * self.slip["float"])
        if "table_shim" in keys:
            now["table_radial"] = abs(0.001 * self.slip["table"])
        if keys & {"wheel_joint", "wheel_truing"}:
            now["wheel_joint"] = abs(0.0005 * self.slip["joint"])
        if "wheel_truing" in keys:
            wheel = 0.0041 * math.hypot(self.slip["true"], self.slip["too"])
        if "coupling" in keys:
            left = math.radians(0.05) * self.slip["drive"]
            now["drive"] = abs(left) / self.pair.ratio * self.pair.r2
        return replace(self.unit, at_r2=now, wheel=wheel)

    @staticmethod
    def _size(plan: Plan, key: str, name: str) -> float:
        correction = next(c for c in plan.corrections if c.key == key)
        return dict(correction.sizes)[name].value

    def _set_depth(self, plan: Plan, after: Unit) -> float:
        """Set until the rock reads the target and the plays believed to be left; then clamp."""
        key = next(c.key for c in plan.corrections if c.key in DEPTHS)
        target = self._size(plan, key, "backlash to set at the tight spot, at r2")
        left = {cause.key: cause.left.value * self.pair.r2 for cause in plan.parts_left}
        hidden = [k for k in left if k not in ("mesh", "drive")]
        believed = sum(left[k] for k in hidden)
        others = sum(after.at_r2[k] for k in hidden)
        read = 0.0025 * self.pair.r2 / ROCK_AT * self.slip["rock"]
        clamp = 2 * self.pair.t * CLAMP_SHIFTS * self.even["clamp"]
        return target + believed - others + read + clamp + PITCH_SD * self.slip["pitch"]

    def _bedding(self, after: Unit) -> float:
        """What comes back as edges bed in after the worm was set a little off the throat."""
        if self.kind == "helical":
            return 0.0
        pair = self.pair
        sine = float(sine_of_half_face(face=pair.face_width, r1=pair.r1, hob_excess=self.excess))
        mesh = ClosedFormMesh(pair.t, pair.g, pair.r1, pair.r1 + pair.r2, sine, self.excess)
        play = self.unit.at_r2["mesh"]
        at = (self.opened_share * play - (play - self._swing(after))) / (2 * pair.t)
        aside = OFF_THROAT * self.even["aside"]
        centred = float(mesh.backlash_change(da=at))
        return centred - float(mesh.backlash_change(da=at, dz=aside))

    def _warm(self) -> tuple[float, float]:
        grows = expansions_of(self.job)
        states = duty_states(Bench(self.job, ()))
        changes = [mesh_change(self.pair, state, grows) for state in states]
        return min(changes), max(changes)
