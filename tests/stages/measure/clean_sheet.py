"""A clean bench sheet of a made-up unit, written as a careful hand writes it, in mm or inches."""

from __future__ import annotations

import math
import random
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Literal

from wormwright.core.worm_pair import pair_geometry, size_over_wires
from wormwright.job.reading import Reading
from wormwright.job.rotary import Duty, Job, Rotary
from wormwright.job.sheet import KINDS
from wormwright.quantities import Dimension, read

Units = Literal["mm", "in"]
Conditions = dict[str, float | str]

ORDER = (0, 6, 3, 9, 1, 7, 4, 10, 2, 8, 5, 11)
"""Twelve positions taken in scattered order, so that drift does not look like runout."""


def job(units: Units = "mm", unit_id: str = "R-7") -> Job:
    duty = Duty(100, 0.05, "tangential", "both ways", "indexed", 6000, 500, 0.01, 10, 25)
    rotary = Rotary("made up", unit_id, "steel", "bronze", "iron")
    return Job("made up", rotary, duty, units=units, made_up=True)


@dataclass
class Bench:
    """The hand that reads and writes: bounded noise, rounded to the instrument, text and value."""

    units: Units
    rng: random.Random
    rows: list[Reading] = field(default_factory=list)

    def text(self, value: float, dimension: Dimension) -> str:
        if dimension == "count":
            return f"{value:.0f}"
        if dimension == "length":
            if self.units == "mm":
                return f"{value:.3f} mm" if value < 50 else f"{value:.2f} mm"
            return f"{value / 25.4:.4f} in" if value > 2.5 else f"{value / 0.0254:.2f} thou"
        if dimension == "torque":
            metric = self.units == "mm"
            return f"{value / 1000:.3f} N·m" if metric else f"{value / 7.0616:.1f} oz·in"
        if dimension == "rise":
            return f"{value:.0f} K"
        return {"temperature": f"{value:.1f} °C", "angle": f"{math.degrees(value):.2f} deg"}[
            dimension
        ]

    def write(
        self,
        kind: str,
        value: float | str,
        *,
        station: str = "",
        at: tuple[float, float] | None = None,
        conditions: Mapping[str, float | str] | None = None,
    ) -> None:
        row = KINDS[kind]
        phi, psi = at if at else (None, None)
        plain = Reading(
            seq=len(self.rows) + 1,
            kind=kind,
            raw=str(value),
            station=station,
            table_angle=phi,
            worm_angle=psi,
            conditions=conditions or {},
        )
        if isinstance(value, str):
            self.rows.append(replace(plain, word=value))
            return
        sigma = math.hypot(row.noise or 0.0, row.noise_share * value)
        text = self.text(value + self.rng.uniform(-1, 1) * sigma, row.dimension)
        typed = read(text, row.dimension, field=kind)
        self.rows.append(replace(plain, raw=text, value=typed.value, unit=typed.unit))


@dataclass(frozen=True)
class Unit:
    """A unit with plays of the ordinary kind; lengths mm."""

    module: float
    alpha: float
    teeth: int
    d1: float
    mesh: float
    wheel: tuple[float, float]
    worm: tuple[float, float]
    end_play: float
    table_play: float

    @property
    def r2(self) -> float:
        return self.module * self.teeth / 2

    def rock(self, phi: float, psi: float, *, radius: float, torque: float) -> float:
        slope = 2 * math.tan(self.alpha)
        runout = self.wheel[0] * math.cos(phi - self.wheel[1])
        runout += self.worm[0] * math.cos(psi - self.worm[1])
        j = self.mesh + slope * runout + self.end_play + torque * 2e-6
        return radius / self.r2 * j


