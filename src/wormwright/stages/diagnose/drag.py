"""Drag taken apart: bearings, seals and preload; table; mesh; tight spot; and the rock's word."""

from __future__ import annotations

import math
import statistics

import numpy as np

from wormwright.bench import Bench, Figure, noise
from wormwright.bench.efficiency import mesh_efficiency
from wormwright.core.drag import DragParts, Torque, drag_parts, table_drag_at_worm
from wormwright.core.drag_map import Place, peak_over_median, place_of_peak, places_agree
from wormwright.job.findings import Drag, Figured, TightSpot
from wormwright.job.pair import WormPair
from wormwright.job.reading import Reading
from wormwright.job.result import Estimate
from wormwright.stages.diagnose.wording import estimate_from, words_of

FEWEST_PLACES = 6
SHARP = 2.0
"""Highest drag of a turn over its median that good work takes (common practice)."""

NO_PLAY = 0.002
"""Worm end play below this may hide a preload, mm."""


def drag_of(bench: Bench, pair: WormPair, tight_spot: TightSpot) -> Drag:
    """Drag at the worm and what makes it, from whatever of it was read."""
    inside, free = bench.figure("drag_in_mesh"), bench.figure("drag_out_of_mesh")
    at_rest = _at_the_worm_alone(bench)
    table = bench.figure("drag_table")
    parts: list[Figured] = []
    words: list[str] = []
    if inside:
        parts.append(_part("in_mesh", "drag at the worm, in mesh", inside.value, inside.u))
    at_worm = _table_at_worm(table, pair) if table else None
    if free:
        label = "worm bearings, seals and preload (out of mesh)"
        parts.append(_part("out_of_mesh", label, free.value, free.u))
        parts += at_rest
        words.append(_preload_words(bench, told={p.key for p in at_rest}))
    if table:
        label = "table bearing and its seal, at the table"
        parts.append(_part("table", label, table.value, table.u))
    if at_worm:
        label = "table bearing and its seal, as the worm feels it"
        parts.append(_part("table_at_worm", label, at_worm.value, at_worm.u))
    if inside and free:
        split = drag_parts(
            in_mesh=Torque(inside.value, inside.u),
            out_of_mesh=Torque(free.value, free.u),
            table=at_worm or Torque(0.0, 0.0),
        )
        parts.append(_part("mesh", _MESH[at_worm is not None], split.mesh.value, split.mesh.u))
        words.append(_mesh_words(split, table_read=at_worm is not None))
    elif inside:
        words.append("Mesh and bearings are not told apart: read the drag out of mesh as well.")
    return _round_the_turn(bench.of("drag_in_mesh"), tuple(parts), words, tight_spot)


_MESH = {
    True: "mesh alone",
    False: "mesh and table together",
}


def _part(key: str, label: str, value: float, u: float) -> Figured:
    return Figured(key, label, estimate_from(value, u, "torque", "mean of readings"))


def _table_at_worm(table: Figure, pair: WormPair) -> Torque:
    return table_drag_at_worm(
        Torque(table.value, table.u), ratio=pair.ratio, efficiency=mesh_efficiency(pair)
    )


def _at_the_worm_alone(bench: Bench) -> list[Figured]:
    """Drag out of mesh parted into preload, seals and the rest, as far as the steps were read."""
    steps = ("drag_out_of_mesh", "drag_preload_slack", "drag_seals_off")
    free, slack, bare = (bench.figure(kind) for kind in steps)
    out = []
    if free and slack:
        lost, u = free.value - slack.value, math.hypot(free.u, slack.u)
        out.append(_part("preload", "of that, preload of the worm bearings", lost, u))
    before = slack or free
    if before and bare:
        lost, u = before.value - bare.value, math.hypot(before.u, bare.u)
        out.append(_part("seals", _SEALS[slack is not None], lost, u))
        out.append(_part("bearings", "of that, bearings and grease", bare.value, bare.u))
    return out


_SEALS = {True: "of that, seals", False: "of that, seals and preload together"}


