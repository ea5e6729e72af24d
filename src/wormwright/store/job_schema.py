"""What each section of job.toml may hold: strict, no unknown keys, figures as text with a unit.

Written for pydantic's own engine, pydantic_core, which finds every fault of a section in one go;
model classes on top of it would cost a cold start four times as long. Import this late.
The order of the fields is the order in docs/reference/job-folder.md.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any, get_args

from pydantic_core import SchemaValidator
from pydantic_core import core_schema as schema

from wormwright.job import mount as set_up
from wormwright.job import rotary as nouns
from wormwright.job.corrections import CORRECTIONS
from wormwright.quantities import Dimension, QuantityError, read
from wormwright.store.rise import read_rise

Schema = schema.CoreSchema


def _text_wanted(text: object, expected: str, example: str) -> str:
    if isinstance(text, str):
        return text
    do = f'write it in quotes, like "{example}"'
    raise QuantityError("", got=str(text), expected=expected, do=do)


def _within(value: float, raw: str, low: float, high: float, example: str) -> float:
    if low <= value <= high:
        return value
    do = f"check the unit and the decimal point; a usual one is {example}"
    raise QuantityError("", got=raw, expected="a figure that a rotary can have", do=do)


def _figure(dimension: Dimension, low: float, high: float, example: str) -> Schema:
    """Text with a unit -> core unit, refused outside low..high (core units too)."""
    expected = f"a {dimension} with its unit, like {example}"

    def figure(text: object) -> float:
        raw = _text_wanted(text, expected, example)
        typed = read(raw, dimension, field="")
        if typed.flags:
            do = f'write one plain figure, like "{example}"'
            raise QuantityError("", got=raw, expected=expected, do=do)
        return _within(typed.value, raw, low, high, example)

    return schema.no_info_plain_validator_function(figure)


def _rise(text: object) -> float:
    raw = _text_wanted(text, "a rise of temperature", "20 K")
    return _within(read_rise(raw, field=""), raw, 0.0, 150.0, "20 K")


def _pitch(text: object) -> float:
    """A diametral pitch such as "16 DP" -> the axial module 25.4/P in mm."""
    raw = _text_wanted(text, "a diametral pitch", "16 DP")
    number = raw.strip()
    if number[-2:].upper() == "DP":
        number = number[:-2].rstrip()
    pitch = _within(read(number, "ratio", field="").value, raw, 1.0, 200.0, "16 DP")
    return read("1 in", "length", field="").value / pitch


def _word(text: object) -> str:
    raw = _text_wanted(text, "a word", "…")
    if not raw.strip():
        raise QuantityError("", got=raw, expected="a word", do="fill it in")
    return raw


def _one_of(literal: object) -> Schema:
    return schema.literal_schema(list(get_args(literal)))


def _cost(value: object) -> float:
    """A plain number in the machinist's own currency; none below zero."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        do = "write a number without quotes and without a currency, like 25"
        raise QuantityError("", got=repr(value), expected="a cost as a plain number", do=do)
    if not 0 <= value <= MOST_COST:
        do = "write what it costs you, like 25"
        raise QuantityError("", got=str(value), expected="a cost of zero or more", do=do)
    return float(value)


MOST_COST = 1e9
COST = schema.no_info_plain_validator_function(_cost)
WORD = schema.no_info_plain_validator_function(_word)
TEXT = schema.str_schema(strict=True)
TORQUE = _figure("torque", 0.01, 1e8, "6 N·m")
RING = _figure("length", 0.5, 1000.0, "32 mm")
LOAD = _figure("force", 1.0, 1e8, "9000 N")
TEMPERATURE = _figure("temperature", -60.0, 100.0, "20 °C")

Fields = Mapping[str, Schema | tuple[Schema, Any]]
"""By name: the schema of a field that must be there, or a schema with its default."""

SIZE = _figure("length", 0.1, 2000.0, "160 mm")
COUNT = schema.int_schema(strict=True, ge=2, le=24)
ADAPTER: Fields = {
    name: (field, None)
    for name, field in {
        **dict.fromkeys(("outside", "thickness", "bore", "table_bore", "back_length"), SIZE),
        **dict.fromkeys(("chuck_recess", "register_length", "table_circle"), SIZE),
        "table_count": COUNT,
        **dict.fromkeys(("table_hole", "table_head", "table_head_depth", "chuck_circle"), SIZE),
        "chuck_count": COUNT,
        "chuck_drill": SIZE,
        "chuck_thread": WORD,
        "chuck_turn": _figure("angle", -math.pi, math.pi, "45 deg"),
        "material": WORD,
    }.items()
}
"""All of them together or none: the nouns of the plate have no defaults."""

