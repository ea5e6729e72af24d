"""What the page of one kind of reading shows: how to read it, what was read, what to type."""

from __future__ import annotations

from wormwright.app.folder import Folder
from wormwright.app.measure import row_doubts
from wormwright.job.kind import Condition, ReadingKind
from wormwright.job.reading import Reading
from wormwright.job.result import Doubt
from wormwright.packet.wording import DOUBT_WORDS
from wormwright.quantities import shown
from wormwright.quantities.units import TABLE
from wormwright.traveler import stale_readings

Data = dict[str, object]

_LIKE = {"length": "80 mm", "angle": "30 deg", "torque": "0.4 N·m", "force": "50 N"}
_UNITS_OF_ANGLE = ("deg", "arcmin", "arcsec")
_SELDOM = frozenset(("m", "cm", "ft", "kN", "gf", "kgf·m", "gf·cm", "N·cm", "mN·m", "ft·lb"))


def entry_page(folder: Folder, kind: ReadingKind) -> Data:
    """All that the template needs."""
    readings = tuple(r for r in folder.readings if r.kind == kind.key)
    doubts = row_doubts(folder, {r.seq for r in readings})
    return {
        "kind": kind,
        "facts": [
            (name, text)
            for name, text in (
                ("Set-up", kind.set_up),
                ("Instrument", kind.instrument),
                ("Tells", kind.tells),
                ("Cannot tell", kind.cannot_tell),
                ("Takes", f"{kind.minutes:g} minutes"),
                ("Repeats", f"{kind.repeats}" if kind.repeats > 1 else ""),
            )
            if text
        ],
        "units": units_of(kind, folder.job.units),
        "conditions": [_condition(c, folder, readings) for c in kind.conditions],
        "rows": rows_of(folder, readings, doubts),
        "row_doubts": doubts_as_data(doubts),
    }


def units_of(kind: ReadingKind, leading: str) -> tuple[str, ...]:
    """The units a bare number of this kind may be in, those of the job first."""
    if kind.choices or kind.dimension in ("none", "count", "ratio"):
        return ()
    if kind.dimension == "angle":
        return _UNITS_OF_ANGLE
    units = dict.fromkeys(TABLE[kind.dimension].values())
    usual = [u for u in units if u.name not in _SELDOM]
    return tuple(u.name for u in sorted(usual, key=lambda u: u.system not in (leading, "")))


def rows_of(folder: Folder, readings: tuple[Reading, ...], doubts: tuple[Doubt, ...]) -> list[Data]:
    """The rows, the last first; those superseded and stale stay visible and say so."""
    gone = {r.supersedes: r.seq for r in folder.readings if r.supersedes is not None}
    stale = stale_readings(folder.readings, folder.sign_offs)
    asked = {seq for d in doubts if d.action == "ask" for seq in d.rows}
    asked |= {f.seq for f in folder.problems if f.action == "ask" and f.seq is not None}
    return [row_of(folder, r, gone, stale, asked) for r in reversed(readings)]


def row_of(
    folder: Folder,
    reading: Reading,
    gone: dict[int, int],
    stale: dict[int, str],
    asked: set[int],
) -> Data:
    """One row as understood."""
    from wormwright.job.sheet import KINDS  # noqa: PLC0415

    remarks = [*reading.flags, *([reading.note] if reading.note else [])]
    if reading.seq in gone:
        remarks.append(f"superseded by row {gone[reading.seq]}")
    if reading.seq in stale:
        remarks.append(f"stale since {stale[reading.seq].replace('_', ' ')}")
    place = _place(folder, reading)
    return {
        "seq": reading.seq,
        "raw": reading.raw,
        "understood": understood(folder, reading, KINDS[reading.kind]),
        "place": place,
        "where": ", ".join(w for w in (reading.station, place) if w),
        "remarks": "; ".join(remarks),
        "gone": reading.seq in gone,
        "asked": reading.seq in asked and reading.seq not in gone,
    }


def understood(folder: Folder, reading: Reading, kind: ReadingKind) -> str:
    """The value as the program took it, in the units of the job."""
    if reading.value is None:
        return reading.word or "does not count"
    return shown(reading.value, kind.dimension, units=folder.job.units)


def doubts_as_data(doubts: tuple[Doubt, ...]) -> list[Data]:
    """Doubts for a template or an answer: the word that goes before, what was seen, what to do."""
    return [
        {
            "action": d.action,
            "word": DOUBT_WORDS[d.action],
            "code": d.code,
            "seen": d.seen,
            "why": d.why,
            "do": d.do,
            "rows": list(d.rows),
        }
        for d in doubts
    ]


def _place(folder: Folder, reading: Reading) -> str:
    angles = (reading.table_angle, reading.worm_angle)
    known = next((a for a in angles if a is not None), None)
    return "" if known is None else shown(known, "angle", units=folder.job.units)


def _condition(condition: Condition, folder: Folder, readings: tuple[Reading, ...]) -> Data:
    """A condition with what was said of it last, so that it need not be typed again."""
    last = ""
    if readings:
        texts = folder.entry_of(readings[-1].seq).conditions
        last = texts.get(condition.key, "")
    return {
        "key": condition.key,
        "label": condition.label,
        "compulsory": condition.compulsory,
        "choices": condition.choices,
        "last": last,
        "like": _LIKE.get(condition.dimension, ""),
    }
