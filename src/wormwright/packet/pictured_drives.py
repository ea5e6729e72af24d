"""What stands beside a chart about drives: what it shows in words, and its numbers."""

from __future__ import annotations

from wormwright.job.blocks import DriveChart
from wormwright.job.drive_charts import StackedError, TorqueCurves
from wormwright.job.rotary import Units
from wormwright.packet.pictured import Figure, Grid
from wormwright.packet.wording import Shown, clean, estimate_shown, number_shown


def drive_figure(block: DriveChart, units: Units) -> Figure:
    """Words and numbers of a chart about drives."""
    if isinstance(block.chart, TorqueCurves):
        return _torque(block, block.chart, units)
    return _stacked(block, block.chart, units)


def _torque(block: DriveChart, chart: TorqueCurves, units: Units) -> Figure:
    rows = [
        (
            Shown(f"{clean(curve.label)} gives, at rest"),
            number_shown(curve.still, "torque", units),
            Shown("0 rpm"),
        )
        for curve in chart.curves
    ]
    rows += [
        (
            Shown(f"{clean(curve.label)}, curve ends at"),
            number_shown(curve.points[-1][1], "torque", units),
            number_shown(curve.fastest, "speed", units),
        )
        for curve in chart.curves
    ]
    rows += [
        (
            Shown(f"wanted for {clean(point.label)}"),
            number_shown(point.torque, "torque", units),
            number_shown(point.rpm, "speed", units),
        )
        for point in chart.points
    ]
    return Figure(
        caption=clean(block.caption),
        says="Torque at the table against table speed, one line for each drive, with the work as "
        "marked points: a drive must pass above and to the right of them.",
        numbers=Grid("Torque and speed at the table", ("What", "Torque", "Speed"), tuple(rows)),
        source=block,
    )


def _stacked(block: DriveChart, chart: StackedError, units: Units) -> Figure:
    causes = tuple(dict.fromkeys(cause for row in chart.rows for cause, _ in row.parts))
    rows = tuple(
        (
            Shown(clean(row.label)),
            *(_size(dict(row.parts).get(cause, 0.0), units) for cause in causes),
            estimate_shown(row.whole, units),
            Shown("") if row.allowed is None else number_shown(row.allowed, "length", units),
        )
        for row in chart.rows
    )
    return Figure(
        caption=clean(block.caption),
        says="One bar for each work on each drive, stacked by cause, with what is allowed.",
        numbers=Grid("Errors by cause", ("Work", *causes, "Together", "Allowed"), rows),
        source=block,
    )


def _size(value: float, units: Units) -> Shown:
    """A part of an error, to a tenth of a micrometre: smaller ones add nothing."""
    return number_shown(value, "length", units, resolution=1e-4)
