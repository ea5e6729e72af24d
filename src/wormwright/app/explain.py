"""What there is to read, and one kind of reading explained as on a bench card."""

from __future__ import annotations

from wormwright.app.refused import nearest, refused
from wormwright.job.blocks import Block, Cell, Paragraph, Steps, Table
from wormwright.job.kind import Condition, ReadingKind
from wormwright.job.rotary import Units
from wormwright.job.sheet import KINDS
from wormwright.packet import Document
from wormwright.quantities import Dimension, shown


def explain(key: str, units: Units) -> Document:
    """Every kind of reading in a table; or the one of that key in full.

    Raises:
        Refused: there is no such kind.
    """
    if not key:
        return _all_kinds()
    if key not in KINDS:
        raise refused("kinds", expected="a kind of reading", got=repr(key), do=nearest(key, KINDS))
    return _one(KINDS[key], units)


def _all_kinds() -> Document:
    rows = tuple(
        (Cell(kind.key), Cell(kind.label), Cell(_unit_words(kind)), Cell(f"{kind.minutes:g}"))
        for kind in KINDS.values()
    )
    columns = ("kind", "what it is", "read as", "minutes")
    blocks: tuple[Block, ...] = (
        Table("Kinds of reading, in the order of the sheet", columns, rows),
        Paragraph("One in full: wormwright measure DIR --kinds KIND"),
    )
    return Document("Kinds of reading", "what can be read at the bench", False, blocks)


def _one(kind: ReadingKind, units: Units) -> Document:
    facts = [
        ("Set-up", kind.set_up),
        ("Instrument", kind.instrument),
        ("Error of one reading, 1 s", _noise(kind, units)),
        ("Usual as found", _span(kind.usual_low, kind.usual_high, kind.dimension, units)),
        ("Believable", _span(kind.low, kind.high, kind.dimension, units)),
        ("Words", ", ".join(kind.choices)),
        ("Where", ", ".join(kind.stations)),
        ("Angles", _angles(kind)),
        ("Repeats", f"{kind.repeats}" if kind.repeats > 1 else ""),
        ("Minutes", f"{kind.minutes:g}"),
        ("Tells", kind.tells),
        ("Cannot tell", kind.cannot_tell),
        ("Sensitivity", kind.sensitivity),
    ]
    table = tuple((Cell(name), Cell(text)) for name, text in facts if text)
    blocks: list[Block] = [Steps((kind.do,)), Table("Facts", ("", ""), table)]
    if kind.conditions:
        rows = tuple(_condition(condition, units) for condition in kind.conditions)
        columns = ("--with name", "what it is", "must", "written as")
        blocks.append(Table("Conditions to state with it", columns, rows))
    return Document(
        kind.label, f"kind {kind.key}, row {kind.row} of the sheet", False, tuple(blocks)
    )


def _condition(condition: Condition, units: Units) -> tuple[Cell, ...]:
    if condition.choices:
        written = ", ".join(condition.choices)
    else:
        span = _span(condition.low, condition.high, condition.dimension, units)
        written = f"{condition.dimension}{f', {span}' if span else ''}"
    must = "yes" if condition.compulsory else "if known"
    return Cell(condition.key), Cell(condition.label), Cell(must), Cell(written)


def _unit_words(kind: ReadingKind) -> str:
    if kind.dimension != "none":
        return kind.dimension
    return "word" if kind.choices else "text"


def _angles(kind: ReadingKind) -> str:
    wanted = [
        name
        for name, needed in (("table", kind.needs_table_angle), ("worm", kind.needs_worm_angle))
        if needed
    ]
    return f"state the {' and '.join(wanted)} angle" if wanted else ""


def _noise(kind: ReadingKind, units: Units) -> str:
    share = f"{kind.noise_share:.0%} of the reading" if kind.noise_share else ""
    if kind.noise is None:
        return share
    fixed = _difference(kind.noise, kind.dimension, units)
    return f"{fixed} and {share}" if share else fixed


def _difference(value: float, dimension: Dimension, units: Units) -> str:
    """A width, not a place: that of a temperature has no zero point."""
    if dimension == "temperature":
        return f"{value * 9 / 5:.2g} °F" if units == "in" else f"{value:.2g} K"
    return _about(value, dimension, units)


def _about(value: float, dimension: Dimension, units: Units) -> str:
    """The limits of the trade are round figures: two digits say all they hold."""
    if dimension == "count":
        return shown(value, dimension, units=units)
    return shown(value, dimension, resolution=abs(value) / 20 or None, units=units)


def _span(low: float | None, high: float | None, dimension: Dimension, units: Units) -> str:
    if low is None and high is None:
        return ""
    if high is None:
        return f"at least {_about(low or 0.0, dimension, units)}"
    if low is None:
        return f"at most {_about(high, dimension, units)}"
    return f"{_about(low, dimension, units)} to {_about(high, dimension, units)}"
