"""Where the lost motion comes from: one pair of bars a cause, found over predicted."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wormwright.charts.sheet import ACCENT, INK, SMALL, drawn, folded, unit_step
from wormwright.job.blocks import Bar, ContributorBars
from wormwright.job.result import Estimate
from wormwright.job.rotary import Units
from wormwright.quantities import Dimension, shown, shown_estimate

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

_WIDTH = 170.0
_ROW, _PAIR = 7.5, 9.6
_HEAD = 8.0
_FOOT = 19.0
_LABELS = 62.0
_THICK, _PAIR_THICK = 0.5, 0.36
_COLUMNS = 31


def bars_svg(block: ContributorBars, units: Units) -> str:
    """Bars of every cause and of the total, with 95 % whiskers and the allowed line."""
    rows = [*block.bars, Bar("All together", block.total_found, block.total_predicted)]
    in_pairs = any(bar.predicted is not None for bar in rows)
    height = _HEAD + _FOOT + (_PAIR if in_pairs else _ROW) * len(rows)
    like = max(block.total_found.value, unit_step(block.total_found.dimension, units)[0])

    def draw(sheet: Figure) -> None:
        axes = sheet.add_axes(
            (
                _LABELS / _WIDTH,
                _FOOT / height,
                1 - (_LABELS + 4) / _WIDTH,
                1 - (_HEAD + _FOOT) / height,
            )
        )
        _scale(axes, block, rows, units)
        for place, bar in enumerate(rows):
            _pair(axes, place, bar, units, like)
        axes.axhline(len(rows) - 1.5, color=INK, linewidth=0.8)
        if block.allowed is not None:
            _allowed(axes, block.allowed, block.total_found.dimension, units)
        _legend(sheet, rows, height)

    return drawn(_WIDTH, height, draw)


def _scale(axes: Axes, block: ContributorBars, rows: list[Bar], units: Units) -> None:
    step, name = unit_step(block.total_found.dimension, units)
    estimates = [e for bar in rows for e in (bar.found, bar.predicted) if e is not None]
    longest = max(*(e.high for e in estimates), block.allowed or 0.0) or step
    axes.set_xlim(0.0, 1.40 * longest / step)
    axes.set_ylim(len(rows) - 0.5, -0.5)
    axes.set_yticks(range(len(rows)), [folded(bar.label, _COLUMNS, lines=2) for bar in rows])
    axes.get_yticklabels()[-1].set_fontweight("bold")
    axes.tick_params(axis="y", length=0)
    axes.set_xlabel(f"{block.measures}, {name}")
    axes.grid(visible=True, axis="x", color="#cccccc", linewidth=0.5)
    axes.set_axisbelow(True)
    for side in ("top", "right"):
        axes.spines[side].set_visible(False)


def _pair(axes: Axes, place: int, bar: Bar, units: Units, like: float) -> None:
    if bar.predicted is None:
        _bar(axes, (place, _THICK), bar.found, units, like, found=True)
        return
    aside = _PAIR_THICK / 2 + 0.03
    _bar(axes, (place - aside, _PAIR_THICK), bar.found, units, like, found=True)
    _bar(axes, (place + aside, _PAIR_THICK), bar.predicted, units, like, found=False)


def _bar(
    axes: Axes,
    place: tuple[float, float],
    estimate: Estimate,
    units: Units,
    like: float,
    *,
    found: bool,
) -> None:
    at, thick = place
    step, _ = unit_step(estimate.dimension, units)
    value, low, high = (x / step for x in (estimate.value, estimate.low, estimate.high))
    axes.barh(
        at,
        value,
        thick,
        facecolor=ACCENT if found else "white",
        edgecolor=INK,
        hatch="" if found else "////",
        linewidth=0.8,
    )
    axes.plot([low, high], [at, at], color="white", linewidth=3.0, solid_capstyle="butt")
    axes.plot([low, high], [at, at], color=INK, linewidth=1.1, marker="|", markersize=5)
    words = shown_estimate(estimate, units=units, like=like)
    axes.annotate(
        words,
        (max(high, value), at),
        xytext=(4, 0),
        textcoords="offset points",
        va="center",
        fontsize=SMALL,
        fontweight="bold" if found else "normal",
        bbox={"facecolor": "white", "edgecolor": "none", "pad": 0.6},
    )


def _allowed(axes: Axes, allowed: float, dimension: Dimension, units: Units) -> None:
    step, _ = unit_step(dimension, units)
    axes.axvline(allowed / step, color=INK, linewidth=1.2, linestyle=(0, (6, 3)))
    axes.annotate(
        "Allowed " + shown(allowed, dimension, resolution=allowed / 10, units=units),
        (allowed / step, 1.0),
        xycoords=("data", "axes fraction"),
        xytext=(0, 3),
        textcoords="offset points",
        ha="center",
        va="bottom",
        fontsize=SMALL,
    )


def _legend(sheet: Figure, rows: list[Bar], height: float) -> None:
    from matplotlib.lines import Line2D  # noqa: PLC0415
    from matplotlib.patches import Patch  # noqa: PLC0415

    keys: list[Patch | Line2D] = [Patch(facecolor=ACCENT, edgecolor=INK, label="found")]
    if any(bar.predicted is not None for bar in rows):
        keys.append(Patch(facecolor="white", edgecolor=INK, hatch="////", label="predicted"))
    keys.append(Line2D([], [], color=INK, marker="|", label="95 % interval"))
    sheet.legend(
        handles=keys,
        loc="lower center",
        bbox_to_anchor=(0.5, 0.5 / height),
        ncols=len(keys),
        frameon=False,
        fontsize=SMALL,
    )
