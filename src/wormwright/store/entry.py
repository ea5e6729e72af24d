"""One reading as typed -> the noun. The same way for a new entry and for a row read back."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from math import hypot
from types import MappingProxyType

from wormwright.core.indicator import LARGEST_TILT, NEGLIGIBLE_TILT, movement_from_lever
from wormwright.job.kind import Condition, ReadingKind
from wormwright.job.reading import STYLUS_CORRECTED, Reading
from wormwright.quantities import Dimension, QuantityError, System, Typed, read, read_pair
from wormwright.store.fault import clipped
from wormwright.store.rise import read_rise

NO_TEXTS: Mapping[str, str] = {}
LONGEST_TEXT = 2000
MISSING = frozenset(("", "-", "–", "—"))
CORE_UNITS: Mapping[Dimension, str] = {
    "length": "mm",
    "angle": "rad",
    "torque": "N·mm",
    "force": "N",
    "temperature": "°C",
    "rise": "K",
    "speed": "rpm",
    "mass": "kg",
    "ratio": "ratio",
    "count": "count",
    "none": "",
}
"""The word in a `unit` cell for each dimension."""

KnownConditions = dict[tuple[str, tuple[tuple[str, str], ...]], Mapping[str, float | str]]
"""Conditions by reading kind and texts."""
Wrong = tuple[str, str, str, str]
"""Field, what was expected, what came, what to do."""


class EntryError(ValueError):
    """An entry that is no reading; carries everything that is wrong with it."""

    def __init__(self, wrongs: list[Wrong]) -> None:
        self.wrongs = wrongs
        super().__init__("; ".join(f"{field}: expected {e}, got {g}" for field, e, g, _ in wrongs))


@dataclass(frozen=True, slots=True)
class ReadingText:
    """A reading exactly as typed; every figure is text with its unit.

    `column_unit` is the unit that the table column declared for a bare number in `raw`.
    `u` is the standard uncertainty if the machinist states one. `when` is empty for "now".
    """

    kind: str
    raw: str
    table_angle: str = ""
    worm_angle: str = ""
    station: str = ""
    instrument: str = ""
    conditions: Mapping[str, str] = field(default_factory=lambda: NO_TEXTS)
    note: str = ""
    supersedes: int | None = None
    column_unit: str = ""
    u: str = ""
    when: str = ""


@lru_cache(maxsize=8192)
def _typed(text: str, dimension: Dimension, column_unit: str, units: System | None) -> Typed:
    return read(text, dimension, field="", column_unit=column_unit or None, units=units)


class _Entry:
    """Collects what is wrong while the texts of one entry are read."""

    def __init__(self, units: System | None) -> None:
        self.units = units
        self.wrongs: list[Wrong] = []

    def wrong(self, field: str, expected: str, got: object, do: str) -> None:
        shown = "nothing" if got is None else clipped(got)
        self.wrongs.append((field, expected, shown, do))

    def quantity(
        self, text: str, dimension: Dimension, field: str, column_unit: str = ""
    ) -> Typed | None:
        try:
            return _typed(text, dimension, column_unit, self.units)
        except QuantityError as error:
            self.wrong(field, error.expected, error.got, error.do)
            return None

    def firm(self, text: str, dimension: Dimension, field: str) -> float | None:
        """A plain figure: nothing off scale. None if the text is empty or wrong."""
        if not text.strip():
            return None
        typed = self.quantity(text, dimension, field)
        if typed is not None and not typed.usable:
            self.wrong(field, "a figure", text, "write the figure itself, without < or >")
            return None
        if typed is not None and "TIR" in typed.flags:
            self.wrong(field, "a size", text, "write the size itself; a TIR is the needle's swing")
            return None
        return None if typed is None else typed.value

    def word(self, text: str, choices: tuple[str, ...], field: str) -> str | None:
        clean = text.strip()
        if not choices:
            return clean
        for choice in choices:
            if choice.casefold() == clean.casefold():
                return choice
        self.wrong(field, f"one of {', '.join(choices)}", text, "write one of these words")
        return None


def reading_of(
    entry: ReadingText,
    *,
    seq: int,
    kinds: Mapping[str, ReadingKind],
    units: System | None = None,
    known: KnownConditions | None = None,
) -> Reading:
    """The reading that the texts say, in core units.

    `units` is the job's unit system; without it "tenths" are taken as 0.0001 in. `known` keeps
    conditions read before, for a file whose rows repeat them.

    Raises:
        EntryError: with everything that is wrong in the entry.
    """
    found = _Entry(units)
    kind = kinds.get(entry.kind)
    if kind is None:
        near = _nearest(entry.kind, kinds)
        found.wrong("kind", "a reading kind of the sheet", entry.kind, f"did you mean {near}?")
        raise EntryError(found.wrongs)
    _check_lengths(found, entry)
    value, word, unit, u, flags = _value(found, entry, kind)
    table_angle = found.firm(entry.table_angle, "angle", "table_angle")
    worm_angle = found.firm(entry.worm_angle, "angle", "worm_angle")
    _check_place(found, entry, kind)
    conditions = _remembered_conditions(found, entry.conditions, kind, known)
    if found.wrongs:
        raise EntryError(found.wrongs)
    tilt = conditions.get("stylus")
    if value is not None and isinstance(tilt, float) and _corrects(tilt):
        value = movement_from_lever(value, tilt=tilt)
        flags = (*flags, STYLUS_CORRECTED)
    return Reading(
        seq=seq,
        kind=kind.key,
        raw=entry.raw,
        value=value,
        word=word,
        unit=unit,
        u=u,
        table_angle=table_angle,
        worm_angle=worm_angle,
        station=entry.station,
        instrument=entry.instrument,
        conditions=conditions,
        flags=flags,
        note=entry.note,
        when=entry.when,
        supersedes=entry.supersedes,
    )


def _corrects(tilt: float) -> bool:
    """Between the two limits the cosine is applied; above them the reading is refused later."""
    return NEGLIGIBLE_TILT < tilt <= LARGEST_TILT


_Value = tuple[float | None, str | None, str, float | None, tuple[str, ...]]


def _value(found: _Entry, entry: ReadingText, kind: ReadingKind) -> _Value:
    """Value, word, unit as typed, standard uncertainty and flags of the raw text."""
    nothing: _Value = (None, None, "", None, ())
    if entry.raw.strip() in MISSING:
        return None, None, "", None, ("missing",)
    if kind.dimension == "none":
        return None, found.word(entry.raw, kind.choices, "raw"), "", None, ()
    typed = found.quantity(entry.raw, kind.dimension, "raw", entry.column_unit)
    stated = _stated(found, entry.u, kind.dimension)
    if typed is None:
        return nothing
    if not typed.usable:
        return None, None, typed.unit, None, typed.flags
    if "TIR" in typed.flags and not kind.swing:
        do = "write what was read at this place; a TIR is the whole swing of the needle"
        found.wrong("raw", f"a reading of {kind.key}", entry.raw, do)
    if not _believable(typed, entry, kind):
        do = "check the unit and the decimal point; nothing on such a rotary reads that"
        if kind.dimension == "length" and entry.raw.rstrip().endswith(('"', "″", "”")):
            do = 'is " inches or seconds of arc? write in, or arcsec where an angle is wanted'
        found.wrong("raw", _range(kind.low, kind.high, kind.dimension), entry.raw, do)
    return typed.value, None, typed.unit, _uncertainty(typed, stated, kind), typed.flags


def _stated(found: _Entry, text: str, dimension: Dimension) -> float | None:
    """The uncertainty that the machinist states; that of a temperature is a difference."""
    if not text.strip():
        return None
    if dimension == "temperature":
        try:
            u: float | None = read_rise(text, field="u")
        except QuantityError as error:
            found.wrong("u", error.expected, error.got, error.do)
            return None
    else:
        u = found.firm(text, "ratio" if dimension == "count" else dimension, "u")
    if u is not None and not u > 0:
        found.wrong("u", "an uncertainty above zero", text, "leave it empty if you have none")
    return u


def _uncertainty(typed: Typed, stated: float | None, kind: ReadingKind) -> float | None:
    """None when it is the kind's usual noise; else the stated or doubled one with the range's."""
    if stated is None and typed.factor == 1.0 and typed.u_extra == 0.0:
        return None
    usual = hypot(kind.noise or 0.0, kind.noise_share * typed.value)
    u = hypot(typed.factor * (stated if stated is not None else usual), typed.u_extra)
    return u if u > 0 else None


def _believable(typed: Typed, entry: ReadingText, kind: ReadingKind) -> bool:
    """Within the kind's range; a push and pull may be reversed, which is asked about later."""
    if kind.high is not None and typed.value > kind.high:
        return False
    if kind.low is None or typed.value >= kind.low:
        return True
    column = entry.column_unit or None
    is_pair = read_pair(entry.raw, kind.dimension, field="raw", column_unit=column) is not None
    return is_pair and (kind.high is None or -typed.value <= kind.high)


