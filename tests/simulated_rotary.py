"""A rotary that exists only here: known plays, and the readings a careful hand would take of it.

The mechanics are worked out by positions (where the shaft, the worm and the flanks come to rest
under each push), not by the sensitivity rows of the diagnosis, so that the closed loops compare
two ways of seeing the same unit.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np

from wormwright.bench import noise
from wormwright.job.pair import WormPair
from wormwright.job.reading import Reading
from wormwright.job.rotary import Duty, Job, Rotary
from wormwright.job.sheet import KINDS

PITCH_SD = 0.002


@dataclass(frozen=True)
class Truth:
    """The made-up unit: geometry, plays (full, mm), runout vectors (half TIR, mm), shares."""

    teeth: int = 80
    starts: int = 1
    module: float = 1.25
    pressure_angle: float = math.radians(20)
    d1: float = 22.0
    span: float = 54.0
    face_width: float = 12.0
    mesh: float = 0.145
    end_play: float = 0.030
    worm_float: float = 0.020
    table_radial: float = 0.012
    table_axial: float = 0.020
    wheel_joint: float = 0.004
    drive_angle: float = math.radians(0.9)
    wheel: tuple[float, float] = (0.025, math.radians(215))
    worm: tuple[float, float] = (0.010, math.radians(110))
    table_share: float = 0.8
    worm_share: float = 0.8
    compliance: float = 2e-5
    pin_radius_error: float = 0.0
    opening: float = 0.12
    wear: float = 0.0
    used_deg: tuple[float, float] = (0.0, 0.0)

    def is_used(self, phi: float) -> bool:
        """Whether that table angle lies in the used sector."""
        first, last = self.used_deg
        return first <= math.degrees(phi) % 360 < last

    @property
    def r2(self) -> float:
        return self.module * self.teeth / 2

    @property
    def t(self) -> float:
        return math.tan(self.pressure_angle)

    @property
    def g(self) -> float:
        return self.module * self.starts / self.d1

    @property
    def ratio(self) -> float:
        return self.teeth / self.starts

    def backlash(self, phi: float, psi: float) -> float:
        """Flank backlash with both axes at the middle of their plays, mm at r2."""
        wheel = self.wheel[0] * math.cos(phi - self.wheel[1])
        worm = self.worm[0] * math.cos(psi - self.worm[1])
        worn = self.wear if self.is_used(phi) else 0.0
        return self.mesh + 2 * self.t * (wheel + worm) + worn


def _unit(x: float, y: float) -> tuple[float, float]:
    size = math.hypot(x, y)
    return (x / size, y / size) if size else (0.0, 0.0)


def _rest(truth: Truth, sign: int, radius: float, beta: float) -> tuple[float, float]:
    """Where the table shaft rests under one push, (x, y) mm from its middle."""
    thrust = radius / truth.r2
    fx = sign * (-math.cos(beta) + thrust)
    fy = -sign * math.sin(beta) - thrust * truth.t
    ux, uy = _unit(fx, fy)
    half = truth.table_share * truth.table_radial / 2
    return half * ux, half * uy


def _worm_yields(truth: Truth, sign: int) -> float:
    """How far the worm flank yields along its axis under unit thrust of that sign, mm."""
    arm = truth.d1 / 2 / truth.span
    half = truth.worm_share * truth.worm_float / 2
    total = 0.0
    for end in (-1, 1):
        load = (truth.t / 2 + end * sign * arm, truth.g / 2)
        ux, uy = _unit(*load)
        total += half * (ux * load[0] + uy * load[1])
    return total


def rock(
    truth: Truth,
    phi: float,
    psi: float,
    *,
    radius: float,
    torque: float,
    pins: int,
    beta: float = 0.0,
    from_motor: bool = False,
) -> float:
    """To-and-fro movement at a pin (or the mean of two opposite pins), mm, no reading error."""
    real = radius * (1 + truth.pin_radius_error)
    turned, carried = [], []
    for sign in (1, -1):
        if pins == 2:
            ux, uy = _unit(sign, -truth.t)
            half = truth.table_share * truth.table_radial / 2
            x, y = half * ux, half * uy
        else:
            x, y = _rest(truth, sign, real, beta)
        slack = truth.backlash(phi, psi) / 2 - truth.t * y
        slack += truth.end_play / 2 + truth.wheel_joint / 2 + _worm_yields(truth, sign)
        slack += truth.compliance * torque / truth.r2
        if from_motor:
            slack += truth.drive_angle / truth.ratio * truth.r2 / 2
        turned.append((sign * slack + x) / truth.r2)
        carried.append(-x * math.cos(beta) - y * math.sin(beta))
    reading = (turned[0] - turned[1]) * real
    return reading if pins == 2 else reading + carried[0] - carried[1]


def lost_motion(truth: Truth) -> dict[str, float]:
    """What each play really adds at the table, mm at r2, pure couple, worm held or driven."""
    table = truth.table_share * truth.table_radial
    ux, uy = _unit(1.0, -truth.t)
    return {
        "mesh": truth.mesh,
        "end_play": truth.end_play,
        "worm_float": _worm_yields(truth, 1) + _worm_yields(truth, -1),
        "table_radial": table * (ux - truth.t * uy),
        "wheel_joint": truth.wheel_joint,
        "drive": truth.drive_angle / truth.ratio * truth.r2,
    }


@dataclass
class Taker:
    """Takes readings off a truth with seeded noise of the kind's own size."""

    truth: Truth
    rng: np.random.Generator
    noisy: bool = True
    readings: list[Reading] = field(default_factory=list)
    pitch: dict[int, float] = field(default_factory=dict)

    def take(
        self,
        kind: str,
        value: float | None = None,
        *,
        word: str | None = None,
        station: str = "",
        phi: float | None = None,
        psi: float | None = None,
        conditions: Mapping[str, float | str] | None = None,
    ) -> Reading:
        """One reading appended to the sheet."""
        reading = Reading(
            seq=len(self.readings) + 1,
            kind=kind,
            raw=word or "simulated",
            value=value,
            word=word,
            station=station,
            table_angle=phi,
            worm_angle=psi,
            conditions=conditions or {},
        )
        if value is not None and self.noisy and KINDS[kind].noise:
            read = value + float(self.rng.normal(0.0, noise(reading)))
            either_way = kind == "rock" or KINDS[kind].signed
            reading = replace(reading, value=read if either_way else max(read, 0.0))
        self.readings.append(reading)
        return reading

    def identity(self) -> None:
        """Rows of the pair and the housing, without noise in the counts and words."""
        truth = self.truth
        self.take("teeth", float(truth.teeth))
        self.take("starts", float(truth.starts))
        self.take("hand", word="right")
        self.take("wheel_kind", word="hollow")
        self.take("wheel_face", truth.face_width)
        self.take("worm_od", truth.d1 + 2 * truth.module)
        self.take("bearing_span", truth.span)
        self.take(
            "thread_length",
            5 * math.pi * truth.module,
            conditions={"threads": 5.0},
        )

    def rock_at(
        self,
        phi_deg: float,
        *,
        psi: float | None = None,
        pins: int = 1,
        torque: float = 3000.0,
        radius: float = 80.0,
        beta: float = 0.0,
        worm_held: str = "at the worm",
        housing: float | None = None,
        grown: float = 0.0,
    ) -> None:
        """One rock; the worm follows the table unless given; heat adds `grown` to the play."""
        truth, phi = self.truth, math.radians(phi_deg)
        worm = truth.ratio * phi if psi is None else psi
        driven = worm_held != "at the worm"
        value = rock(
            truth,
            phi,
            worm,
            radius=radius,
            torque=torque,
            pins=pins,
            beta=beta,
            from_motor=driven,
        )
        value += grown * radius / truth.r2
        more: dict[str, float | str] = {} if housing is None else {"housing_temperature": housing}
        if truth.used_deg != (0.0, 0.0):
            more["sector"] = "used" if truth.is_used(phi) else "unused"
        if self.noisy:
            place = round(phi_deg * 10) % 3600
            if place not in self.pitch:
                self.pitch[place] = float(self.rng.normal(0.0, PITCH_SD))
            value += self.pitch[place] * radius / truth.r2
        self.take(
            "rock_pins" if pins == 2 else "rock",
            value,
            phi=phi,
            psi=psi,
            conditions={
                "pin_radius": radius,
                "pin_radius_u": 0.3,
                "pin_angle": beta,
                "torque": torque,
                "worm_held": worm_held,
                "lock": "off",
                "surface": "pin in T-slot",
                **more,
            },
        )

    def map(self, count: int = 12, pins: int = 1) -> None:
        """A map round the turn at whole worm turns."""
        grid = 360.0 / self.truth.ratio
        for k in range(count):
            self.rock_at(round(k * 360 / count / grid) * grid, psi=0.0, pins=pins)

    def worm_phases(self, phi_deg: float = 36.0, count: int = 4) -> None:
        """Rocks at evenly spaced worm angles near one table place."""
        for k in range(count):
            turn = k / count
            self.rock_at(phi_deg + turn * 360 / self.truth.ratio, psi=turn * 2 * math.pi)

    def plays(self) -> None:
        """Rows 5 to 9 and the wheel joint."""
        truth = self.truth
        self.take("worm_end_play", truth.end_play, conditions={"how": "rocking table"})
        for station in ("A", "B"):
            self.take("worm_float", truth.worm_float, station=station)
        self.take("drive_play", truth.drive_angle)
        self.take("table_radial_play", truth.table_radial)
        self.take("table_axial_play", truth.table_axial, conditions={"force": 80.0})
        self.take("wheel_joint_play", truth.wheel_joint, conditions={"radius": truth.r2})

    def direct_runouts(self) -> None:
        """Wheel and worm runout by indicator; rim and journal do not run quite like the teeth."""
        for kind, vector, apart in (
            ("wheel_runout", self.truth.wheel, 0.005),
            ("worm_runout", self.truth.worm, 0.003),
        ):
            self.take(kind, abs(2 * vector[0] + float(self.rng.normal(0.0, apart))))

    def full_sheet(self) -> list[Reading]:
        """Everything the first stages ask for."""
        self.identity()
        self.map()
        self.worm_phases()
        for phi in (0.0, 90.0, 180.0, 270.0):
            self.rock_at(phi, psi=0.0, pins=2)
        for phi in (36.0, 216.0):
            self.rock_at(phi, psi=0.0, torque=1000.0)
        self.plays()
        return self.readings


