"""Both flanks of a wheel tooth with the blue a film leaves, for each way the worm may stand."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from wormwright.charts.sheet import ACCENT, GREY, INK, TINT, drawn, folded
from wormwright.job.blocks import BluePicture, BlueState, FlankMark
from wormwright.job.rotary import Units
from wormwright.quantities import shown

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

Array = NDArray[np.float64]
Corner = tuple[float, float]
Inked = tuple[Array, Array, Array]
"""Where the places of a flank lie on the paper, across and down, and their gap."""

_WIDTH = 170.0
_HEAD, _ROW, _COLUMN = 11.0, 41.0, 86.0
_FLANK, _TALL, _GAP = 35.0, 14.0, 5.0
_LEFT, _TOP = 6.0, 9.5
"""Of the first flank within its cell, from the left and from the top, mm on paper."""
_WORDS, _LINES = 60, 3
_NAME, _PLAIN, _FINE = 9.0, 7.6, 7.0
_FAR = 10.0
"""A gap beyond so many films is drawn alike."""


def blue_svg(block: BluePicture, units: Units) -> str:
    """Cells two abreast, each with the plus and the minus flank, tip up and +Z to the right."""
    rows = -(-len(block.states) // 2)
    height = _HEAD + _ROW * rows

    def draw(sheet: Figure) -> None:
        axes = sheet.add_axes((0.0, 0.0, 1.0, 1.0))
        axes.set_axis_off()
        axes.set_xlim(0.0, _WIDTH)
        axes.set_ylim(height, 0.0)
        film = shown(block.film, "length", resolution=0.001, units=units)
        axes.text(
            0.0,
            4.0,
            f"Hatched: where a film of {film} marks while the wheel turns past. The table top (+Z) "
            "is to the right\non both flanks; the height of the tooth is stretched.",
            fontsize=_PLAIN,
            va="center",
            linespacing=1.4,
        )
        flanks: list[Inked] = []
        for place, state in enumerate(block.states):
            row, column = divmod(place, 2)
            flanks += _cell(axes, block, state, (column * _COLUMN, _HEAD + row * _ROW))
        _blue(axes, flanks, block.film)

    return drawn(_WIDTH, height, draw)


def _cell(axes: Axes, block: BluePicture, state: BlueState, at: Corner) -> list[Inked]:
    left, top = at
    inked = []
    axes.text(left, top + 2.0, folded(state.name, 46, lines=1), fontsize=_NAME, fontweight="bold")
    sides = (
        (state.plus, "drives the table +", block.plus_enters_at),
        (state.minus, "drives the table \N{MINUS SIGN}", -block.plus_enters_at),
    )
    for i, (mark, says, enters) in enumerate(sides):
        x, y = left + _LEFT + i * (_FLANK + _GAP), top + _TOP
        axes.text(x + _FLANK / 2, y - 2.4, says, fontsize=_FINE, ha="center")
        inked.append(_flank(axes, mark, state.crest, block.film, (x, y)))
        ends = ("leaving", "entering") if enters > 0 else ("entering", "leaving")
        for words, end, side in zip(ends, (x, x + _FLANK), ("left", "right"), strict=True):
            axes.text(end, y + _TALL + 3.4, words, fontsize=_FINE, ha=side)
    for words, y in (("tip", top + _TOP + 2.2), ("root", top + _TOP + _TALL)):
        axes.text(left, y, words, fontsize=_FINE)
    axes.text(
        left,
        top + _TOP + _TALL + 5.2,
        folded(state.do, _WORDS, lines=_LINES),
        fontsize=_PLAIN,
        va="top",
        linespacing=1.25,
    )
    return inked


def _flank(
    axes: Axes, mark: FlankMark, crest: NDArray[np.float64] | None, film: float, at: Corner
) -> Inked:
    """The outline and the crest's line; hands back where the gap lies on the paper."""
    left, top = at
    half, tall = float(np.abs(mark.across).max()), float(mark.tip.max())

    def up(height: Array) -> Array:
        return top + (1 - height / tall) * _TALL

    x, y = left + (mark.across / half + 1) * _FLANK / 2, up(mark.height)
    z = x[:, 0]
    if crest is not None:
        marked = np.where(crest < film, up(mark.root), np.nan)
        axes.plot(z, marked, color=ACCENT, linewidth=4.5, solid_capstyle="butt")
    outline = [up(mark.tip), up(mark.root)[::-1], up(mark.tip)[:1]]
    axes.plot([*z, *z[::-1], z[0]], np.concatenate(outline), color=INK, linewidth=1.1)
    axes.plot([left + _FLANK / 2] * 2, [top - 0.6, top + _TALL + 0.6], color=GREY, linewidth=0.4)
    return x, y, np.minimum(mark.gap, _FAR * film)


def _blue(axes: Axes, flanks: list[Inked], film: float) -> None:
    """The blue of all flanks in one go, a row without a number between two of them."""
    for count in sorted({x.shape[1] for x, _, _ in flanks}):
        alike = [flank for flank in flanks if flank[0].shape[1] == count]
        apart = np.full((1, count), np.nan)
        x, y = (np.concatenate([np.concatenate([f[i], f[i][-1:]]) for f in alike]) for i in (0, 1))
        gap = np.ma.masked_invalid(np.concatenate([np.concatenate([f[2], apart]) for f in alike]))
        if gap.min() >= film:
            continue
        inked = axes.contourf(x, y, gap, levels=[-1.0, film], colors=[TINT], hatches=["//////"])
        inked.set_edgecolor(ACCENT)
        inked.set_linewidth(0.0)
        axes.contour(x, y, gap, levels=[film], colors=[ACCENT], linewidths=[0.9])


__all__ = ["blue_svg"]
