"""Lines and points over an axis, or round the turn of the table much enlarged."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, cast

import numpy as np

from wormwright.charts.sheet import ACCENT, INK, SMALL, TINT, drawn, folded
from wormwright.job.blocks import Plot, Trace
from wormwright.job.rotary import Units
from wormwright.quantities import Dimension
from wormwright.quantities.units import unit_named

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure
    from matplotlib.projections.polar import PolarAxes

_WIDTH, _HEIGHT = 170.0, 92.0
_ROUND_HEIGHT = 104.0
_FLAT = (0.105, 0.155, 0.865, 0.75)
_DIAL = (0.04, 0.06, 0.58, 0.86)
_KEY_LEFT = 0.66
_INNER = 3.0
"""Radius of the circle of zero, in largest values."""

_UNITS: Mapping[tuple[Dimension, Units], tuple[tuple[float, str], ...]] = MappingProxyType(
    {
        ("angle", "mm"): ((0.0, "arcsec"), (1.4e-3, "arcmin"), (0.1, "deg")),
        ("angle", "in"): ((0.0, "arcsec"), (1.4e-3, "arcmin"), (0.1, "deg")),
        ("length", "mm"): ((0.0, "um"), (0.5, "mm")),
        ("length", "in"): ((0.0, "thou"), (2.54, "in")),
        ("torque", "mm"): ((0.0, "n·mm"), (1000.0, "n·m")),
        ("torque", "in"): ((0.0, "oz·in"), (1129.0, "in·lb")),
    }
)
"""Units of an axis, each from that largest value on."""
_PRINTED = MappingProxyType({"um": "µm", "n·mm": "N·mm", "n·m": "N·m"})

_MARKERS = MappingProxyType({"dots": "o", "hollow": "o", "crosses": "x"})


def plot_svg(block: Plot, units: Units) -> str:
    """The plot; table angles in degrees, other axes in the unit that fits their largest value."""
    if block.polar:
        return drawn(_WIDTH, _ROUND_HEIGHT, lambda sheet: _round(sheet, block, units))
    return drawn(_WIDTH, _HEIGHT, lambda sheet: _flat(sheet, block, units))


def _axis(dimension: Dimension, largest: float, units: Units) -> tuple[float, str]:
    """Size of the unit that an axis is divided in, and its name; 1 and none for bare numbers."""
    rows = _UNITS.get((dimension, units))
    if rows is None:
        return 1.0, ""
    name = next(name for least, name in reversed(rows) if largest >= least)
    unit = unit_named(name, dimension)
    if unit is None:
        raise ValueError(f"no unit {name!r} of {dimension}")
    return float(unit.scale), _PRINTED.get(name, name)


def _largest(block: Plot, *, across: bool = False) -> float:
    values = [t.x if across else t.y for t in block.traces]
    limits = [] if across else [abs(limit) for _, limit in block.limits]
    return max((float(np.abs(v).max(initial=0.0)) for v in values), default=0.0) or max(
        limits, default=1.0
    )


def _named(name: str, unit: str) -> str:
    return f"{name}, {unit}" if unit else name


def _flat(sheet: Figure, block: Plot, units: Units) -> None:
    x_step, x_unit = _axis(block.x_dimension, _largest(block, across=True), units)
    y_step, y_unit = _axis(block.y_dimension, _largest(block), units)
    axes = sheet.add_axes(_FLAT)
    for place, trace in enumerate(block.traces):
        _draw(axes, trace, place, (x_step, y_step))
    for label, limit in block.limits:
        axes.axhline(limit / y_step, color=INK, linewidth=1.0, linestyle=(0, (6, 3)))
        axes.annotate(
            label,
            (1.0, limit / y_step),
            xycoords=("axes fraction", "data"),
            xytext=(-3, 2),
            textcoords="offset points",
            ha="right",
            fontsize=SMALL,
            bbox={"facecolor": "white", "edgecolor": "none", "pad": 0.4},
        )
    if x_unit == "deg" and _largest(block, across=True) > 1.6:
        axes.set_xticks(_even_angles(float(max(t.x.max() for t in block.traces)) / x_step))
    axes.axhline(0.0, color=INK, linewidth=0.6)
    axes.set_xlabel(_named(block.x_name, x_unit))
    axes.set_ylabel(_named(block.y_name, y_unit))
    axes.grid(visible=True, color="#cccccc", linewidth=0.5)
    axes.set_axisbelow(True)
    axes.margins(y=0.12)
    for side in ("top", "right"):
        axes.spines[side].set_visible(False)
    sheet.legend(
        *axes.get_legend_handles_labels(),
        loc="upper center",
        bbox_to_anchor=(0.54, 1.0),
        ncols=min(4, len(block.traces)),
        frameon=False,
        fontsize=SMALL,
    )


def _even_angles(largest: float) -> list[int]:
    step = 45 if largest > 100 else 15
    return list(range(0, int(largest) + step, step))


def _look(place: int) -> Mapping[str, Any]:
    """First trace in the accent and heavy, others in ink and thin: told apart without colour."""
    return {"color": ACCENT, "linewidth": 1.8} if place == 0 else {"color": INK, "linewidth": 1.1}


def _draw(
    axes: Axes, trace: Trace, place: int, steps: tuple[float, float], *, base: float = 0.0
) -> None:
    """One trace in the units of the axes, the radius counted from `base` round the turn."""
    x, y = trace.x / steps[0], trace.y / steps[1]
    half = None if trace.half is None else trace.half / steps[1]
    look, label = dict(_look(place)), folded(trace.label, 40)
    if trace.look == "bars":
        width = 0.5 * float(np.diff(np.unique(x)).min(initial=1.0 if len(x) < 2 else np.inf))
        axes.bar(
            x,
            y,
            width,
            yerr=half,
            facecolor=TINT if place == 0 else "white",
            edgecolor=INK,
            hatch="" if place == 0 else "////",
            linewidth=0.8,
            capsize=2.5,
            label=label,
        )
        return
    if trace.look in _MARKERS:
        if half is not None:
            axes.errorbar(
                x, y + base, yerr=half, fmt="none", ecolor=INK, capsize=2.5, linewidth=0.9
            )
        look.pop("linewidth")
        marker = _MARKERS[trace.look]
        if trace.look == "hollow":
            look["markerfacecolor"] = "white"
        axes.plot(x, y + base, linestyle="none", marker=marker, markersize=4.5, label=label, **look)
        return
    if half is not None:
        axes.fill_between(
            x, y + base - half, y + base + half, facecolor=TINT, edgecolor=ACCENT, linewidth=0.5
        )
    line = "solid" if trace.look == "line" else (0, (5, 3))
    axes.plot(x, y + base, linestyle=line, label=label, **look)


def _round(sheet: Figure, block: Plot, units: Units) -> None:
    axes = cast("PolarAxes", sheet.add_axes(_DIAL, projection="polar"))
    largest = _largest(block)
    step, unit = _axis(block.y_dimension, largest, units)
    inner = _INNER * largest / step
    axes.set_theta_zero_location("N")
    axes.set_theta_direction(1)
    axes.set_thetagrids(range(0, 360, 30))
    for place, trace in enumerate(block.traces):
        _draw(axes, trace, place, (1.0, step), base=inner)
    full = np.linspace(0.0, 2 * np.pi, 181)
    axes.plot(full, np.full_like(full, inner), color=INK, linewidth=0.8, linestyle=(0, (2, 2)))
    _rings(axes, inner, largest / step)
    sheet.text(_KEY_LEFT, 0.93, folded(_named(block.y_name, unit), 34), va="top")
    sheet.text(
        _KEY_LEFT,
        0.80,
        "Dotted circle: zero; outside it plus.\nMuch enlarged. 0° is up; table angles\n"
        "grow anticlockwise, seen facing the\ntable.",
        va="top",
        fontsize=SMALL,
        linespacing=1.4,
    )
    sheet.legend(
        *axes.get_legend_handles_labels(),
        loc="upper left",
        bbox_to_anchor=(_KEY_LEFT - 0.02, 0.60),
        frameon=False,
        fontsize=SMALL,
    )


def _rings(axes: PolarAxes, inner: float, largest: float) -> None:
    """Rings at plus and minus a round value, named by the error and not by the radius."""
    from matplotlib.ticker import MaxNLocator  # noqa: PLC0415

    values = [v for v in MaxNLocator(5).tick_values(-largest, largest) if abs(v) <= 1.01 * largest]
    axes.set_ylim(0.0, inner + 1.25 * largest)
    axes.set_rgrids(
        [inner + v for v in values if v],
        [f"{v:+g}".replace("-", "−") for v in values if v],
        angle=345.0,
    )
    axes.tick_params(axis="y", labelsize=SMALL)
    axes.grid(visible=True, color="#bbbbbb", linewidth=0.5)
    for label in axes.get_yticklabels():
        label.set_bbox({"facecolor": "white", "edgecolor": "none", "pad": 0.4})
