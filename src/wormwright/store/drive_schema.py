"""Sections of job.toml about work, drives, motor, control, chuck and motor plate.

Loaded only when a job has one of them. As in `job_schema`: strict, figures as text with a unit.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from fractions import Fraction
from itertools import pairwise
from typing import Any

from pydantic_core import core_schema as schema

from wormwright.handbook.cutting import cutting_materials
from wormwright.job import control as control_nouns
from wormwright.job import drive as drive_nouns
from wormwright.job import rotary as nouns
from wormwright.job import work as work_nouns
from wormwright.job.control import Chuck, Control, PlateSizes
from wormwright.job.drive import Drive
from wormwright.job.given import Given
from wormwright.job.rotary import Motor
from wormwright.job.work import Cutter, Task
from wormwright.quantities import Dimension, QuantityError, read
from wormwright.store.job_schema import TORQUE, WORD, Fields, Schema, figure, one_of, text_wanted

MOST_COST = 1e9
MOST_TERM = 10**7


def given(dimension: Dimension, low: float, high: float, example: str) -> Schema:
    """A figure or its range, such as `0.5-0.7`; `~` makes it a fifth either way."""
    expected = f"a {dimension} with its unit, or a range, like {example}"

    def between(text: object) -> Given:
        raw = text_wanted(text, expected, example)
        typed = read(raw, dimension, field="")
        half = typed.u_extra * math.sqrt(3)
        if "approximate" in typed.flags:
            half = max(half, 0.2 * abs(typed.value))
        if not typed.usable or not low <= typed.value - half <= typed.value + half <= high:
            do = f"check the unit and the decimal point; a usual one is {example}"
            raise QuantityError("", got=raw, expected=expected, do=do)
        return Given(typed.value, typed.value - half, typed.value + half)

    return schema.no_info_plain_validator_function(between)


def _ratio(text: object) -> Fraction:
    """Motor turns for one turn of the table, exact: `90:1`, `72:20` or `17.5`."""
    expected = "motor turns to table turns"
    raw = text_wanted(text, expected, "90:1")
    top, _, bottom = raw.replace(" ", "").partition(":")
    try:
        ratio = Fraction(top) / Fraction(bottom or "1")
    except (ValueError, ZeroDivisionError):
        do = 'write it like "90:1", "72:20" or "17.5"'
        raise QuantityError("", got=raw, expected=expected, do=do) from None
    if not (0 < ratio <= 10_000 and ratio.denominator <= MOST_TERM):
        do = 'write it like "90:1"'
        raise QuantityError("", got=raw, expected="a ratio that a drive can have", do=do)
    return ratio


def _points(rows: object) -> tuple[tuple[float, float], ...]:
    """Points of a torque curve: `["0 rpm 2.2 N·m", "600 rpm 1.1 N·m"]`, speeds rising."""
    expected = "points of the data sheet, speeds rising"
    do = 'write it like ["0 rpm: 2.2 N·m", "600 rpm: 1.1 N·m"]'
    if not isinstance(rows, list) or not rows:
        raise QuantityError("", got=str(rows), expected=expected, do=do)
    points = []
    for row in rows:
        speed, colon, torque = text_wanted(row, expected, "600 rpm: 1.1 N·m").partition(":")
        if not colon:
            raise QuantityError("", got=str(row), expected=expected, do=do)
        rpm = read(speed, "speed", field="").value
        points.append((rpm, read(torque, "torque", field="").value))
    speeds = [rpm for rpm, _ in points]
    falling = any(b <= a for a, b in pairwise(speeds))
    if falling or speeds[0] < 0 or any(torque < 0 for _, torque in points):
        raise QuantityError("", got=str(rows), expected=expected, do=do)
    return tuple(points)


def _belt(teeth: object) -> tuple[int, int]:
    """Teeth of the two pulleys, `[20, 40]`: at the motor and at the worm."""
    if (
        isinstance(teeth, list)
        and len(teeth) == 2
        and all(type(z) is int and 6 <= z <= 400 for z in teeth)
    ):
        return teeth[0], teeth[1]
    do = "write the teeth at the motor and at the worm, like [20, 40]"
    raise QuantityError("", got=str(teeth), expected="teeth of two pulleys", do=do)


def _cost(value: object) -> Given:
    """A plain number, or `[low, high]`, in the machinist's own currency."""
    numbers = [
        float(x)
        for x in (value if isinstance(value, list) else [value, value])
        if isinstance(x, int | float) and not isinstance(x, bool) and 0 <= x <= MOST_COST
    ]
    if len(numbers) != 2 or numbers[0] > numbers[1]:
        do = "write a number like 350, or a range like [300, 400]"
        expected = "a cost or hours, or a range of them"
        raise QuantityError("", got=str(value), expected=expected, do=do)
    low, high = numbers
    return Given((low + high) / 2, low, high)


