"""signoffs.csv: rows to sign-offs and back."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import isclose
from typing import get_args

from wormwright.job.operation import Gate, SignOff, Verdict
from wormwright.quantities import Dimension, QuantityError, System, read
from wormwright.store.cells import mapping_cell, mapping_of
from wormwright.store.entry import CORE_UNITS, LONGEST_TEXT, EntryError, Wrong
from wormwright.store.fault import FileFault, clipped
from wormwright.store.numbered import Numbered
from wormwright.store.row_file import Row

SIGN_OFFS = "signoffs.csv"
SIGN_OFF_COLUMNS = (
    "seq",
    "when",
    "operation",
    "initials",
    "verdict",
    "gates",
    "values",
    "note",
    "confirms",
    "check",
)
VERDICTS: tuple[Verdict, ...] = get_args(Verdict)
_DIMENSIONS: Mapping[str, Dimension] = {unit: name for name, unit in CORE_UNITS.items()}
_YES_NO: Mapping[str, float] = {"yes": 1.0, "no": 0.0}


def sign_off_of(
    operation: str,
    *,
    seq: int,
    when: str,
    initials: str,
    verdict: str,
    gates: Sequence[tuple[Gate, str]],
    note: str,
    units: System | None,
) -> SignOff:
    """The sign-off that the texts say; each gate comes with the text read for it.

    Raises:
        EntryError: with everything that is wrong in it.
    """
    wrongs: list[Wrong] = []
    if not operation.strip():
        wrongs.append(("operation", "the key of an operation", "nothing", "name it"))
    if not initials.strip():
        do = "whoever did the work signs for it"
        wrongs.append(("initials", "the initials of a person", "nothing", do))
    if verdict not in VERDICTS:
        wrongs.append(("verdict", f"one of {', '.join(VERDICTS)}", clipped(verdict), "correct it"))
    if max(map(len, (operation, initials, note))) > LONGEST_TEXT:
        longest = f"texts of at most {LONGEST_TEXT} characters"
        wrongs.append(("note", longest, clipped(note), "keep long remarks in another file"))
    keys = [gate.key for gate, _ in gates]
    for key in sorted({key for key in keys if keys.count(key) > 1}):
        wrongs.append((f"gates.{key}", "each gate once", "it twice", "leave one out"))
    values = []
    for gate, raw in gates:
        value = _gate_value(gate.key, raw, gate.dimension, units, wrongs)
        if value is not None:
            values.append((gate.key, value, raw))
    if wrongs:
        raise EntryError(wrongs)
    return SignOff(seq, operation, when, initials, tuple(values), _verdict(verdict), note)


def _verdict(text: str) -> Verdict:
    return next(verdict for verdict in VERDICTS if verdict == text)


def _gate_value(
    key: str, raw: str, dimension: Dimension, units: System | None, wrongs: list[Wrong]
) -> float | None:
    field = f"gates.{key}"
    if dimension == "none":
        value = _YES_NO.get(raw.strip().casefold())
        if value is None:
            wrongs.append((field, "yes or no", clipped(raw), "write yes or no"))
        return value
    try:
        typed = read(raw, dimension, field=field, units=units)
    except QuantityError as error:
        wrongs.append((field, error.expected, error.got, error.do))
        return None
    if not typed.usable:
        do = "read it with an instrument that reaches it"
        wrongs.append((field, "a figure on the scale", clipped(raw), do))
        return None
    return typed.value


def sign_off_texts(sign_off: SignOff, gates: Sequence[tuple[Gate, str]]) -> tuple[str, ...]:
    """The texts of the row that keeps this sign-off, without the check."""
    units = {gate.key: CORE_UNITS[gate.dimension] for gate, _ in gates}
    values = {key: f"{value:.10g} {units[key]}".strip() for key, value, _ in sign_off.gate_values}
    return (
        str(sign_off.seq),
        sign_off.when,
        sign_off.operation,
        sign_off.initials,
        sign_off.verdict,
        mapping_cell({key: raw for key, _, raw in sign_off.gate_values}),
        mapping_cell(values),
        sign_off.note,
        "",
    )


def read_sign_offs(sheet: Numbered) -> tuple[tuple[SignOff, ...], tuple[FileFault, ...]]:
    """Every row that is a sign-off. One that was changed by hand counts once it is confirmed."""
    found: list[SignOff] = []
    for seq, row in sorted(sheet.rows.items()):
        sign_off, agrees = _sign_off(sheet, seq, row)
        if sign_off is None:
            continue
        reads = f"'{sign_off.operation} {sign_off.verdict}'"
        if (row.sound and agrees) or not sheet.hand_edited(seq, "", reads):
            found.append(sign_off)
    return tuple(found), tuple(sheet.faults)


def _sign_off(sheet: Numbered, seq: int, row: Row) -> tuple[SignOff | None, bool]:
    _, when, operation, initials, verdict, gates, values, note = row.texts[:8]
    wrongs: list[Wrong] = []
    if not operation.strip():
        wrongs.append(("operation", "the key of an operation", "nothing", "correct it"))
    if verdict not in VERDICTS:
        wrongs.append(("verdict", f"one of {', '.join(VERDICTS)}", clipped(verdict), "correct it"))
    try:
        raws, kept = mapping_of(gates), mapping_of(values)
    except ValueError as error:
        wrongs.append(("gates", "named gates", str(error), "write key=text; key=text"))
        raws, kept = {}, {}
    gate_values, agrees = [], raws.keys() == kept.keys()
    for key, raw in raws.items():
        number, _, unit = kept.get(key, "").partition(" ")
        dimension = _DIMENSIONS.get(unit)
        if dimension is None:
            do = "correct the unit in the values cell"
            wrongs.append((f"values.{key}", "a core unit", clipped(unit), do))
            continue
        value = _gate_value(key, raw, dimension, None, wrongs)
        if value is not None:
            gate_values.append((key, value, raw))
            agrees = agrees and _same(number, value)
    for wrong in wrongs:
        sheet.fault(seq, *wrong)
    if wrongs:
        return None, False
    done = SignOff(seq, operation, when, initials, tuple(gate_values), _verdict(verdict), note)
    return done, agrees


def _same(number: str, value: float) -> bool:
    try:
        return isclose(float(number.replace(",", ".")), value, rel_tol=1e-8, abs_tol=1e-12)
    except ValueError:
        return False
