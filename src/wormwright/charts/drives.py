"""Charts about drives: torque against speed with the work as points, and errors by cause."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wormwright.charts.sheet import ACCENT, GREY, INK, SMALL, TINT, drawn, folded, unit_step
from wormwright.job.blocks import DriveChart
from wormwright.job.drive_charts import StackedError, StackedRow, TorqueCurves
from wormwright.job.rotary import Units
from wormwright.quantities import shown_estimate

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

_WIDTH, _HEIGHT = 170.0, 105.0
_LINES = ("solid", (0, (6, 2)), (0, (2, 1.5)), (0, (6, 2, 1, 2)), (0, (1, 1)), (0, (9, 3)))
_INKS = (ACCENT, INK, GREY)
_LABELS, _ROW, _HEAD, _FOOT = 52.0, 8.2, 6.0, 24.0
_FILLS = ((ACCENT, ""), (TINT, "////"), ("white", "...."), (GREY, ""))
_COLUMNS = 27


def drive_svg(block: DriveChart, units: Units) -> str:
    """The picture of a chart about drives."""
    if isinstance(block.chart, TorqueCurves):
        return _torque_svg(block.chart, units)
    return _stacked_svg(block.chart, units)


def _torque_svg(chart: TorqueCurves, units: Units) -> str:
    size, name = (1000.0, "N·m") if units == "mm" else (112.984829, "in·lb")

    def draw(sheet: Figure) -> None:
        axes = sheet.add_axes((0.09, 0.14, 0.57, 0.80))
        for place, curve in enumerate(chart.curves):
            axes.plot(
                [rpm for rpm, _ in curve.points],
                [torque / size for _, torque in curve.points],
                color=_INKS[place % len(_INKS)],
                linestyle=_LINES[place % len(_LINES)],
                label=folded(curve.label, 24),
            )
        _points(axes, chart, size)
        axes.set_xlabel("Table speed, rpm")
        axes.set_ylabel(f"Torque at the table, {name}")
        axes.set_ylim(bottom=0.0)
        axes.set_xlim(left=-0.02 * max((c.fastest for c in chart.curves), default=1.0))
        axes.grid(visible=True, color="#cccccc", linewidth=0.5)
        for side in ("top", "right"):
            axes.spines[side].set_visible(False)
        axes.legend(
            loc="upper left",
            bbox_to_anchor=(1.02, 1.0),
            frameon=False,
            fontsize=SMALL,
            handlelength=3.2,
        )

    return drawn(_WIDTH, _HEIGHT, draw)


def _points(axes: Axes, chart: TorqueCurves, size: float) -> None:
    """What the work asks for: numbered marks, their names in the key."""
    for place, point in enumerate(chart.points, 1):
        axes.plot(
            [point.rpm],
            [point.torque / size],
            linestyle="none",
            marker=("o", "s", "^", "D", "v", "P")[(place - 1) % 6],
            markersize=7,
            markerfacecolor="white",
            markeredgecolor=INK,
            clip_on=False,
            zorder=5,
            label=folded(f"wanted: {point.label}", 24),
        )


def _stacked_svg(chart: StackedError, units: Units) -> str:
    height = _HEAD + _FOOT + _ROW * len(chart.rows)
    step, name = unit_step("length", units)
    causes = tuple(dict.fromkeys(cause for row in chart.rows for cause, _ in row.parts))

    def draw(sheet: Figure) -> None:
        box = (_LABELS / _WIDTH, _FOOT / height)
        axes = sheet.add_axes((*box, 1 - (_LABELS + 4) / _WIDTH, 1 - (_HEAD + _FOOT) / height))
        ends = [row.whole.high for row in chart.rows]
        most = max([*ends, *(row.allowed or 0.0 for row in chart.rows)]) / step
        axes.set_xlim(0.0, 1.55 * most)
        axes.set_ylim(len(chart.rows) - 0.5, -0.5)
        labels = [folded(row.label, _COLUMNS, lines=2) for row in chart.rows]
        axes.set_yticks(range(len(chart.rows)), labels, fontsize=SMALL)
        axes.tick_params(axis="y", length=0)
        axes.set_xlabel(f"Error at the radius, {name}")
        axes.grid(visible=True, axis="x", color="#cccccc", linewidth=0.5)
        axes.set_axisbelow(True)
        for side in ("top", "right"):
            axes.spines[side].set_visible(False)
        for place, row in enumerate(chart.rows):
            _stack(axes, place, row, causes, step)
            _beside(axes, place, row, units, step)
        _key(sheet, causes, height)

    return drawn(_WIDTH, height, draw)


def _stack(axes: Axes, place: int, row: StackedRow, causes: tuple[str, ...], step: float) -> None:
    left = 0.0
    for cause, size in row.parts:
        face, hatch = _FILLS[causes.index(cause) % len(_FILLS)]
        axes.barh(
            place,
            size / step,
            0.52,
            left=left,
            facecolor=face,
            edgecolor=INK,
            hatch=hatch,
            linewidth=0.7,
        )
        left += size / step


def _beside(axes: Axes, place: int, row: StackedRow, units: Units, step: float) -> None:
    """The range of the whole, the allowed line, and the verdict in words."""
    ends = [row.whole.low / step, row.whole.high / step]
    axes.plot(ends, [place + 0.36] * 2, color=INK, linewidth=1.0, marker="|", markersize=4)
    words = shown_estimate(row.whole, units=units)
    if row.allowed is not None:
        at = row.allowed / step
        axes.plot([at, at], [place - 0.44, place + 0.44], color=INK, linewidth=2.2)
        over = row.whole.low > row.allowed
        inside = row.whole.high <= row.allowed
        words += ", over" if over else "" if inside else ", perhaps over"
        ends.append(at)
    axes.annotate(
        words,
        (max(ends), place),
        xytext=(5, 0),
        textcoords="offset points",
        va="center",
        fontsize=SMALL,
        bbox={"facecolor": "white", "edgecolor": "none", "pad": 0.6},
    )


def _key(sheet: Figure, causes: tuple[str, ...], height: float) -> None:
    from matplotlib.lines import Line2D  # noqa: PLC0415
    from matplotlib.patches import Patch  # noqa: PLC0415

    keys: list[Patch | Line2D] = [
        Patch(facecolor=face, edgecolor=INK, hatch=hatch, label=cause)
        for cause, (face, hatch) in zip(causes, _FILLS * 2, strict=False)
    ]
    keys.append(Line2D([], [], color=INK, linewidth=2.2, label="allowed"))
    keys.append(Line2D([], [], color=INK, marker="|", linewidth=1.0, label="range as entered"))
    sheet.legend(
        handles=keys,
        loc="lower center",
        bbox_to_anchor=(0.5, 0.5 / height),
        ncols=3,
        frameon=False,
        fontsize=SMALL,
    )