def drawn_truth(rng: np.random.Generator, base: Truth | None = None, /, **fixed: Any) -> Truth:
    """A unit with every play drawn evenly from the usual ranges that the diagnosis states."""
    from wormwright.stages.diagnose.ranges import usual_ranges  # noqa: PLC0415

    base = base or Truth()
    ranges = usual_ranges(pair_of(base), job_of(base).rotary)
    u = {name: float(rng.uniform(r.low, r.high)) for name, r in ranges.items()}
    wheel = (math.hypot(u["wheel_x"], u["wheel_y"]), math.atan2(u["wheel_y"], u["wheel_x"]))
    worm = (math.hypot(u["worm_x"], u["worm_y"]), math.atan2(u["worm_y"], u["worm_x"]))
    drawn = replace(
        base,
        mesh=u["mesh"],
        end_play=u["end_play"],
        worm_float=u["worm_float"],
        table_radial=u["table_radial"],
        table_axial=u["table_axial"],
        wheel_joint=u["wheel_joint"],
        drive_angle=u["drive"] / base.r2 * base.ratio,
        wheel=wheel,
        worm=worm,
        table_share=u["table_share"],
        worm_share=u["worm_share"],
        compliance=u["compliance"],
        pin_radius_error=float(rng.normal(0.0, 0.3 / 80.0)),
    )
    return replace(drawn, **fixed)


def pair_of(truth: Truth) -> WormPair:
    """The pair as a noun, known exactly."""
    return WormPair(
        truth.teeth,
        truth.starts,
        "right",
        truth.module,
        truth.pressure_angle,
        0.0,
        truth.d1,
        truth.face_width,
        (("hob-equal", 0.3), ("oversize-hob", 0.6), ("helical", 0.1)),
        0.5,
    )


def job_of(truth: Truth) -> Job:
    """A job for that unit with its pair confirmed, so that the loop tests the plays."""
    return Job(
        name="simulated rotary",
        rotary=Rotary("simulated", "SIM-1", "mild steel", "tin bronze", "cast aluminium"),
        duty=Duty(
            radius_mm=50.0,
            error_mm=0.06,
            direction="tangential",
            approach="both ways",
            work="continuous",
            torque_resist_nmm=6000.0,
            drag_limit_nmm=400.0,
            play_min_cold_mm=0.008,
            shop_low_c=12.0,
            shop_high_c=30.0,
        ),
        made_up=True,
        pair_module_mm=truth.module,
        pair_pressure_angle=truth.pressure_angle,
    )