def _check_lengths(found: _Entry, entry: ReadingText) -> None:
    texts = (
        entry.raw,
        entry.instrument,
        entry.note,
        entry.station,
        entry.when,
        *entry.conditions.values(),
    )
    if sum(map(len, texts)) > LONGEST_TEXT and max(map(len, texts)) > LONGEST_TEXT:
        longest = f"texts of at most {LONGEST_TEXT} characters"
        found.wrong("", longest, max(texts, key=len)[:40], "keep long remarks in another file")


def _check_place(found: _Entry, entry: ReadingText, kind: ReadingKind) -> None:
    if kind.needs_table_angle and not entry.table_angle.strip():
        found.wrong("table_angle", "the angle of the table", None, "write it, like 30 deg")
    if kind.needs_worm_angle and not entry.worm_angle.strip():
        found.wrong("worm_angle", "the angle of the worm", None, "write it, like 90 deg")
    allowed = kind.stations or ("",)
    if entry.station not in allowed:
        expected = f"one of {', '.join(kind.stations)}" if kind.stations else "no station"
        found.wrong("station", expected, entry.station, f"say where the {kind.key} was read")


def _remembered_conditions(
    found: _Entry,
    texts: Mapping[str, str],
    kind: ReadingKind,
    known: KnownConditions | None,
) -> Mapping[str, float | str]:
    key = (kind.key, tuple(texts.items()))
    if known is not None and key in known:
        return known[key]
    before = len(found.wrongs)
    conditions = MappingProxyType(_conditions(found, texts, kind))
    if known is not None and len(found.wrongs) == before:
        known[key] = conditions
    return conditions