def drawn_unit(rng: random.Random, units: Units) -> Unit:
    module = rng.choice([1.25, 1.5, 2.0] if units == "mm" else [25.4 / p for p in (12, 16, 20)])
    mesh = rng.uniform(0.04, 0.25)
    slope = 0.73
    return Unit(
        module=module,
        alpha=math.radians(20 if units == "mm" else 14.5),
        teeth=rng.choice([60, 72, 80, 90]),
        d1=module * rng.uniform(14, 19),
        mesh=mesh,
        wheel=(rng.uniform(0.0, 0.6) * mesh / slope, rng.uniform(0, 2 * math.pi)),
        worm=(rng.uniform(0.0, 0.1) * mesh / slope, rng.uniform(0, 2 * math.pi)),
        end_play=rng.uniform(0.01, 0.06),
        table_play=rng.uniform(0.003, 0.008),
    )


def clean_sheet(seed: int, units: Units = "mm") -> list[Reading]:
    """Every reading of the sheet, without a fault in it."""
    rng = random.Random(seed)
    unit, bench = drawn_unit(rng, units), Bench(units, rng)
    _identity(bench, unit)
    _rocks(bench, unit)
    _plays(bench, unit)
    _table(bench, unit)
    return bench.rows


def _identity(bench: Bench, unit: Unit) -> None:
    pair = pair_geometry(axial_module=unit.module, starts=1, teeth=unit.teeth, worm_d1=unit.d1)
    opening = unit.mesh / (2 * math.tan(unit.alpha))
    for kind, word in (("hand", "right"), ("wheel_kind", "hollow"), ("adjusting", "fixed bores")):
        bench.write(kind, word)
    bench.write("teeth", float(unit.teeth))
    bench.write("starts", 1.0)
    sizes = {
        "worm_od": pair.worm_tip,
        "wheel_throat": pair.wheel_throat,
        "wheel_od": pair.wheel_throat + unit.module,
        "wheel_face": unit.d1 / 2,
        "wheel_root": pair.wheel_root,
        "centre_distance": pair.centre_distance + opening,
        "bearing_span": 60.0,
        "worm_length": 40.0,
        "tip_clearance": 0.25 * unit.module + opening,
        "table_shim": 0.5,
        "worm_shim": 0.3,
    }
    for kind, size in sizes.items():
        for _ in range(KINDS[kind].repeats):
            bench.write(kind, size)
    for _ in range(3):
        bench.write("thread_length", 5 * pair.axial_pitch, conditions={"threads": 5.0})
    for wire in (1.6 * unit.module, 2.0 * unit.module):
        over = size_over_wires(
            worm_d1=unit.d1, wire=wire, axial_pitch=pair.axial_pitch, pressure_angle=unit.alpha
        )
        for _ in range(3):
            bench.write("worm_over_wires", over, conditions={"wire": wire})
    for station in ("A", "B"):
        bench.write("bearing_kind", "deep groove", station=station)
        for kind, size in (("bearing_bore", 12.0), ("bearing_outside", 32.0)):
            bench.write(kind, size, station=station)
    bench.write("temperature", 19.5, station="housing")


def _rocks(bench: Bench, unit: Unit) -> None:
    grid = 2 * math.pi / unit.teeth

    def rock(turns: float, torque: float = 3000.0) -> None:
        phi, psi = turns * grid, 2 * math.pi * (turns % 1)
        value = unit.rock(phi, psi, radius=80.0, torque=torque)
        conditions: dict[str, float | str] = {
            "pin_radius": 80.0,
            "pin_radius_u": 0.3,
            "torque": torque,
            "worm_held": "at the worm",
            "lock": "off",
            "surface": "pin in T-slot",
        }
        bench.write("rock", value, at=(phi, psi), conditions=conditions)

    for k in (*ORDER, 0):
        rock(float(round(k * unit.teeth / 12)))
    for quarter in (0.25, 0.5, 0.75):
        rock(quarter)
    rock(0.0, torque=1000.0)