def _material(text: object) -> str:
    raw = text_wanted(text, "a material that is cut", "mild steel")
    known = [row.name for row in cutting_materials()]
    if raw not in known:
        do = f"write one of: {', '.join(known)}"
        raise QuantityError("", got=raw, expected="a material of the cutting table", do=do)
    return raw


def _maybe(field: Schema) -> tuple[Schema, None]:
    return field, None


LENGTH = figure("length", 1e-3, 5000.0, "60 mm")
SPEED = figure("speed", 1e-3, 100_000.0, "25 rpm")
MASS = figure("mass", 1e-3, 5000.0, "4 kg")
RANGE_COST = schema.no_info_plain_validator_function(_cost)
INERTIA = figure("inertia", 1e-3, 1e9, "480 g·cm²")
CURRENT = figure("current", 0.01, 1000.0, "2.8 A")
RESISTANCE = figure("resistance", 1e-3, 1e4, "1.1 ohm")
INDUCTANCE = figure("inductance", 1e-6, 10.0, "3.6 mH")
VOLTAGE = figure("voltage", 1.0, 1000.0, "48 V")
POINTS = schema.no_info_plain_validator_function(_points)
WHOLE = schema.int_schema(strict=True, ge=1, le=10_000_000)
FLAG = schema.bool_schema(strict=True)
DOUBT = figure("ratio", 0.0, 0.99, "10 %")

MORE_MOTOR: Fields = {
    "kind": (one_of(nouns.MotorKind), "stepper"),
    "pulses_per_turn": _maybe(WHOLE),
    "current": _maybe(CURRENT),
    "resistance": _maybe(RESISTANCE),
    "inductance": _maybe(INDUCTANCE),
    "voltage": _maybe(VOLTAGE),
    "rotor_inertia": _maybe(INERTIA),
    "torque_points": (POINTS, ()),
    "useful_speed": _maybe(SPEED),
    "belt": _maybe(schema.no_info_plain_validator_function(_belt)),
}
"""What [motor] may hold besides name, holding torque and full steps."""

WORK: Fields = {
    "name": WORD,
    "kind": one_of(work_nouns.WorkKind),
    "radius": LENGTH,
    "error": _maybe(figure("length", 1e-4, 50.0, "0.05 mm")),
    "approach": (one_of(nouns.Approach), "both ways"),
    "force": _maybe(given("force", 0.0, 1e6, "40 N")),
    "process": _maybe(one_of(work_nouns.Process)),
    "material": _maybe(schema.no_info_plain_validator_function(_material)),
    "cutter": _maybe(figure("length", 0.05, 500.0, "6 mm")),
    "cutter_teeth": _maybe(schema.int_schema(strict=True, ge=1, le=100)),
    "depth": _maybe(figure("length", 1e-3, 200.0, "3 mm")),
    "width": _maybe(figure("length", 1e-3, 500.0, "3 mm")),
    "feed_each": _maybe(figure("length", 1e-3, 3.0, "0.03 mm")),
    "spindle": _maybe(figure("speed", 1.0, 200_000.0, "12000 rpm")),
    "speed": _maybe(SPEED),
    "feed": _maybe(figure("feed", 0.1, 1e6, "600 mm/min")),
    "overhang": _maybe(LENGTH),
    "mass": _maybe(MASS),
    "off_centre": (figure("length", 0.0, 1000.0, "5 mm"), 0.0),
    "hold": (one_of(work_nouns.Hold), "powered"),
    "teeth": _maybe(schema.int_schema(strict=True, ge=2, le=10_000)),
    "run": _maybe(figure("time", 1.0, 1e6, "30 min")),
}
DRIVE: Fields = {
    "name": WORD,
    "family": one_of(drive_nouns.Family),
    "ratio": schema.no_info_plain_validator_function(_ratio),
    "stiffness": given("stiffness", 1.0, 1e12, "2.6 N·m/arcmin"),
    "lost_motion": given("angle", 0.0, math.radians(5), "1.2 arcmin"),
    "efficiency": given("ratio", 0.01, 1.0, "0.65"),
    "doubt": (DOUBT, 0.10),
    "motor_kind": (one_of(nouns.MotorKind), "stepper"),
    "holding_torque": TORQUE,
    "steps_per_turn": (schema.int_schema(strict=True, ge=4, le=10_000), 200),
    "pulses_per_turn": WHOLE,
    "current": _maybe(CURRENT),
    "resistance": _maybe(RESISTANCE),
    "inductance": _maybe(INDUCTANCE),
    "voltage": _maybe(VOLTAGE),
    "rotor_inertia": _maybe(INERTIA),
    "torque_points": (POINTS, ()),
    "useful_speed": _maybe(SPEED),
    "motor_drag": (figure("torque", 0.0, 1e6, "0.1 N·m"), 0.0),
    "table_drag": (figure("torque", 0.0, 1e7, "0.5 N·m"), 0.0),
    "input_limit": _maybe(SPEED),
    "torque_limit": _maybe(TORQUE),
    "moment_limit": _maybe(TORQUE),
    "lead_angle": _maybe(figure("angle", 1e-3, math.radians(45), "3.6 deg")),
    "friction": _maybe(given("ratio", 0.0, 0.5, "0.05-0.12")),
    "have": (FLAG, False),
    "brake": (FLAG, False),
    "cost": _maybe(RANGE_COST),
    "hours": _maybe(RANGE_COST),
}
CONTROL: Fields = {
    "pulse_limit": _maybe(figure("frequency", 1.0, 1e9, "30 kHz")),
    "decimals": (schema.int_schema(strict=True, ge=0, le=12), 3),
    "axis": (schema.literal_schema(["A", "B", "C"]), "A"),
    "feed_rule": (one_of(control_nouns.FeedRule), "linear part"),
    "inverse_time": (one_of(control_nouns.InverseTime), "blocks a minute"),
    "bits": (schema.int_schema(strict=True, ge=8, le=64), 32),
    "positive": (one_of(control_nouns.Positive), "counter-clockwise"),
    "wraps": (FLAG, False),
    "home_repeat": _maybe(figure("length", 1e-5, 10.0, "0.02 mm")),
    "home_arm": _maybe(LENGTH),
}
CHUCK: Fields = {
    "speed_limit": _maybe(SPEED),
    "mass": _maybe(MASS),
    "diameter": _maybe(LENGTH),
    "jaws": (schema.int_schema(strict=True, ge=2, le=8), 3),
    "jaw_mass": _maybe(MASS),
    "jaw_radius": _maybe(LENGTH),
    "grip": _maybe(figure("force", 1.0, 1e7, "6000 N")),
}
PLATE: Fields = {
    "style": one_of(control_nouns.PlateStyle),
    "frame": schema.literal_schema([17, 23, 24, 34]),
    **dict.fromkeys(("outside", "thickness", "register", "circle"), LENGTH),
    "holes": schema.int_schema(strict=True, ge=2, le=12),
    **dict.fromkeys(("hole", "standoff", "shaft", "worm_shaft"), LENGTH),
    "coupling": WORD,
    "material": (WORD, "aluminium"),
}
ONE: Mapping[str, Fields] = {"control": CONTROL, "chuck": CHUCK, "plate": PLATE}
MANY: Mapping[str, Fields] = {"work": WORK, "drive": DRIVE}
"""Sections by name, those there is one of and those with one table for each."""


