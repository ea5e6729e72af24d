"""What stands beside a picture: its caption, what it shows in words, and its numbers."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from wormwright.job.blocks import (
    BluePicture,
    ClosingPlane,
    ContributorBars,
    DriveChart,
    PartDrawing,
    Plot,
    PolarMap,
    SectionPicture,
    Trace,
    UnitLabel,
)
from wormwright.job.result import Estimate
from wormwright.job.rotary import Units
from wormwright.packet.wording import (
    Shown,
    clean,
    estimate_shown,
    number_shown,
)

Pictured = (
    ContributorBars
    | PolarMap
    | Plot
    | ClosingPlane
    | SectionPicture
    | BluePicture
    | DriveChart
    | PartDrawing
    | UnitLabel
)

Curve = NDArray[np.float64]
_ROUND_THE_TURN = 12
_MOST_ROWS = 24
_HALF_DEGREE = math.radians(0.5)
_ONE_MINUTE = math.radians(1.0 / 60.0)
_LEAST_BAR = {"angle": _ONE_MINUTE, "length": 1e-3}
"""A whole bar is never shorter than this, so that a figure of nothing draws no long bar."""
_ROUGH = 0.1
_COARSE = 0.01
_FINE = 0.001


@dataclass(frozen=True, slots=True)
class Grid:
    """A table in which every cell is words, and a line that belongs under it."""

    caption: str
    columns: tuple[str, ...]
    rows: tuple[tuple[Shown, ...], ...]
    note: str = ""


@dataclass(frozen=True, slots=True)
class TextBar:
    """One bar for plain text: its length as part of the longest, 0..1, and its figure in words."""

    label: str
    found: float
    words: str
    predicted: float | None = None
    predicted_words: str = ""


@dataclass(frozen=True, slots=True)
class Figure:
    """A picture: `says` is what it shows in words, `numbers` its table, `source` what to draw.

    `carries` is true where the picture itself bears every number, so that no table is set
    beside it. `bars` stand in plain text for picture and table, `limit` is the last word there.
    """

    caption: str
    says: str
    numbers: Grid
    source: Pictured
    bars: tuple[TextBar, ...] = ()
    limit: str = ""
    carries: bool = False


def figure_of(block: Pictured, units: Units) -> Figure:
    """The words and numbers that go with a picture."""
    return _FIGURES[type(block)](block, units)


def _bars(block: ContributorBars, units: Units) -> Figure:
    foreseen = block.total_predicted is not None or any(b.predicted for b in block.bars)
    found = [block.total_found.value, *(bar.found.value for bar in block.bars)]
    dimension = block.total_found.dimension
    longest = max(*found, _LEAST_BAR[dimension])
    pairs = [(clean(bar.label), bar.found, bar.predicted) for bar in block.bars]
    pairs.append(("All together", block.total_found, block.total_predicted))
    rows = [_bar_row(*pair, foreseen=foreseen, units=units, like=longest) for pair in pairs]
    limit = ""
    if block.allowed is not None:
        allowed = number_shown(block.allowed, dimension, units, resolution=block.allowed / 10)
        rows.append((Shown("Allowed"), allowed) + ((Shown(""),) if foreseen else ()))
        limit = f"Allowed {allowed.line}"
    return Figure(
        caption=clean(block.caption),
        says="Bars of each cause, as found"
        + (" and as predicted after the plan" if foreseen else "")
        + ", with 95 % intervals.",
        numbers=Grid(
            block.measures,
            ("Cause", "Found", "Predicted") if foreseen else ("Cause", "Found"),
            tuple(rows),
        ),
        source=block,
        bars=tuple(_text_bar(*pair, longest, units) for pair in pairs),
        limit=limit,
        carries=True,
    )


def _text_bar(
    label: str,
    found: Estimate,
    predicted: Estimate | None,
    longest: float,
    units: Units,
) -> TextBar:
    words = estimate_shown(found, units, like=longest).line
    if predicted is None:
        return TextBar(label, found.value / longest, words)
    after = estimate_shown(predicted, units, like=longest).line
    return TextBar(label, found.value / longest, words, predicted.value / longest, after)


def _bar_row(
    label: str,
    found: Estimate,
    predicted: Estimate | None,
    *,
    foreseen: bool,
    units: Units,
    like: float,
) -> tuple[Shown, ...]:
    row = (Shown(label), estimate_shown(found, units, like=like))
    if not foreseen:
        return row
    after = Shown("") if predicted is None else estimate_shown(predicted, units, like=like)
    return (*row, after)


def _polar(block: PolarMap, units: Units) -> Figure:
    count, what, after = len(block.angles), block.what, block.after
    step = max(1, count // _ROUND_THE_TURN)
    curves = [(block.mean, block.low, block.high)]
    curves += [(after.mean, after.low, after.high)] if after else []
    like = max(float(block.high.max()), _ONE_MINUTE)
    rows = [
        (
            number_shown(float(block.angles[i]), "angle", units, resolution=_HALF_DEGREE),
            *(_on_the_map(curve, i, units, like) for curve in curves),
        )
        for i in range(0, count - count % step, step)
    ]
    tight = "The tight spot cannot be told from these readings."
    if block.tight is not None:
        tight = f"Tight spot at {estimate_shown(block.tight, units).line}."
    dots = f" and the {len(block.points_angle)} readings as dots" if len(block.points_angle) else ""
    then = f", as found and {after.name}" if after else ""
    title = f"{what[0].upper()}{what[1:]}"
    columns = ("Table angle", f"{title}, as found", f"{title}, {after.name}") if after else ()
    return Figure(
        caption=clean(block.caption),
        says=f"{title} round the turn of the table{then}, with its {block.band}{dots}. {tight}",
        numbers=Grid(
            f"{title} round the turn", columns or ("Table angle", title), tuple(rows), tight
        ),
        source=block,
    )


def _on_the_map(curve: tuple[Curve, Curve, Curve], i: int, units: Units, like: float) -> Shown:
    mean, low, high = (float(part[i]) for part in curve)
    here = Estimate(mean, (high - low) / 4, low, high, "angle", "map")
    return estimate_shown(here, units, like=like)


def _plot(block: Plot, units: Units) -> Figure:
    tabled = [t for t in block.traces if t.numbers]
    places = sorted({float(x) for trace in tabled for x in trace.x})
    step = max(1, -(-len(places) // _MOST_ROWS))
    like = max((float(np.abs(t.y).max(initial=0.0)) for t in block.traces), default=0.0)
    rows = tuple(
        (
            number_shown(x, block.x_dimension, units, resolution=_resolution(places)),
            *(_at(trace, x, block, units, like) for trace in tabled),
        )
        for x in places[::step]
    )
    columns = (block.x_name, *(trace.label for trace in tabled))
    return Figure(
        caption=clean(block.caption),
        says=clean(block.says),
        numbers=Grid(clean(block.y_name), tuple(clean(c) for c in columns), rows),
        source=block,
        carries=not tabled,
    )


def _resolution(places: list[float]) -> float:
    """The finest digit that tells neighbours of the table apart, to a tenth."""
    apart = min((b - a for a, b in pairwise(places)), default=0.0)
    return apart / 10 or max(abs(places[0]) if places else 0.0, 1.0) / 1000


def _at(trace: Trace, x: float, block: Plot, units: Units, like: float) -> Shown:
    there = np.flatnonzero(trace.x == x)
    if not len(there):
        return Shown("")
    y = float(trace.y[there].mean())
    if trace.half is None:
        return number_shown(y, block.y_dimension, units, resolution=like / 100 or None)
    half = float(trace.half[there].max())
    here = Estimate(y, half / 2, y - half, y + half, block.y_dimension, "plot")
    return estimate_shown(here, units, like=like)


def _plane(block: ClosingPlane, units: Units) -> Figure:
    picture = block.picture
    chosen = picture.chosen_angle
    rows: list[tuple[Shown, ...]] = [
        (Shown("Throw of the bushings"), _length(picture.throw, _FINE, units)),
        (Shown("Wanted closing"), estimate_shown(picture.closing, units, both=True)),
        (
            Shown("Sideways move to the throat centre"),
            estimate_shown(picture.sideways_to_throat, units, both=True),
        ),
        (
            Shown("Chosen angle, from pointing at the wheel"),
            number_shown(chosen, "angle", units, resolution=_HALF_DEGREE),
        ),
        (Shown("Closing there"), _length(picture.throw * math.cos(chosen), _COARSE, units)),
        (Shown("Sideways there"), _length(picture.throw * math.sin(chosen), _COARSE, units)),
        (Shown("Clearance of the fit"), _length(picture.fit_clearance, _FINE, units)),
    ]
    if picture.tip_limit_closing is not None:
        rows.append(
            (
                Shown("Tips touch at a closing of"),
                _length(picture.tip_limit_closing, _COARSE, units),
            )
        )
    rows.extend(
        (Shown(f"Sideways allowed, {clean(kind)}"), _length(allowed, _COARSE, units))
        for kind, allowed in picture.sideways_tolerance
    )
    return Figure(
        caption=clean(block.caption),
        says="Where the worm line can stand: the circle that the throw lets it reach, the wanted "
        "point with its 95 % box, contours of backlash, and the chosen angle.",
        numbers=Grid("Closing and sideways", ("What", "Size"), tuple(rows)),
        source=block,
    )


def _section(block: SectionPicture, units: Units) -> Figure:
    rows = (
        (Shown("Bushing outside"), _length(block.bushing_outside, _FINE, units)),
        (Shown("Bushing bore"), _length(block.bushing_bore, _FINE, units)),
        (Shown("Throw (drawn enlarged)"), _length(block.throw, _FINE, units)),
        (
            Shown("Angle from pointing at the wheel"),
            number_shown(block.angle, "angle", units, resolution=_HALF_DEGREE),
        ),
        (Shown("Worm outside"), _length(block.worm_outside, _COARSE, units)),
    )
    return Figure(
        caption=clean(block.caption),
        says="Section of the bushing in its bore, the throw drawn enlarged, with an arrow to the "
        "wheel.",
        numbers=Grid("The bushing in its bore", ("What", "Size"), rows),
        source=block,
        carries=True,
    )


def _blue(block: BluePicture, units: Units) -> Figure:
    film = number_shown(block.film, "length", units, resolution=_FINE).line
    rows = tuple(
        (
            Shown(clean(state.name)),
            Shown(clean(state.plus.words)),
            Shown(clean(state.minus.words)),
            Shown(clean(state.do)),
        )
        for state in block.states
    )
    return Figure(
        caption=clean(block.caption),
        says=f"Both flanks of a wheel tooth, hatched where a film of {film} marks; to hold against "
        "the tooth at the bench.",
        numbers=Grid(
            "Marks by flank",
            ("How the worm stands", "Flank that drives the table +", "Flank that drives −", "Do"),
            rows,
        ),
        source=block,
        carries=True,
    )


def _part(block: PartDrawing, units: Units) -> Figure:
    from wormwright.packet.part_sizes import part_rows  # noqa: PLC0415  (late: knows every part)

    return Figure(
        caption=clean(block.caption),
        says="Dimensioned drawing; the sheet lies in the folder drawings as well.",
        numbers=Grid("Sizes on the drawing", ("What", "Size"), part_rows(block.part, units)),
        source=block,
    )


def _drives(block: DriveChart, units: Units) -> Figure:
    from wormwright.packet.pictured_drives import drive_figure  # noqa: PLC0415  (few have one)

    return drive_figure(block, units)


def _label(block: UnitLabel, units: Units) -> Figure:  # noqa: ARG001  (a label has no figures)
    rows = tuple((Shown(clean(line)),) for line in block.lines)
    return Figure(
        caption=clean(block.caption),
        says=f"To cut out. The code says: {clean(block.code)}.",
        numbers=Grid("On the label", (clean(block.unit),), rows),
        source=block,
        carries=True,
    )


def _length(value: float, resolution: float, units: Units) -> Shown:
    return number_shown(value, "length", units, resolution=resolution, both=True)


_FIGURES: dict[type, Callable[..., Figure]] = {
    ContributorBars: _bars,
    PolarMap: _polar,
    Plot: _plot,
    ClosingPlane: _plane,
    SectionPicture: _section,
    BluePicture: _blue,
    DriveChart: _drives,
    PartDrawing: _part,
    UnitLabel: _label,
}