def _round(bench: Bench, kind: str, tir: float, **conditions: float | str) -> None:
    """A series at eight places and the first again, lowest wherever chance puts it."""
    at = bench.rng.uniform(0, 2 * math.pi)
    lobes = bench.rng.uniform(0, 0.1) * tir
    zero = tir / 2 * math.cos(at)
    for k in (*range(8), 8):
        phi = 2 * math.pi * (k % 8) / 8
        value = tir / 2 * math.cos(phi - at) + lobes * math.cos(3 * phi) - zero
        bench.write(kind, value, at=(phi, 0.0), conditions=conditions)


def _table(bench: Bench, unit: Unit) -> None:
    rng = bench.rng
    bench.write("lubricant", "compounded gear oil")
    for station in ("table", "worm"):
        bench.write("turn_feel", rng.choice(["slight", "drags"]), station=station)
    for moment in (20_000.0, 6_000.0):
        conditions: Conditions = {"moment": moment, "arm": 70.0, "lock": "off"}
        bench.write("tilt_under_moment", 0.006 + 3e-7 * moment, conditions=conditions)
    _round(bench, "face_runout", rng.uniform(0.006, 0.04), radius=70.0, surface="table face")
    _round(bench, "register_runout", rng.uniform(0.006, 0.05), surface="bore")
    for z in (20.0, 120.0):
        _round(bench, "bar_runout", rng.uniform(0.02, 0.12), z=z, grip=1.0)
    bench.write("worm_runout", 2 * unit.worm[0] + 0.01)
    bench.write("wheel_runout", 2 * unit.wheel[0] + 0.01)
    for _ in range(3):
        for station in ("turning", "lift", "sideways"):
            held: Conditions = {"radius": 80.0, "order": "A then B"}
            bench.write("clamp_shift", 0.010, station=station, conditions=held)
    _loop(bench)
    for station in ("flank plus", "flank minus"):
        for phi in (0.0, 2.1, 4.2):
            seen: Conditions = {"crest": "dull", "film": "thin"}
            bench.write(
                "blue_mark", "centred patch", station=station, at=(phi, 0.0), conditions=seen
            )
    bench.write("temperature_rise", 11.0, station="housing", conditions={"minutes": 30.0})


def _loop(bench: Bench) -> None:
    """Two cycles of a rock loop at one place: clearance 0.10, friction and a spring."""
    steps = (1000.0, 2000.0, 3000.0)
    for cycle in (1.0, 2.0):
        legs = (
            ("up", steps),
            ("down", (2000.0, 1000.0, -1000.0, -2000.0, -3000.0)),
            ("up", (-2000.0, -1000.0)),
        )
        for branch, torques in legs:
            for torque in torques:
                lag = -0.004 if branch == "up" else 0.004
                value = math.copysign(0.05, torque) + torque * 8e-6 + lag
                conditions: Conditions = {
                    "pin_radius": 80.0,
                    "pin_radius_u": 0.3,
                    "torque": torque,
                    "branch": branch,
                    "cycle": cycle,
                    "worm_held": "at the worm",
                    "lock": "off",
                }
                bench.write("rock_loop", value, at=(0.0, 0.0), conditions=conditions)


def _plays(bench: Bench, unit: Unit) -> None:
    for _ in range(3):
        bench.write("worm_end_play", unit.end_play, conditions={"how": "rocking table"})
        bench.write("drive_play", math.radians(0.8))
        bench.write("table_radial_play", unit.table_play)
        bench.write("table_axial_play", 0.012, conditions={"force": 80.0})
        bench.write("worm_float", 0.012, station="A")
        bench.write("worm_float", 0.014, station="B")
        bench.write("drag_out_of_mesh", 120.0)
    for k in range(12):
        torque = 220.0 + 80.0 * max(0.0, math.cos(math.radians(30 * k - 210)))
        bench.write("drag_in_mesh", torque, at=(math.radians(30 * k), 0.0))
    bench.write("wheel_joint_play", 0.003, conditions={"radius": 40.0})