def _preload_words(bench: Bench, *, told: set[str]) -> str:
    """Whether a preload can be part of the drag out of mesh: not while there is end play."""
    play = bench.figure("worm_end_play")
    if "preload" in told and (play is None or play.value - 2 * play.u <= NO_PLAY):
        return "What drags out of mesh is told apart by letting off one thing at a time."
    if play is None:
        return (
            "Seals and preload cannot be told apart without the worm end play: a worm that has end "
            "play has no preload."
        )
    if play.value - 2 * play.u > NO_PLAY and "preload" in told:
        return (
            "The worm has end play, so its bearings are not preloaded: what slackening them took "
            "off is the scatter of such readings, or grease and seal lips that changed between."
        )
    if play.value - 2 * play.u > NO_PLAY:
        return (
            "The worm has end play, so its bearings are not preloaded: out of mesh it is seals, "
            "grease and bearing friction alone that drag."
        )
    return (
        "The worm has no end play to speak of, so a preload may be part of the drag out of mesh; "
        "slacken it until end play just shows and read again: the difference is the preload's."
    )


def _mesh_words(split: DragParts, *, table_read: bool) -> str:
    if split.mesh_below_zero:
        return (
            "The drag in mesh is below that of its parts: the series do not belong together. Read "
            "them again with the same grease, temperature and preload."
        )
    share = split.mesh.value / split.in_mesh.value if split.in_mesh.value > 0 else 0.0
    of = "The mesh" if table_read else "The mesh with the table"
    return f"{of} makes {max(0.0, share):.0%} of the drag in mesh."


def _round_the_turn(
    readings: tuple[Reading, ...],
    parts: tuple[Figured, ...],
    words: list[str],
    tight_spot: TightSpot,
) -> Drag:
    """The drag map: how sharp, where, and whether the rock names the same place."""
    by_place: dict[int, list[tuple[float, float]]] = {}
    for r in readings:
        if r.value is not None and r.table_angle is not None:
            mark = round(math.degrees(r.table_angle)) % 360
            by_place.setdefault(mark, []).append((r.value, noise(r)))
    if len(by_place) < FEWEST_PLACES:
        if by_place:
            words.append("Read the drag at 6 table positions or more to see how sharp it peaks.")
        return Drag(parts, words=tuple(words))
    angles = np.radians(np.array(sorted(by_place), float))
    pairs = [by_place[mark] for mark in sorted(by_place)]
    torque = np.array([statistics.fmean(v for v, _ in one) for one in pairs])
    u = statistics.fmean(math.hypot(*(n for _, n in one)) / len(one) for one in pairs)
    ratio = peak_over_median(torque, u=u)
    place = place_of_peak(angles, torque, u=u)
    extra = float(torque.max() - np.median(torque))
    peak = Figured(
        "tight_spot",
        "tight spot: highest drag above the median of the turn",
        estimate_from(extra, 1.5 * u, "torque", "drag round the turn"),
    )
    sharp = estimate_from(ratio.value, ratio.u, "ratio", "drag round the turn")
    at = _place_estimate(place)
    agreement = _agreement(place, tight_spot)
    words += _peak_words(sharp, at, agreement, tight_spot)
    return Drag((*parts, peak), sharp, at, agreement, tuple(words))


def _place_estimate(place: Place) -> Estimate | None:
    half = 1.96 * place.u
    if half > math.pi / 2:
        return None
    return Estimate(
        place.angle, place.u, place.angle - half, place.angle + half, "angle", "centre of the peak"
    )


def _agreement(place: Place, spot: TightSpot) -> str:
    if spot.angle is None:
        return "cannot tell"
    return places_agree(place, Place(spot.angle.value, spot.angle.u))


def _peak_words(sharp: Estimate, at: Estimate | None, agreement: str, spot: TightSpot) -> list[str]:
    out = []
    if sharp.low > SHARP:
        out.append(
            f"The drag peaks at {words_of(sharp)} times its median; more than {SHARP:g} binds when "
            "cold. Do not close the mesh further before the cause is found."
        )
    if at is None:
        out.append("The drag shows no peak above its noise, so it names no tight spot.")
        return out
    here = f"The drag is highest at {math.degrees(at.value):.0f}° of the table"
    if spot.angle is None:
        out.append(f"{here}; the rock names no tight spot to compare it with.")
    elif agreement == "agree":
        out.append(f"{here}, where the rock is tight as well: the wheel runs out there.")
    elif agreement == "differ":
        out.append(
            f"{here}, but the rock is tight at {math.degrees(spot.angle.value):.0f}°: that drag is "
            "not lack of play. Look there for a burr, dirt, a damaged tooth or the table bearing."
        )
    else:
        out.append(f"{here}, known too poorly to compare with the rock.")
    return out