def motor_of(found: Mapping[str, Any], *, name: str, kind: str) -> Motor:
    """The motor of the section [motor] or of a drive; `name` and `kind` are its field names."""
    return Motor(
        name=found[name] if name else "",
        torque_hold_nmm=found["holding_torque"],
        steps_per_turn=found["steps_per_turn"],
        kind=found[kind],
        pulses=found["pulses_per_turn"],
        current=found["current"],
        resistance=found["resistance"],
        inductance=found["inductance"],
        voltage=found["voltage"],
        inertia=found["rotor_inertia"],
        points=found["torque_points"],
        useful_rpm=found["useful_speed"],
        belt=found.get("belt"),
    )


def task_of(found: Mapping[str, Any]) -> Task:
    """One [[work]]."""
    cutter = None
    if found["process"] is not None:
        if found["material"] is None:
            raise ValueError("give the material that is cut as well")
        cutter = Cutter(
            process=found["process"],
            material=found["material"],
            diameter=found["cutter"],
            teeth=found["cutter_teeth"],
            depth=found["depth"],
            width=found["width"],
            feed=found["feed_each"],
            spindle=found["spindle"],
        )
    same = ("name", "kind", "radius", "approach", "error", "force", "speed", "overhang", "mass")
    more = ("off_centre", "hold", "teeth", "feed")
    run = None if found["run"] is None else found["run"] / 60
    return Task(cutter=cutter, run=run, **{name: found[name] for name in (*same, *more)})


def drive_of(found: Mapping[str, Any]) -> Drive:
    """One [[drive]]."""
    same = ("name", "family", "ratio", "stiffness", "lost_motion", "efficiency", "doubt")
    more = ("motor_drag", "table_drag", "input_limit", "torque_limit", "moment_limit")
    last = ("lead_angle", "friction", "have", "brake", "cost", "hours")
    return Drive(
        motor=motor_of(found, name="", kind="motor_kind"),
        **{name: found[name] for name in (*same, *more, *last)},
    )


def control_of(found: Mapping[str, Any]) -> Control:
    """The section [control]."""
    return Control(**found)


def chuck_of(found: Mapping[str, Any]) -> Chuck:
    """The section [chuck]."""
    return Chuck(**found)


def plate_of(found: Mapping[str, Any]) -> PlateSizes:
    """The section [plate]."""
    return PlateSizes(**found)
