"""job.toml as pydantic models: one a section, strict, no unknown keys, figures as text with unit.

Import this late: it loads pydantic. The order of the fields is the order in the documentation.
"""

from __future__ import annotations

import math
from typing import Annotated, Literal

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field

from wormwright.quantities import Dimension, QuantityError, read
from wormwright.store.rise import read_rise

_STRICT = ConfigDict(extra="forbid", strict=True, hide_input_in_errors=True)


def _text_wanted(text: object, expected: str, example: str) -> str:
    if isinstance(text, str):
        return text
    got = "nothing" if text is None else repr(text)
    raise QuantityError("", got=got, expected=expected, do=f'write it in quotes, like "{example}"')


def _figure(dimension: Dimension, low: float, high: float, example: str) -> BeforeValidator:
    """Text with a unit -> core unit, refused outside low..high (core units too)."""
    expected = f"a {dimension} with its unit, like {example}"

    def figure(text: object) -> float:
        raw = _text_wanted(text, expected, example)
        typed = read(raw, dimension, field="")
        if typed.flags:
            do = f'write one plain figure, like "{example}"'
            raise QuantityError("", got=raw, expected=expected, do=do)
        return _within(typed.value, raw, low, high, example)

    return BeforeValidator(figure)


def _within(value: float, raw: str, low: float, high: float, example: str) -> float:
    if low <= value <= high:
        return value
    do = f"check the unit and the decimal point; a usual one is {example}"
    raise QuantityError("", got=raw, expected="a figure that a rotary can have", do=do)


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


def _filled(text: object) -> object:
    if isinstance(text, str) and not text.strip():
        raise QuantityError("", got=repr(text), expected="a word", do="fill it in")
    return text


Word = Annotated[str, BeforeValidator(_filled)]
Module = Annotated[float, _figure("length", 0.1, 20.0, "1.5 mm")]
PressureAngle = Annotated[float, _figure("angle", math.radians(5), math.radians(40), "20 deg")]
Size = Annotated[float, _figure("length", 0.5, 1000.0, "32 mm")]
Temperature = Annotated[float, _figure("temperature", -60.0, 100.0, "20 °C")]
Torque = Annotated[float, _figure("torque", 0.01, 1e8, "6 N·m")]


class Top(BaseModel):
    """The lines above the first table."""

    model_config = _STRICT
    format: Literal[1]
    name: Word
    units: Literal["mm", "in"] = "mm"
    sheet: Literal["A4", "letter"] = "A4"
    made_up: bool = False
    seed: Annotated[int, Field(ge=0, lt=2**63)] = 1
    plan: Word | None = None


class RotaryTable(BaseModel):
    """[rotary]: the unit on the bench."""

    model_config = _STRICT
    name: Word
    unit_id: Word
    worm_material: Word
    wheel_material: Word
    housing_material: Word
    table_weight: Annotated[float, _figure("force", 0.1, 1e6, "180 N")] | None = None
    table_axis: Literal["horizontal", "vertical"] = "vertical"
    bearing_note: str = ""


class DutyTable(BaseModel):
    """[duty]: what the finished axis must do."""

    model_config = _STRICT
    radius: Annotated[float, _figure("length", 0.1, 5000.0, "60 mm")]
    error: Annotated[float, _figure("length", 1e-4, 50.0, "0.05 mm")]
    direction: Literal["tangential", "radial", "axial"]
    approach: Literal["one way", "both ways"]
    work: Literal["indexed", "continuous", "reversing"]
    torque_to_resist: Torque
    drag_limit: Torque
    play_min_cold: Annotated[float, _figure("length", 0.0, 5.0, "0.01 mm")]
    shop_low: Temperature
    shop_high: Temperature
    rise: Annotated[float, BeforeValidator(_rise)] = 20.0
    probability: Annotated[float, _figure("ratio", 0.5, 0.999_999, "90 %")] = 0.90


class MachineTable(BaseModel):
    """[machine]: what will carry the axis."""

    model_config = _STRICT
    name: str = ""
    kind: Literal["mill", "router", "lathe", "other"] = "other"


class MotorTable(BaseModel):
    """[motor]: what will turn the worm."""

    model_config = _STRICT
    name: str = ""
    holding_torque: Torque | None = None
    steps_per_turn: Annotated[int, Field(ge=1, le=10_000_000)] | None = None


class PairTable(BaseModel):
    """[pair]: what is known for certain of the gear pair."""

    model_config = _STRICT
    module: Module | None = None
    diametral_pitch: Annotated[float, BeforeValidator(_pitch)] | None = None
    pressure_angle: PressureAngle | None = None


class BearingTable(BaseModel):
    """[[bearing]]: a bearing of the user's own."""

    model_config = _STRICT
    designation: Word
    bore: Size
    outside: Size
    width: Size
    dynamic_load: Annotated[float, _figure("force", 1.0, 1e8, "9000 N")] | None = None
    static_load: Annotated[float, _figure("force", 1.0, 1e8, "5000 N")] | None = None


class StockTable(BaseModel):
    """[stock]: what lies in the drawer."""

    model_config = _STRICT
    shims: list[Annotated[float, _figure("length", 1e-3, 20.0, "0.05 mm")]] = []


TABLES: dict[str, type[BaseModel]] = {
    "rotary": RotaryTable,
    "duty": DutyTable,
    "machine": MachineTable,
    "motor": MotorTable,
    "pair": PairTable,
    "stock": StockTable,
}
LISTS: dict[str, type[BaseModel]] = {"bearing": BearingTable}
