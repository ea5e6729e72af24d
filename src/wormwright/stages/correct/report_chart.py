"""The setting chart for the bench: few rows, one unit, the rows that matter in words."""

from __future__ import annotations

import math

from wormwright.core.eccentric import seen_from_own_face
from wormwright.job.blocks import Cell, Table
from wormwright.job.corrections import Remedy, SettingRow
from wormwright.job.parts import EccentricBushing
from wormwright.stages.correct.wording import MICRON, turn

COARSE = math.radians(10)
"""Step of the printed chart away from the work range; inside it every row is kept."""

READ = 0.01
"""Last digit of what follows from readings of the mesh and the crest, mm."""

NEAR = math.radians(0.01)


def setting_table(remedy: Remedy, bushing: EccentricBushing) -> Table:
    """The setting chart: both sides of the circle, both bushings from their own faces."""
    kept = [r for r in remedy.setting_chart if _worth_a_row(r.angle, bushing)]
    rows = tuple(_row(r, bushing.start_angle) for r in kept)
    return Table(_CAPTION, _COLUMNS, rows, key="setting chart", one_unit=True)


def _worth_a_row(angle: float, bushing: EccentricBushing) -> bool:
    low, high = bushing.work_range
    planned = abs(abs(angle) - abs(bushing.start_angle)) < NEAR
    whole = abs(angle / COARSE - round(angle / COARSE)) * COARSE < NEAR
    return planned or whole or low - NEAR <= angle <= high + NEAR


def _row(r: SettingRow, planned: float) -> tuple[Cell, ...]:
    here = abs(r.angle - planned) < NEAR
    marks = ("PLANNED",) * here + ("FALSE TIGHT",) * r.false_tight
    return (
        Cell(turn(seen_from_own_face(angle=r.angle, side="A"))),
        Cell(turn(seen_from_own_face(angle=r.angle, side="B"))),
        _size(r.closing),
        _size(r.sideways),
        _size(r.indicator_a),
        _size(r.backlash_hob_equal, READ),
        _size(r.backlash_oversize, READ),
        _size(r.backlash_helical, READ),
        _size(r.tip_clearance, READ),
        Cell(", ".join(marks), strong=here),
    )


def _size(value: float | None, resolution: float = MICRON) -> Cell:
    if value is None:
        return Cell("not read")
    return Cell(number=value, dimension="length", resolution=resolution)


_CAPTION = (
    "Each bushing's mark from the wheel, seen on its own face, counter-clockwise +; what that "
    "gives at the tight spot. B's angle is also the one in space, + toward the table top. "
    "Both indicators stand at zero at the planned angle. Backlash is for the three kinds of wheel; "
    "below zero is shut. Every row of the chart is in the CSV file of the packet."
)
_COLUMNS = (
    "A face",
    "B face",
    "closing",
    "sideways",
    "indicator",
    "backlash hob-equal",
    "backlash oversize hob",
    "backlash helical",
    "crest room",
    "note",
)