REACH = _figure("length", 0.5, 10_000.0, "160 mm")
ROOM = _figure("length", 0.0, 2000.0, "5 mm")
LEAN = _figure("length", 1e-4, 10.0, "0.02 mm")
SPEED = _figure("speed", 0.001, 20_000.0, "400 rpm")
MASS = _figure("mass", 1e-4, 1000.0, "0.12 kg")
MOUNT: Fields = {
    **dict.fromkeys(("centre_height", "body_length", "body_width", "body_height"), (REACH, None)),
    **dict.fromkeys(("foot_along", "foot_across", "foot_hole", "key_distance"), (REACH, None)),
    "weight": (_figure("force", 0.1, 1e6, "180 N"), None),
    "riser": (ROOM, 0.0),
    "joints": (schema.int_schema(strict=True, ge=0, le=20), 1),
    "hold": (_one_of(set_up.Hold), "three-jaw"),
    **dict.fromkeys(("chuck_outside", "chuck_length"), (REACH, None)),
    "jaw_out": (ROOM, 0.0),
    "jaw_swing": (REACH, None),
    "jaw_mass": (MASS, None),
    "chuck_speed": (SPEED, None),
    "grip": (LOAD, None),
    **dict.fromkeys(("grip_diameter", "work_diameter", "work_length"), (REACH, None)),
    "cut_diameter": (REACH, None),
    "tail_height": (REACH, None),
    "tail_out": (ROOM, None),
    **dict.fromkeys(("tail_length", "tail_top"), (REACH, None)),
    **dict.fromkeys(("cutter_diameter", "cutter_out"), (REACH, None)),
    **dict.fromkeys(("nut_diameter", "nut_length"), (REACH, None)),
    "side_force": (LOAD, None),
    "speed": (SPEED, None),
    "tolerance": (LEAN, None),
    "retract": (ROOM, 5.0),
    "clear": (ROOM, 2.0),
    "plate_material": (WORD, "aluminium"),
}
"""How the unit is to stand on the machine: whatever is given; the stage says what it lacks."""

TOP: Fields = {
    "format": schema.int_schema(strict=True),
    "name": WORD,
    "units": (_one_of(nouns.Units), "mm"),
    "sheet": (_one_of(nouns.Sheet), "A4"),
    "made_up": (schema.bool_schema(strict=True), False),
    "seed": (schema.int_schema(strict=True, ge=0, lt=2**63), 1),
    "plan": (WORD, None),
    "closed": (schema.bool_schema(strict=True), False),
}
TABLES: Mapping[str, Fields] = {
    "rotary": {
        "name": WORD,
        "unit_id": WORD,
        "worm_material": WORD,
        "wheel_material": WORD,
        "housing_material": WORD,
        "table_weight": (_figure("force", 0.1, 1e6, "180 N"), None),
        "table_axis": (schema.literal_schema(["horizontal", "vertical"]), "vertical"),
        "bearing_note": (TEXT, ""),
    },
    "duty": {
        "radius": _figure("length", 0.1, 5000.0, "60 mm"),
        "error": _figure("length", 1e-4, 50.0, "0.05 mm"),
        "direction": _one_of(nouns.Direction),
        "approach": _one_of(nouns.Approach),
        "work": _one_of(nouns.Work),
        "torque_to_resist": TORQUE,
        "drag_limit": TORQUE,
        "play_min_cold": _figure("length", 0.0, 5.0, "0.01 mm"),
        "shop_low": TEMPERATURE,
        "shop_high": TEMPERATURE,
        "rise": (schema.no_info_plain_validator_function(_rise), 20.0),
        "probability": (_figure("ratio", 0.5, 0.999_999, "90 %"), 0.90),
        "feature": (_one_of(nouns.Feature), None),
        "count": (schema.int_schema(strict=True, ge=nouns.FEWEST_FEATURES, le=10_000), None),
        "held": (_one_of(nouns.Held), "free"),
        "cut": (_one_of(nouns.Cut), None),
    },
    "machine": {
        "name": (TEXT, ""),
        "kind": (schema.literal_schema(["mill", "router", "lathe", "other"]), "other"),
        **dict.fromkeys(("daylight", "z_travel", "x_travel", "table_length"), (REACH, None)),
        **dict.fromkeys(("bridge", "nose_diameter", "slot_width", "slot_pitch"), (REACH, None)),
        "slots_run": (_one_of(set_up.SlotsRun), "along the axis"),
        "can_raise": (_one_of(set_up.Raise), "cannot"),
        **dict.fromkeys(("post", "post_width"), (REACH, None)),
    },
    "mount": MOUNT,
    "motor": {
        "name": (TEXT, ""),
        "holding_torque": (TORQUE, None),
        "steps_per_turn": (schema.int_schema(strict=True, ge=1, le=10_000_000), None),
    },
    "adapter": ADAPTER,
    "pair": {
        "module": (_figure("length", 0.1, 20.0, "1.5 mm"), None),
        "diametral_pitch": (schema.no_info_plain_validator_function(_pitch), None),
        "pressure_angle": (_figure("angle", math.radians(5), math.radians(40), "20 deg"), None),
    },
    "stock": {
        "shims": (
            schema.list_schema(_figure("length", 1e-3, 20.0, "0.05 mm"), strict=True),
            [],
        ),
    },
    "cost": {"hour": (COST, None), **dict.fromkeys(CORRECTIONS, (COST, None))},
}
BEARING: Fields = {
    "designation": WORD,
    "bore": RING,
    "outside": RING,
    "width": RING,
    "dynamic_load": (LOAD, None),
    "static_load": (LOAD, None),
}


figure, one_of, text_wanted = _figure, _one_of, _text_wanted
"""For the sections of `drive_schema`."""


def checked(fields: Fields, values: object) -> dict[str, Any]:
    """The values in core units, with defaults where there are none.

    Raises:
        pydantic_core.ValidationError: with every fault of the section.
    """
    found: dict[str, Any] = _validator(fields).validate_python(values)
    return found


def _validator(fields: Fields) -> SchemaValidator:
    entries = {}
    for name, field in fields.items():
        if isinstance(field, tuple):
            inner = schema.with_default_schema(field[0], default=field[1])
            entries[name] = schema.typed_dict_field(inner, required=False)
        else:
            entries[name] = schema.typed_dict_field(field)
    return SchemaValidator(
        schema.typed_dict_schema(
            entries, extra_behavior="forbid", config=schema.CoreConfig(strict=True)
        )
    )