def _conditions(
    found: _Entry, texts: Mapping[str, str], kind: ReadingKind
) -> dict[str, float | str]:
    wanted = {condition.key: condition for condition in kind.conditions}
    for key in texts:
        if key not in wanted:
            expected = f"one of {', '.join(wanted)}" if wanted else "no conditions"
            found.wrong(f"conditions.{key}", expected, key, "take it out or correct its name")
    values: dict[str, float | str] = {}
    for key, condition in wanted.items():
        text = texts.get(key, "")
        if text.strip():
            value = _condition(found, text, condition)
            if value is not None:
                values[key] = value
        elif condition.compulsory:
            do = f"the {kind.key} cannot be used without it"
            found.wrong(f"conditions.{key}", condition.label, None, do)
    return values


def _condition(found: _Entry, text: str, condition: Condition) -> float | str | None:
    field = f"conditions.{condition.key}"
    if condition.dimension == "none":
        return found.word(text, condition.choices, field)
    value = found.firm(text, condition.dimension, field)
    if value is None:
        return None
    low, high = condition.low, condition.high
    if (low is not None and value < low) or (high is not None and value > high):
        expected = _range(low, high, condition.dimension)
        found.wrong(field, expected, text, "check the unit and the decimal point")
    return value


def _range(low: float | None, high: float | None, dimension: Dimension) -> str:
    unit = CORE_UNITS[dimension]
    if low is None:
        return f"at most {high:g} {unit}"
    return f"at least {low:g} {unit}" if high is None else f"{low:g} to {high:g} {unit}"


def _nearest(key: str, kinds: Mapping[str, ReadingKind]) -> str:
    from difflib import get_close_matches  # noqa: PLC0415  only needed for a message

    near = get_close_matches(key, list(kinds), n=3, cutoff=0.5)
    return " or ".join(near) if near else f"one of {', '.join(kinds)}"
