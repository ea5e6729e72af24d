"""job.toml -> the Job noun, with every fault at once and the line it stands on."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any, TypeVar

from wormwright.job.adapter import AdapterPlate
from wormwright.job.mount import Mount
from wormwright.job.rotary import BearingRow, Duty, Job, Machine, Motor, Rotary
from wormwright.quantities import QuantityError
from wormwright.store.fault import FileFault, JobFolderError, clipped
from wormwright.store.toml_lines import Path, TomlLines

if TYPE_CHECKING:
    from pydantic_core import ErrorDetails

    from wormwright.store.job_schema import Fields

JOB = "job.toml"
FORMAT = 1
MORE_SECTIONS = ("work", "drive", "control", "chuck", "plate")
"""Sections that `drive_schema` reads, loaded only when a job has one of them."""
LARGEST_JOB = 1024 * 1024
"""Bytes; a larger job.toml is no description of a rotary."""
_PLACE = re.compile(r"\s*\(at (?:line (\d+), column \d+|end of document)\)$")
_TYPES = {
    "string_type": ("text in quotes", 'write it in quotes, like "…"'),
    "int_type": ("a whole number", "write it without quotes and without a point"),
    "bool_type": ("true or false", "write true or false, without quotes"),
    "list_type": ("a list in [ ]", 'write it like ["…", "…"]'),
    "dict_type": ("a table", "write its fields below a [heading]"),
}
_Noun = TypeVar("_Noun")


def source_of(data: bytes) -> str:
    """The text of job.toml, without a byte order mark.

    Raises:
        JobFolderError: it is too large or no UTF-8 text.
    """
    if len(data) > LARGEST_JOB:
        got = f"{len(data) / 1024**2:.1f} MB"
        raise JobFolderError([_whole_file("at most 1 MB", got, "put the right file back")])
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        got = f"the byte 0x{data[error.start]:02x}"
        do = "save the file as UTF-8"
        raise JobFolderError([FileFault(JOB, line, "", "UTF-8 text", got, do)]) from None


def is_closed(data: bytes) -> bool:
    """Whether these bytes of a job.toml say that the job is closed; False when they say nothing."""
    try:
        return tomllib.loads(source_of(data)).get("closed") is True
    except (JobFolderError, tomllib.TOMLDecodeError, RecursionError):
        return False


def job_of(source: str) -> Job:
    """The job that the source describes.

    Raises:
        JobFolderError: with every fault, each with its line and field.
    """
    return _Reader(source, _parsed(source)).job()


def _parsed(source: str) -> dict[str, Any]:
    try:
        return tomllib.loads(source)
    except tomllib.TOMLDecodeError as error:
        twice = TomlLines(source).twice
        if twice:
            raise JobFolderError([_given_twice(*one) for one in twice]) from None
        place = _PLACE.search(str(error))
        line = int(place[1]) if place and place[1] else source.count("\n") + 1
        got = _PLACE.sub("", str(error))
        do = "mend the line; a comment starts with #, text stands in quotes"
        raise JobFolderError([FileFault(JOB, line, "", "TOML", got, do)]) from None
    except RecursionError:
        do = "take the brackets out"
        got = "brackets within brackets beyond count"
        raise JobFolderError([_whole_file("TOML", got, do)]) from None


def _given_twice(path: Path, first: int, second: int) -> FileFault:
    got = f"a second time (first on line {first})"
    return FileFault(JOB, second, _dotted(path), "each key once", got, "take one of the two out")


class _Reader:
    """Reads one parsed job.toml section by section; a fault in one hides none in another."""

    def __init__(self, source: str, tree: dict[str, Any]) -> None:
        self._source = source
        self._tree = tree
        self._faults: list[FileFault] = []
        self._lines: TomlLines | None = None

    def job(self) -> Job:
        from wormwright.store import job_schema as schema  # noqa: PLC0415  loads pydantic_core

        self._check_format()
        others = [*schema.TABLES, "bearing", *MORE_SECTIONS]
        top_values = {key: value for key, value in self._tree.items() if key not in others}
        top = self._section(schema.TOP, top_values, (), others)
        found = {
            name: self._section(self._fields(name, table), self._tree.get(name, {}), (name,))
            for name, table in schema.TABLES.items()
        }
        bearings = self._many("bearing", schema.BEARING, _bearing)
        more = self._more_sections()
        rotary = self._noun("rotary", _rotary, found["rotary"])
        duty = self._noun("duty", _duty, found["duty"])
        self._check_pair(found["pair"])
        self._check_cost(found["cost"])
        self._check_adapter(found["adapter"])
        mount = self._noun("mount", _mount, found["mount"]) if "mount" in self._tree else None
        if self._faults or top is None or rotary is None or duty is None:
            raise JobFolderError(sorted(self._faults, key=lambda fault: fault.line or 0))
        sections = {name: values or {} for name, values in found.items()}
        return replace(_job(top, rotary, duty, bearings, sections), mount=mount, **more)

    def _check_format(self) -> None:
        form = self._tree.get("format")
        if form is None:
            do = "bring it to the form of today: wormwright keep DIR --migrate"
            self._fault(("format",), f"format = {FORMAT}", "nothing", do)
            raise JobFolderError(self._faults)
        if type(form) is int and form != FORMAT:
            got = f"format = {form}"
            do = "read it with the wormwright that wrote it, or a newer one"
            self._fault(("format",), f"format = {FORMAT}", got, do)
            raise JobFolderError(self._faults)

    def _section(
        self, fields: Fields, values: object, path: Path, others: Sequence[str] = ()
    ) -> dict[str, Any] | None:
        from pydantic_core import ValidationError  # noqa: PLC0415  late: costs start-up

        from wormwright.store.job_schema import checked  # noqa: PLC0415

        try:
            return checked(fields, values)
        except ValidationError as error:
            for detail in error.errors(include_url=False):
                self._told(detail, path, [*fields, *others])
            return None

    def _told(self, detail: ErrorDetails, section: Path, fields: list[str]) -> None:
        """One fault of pydantic in our words."""
        path = (*section, *detail["loc"])
        got = "a table" if isinstance(detail["input"], dict) else clipped(detail["input"])
        cause = detail.get("ctx", {}).get("error")
        if isinstance(cause, QuantityError):
            self._fault(path, cause.expected, got, cause.do)
        elif detail["type"] == "missing":
            self._fault(path, "this field", "nothing", "add it; see the job folder reference")
        elif detail["type"] == "extra_forbidden":
            expected = f"one of {', '.join(fields)}"
            self._fault(path, expected, f"the unknown key {path[-1]!r}", "correct or remove it")
        elif detail["type"] == "literal_error":
            self._fault(path, detail["ctx"]["expected"], got, "write one of these")
        else:
            expected, do = _TYPES.get(detail["type"], (detail["msg"], "correct it"))
            self._fault(path, expected, got, do)

    def _fault(self, path: Path, expected: str, got: str, do: str) -> None:
        if self._lines is None:
            self._lines = TomlLines(self._source)
        self._faults.append(
            FileFault(JOB, self._lines.line_of(path), _dotted(path), expected, got, do)
        )

    def _noun(
        self, section: str, make: Callable[[Mapping[str, Any]], _Noun], found: Any
    ) -> _Noun | None:
        if found is None:
            return None
        try:
            return make(found)
        except ValueError as error:
            self._fault((section,), "figures that agree", str(error), "correct one of them")
            return None

    def _many(
        self, section: str, fields: Fields, make: Callable[[Mapping[str, Any]], _Noun]
    ) -> tuple[_Noun, ...]:
        """The nouns of a section of which there may be several."""
        rows = self._tree.get(section, [])
        if not isinstance(rows, list):
            self._fault((section,), f"[[{section}]]", f"[{section}]", "double the brackets")
            return ()
        nouns = []
        for place, row in enumerate(rows):
            found = self._section(fields, row, (section, place))
            if found is None:
                continue
            try:
                nouns.append(make(found))
            except ValueError as error:
                do = "correct one of them"
                self._fault((section, place), "figures that agree", str(error), do)
        return tuple(nouns)

    def _fields(self, name: str, fields: Fields) -> Fields:
        """The fields of a section; those of a motor that is described further, only then."""
        given = self._tree.get(name)
        if name != "motor" or not isinstance(given, dict) or set(given) <= set(fields):
            return fields
        from wormwright.store.drive_schema import MORE_MOTOR  # noqa: PLC0415

        return {**fields, **MORE_MOTOR}

    def _more_sections(self) -> dict[str, Any]:
        """Fields of the job that only choosing and commissioning need."""
        if not any(name in self._tree for name in MORE_SECTIONS):
            return {}
        from wormwright.store import drive_schema as more  # noqa: PLC0415

        one = {"control": more.control_of, "chuck": more.chuck_of, "plate": more.plate_of}
        made: dict[str, Any] = {
            name: self._noun(name, make, self._section(more.ONE[name], self._tree[name], (name,)))
            for name, make in one.items()
            if name in self._tree
        }
        made["work"] = self._many("work", more.WORK, more.task_of)
        made["drives"] = self._many("drive", more.DRIVE, more.drive_of)
        return made

    def _check_pair(self, found: Mapping[str, Any] | None) -> None:
        if found and found["module"] is not None and found["diametral_pitch"] is not None:
            path = ("pair", "diametral_pitch")
            self._fault(path, "module or diametral_pitch", "both", "take one of them out")

    def _check_cost(self, found: Mapping[str, Any] | None) -> None:
        if found and found["hour"] is None and any(v is not None for v in found.values()):
            do = "add what an hour at the bench costs you; 0 if only the outlay counts"
            self._fault(("cost",), "hour beside the costs of corrections", "no hour", do)

    def _check_adapter(self, found: Mapping[str, Any] | None) -> None:
        missing = [name for name, value in (found or {}).items() if value is None]
        if found and 0 < len(missing) < len(found):
            do = "give them as well, or take the section out"
            self._fault(("adapter",), "every size of the plate", f"no {', '.join(missing)}", do)


def _job(
    top: Mapping[str, Any],
    rotary: Rotary,
    duty: Duty,
    bearings: tuple[BearingRow, ...],
    sections: Mapping[str, Mapping[str, Any]],
) -> Job:
    motor, pair = sections["motor"], sections["pair"]
    costs = {key: cost for key, cost in sections["cost"].items() if cost is not None}
    return Job(
        name=top["name"],
        rotary=rotary,
        duty=duty,
        machine=Machine(**sections["machine"]),
        motor=_motor(motor),
        units=top["units"],
        sheet=top["sheet"],
        made_up=top["made_up"],
        seed=top["seed"],
        plan=top["plan"],
        closed=top["closed"],
        adapter=_adapter(sections["adapter"]),
        pair_module_mm=pair["module"] or pair["diametral_pitch"],
        pair_pressure_angle=pair["pressure_angle"],
        bearings=bearings,
        shim_stock_mm=tuple(sections["stock"]["shims"]),
        hour_cost=costs.pop("hour", None),
        costs=tuple(costs.items()),
    )


def _motor(found: Mapping[str, Any]) -> Motor:
    if "kind" in found:
        from wormwright.store.drive_schema import motor_of  # noqa: PLC0415

        return motor_of(found, name="name", kind="kind")
    return Motor(
        name=found["name"],
        torque_hold_nmm=found["holding_torque"],
        steps_per_turn=found["steps_per_turn"],
    )


def _rotary(found: Mapping[str, Any]) -> Rotary:
    return Rotary(
        name=found["name"],
        unit_id=found["unit_id"],
        worm_material=found["worm_material"],
        wheel_material=found["wheel_material"],
        housing_material=found["housing_material"],
        table_weight_n=found["table_weight"],
        table_axis=found["table_axis"],
        bearing_maker_note=found["bearing_note"],
    )


def _duty(found: Mapping[str, Any]) -> Duty:
    return Duty(
        radius_mm=found["radius"],
        error_mm=found["error"],
        direction=found["direction"],
        approach=found["approach"],
        work=found["work"],
        torque_resist_nmm=found["torque_to_resist"],
        drag_limit_nmm=found["drag_limit"],
        play_min_cold_mm=found["play_min_cold"],
        shop_low_c=found["shop_low"],
        shop_high_c=found["shop_high"],
        rise_k=found["rise"],
        probability=found["probability"],
        feature=found["feature"],
        count=found["count"],
        held=found["held"],
        cut=found["cut"],
    )


def _adapter(found: Mapping[str, Any]) -> AdapterPlate | None:
    return AdapterPlate(**found) if any(value is not None for value in found.values()) else None


def _mount(found: Mapping[str, Any]) -> Mount:
    return Mount(**found)


def _bearing(found: Mapping[str, Any]) -> BearingRow:
    return BearingRow(
        designation=found["designation"],
        bore_mm=found["bore"],
        outside_mm=found["outside"],
        width_mm=found["width"],
        dynamic_n=found["dynamic_load"],
        static_n=found["static_load"],
    )


def _dotted(path: Path) -> str:
    """The path as a person writes it: bearing[2].bore, counting from 1."""
    text = ""
    for part in path:
        text += f"[{part + 1}]" if isinstance(part, int) else f".{part}" if text else part
    return text


def _whole_file(expected: str, got: str, do: str) -> FileFault:
    return FileFault(JOB, None, "", expected, got, do)
