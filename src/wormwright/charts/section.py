"""The bushing in its bore, to scale, with the throw drawn enlarged and said so."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from wormwright.charts.sheet import ACCENT, INK, SMALL, TINT, drawn, folded
from wormwright.job.blocks import SectionPicture
from wormwright.job.rotary import Units
from wormwright.quantities import shown, shown_both

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure
    from matplotlib.path import Path

_WIDTH, _HEIGHT = 170.0, 80.0
_PLOT = (0.0, 0.0, 0.56, 1.0)
_ENLARGED = (50, 20, 10, 5, 2)
_WALL_KEPT = 0.35
_HOUSING = 1.22
_VIEW, _ASIDE = 1.95, 1.3
_POINTS = 121


def section_svg(block: SectionPicture, units: Units) -> str:
    """Housing bore, bushing, bearing bore, worm outline, throw, angle, and where the wheel is."""
    times = enlargement(block)

    def draw(sheet: Figure) -> None:
        axes = sheet.add_axes(_PLOT)
        axes.set_xlim(*_reach(block, math.cos(block.wheel_direction)))
        axes.set_ylim(*_reach(block, math.sin(block.wheel_direction)))
        axes.set_aspect("equal")
        axes.set_axis_off()
        _metal(axes, block, times)
        _wheel(axes, block)
        _throw(axes, block, times, units)
        _key(sheet, block, times, units)

    return drawn(_WIDTH, _HEIGHT, draw)


def enlargement(block: SectionPicture) -> int:
    """How many times the throw is enlarged: the most that leaves a visible thin wall."""
    wall = (block.bushing_outside - block.bushing_bore) / 2
    room = (1 - _WALL_KEPT) * wall
    return next((n for n in _ENLARGED if n * abs(block.throw) <= room), 1)


def _reach(block: SectionPicture, towards_wheel: float) -> tuple[float, float]:
    """How far the picture goes either way along an axis: further where the wheel is."""
    radius = block.bushing_outside / 2
    arrow = _VIEW * radius * towards_wheel
    return min(arrow, -_ASIDE * radius), max(arrow, _ASIDE * radius)


def _centre(block: SectionPicture, times: int) -> tuple[float, float]:
    direction = block.wheel_direction + block.angle
    return (
        times * block.throw * math.cos(direction),
        times * block.throw * math.sin(direction),
    )


def _metal(axes: Axes, block: SectionPicture, times: int) -> None:
    from matplotlib.patches import Circle, PathPatch  # noqa: PLC0415

    outside, bore = block.bushing_outside / 2, block.bushing_bore / 2
    centre = _centre(block, times)
    housing = _ring((0.0, 0.0), _HOUSING * outside, (0.0, 0.0), outside)
    bushing = _ring((0.0, 0.0), outside, centre, bore)
    axes.add_patch(PathPatch(housing, facecolor="white", edgecolor="#999999", hatch="\\\\"))
    axes.add_patch(PathPatch(bushing, facecolor=TINT, edgecolor=INK, hatch="////", linewidth=1.6))
    axes.add_patch(
        Circle(
            centre,
            block.worm_outside / 2,
            fill=False,
            edgecolor=ACCENT,
            linewidth=1.3,
            linestyle=(0, (9, 3, 2, 3)),
        )
    )


def _ring(
    middle: tuple[float, float], outer: float, hole: tuple[float, float], inner: float
) -> Path:
    from matplotlib.path import Path as Outline  # noqa: PLC0415

    turn = np.linspace(0.0, 2 * math.pi, _POINTS)
    circle = np.column_stack([np.cos(turn), np.sin(turn)])
    rim = Outline(np.asarray(middle) + outer * circle, closed=True)
    bore = Outline(np.asarray(hole) + inner * circle[::-1], closed=True)
    return Outline.make_compound_path(rim, bore)


def _wheel(axes: Axes, block: SectionPicture) -> None:
    radius = block.bushing_outside / 2
    x, y = math.cos(block.wheel_direction), math.sin(block.wheel_direction)
    start, end = _HOUSING * radius * 1.02, _VIEW * radius * 0.90
    axes.annotate(
        "",
        (end * x, end * y),
        xytext=(start * x, start * y),
        arrowprops={"arrowstyle": "-|>", "linewidth": 2.4, "color": INK, "mutation_scale": 18},
    )
    aside = abs(x) > abs(y)
    edge = 0.97 * _VIEW * radius
    axes.text(
        math.copysign(edge, x) if aside else -0.12 * radius,
        0.5 * (start + end) * y + (0.12 * radius if aside else 0.0),
        "to the wheel",
        ha=("left" if x < 0 else "right") if aside else "right",
        va="bottom" if aside else "center",
        fontweight="bold",
        bbox={"facecolor": "white", "edgecolor": "none", "pad": 0.8},
    )


def _throw(axes: Axes, block: SectionPicture, times: int, units: Units) -> None:
    from matplotlib.patches import Arc  # noqa: PLC0415

    radius = block.bushing_outside / 2
    centre, direction = _centre(block, times), block.wheel_direction + block.angle
    for (x, y), cross, colour in (((0.0, 0.0), "+", INK), (centre, "x", ACCENT)):
        axes.plot([x], [y], marker=cross, markersize=12, markeredgewidth=1.5, color=colour)
    far = 0.62 * radius
    for towards, style in ((block.wheel_direction, (0, (4, 3))), (direction, "solid")):
        axes.plot(
            [0.0, far * math.cos(towards)],
            [0.0, far * math.sin(towards)],
            color=INK,
            linewidth=1.0,
            linestyle=style,
        )
    low, high = sorted((math.degrees(block.wheel_direction), math.degrees(direction)))
    axes.add_patch(Arc((0, 0), 0.9 * radius, 0.9 * radius, theta1=low, theta2=high))
    between = block.wheel_direction + block.angle / 2
    axes.text(
        0.52 * radius * math.cos(between),
        0.52 * radius * math.sin(between),
        shown(block.angle, "angle", resolution=math.radians(0.5), units=units),
        ha="center",
        va="center",
        fontweight="bold",
        bbox={"facecolor": "white", "edgecolor": "none", "pad": 0.8},
    )


def _key(sheet: Figure, block: SectionPicture, times: int, units: Units) -> None:
    def size(value: float, resolution: float) -> str:
        return shown_both(value, resolution=resolution, units=units)

    scale = f", drawn {times} times too large" if times > 1 else ""
    words = (
        f"Bushing outside {size(block.bushing_outside, 0.001)}, in the housing bore",
        f"Bearing bore {size(block.bushing_bore, 0.001)}",
        f"Throw {size(block.throw, 0.001)}{scale}; all else to scale",
        "Upright cross: centre of the housing bore. Slanted cross: centre of the bearing bore, "
        "the new worm line",
        f"Chain line: outside of the worm, {size(block.worm_outside, 0.01)}, behind the bushing",
        "Angle: from pointing at the wheel to the throw",
    )
    text = "\n\n".join(folded(line, 40) for line in words)
    sheet.text(0.58, 0.95, text, va="top", fontsize=SMALL + 0.5, linespacing=1.35)
