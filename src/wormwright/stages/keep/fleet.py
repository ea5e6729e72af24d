"""Report blocks of many units: who is due, which unit for which part, one line for each."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from wormwright.core.conformity import conformity
from wormwright.job.blocks import Block, Cell, Heading, Paragraph, Steps, Table, UnitLabel
from wormwright.job.fleet import FleetRow
from wormwright.job.result import Estimate
from wormwright.quantities import shown

_FITS = {"conforms": "yes", "does not conform": "no", "cannot be told": "cannot tell"}
_ORDER = {"yes": 0, "cannot tell": 1, "no": 2, "not read": 3}


@dataclass(frozen=True, slots=True)
class PartNeed:
    """What a part asks of the unit it is made on, mm: error allowed at a radius, both ways."""

    radius: float
    error: float


def fleet_blocks(
    rows: Sequence[FleetRow], *, today: date, need: PartNeed | None = None
) -> tuple[Block, ...]:
    """Who is due, which unit serves the part (where one is given), and every unit side by side."""
    due = [row for row in rows if is_due(row, today)]
    named = ", ".join(f"{row.unit or row.folder}" for row in due)
    blocks: list[Block] = [
        Paragraph(
            f"{len(rows)} units. Due for a check or an adjustment: {named}."
            if due
            else f"{len(rows)} units. None is due.",
            strong=True,
        )
    ]
    if need is not None:
        blocks += _for_part(rows, need)
    blocks.append(_side_by_side(rows))
    open_ = [row for row in rows if row.why]
    if open_:
        lines = tuple(f"{row.unit or row.folder}: {row.why}" for row in open_)
        blocks += [Heading("What is not known, and why", 2), Steps(lines)]
    return tuple(blocks)


def wall_blocks(rows: Sequence[FleetRow], *, today: date) -> tuple[Block, ...]:
    """The sheet for the wall: every unit in one table, and a label to cut out for each."""
    labels = tuple(label_of(row) for row in rows if row.state != "unusable")
    return (*fleet_blocks(rows, today=today), Heading("Labels to cut out"), *labels)


def label_of(row: FleetRow) -> UnitLabel:
    """What is stuck on the unit: its mark, its state, where it is tight, and when it is due."""
    lines = [f"{row.name}: {row.state}"]
    if row.tight is not None:
        lines.append(f"Tight spot at {math.degrees(row.tight) % 360:.0f}° of the table")
    if row.loosest is not None and row.loosest_u is not None:
        shown_ = shown(row.loosest, "angle", u=row.loosest_u)
        lines.append(f"Loosest rock {shown_}, read {row.last_check}")
    lines.append(f"Next check: {row.next_check or 'not known'}")
    if row.made_up:
        lines.append("MADE-UP EXAMPLE")
    mark = row.unit or row.folder
    return UnitLabel(f"Label of {mark}", mark, tuple(lines), mark)


def is_due(row: FleetRow, today: date) -> bool:
    """Whether the unit wants attention: to be adjusted, or its next check has come."""
    if row.state == "adjust":
        return True
    try:
        return date.fromisoformat(row.next_check) <= today
    except ValueError:
        return False


def _side_by_side(rows: Sequence[FleetRow]) -> Table:
    columns = ("unit", "job", "state", "loosest rock", "tight spot", "last check", "next", "open")
    return Table("Units side by side", columns, tuple(map(_row, rows)), key="fleet")


def _row(row: FleetRow) -> tuple[Cell, ...]:
    name = f"{row.name} (made up)" if row.made_up else row.name
    return (
        Cell(row.unit or row.folder, strong=True),
        Cell(name),
        Cell(row.state, strong=row.state == "adjust"),
        _angle(row.loosest, row.loosest_u),
        _angle(row.tight, row.tight_u),
        Cell(row.last_check or "none"),
        Cell(row.next_check or "not known"),
        Cell(str(row.questions) if row.questions else ""),
    )


def _angle(value: float | None, u: float | None) -> Cell:
    if value is None or u is None:
        return Cell("not known")
    return Cell(estimate=Estimate.normal(value, u, "angle", "as of the last check"))


def _for_part(rows: Sequence[FleetRow], need: PartNeed) -> list[Block]:
    """Which unit serves: the rock of its loosest place brought to the radius of the part."""
    found = sorted(
        ((row, *_serves(row, need)) for row in rows), key=lambda f: (_ORDER[f[1]], f[0].unit)
    )
    columns = ("unit", "serves", "play at the radius of the part", "allowed")
    table = tuple(
        (
            Cell(row.unit or row.folder),
            Cell(answer, strong=answer == "yes"),
            Cell("not known") if play is None else Cell(estimate=play),
            Cell(number=need.error, dimension="length", resolution=need.error / 10),
        )
        for row, answer, play in found
    )
    return [
        Heading("Which unit for this part", 2),
        Table("Worked both ways, unclamped, at the loosest place", columns, table, key="for part"),
    ]


def _serves(row: FleetRow, need: PartNeed) -> tuple[str, Estimate | None]:
    if row.loosest is None or row.loosest_u is None or row.state == "unusable":
        return "not read", None
    play = Estimate.normal(row.loosest, row.loosest_u, "angle", "").scaled(need.radius, "length")
    return _FITS[conformity(play.value, u=play.u, high=need.error)], play
