"""readings.csv: rows to readings and back."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import isclose
from types import MappingProxyType

from wormwright.job.kind import ReadingKind
from wormwright.job.reading import Reading
from wormwright.store.cells import mapping_cell, mapping_of
from wormwright.store.entry import CORE_UNITS, EntryError, KnownConditions, ReadingText, reading_of
from wormwright.store.fault import FileFault
from wormwright.store.numbered import Numbered, whole
from wormwright.store.row_file import Row

READINGS = "readings.csv"
READING_COLUMNS = (
    "seq",
    "when",
    "kind",
    "station",
    "table_angle",
    "worm_angle",
    "raw",
    "column_unit",
    "value",
    "unit",
    "u",
    "instrument",
    "conditions",
    "note",
    "supersedes",
    "confirms",
    "check",
)
HAND_EDITED = "hand-edited"
CONFIRMED = "confirmed"


NOTHING_READ: Mapping[Row, Reading] = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class ReadRows:
    """All readings in order of seq (superseded ones too), the superseded seqs, and the faults."""

    readings: tuple[Reading, ...]
    superseded: frozenset[int]
    faults: tuple[FileFault, ...]


def texts_of(reading: Reading, entry: ReadingText, kind: ReadingKind) -> tuple[str, ...]:
    """The texts of the row that keeps this reading, without the check."""
    return (
        str(reading.seq),
        entry.when,
        entry.kind,
        entry.station,
        entry.table_angle,
        entry.worm_angle,
        entry.raw,
        entry.column_unit,
        _value_text(reading),
        CORE_UNITS[kind.dimension],
        entry.u,
        entry.instrument,
        mapping_cell(entry.conditions),
        entry.note,
        "" if entry.supersedes is None else str(entry.supersedes),
        "",
    )


def read_readings(
    sheet: Numbered, kinds: Mapping[str, ReadingKind], before: Mapping[Row, Reading] = NOTHING_READ
) -> ReadRows:
    """Every row that is a reading; the others are faults. Nothing here stops at the first.

    `before` holds what sound rows were read as; those are not read again.
    """
    readings: dict[int, Reading] = {}
    known: KnownConditions = {}
    for seq, row in sorted(sheet.rows.items()):
        reading = before.get(row) or _reading(sheet, seq, row, kinds, known)
        if reading is not None:
            readings[seq] = reading
    superseded = _superseded(sheet, readings)
    kept = tuple(fault for fault in sheet.faults if fault.seq not in superseded)
    return ReadRows(tuple(readings.values()), superseded, kept)


def _reading(
    sheet: Numbered,
    seq: int,
    row: Row,
    kinds: Mapping[str, ReadingKind],
    known: KnownConditions,
) -> Reading | None:
    entry = entry_in(sheet, seq, row)
    if entry is None:
        return None
    try:
        reading = reading_of(entry, seq=seq, kinds=kinds, known=known)
    except EntryError as error:
        for wrong in error.wrongs:
            sheet.fault(seq, *wrong)
        return None
    agrees = _agrees(row.texts[8], reading)
    if row.sound and agrees:
        return reading
    shown = reading.raw if agrees else f"{reading.raw} (value {_value_text(reading) or 'none'})"
    column = "" if agrees else "value"
    if sheet.hand_edited(seq, column, repr(shown)):
        return replace(reading, value=None, word=None, flags=(*reading.flags, HAND_EDITED))
    return replace(reading, flags=(*reading.flags, CONFIRMED))


def entry_in(sheet: Numbered, seq: int, row: Row) -> ReadingText | None:
    """The texts of the row as typed, or None with its faults noted in the sheet."""
    (_, when, kind, station, table_angle, worm_angle, raw, column_unit, _, _, u) = row.texts[:11]
    instrument, conditions, note, supersedes = row.texts[11:15]
    old = whole(supersedes)
    if supersedes.strip() and old is None:
        sheet.fault(seq, "supersedes", "the seq of a row", repr(supersedes), "correct it")
        return None
    try:
        pairs = mapping_of(conditions)
    except ValueError as error:
        do = "write key=text; key=text"
        sheet.fault(seq, "conditions", "named conditions", str(error), do)
        return None
    return ReadingText(
        kind=kind,
        raw=raw,
        table_angle=table_angle,
        worm_angle=worm_angle,
        station=station,
        instrument=instrument,
        conditions=pairs,
        note=note,
        supersedes=old,
        column_unit=column_unit,
        u=u,
        when=when,
    )


def _superseded(sheet: Numbered, readings: Mapping[int, Reading]) -> frozenset[int]:
    superseded = set()
    for seq, reading in readings.items():
        old = reading.supersedes
        if old is None:
            continue
        if old not in sheet.rows or old >= seq:
            told = sheet.fault(
                seq,
                "supersedes",
                "the seq of an earlier row",
                str(old),
                "look which row was meant; this reading counts, that one is not found",
            )
            sheet.faults[-1] = replace(told, action="warn")
        else:
            superseded.add(old)
    return frozenset(superseded)


def _value_text(reading: Reading) -> str:
    if reading.value is not None:
        return f"{reading.value:.10g}"
    return reading.word or ""


def _agrees(cell: str, reading: Reading) -> bool:
    """Whether the value cell still says what the raw text says; a decimal comma is the same."""
    clean = cell.strip()
    if reading.value is None:
        return clean == (reading.word or "").strip()
    try:
        kept = float(clean.replace(",", "."))
    except ValueError:
        return False
    return isclose(kept, reading.value, rel_tol=1e-8, abs_tol=1e-12)
