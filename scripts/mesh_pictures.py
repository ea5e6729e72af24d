"""The pictures of the mesh pages: frame and signs, and the play against each move."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from wormwright.charts.sheet import ACCENT, GREY, INK, SMALL, TINT, drawn

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

Array = NDArray[np.float64]
Curves = Sequence[tuple[str, Array, dict[str, Array]]]
WAYS = {
    "hob-equal": (INK, "solid", 1.9),
    "oversize-hob": (ACCENT, (0, (6, 2)), 1.7),
    "helical": (INK, (0, (1.5, 1.5)), 1.7),
    "textbook law": (GREY, (0, (6, 2, 1.5, 2)), 1.2),
}


def law_svg(curves: Curves) -> str:
    """Three plots side by side, one for each way of moving the worm."""
    width, height = 170.0, 78.0

    def draw(sheet: Figure) -> None:
        first = None
        for i, (words, places, lines) in enumerate(curves):
            axes = sheet.add_axes((0.085 + i * 0.312, 0.27, 0.27, 0.66), sharey=first)
            first = first or axes
            for name, values in lines.items():
                colour, dashes, heavy = WAYS[name]
                axes.plot(
                    places, values, color=colour, linestyle=dashes, linewidth=heavy, label=name
                )
            axes.set_xlabel(words, fontsize=SMALL)
            axes.tick_params(labelsize=SMALL)
            axes.grid(visible=True, color="#cccccc", linewidth=0.5)
            axes.axhline(0.0, color=GREY, linewidth=0.7)
            axes.tick_params(labelleft=i == 0)
            if i == 0:
                axes.set_ylabel("Change of play at the pitch circle, µm", fontsize=SMALL)
        if first is not None:
            handles, names = first.get_legend_handles_labels()
            sheet.legend(handles, names, loc="lower center", ncols=4, frameon=False, fontsize=9.0)

    return drawn(width, height, draw)


def frame_svg() -> str:
    """Worm over wheel from the table top, and the worm as the wheel sees it."""
    width, height = 170.0, 92.0

    def draw(sheet: Figure) -> None:
        axes = sheet.add_axes((0.0, 0.0, 1.0, 1.0))
        axes.set_axis_off()
        axes.set_xlim(0.0, width)
        axes.set_ylim(0.0, height)
        axes.set_aspect("equal")
        _from_the_top(axes)
        _from_the_wheel(axes)

    return drawn(width, height, draw)


def _from_the_top(axes: Axes) -> None:
    turn = np.linspace(0.0, 2 * np.pi, 181)
    axes.text(4, 87, "Seen from the table top (+Z toward you)", fontweight="bold", fontsize=9)
    for r, heavy in ((26.0, 1.4), (4.0, 0.9)):
        axes.plot(40 + r * np.cos(turn), 32 + r * np.sin(turn), color=INK, linewidth=heavy)
    axes.text(40, 19, "wheel", ha="center", fontsize=SMALL)
    _worm(axes, 40, 66, lean=0.0)
    axes.text(40, 65, "worm", ha="center", va="center", fontsize=SMALL, bbox=_patch())
    _arrow(axes, (40, 32), (40, 48), "Y", (41.5, 46))
    _arrow(axes, (40, 32), (56, 32), "X", (56.5, 28.5))
    axes.plot([40], [32], marker="o", color=INK, markersize=3.5)
    axes.text(34, 33.5, "Z", fontsize=9)
    _arrow(axes, (66, 66), (66, 77), "da: apart +", (67.5, 74))
    _arrow(axes, (10, 58), (22, 58), "sx", (14, 53.5))
    axes.annotate(
        "",
        (22.5, 41.5),
        (29, 49.5),
        arrowprops={"arrowstyle": "->", "connectionstyle": "arc3,rad=0.25", "color": ACCENT},
    )
    axes.text(4, 46.5, "table +", fontsize=SMALL, color=ACCENT)
    axes.annotate(
        "",
        (61, 77.5),
        (64.5, 62),
        arrowprops={"arrowstyle": "->", "connectionstyle": "arc3,rad=0.3", "color": ACCENT},
    )
    axes.text(44, 77.5, "tilt +: +X end", fontsize=SMALL, color=ACCENT)
    axes.text(4, 1.5, "The worm drives the table + with its flanks that face \N{MINUS SIGN}X.",
              fontsize=SMALL)  # fmt: skip


def _from_the_wheel(axes: Axes) -> None:
    axes.text(94, 87, "Seen from the wheel (+Y away from you)", fontweight="bold", fontsize=9)
    _worm(axes, 126, 44, lean=3.2)
    _arrow(axes, (126, 44), (126, 72), "Z: table top", (128, 69))
    _arrow(axes, (126, 44), (162, 44), "X", (161, 46.5))
    axes.plot([126], [44], marker="x", color=INK, markersize=6)
    axes.text(121, 39, "Y", fontsize=9, bbox=_patch())
    _arrow(axes, (101, 56), (101, 70), "dz +", (91, 64))
    axes.annotate(
        "",
        (154, 30),
        (157, 41),
        arrowprops={"arrowstyle": "->", "connectionstyle": "arc3,rad=-0.3", "color": ACCENT},
    )
    axes.text(129, 26.5, "skew +: +X end to \N{MINUS SIGN}Z", fontsize=SMALL, color=ACCENT)
    axes.text(94, 10.0, "Threads of a right-hand worm lean this way:\n"
              "they gain along X as they fall along Z.",
              fontsize=SMALL, linespacing=1.35)  # fmt: skip


def _worm(axes: Axes, x: float, y: float, *, lean: float) -> None:
    """A worm of length 40 and outside 14, its threads leaning by so much."""
    half = 20.0
    axes.fill(
        [x - half, x + half, x + half, x - half], [y - 7, y - 7, y + 7, y + 7],
        facecolor=TINT, edgecolor=INK, linewidth=1.2,
    )  # fmt: skip
    for at in np.arange(-half + 4, half - 2, 5.0):
        axes.plot([x + at + lean / 2, x + at - lean / 2], [y - 7, y + 7], color=INK, linewidth=0.8)
    axes.plot([x - half - 5, x + half + 5], [y, y], color=GREY, linewidth=0.6, linestyle="-.")


def _arrow(
    axes: Axes, start: tuple[float, float], end: tuple[float, float], words: str,
    at: tuple[float, float],
) -> None:  # fmt: skip
    axes.annotate("", end, start, arrowprops={"arrowstyle": "-|>", "color": INK, "linewidth": 1.2})
    axes.text(*at, words, fontsize=9)


def _patch() -> dict[str, object]:
    return {"facecolor": "white", "edgecolor": "none", "pad": 0.6}
