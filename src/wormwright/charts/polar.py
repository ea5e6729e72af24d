"""Lost motion round the turn of the table: mean, 95 % band, the readings, the tight spot."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, cast

from wormwright.charts.sheet import ACCENT, INK, SMALL, TINT, drawn, unit_step
from wormwright.job.blocks import PolarMap, Round
from wormwright.job.result import Estimate
from wormwright.job.rotary import Units
from wormwright.quantities import shown_estimate

if TYPE_CHECKING:
    from matplotlib.figure import Figure
    from matplotlib.projections.polar import PolarAxes

_WIDTH, _HEIGHT = 170.0, 98.0
_DIAL = (0.06, 0.07, 0.56, 0.86)
_KEY_LEFT = 0.67
_SENSE = "0° is up. Table angles grow\nanticlockwise, seen facing\nthe table."


def polar_svg(block: PolarMap, units: Units) -> str:
    """A dial with 0° up and angles growing anticlockwise; the radius is the lost motion."""

    def draw(sheet: Figure) -> None:
        axes = cast("PolarAxes", sheet.add_axes(_DIAL, projection="polar"))
        step, name = unit_step("angle", units)
        outer = [block.high, block.points_value, *([block.after.high] if block.after else [])]
        largest = max(float(part.max(initial=0.0)) for part in outer) / step
        found = "as found" if block.after else "estimate"
        _dial(axes, 1.12 * largest)
        axes.fill_between(
            block.angles,
            block.low / step,
            block.high / step,
            facecolor=TINT,
            edgecolor=ACCENT,
            linewidth=0.5,
            label=block.band,
        )
        axes.plot(block.angles, block.mean / step, color=ACCENT, linewidth=1.8, label=found)
        if block.after is not None:
            _after(axes, block, block.after, step)
        if len(block.points_angle):
            axes.plot(
                block.points_angle,
                block.points_value / step,
                linestyle="none",
                marker="o",
                markersize=5.0,
                color=INK,
                label="readings",
            )
        if block.tight is not None:
            _spot(axes, block.tight, 1.12 * largest)
        _key(sheet, axes, block, name, units)

    return drawn(_WIDTH, _HEIGHT, draw)


def _after(axes: PolarAxes, block: PolarMap, after: Round, step: float) -> None:
    axes.fill_between(
        block.angles,
        after.low / step,
        after.high / step,
        facecolor="none",
        edgecolor=INK,
        hatch="......",
        linewidth=0.5,
        label=f"the same, {after.name}",
    )
    axes.plot(
        block.angles,
        after.mean / step,
        color=INK,
        linewidth=1.8,
        linestyle=(0, (5, 2)),
        label=after.name,
    )


def _dial(axes: PolarAxes, largest: float) -> None:
    axes.set_theta_zero_location("N")
    axes.set_theta_direction(1)
    axes.set_thetagrids(range(0, 360, 30))
    axes.set_ylim(0.0, largest)
    axes.set_rlabel_position(345.0)
    axes.tick_params(axis="y", labelsize=SMALL)
    axes.grid(visible=True, color="#bbbbbb", linewidth=0.5)
    for label in axes.get_yticklabels():
        label.set_bbox({"facecolor": "white", "edgecolor": "none", "pad": 0.4})


def _spot(axes: PolarAxes, tight: Estimate, radius: float) -> None:
    axes.plot(
        [tight.value, tight.value], [0.0, radius], color=INK, linewidth=2.0, label="tight spot"
    )
    for edge, words in ((tight.low, "its 95 % limits"), (tight.high, "")):
        axes.plot(
            [edge, edge],
            [0.0, radius],
            color=INK,
            linewidth=0.9,
            linestyle=(0, (4, 3)),
            label=words or "_",
        )


def _key(sheet: Figure, axes: PolarAxes, block: PolarMap, name: str, units: Units) -> None:
    sheet.text(_KEY_LEFT, 0.90, f"Radius: {block.what}, {name}", va="top")
    sheet.text(_KEY_LEFT, 0.84, _SENSE, va="top", fontsize=SMALL, linespacing=1.4)
    sheet.legend(
        *axes.get_legend_handles_labels(),
        loc="upper left",
        bbox_to_anchor=(_KEY_LEFT - 0.02, 0.69),
        frameon=False,
        fontsize=9.0,
    )
    if block.tight is None:
        words = "Tight spot: cannot be told\nfrom these readings"
    else:
        words = "Tight spot\n" + shown_estimate(block.tight, units=units)
    if block.after is not None and block.after.tight is not None:
        words += f"\n{block.after.name}: {math.degrees(block.after.tight):.0f}°"
    sheet.text(_KEY_LEFT, 0.24, words, va="top", fontweight="bold", linespacing=1.5)
