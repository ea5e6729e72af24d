"""The setting chart of the bushings as CSV: one row an angle, on both sides of the circle."""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Sequence

from wormwright.job.corrections import SettingRow
from wormwright.job.rotary import Units
from wormwright.quantities.units import unit_named

LENGTHS = (
    "closing",
    "sideways",
    "backlash_hob_equal",
    "backlash_oversize",
    "backlash_helical",
    "tip_clearance",
    "indicator_a",
    "indicator_b",
)
_PLACES = {"mm": 3, "in": 5}


def setting_chart_csv(rows: Sequence[SettingRow], units: Units) -> str:
    """The chart with the unit in every column head; a blank where nothing is known."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(("angle deg", *(f"{name} {units}" for name in LENGTHS), "false tight"))
    for row in rows:
        writer.writerow(
            (
                f"{math.degrees(row.angle):.1f}",
                *(_length(getattr(row, name), units) for name in LENGTHS),
                "yes" if row.false_tight else "no",
            )
        )
    return out.getvalue()


def _length(value: float | None, units: Units) -> str:
    unit = unit_named(units, "length")
    if value is None or unit is None:
        return ""
    text = f"{value / float(unit.scale):.{_PLACES[units]}f}"
    return text.removeprefix("-") if float(text) == 0 else text
