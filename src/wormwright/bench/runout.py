"""Runout of face, register and bar: offset, tilt and lobes, where they stand out, what to do.

A direction is the table angle at which the high place stands under the indicator.
"""

from __future__ import annotations

import math
import statistics
from collections.abc import Iterator
from dataclasses import dataclass

from wormwright.bench.figures import Bench, noise
from wormwright.core.runout import Lobe, places_of, runout_parts
from wormwright.core.runout import Runout as Trace
from wormwright.core.runout_causes import skim_to_level
from wormwright.core.turn_vector import TurnVector
from wormwright.job.findings import Lobes, Runout
from wormwright.job.reading import Reading
from wormwright.job.result import Estimate
from wormwright.job.rotary import Units
from wormwright.quantities import Dimension, shown

FEWEST_PLACES = 3

INWARD = ("bore", "taper")
"""Surfaces felt from inside: the wall comes nearer where the centre stands away."""

NOT_TURNED = ("as-cast face", "rough rim")
"""Surfaces whose runout says nothing of the axis."""

LOBE_NAMES = {2: "oval", 3: "three-lobed (a three-jaw pinches like that)"}


@dataclass(frozen=True, slots=True)
class SetUp:
    """One series: kind, surface, where along radius, height or bar (mm), which grip, its trace.

    `angles` (rad) and `values` (mm) are the readings as they were taken, with their rows.
    """

    kind: str
    surface: str
    place: float
    grip: int
    trace: Trace
    angles: tuple[float, ...]
    values: tuple[float, ...]
    rows: tuple[int, ...]

    @property
    def vector(self) -> TurnVector:
        """Offset of the centre (register, bar) or high side (face), mm."""
        found = self.trace.eccentricity
        return found.times(-1.0) if self.surface in INWARD else found


def set_ups_of(bench: Bench) -> tuple[SetUp, ...]:
    """Every series of runout readings that has places enough, taken apart."""
    series: dict[tuple[str, str, float, int], list[Reading]] = {}
    for kind, condition in (
        ("face_runout", "radius"),
        ("register_runout", "z"),
        ("bar_runout", "z"),
    ):
        for r in bench.of(kind):
            if r.value is None or r.table_angle is None:
                continue
            place = r.number(condition) or 0.0
            key = (kind, r.said("surface") or "", place, round(r.number("grip") or 1))
            series.setdefault(key, []).append(r)
    return tuple(_set_ups(series))


def _set_ups(series: dict[tuple[str, str, float, int], list[Reading]]) -> Iterator[SetUp]:
    for (kind, surface, place, grip), rows in sorted(series.items()):
        angles = [r.table_angle for r in rows if r.table_angle is not None]
        values = [r.value for r in rows if r.value is not None]
        if len(places_of(angles)) < FEWEST_PLACES:
            continue
        u = math.sqrt(statistics.fmean(noise(r) ** 2 for r in rows))
        try:
            trace = runout_parts(angles, values, reading_u=u)
        except ValueError:  # places on one side of the turn only: nothing can be told
            continue
        seqs = tuple(r.seq for r in rows)
        yield SetUp(kind, surface, place, grip, trace, tuple(angles), tuple(values), seqs)


def runouts_of(set_ups: tuple[SetUp, ...], units: Units) -> tuple[Runout, ...]:
    """Each series as offset, direction, slope and lobes, with what to do about it."""
    return tuple(_runout(s, units) for s in set_ups)


def _runout(one: SetUp, units: Units) -> Runout:
    vector = one.vector
    is_face = one.kind == "face_runout" and one.place > 0
    slope = vector.times(1 / one.place) if is_face else None
    return Runout(
        key=one.kind.removesuffix("_runout"),
        surface=name_of(one, units),
        swing=one.trace.swing,
        eccentricity=size_of(vector, "length"),
        high_at=direction_of(vector),
        slope=size_of(slope, "angle") if slope else None,
        slope_at=direction_of(slope) if slope else None,
        lobes=tuple(_lobes(lobe) for lobe in one.trace.lobes if lobe.stands_out),
        do=_do(one, units),
    )


def name_of(one: SetUp, units: Units) -> str:
    """What was felt and where, in words."""
    kind = one.kind.removesuffix("_runout")
    where = shown(one.place, "length", resolution=1.0, units=units) if one.place else ""
    if one.kind == "bar_runout":
        grip = f", grip {one.grip}" if one.grip > 1 else ""
        return f"bar {where or 'at the jaws'} out{grip}" if where else f"bar at the jaws{grip}"
    surface = one.surface or ("table face" if kind == "face" else kind)
    at = "radius" if kind == "face" else "height"
    return f"{surface} at {at} {where}" if where else surface


def size_of(vector: TurnVector, dimension: Dimension) -> Estimate:
    """Size of a vector with an interval that does not go below zero."""
    size, half = vector.size, 1.96 * vector.u
    return Estimate(size, vector.u, max(0.0, size - half), size + half, dimension, "once per turn")


def direction_of(vector: TurnVector) -> Estimate | None:
    """Direction of a vector, None while it is not proven to be more than noise."""
    if not vector.stands_out:
        return None
    at, half = vector.direction, 1.96 * vector.direction_u
    return Estimate(at, vector.direction_u, at - half, at + half, "angle", "once per turn")


def _lobes(lobe: Lobe) -> Lobes:
    half, size, at = 1.96 * lobe.u, lobe.amplitude, lobe.first_high
    u = lobe.u / size / lobe.order
    return Lobes(
        lobe.order,
        Estimate(size, lobe.u, max(0.0, size - half), size + half, "length", "lobes"),
        Estimate.normal(at, u, "angle", "lobes"),
    )


def _do(one: SetUp, units: Units) -> str:
    """What to skim, shim or move, with its amount and direction."""
    if one.surface in NOT_TURNED:
        return "An unturned surface says nothing of the axis: read a machined one."
    vector = one.vector
    if not vector.stands_out:
        return "Nothing: no runout stands out of the noise." + _lobe_words(one)
    at = f"{math.degrees(vector.direction):.0f}°"
    opposite = f"{math.degrees(vector.direction + math.pi) % 360:.0f}°"
    if one.kind == "face_runout":
        return _face_do(one, at, opposite, units) + _lobe_words(one)
    size = shown(vector.size, "length", u=vector.u, units=units)
    if one.kind == "register_runout":
        return (
            f"Its centre stands {size} off toward {at}. Bearings first; then move an adjustable "
            f"spigot that much toward {opposite}, or skim it in place." + _lobe_words(one)
        )
    return (
        f"Here the bar stands {size} off toward {at}: re-seat and wipe first, grip again, "
        "then see offset and tilt below." + _lobe_words(one)
    )


def _face_do(one: SetUp, at: str, opposite: str, units: Units) -> str:
    vector = one.vector
    depth = skim_to_level(vector.times(1 / one.place), face_radius=one.place)
    swing = shown(depth, "length", u=2 * vector.u, units=units)
    if one.surface in ("adapter face", "chuck face"):
        return (
            f"Clean the seat and look again; then a shim of {swing} under its low side at "
            f"{opposite}, tapering to nothing at {at}, or skim it in place."
        )
    return (
        f"Table bearing first; what then is left comes off in place: {swing} at {at} at that "
        f"radius, nothing at {opposite}. A shim under the work at {opposite} does as well."
    )


def _lobe_words(one: SetUp) -> str:
    seen = [lobe.order for lobe in one.trace.lobes if lobe.stands_out]
    if not seen:
        return ""
    named = ", ".join(LOBE_NAMES.get(k, f"{k} lobes") for k in seen)
    return f" The form is {named}: no shim cures that."
