"""The plane (sideways, closing): where the worm line can stand, and where it should."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from wormwright.charts.sheet import ACCENT, GREY, INK, SMALL, TINT, drawn, folded, unit_step
from wormwright.job.blocks import ClosingPlane
from wormwright.job.corrections import ClosingPicture
from wormwright.job.rotary import Units
from wormwright.quantities import shown, shown_both

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

_WIDTH, _HEIGHT = 170.0, 108.0
_PLOT = (0.098, 0.115, 0.553, 0.87)
_ROOM = 1.32
_DASHES = ("solid", (0, (6, 2)), (0, (1.5, 1.5)), (0, (6, 2, 1.5, 2)))
_LABEL_AT = (0.58, 0.27, 0.86, 0.10)
_NICE = (1.0, 2.0, 5.0, 10.0)


def plane_svg(block: ClosingPlane, units: Units) -> str:
    """Circle of the throw, backlash contours, tip limit, wanted box, fit blob, chosen angle."""

    def draw(sheet: Figure) -> None:
        axes = sheet.add_axes(_PLOT)
        step, name = unit_step("length", units)
        picture = block.picture
        reach = _ROOM * _extent(picture) / step
        axes.set_aspect("equal")
        axes.set_xlim(-reach, reach)
        axes.set_ylim(-reach, reach)
        axes.set_xlabel(f"Sideways, {name} (+ along the table axis, +Z)")
        axes.set_ylabel(f"Closing, {name} (+ toward the wheel)")
        axes.axhline(0.0, color=GREY, linewidth=0.6)
        axes.axvline(0.0, color=GREY, linewidth=0.6)
        level = _round_level(picture, reach * step)
        _contours(axes, picture, level, step)
        _wanted(axes, picture, step)
        _tips(axes, picture, step)
        _circle(axes, picture, step, units)
        _key(sheet, level, picture, units)

    return drawn(_WIDTH, _HEIGHT, draw)


def _extent(picture: ClosingPicture) -> float:
    closing, aside = picture.closing, picture.sideways_to_throat
    return max(picture.throw, abs(closing.low), abs(closing.high), abs(aside.low), abs(aside.high))


def _round_level(picture: ClosingPicture, reach: float) -> float:
    """A round backlash that about half of the plane exceeds, mm."""
    seen = np.abs(picture.grid_closing) <= reach
    fields = [field[seen] for _, field in picture.contours]
    if not fields:
        return 0.0
    middle = max(float(np.median(np.concatenate([f.ravel() for f in fields]))), 1e-3)
    power = 10.0 ** math.floor(math.log10(middle))
    return min(_NICE, key=lambda nice: abs(nice * power - middle)) * power


def _contours(axes: Axes, picture: ClosingPicture, level: float, step: float) -> None:
    across, toward = picture.grid_sideways / step, picture.grid_closing / step
    for i, (kind, field) in enumerate(picture.contours):
        for value, colour, heavy in ((0.0, INK, 1.9), (level, ACCENT, 0.8)):
            lines = axes.contour(
                across,
                toward,
                field,
                levels=[value],
                colors=[colour],
                linestyles=[_DASHES[i % len(_DASHES)]],
                linewidths=[heavy],
            )
            at = -math.copysign(_LABEL_AT[i % len(_LABEL_AT)], picture.chosen_angle)
            _label(axes, lines.allsegs[0], folded(kind, 16, lines=1), colour, at)


def _label(
    axes: Axes, lines: list[NDArray[np.float64]], words: str, colour: str, place: float
) -> None:
    """Words on the line itself, at `place` parts of the half width so that none meet."""
    low, high = axes.get_xlim()
    inside = [line for line in lines if len(line)]
    if not inside:
        return
    points = np.concatenate(inside)
    points = points[np.all((points > low) & (points < high), axis=1)]
    if not len(points):
        return
    x, y = points[int(np.argmin(np.abs(points[:, 0] - place * high)))]
    axes.text(
        x,
        y,
        words,
        fontsize=SMALL - 0.5,
        color=colour,
        ha="center",
        va="center",
        bbox={"facecolor": "white", "edgecolor": "none", "pad": 0.5},
    )


def _wanted(axes: Axes, picture: ClosingPicture, step: float) -> None:
    from matplotlib.patches import Rectangle  # noqa: PLC0415

    closing, aside = picture.closing, picture.sideways_to_throat
    axes.add_patch(
        Rectangle(
            (aside.low / step, closing.low / step),
            (aside.high - aside.low) / step,
            (closing.high - closing.low) / step,
            facecolor=TINT,
            edgecolor=INK,
            linewidth=1.0,
            hatch="..",
            alpha=0.8,
            zorder=2.5,
            label="wanted, 95 % box",
        )
    )
    axes.plot(
        [aside.value / step],
        [closing.value / step],
        linestyle="none",
        marker="+",
        markersize=11,
        markeredgewidth=2.0,
        color=INK,
        zorder=4,
        label="wanted point",
    )


def _tips(axes: Axes, picture: ClosingPicture, step: float) -> None:
    if picture.tip_limit_closing is None:
        return
    limit, top = picture.tip_limit_closing / step, axes.get_ylim()[1]
    if limit >= top:
        return
    axes.axhspan(
        limit, top, facecolor="none", edgecolor=GREY, hatch="\\\\", linewidth=0.0, zorder=1
    )
    axes.axhline(limit, color=INK, linewidth=1.6)
    axes.text(
        axes.get_xlim()[0] * 0.97,
        limit,
        "tips touch above this line",
        fontsize=SMALL,
        va="bottom",
        bbox={"facecolor": "white", "edgecolor": "none", "pad": 0.8},
    )


def _circle(axes: Axes, picture: ClosingPicture, step: float, units: Units) -> None:
    from matplotlib.patches import Arc, Circle  # noqa: PLC0415

    throw, angle = picture.throw / step, picture.chosen_angle
    axes.add_patch(
        Circle(
            (0, 0), throw, fill=False, edgecolor=ACCENT, linewidth=2.2, label="reach of the throw"
        )
    )
    x, y = throw * math.sin(angle), throw * math.cos(angle)
    axes.plot([0, x], [0, y], color=INK, linewidth=1.2)
    axes.plot([0], [0], marker="o", markersize=4, color=INK)
    axes.annotate(
        "factory line",
        (0, 0),
        xytext=(math.copysign(5, x), -11),
        textcoords="offset points",
        ha="left" if x >= 0 else "right",
        fontsize=SMALL,
        bbox={"facecolor": "white", "edgecolor": "none", "pad": 0.5},
    )
    degrees = math.degrees(angle)
    axes.add_patch(
        Arc((0, 0), throw, throw, theta1=min(90 - degrees, 90), theta2=max(90 - degrees, 90))
    )
    axes.add_patch(
        Circle(
            (x, y),
            picture.fit_clearance / 2 / step,
            facecolor="white",
            edgecolor=INK,
            linewidth=1.6,
            zorder=5,
        )
    )
    words = "chosen\n" + shown(angle, "angle", resolution=math.radians(0.5), units=units)
    axes.annotate(
        words,
        (x, y),
        xytext=(math.copysign(9, x), 2),
        textcoords="offset points",
        ha="left" if x >= 0 else "right",
        va="bottom",
        fontweight="bold",
        bbox={"facecolor": "white", "edgecolor": "none", "pad": 0.8},
        zorder=6,
    )


def _key(sheet: Figure, level: float, picture: ClosingPicture, units: Units) -> None:
    throw = shown_both(picture.throw, resolution=0.001, units=units)
    clearance = shown_both(picture.fit_clearance, resolution=0.001, units=units)
    play = shown(level, "length", resolution=level or 0.001, units=units)
    words = (
        f"Heavy circle: where the throw of {throw} can put the worm line, from the factory line.",
        "Angle: from pointing at the wheel.",
        "Cross and dotted box: wanted point with its 95\u00a0% box.",
        f"Small ring: where a fit clearance of {clearance} lets it lie.",
        "Heavy black lines, shut: there the flanks touch.",
        f"Fine blue lines: there the backlash at the pitch circle is {play}.",
    )
    text = "\n\n".join(folded(line, 34) for line in words)
    sheet.text(0.68, 0.96, text, va="top", fontsize=SMALL, linespacing=1.35)
