"""Traps of the work that readings give away: oil, dirt, warm mesh, cold motor, preload.

A doubt here is about the work, not about the reading: it names its rows in words and keeps none of
them out of a fit.
"""

from __future__ import annotations

import math
import statistics
from collections.abc import Sequence

from wormwright.bench import Bench, noise
from wormwright.handbook.lubricants import YELLOW, lubricant_for
from wormwright.job.reading import Reading
from wormwright.job.result import Doubt
from wormwright.job.sheet import ROCKS
from wormwright.quantities import shown
from wormwright.stages.measure.siblings import WARMER, warm_rocks
from wormwright.stages.measure.wording import rows_words

ACTIVE = frozenset({"EP gear oil", "hypoid oil", "EP grease"})
"""Oils and greases with sulphur or phosphorus that may attack copper alloys."""
MARGIN = 2.0
"""Holding torque over the largest drag, below which a cold start may stall (common practice)."""
PRELOAD_RISE = 2.0
"""Drag out of mesh over what it was before, above which the preload is too high (practice)."""


def wrong_oil(bench: Bench) -> tuple[Doubt, ...]:
    """E-38: a copper-alloy wheel running in oil with active sulphur or phosphorus."""
    wheel = bench.job.rotary.wheel_material
    rows = [r for r in bench.of("lubricant") if r.word in ACTIVE]
    if not rows or lubricant_for(wheel).metal != YELLOW:
        return ()
    return (
        Doubt(
            "warn",
            "E-38",
            f"The wheel is {wheel} and there is {rows[-1].word} in the unit ({_named(rows)}).",
            "Active sulphur and phosphorus attack copper alloys, worse above about 70 °C.",
            "Wash it out; take a compounded oil that is safe for yellow metals, thinner or way oil "
            "for a stepper that starts cold. Polyglycol does not mix with mineral oil.",
        ),
    )


def dirt(bench: Bench) -> tuple[Doubt, ...]:
    """E-36: it feels gritty or notchy: grit reads as a tight spot."""
    rows = [r for r in bench.of("turn_feel") if r.word in ("gritty", "notchy")]
    if not rows:
        return ()
    return (
        Doubt(
            "warn",
            "E-36",
            f"It turns {rows[-1].word} ({_named(rows)}).",
            "Grit, grinding dust or a burr reads as a tight spot and cuts a new mesh.",
            "Keep these readings as found; strip, wash and stone burrs, then read again.",
        ),
    )


def shut_when_warm(bench: Bench) -> tuple[Doubt, ...]:
    """E-22: a rock read warm has no play left to speak of."""
    warm = frozenset().union(*(warm_rocks(bench, kind) for kind in ROCKS))
    rocks = [r for kind in ROCKS for r in bench.of(kind) if r.seq in warm]
    shut = [r for r in rocks if r.value is not None and r.value <= 3 * noise(r)]
    if not shut:
        return ()
    return (
        Doubt(
            "warn",
            "E-22",
            f"Warm, the table hardly rocks ({_named(shut)}).",
            "Worm and wheel have grown into the play; a little warmer and the mesh binds.",
            "Open the mesh by what the warm rock lacks, and read it warm again at the tight spot.",
        ),
    )


def cold_stall(bench: Bench) -> tuple[Doubt, ...]:
    """E-23: the drag read is already near what the motor can hold; cold grease is stiffer."""
    hold = bench.job.motor.torque_hold_nmm
    drags = [r.value for r in bench.of("drag_in_mesh") if r.value]
    if not hold or not drags or hold >= MARGIN * max(drags):
        return ()
    low = shown(bench.job.duty.shop_low_c, "temperature", resolution=1.0, units=bench.job.units)
    most = shown(max(drags), "torque", u=0.07 * max(drags), units=bench.job.units)
    return (
        Doubt(
            "warn",
            "E-23",
            f"Most drag is {most}: the motor holds only {hold / max(drags):.1f} times that.",
            f"At {low}, the lowest in your shop, grease is stiffer still and a start takes more.",
            "Read the drag at the lowest temperature, from rest; take thinner oil, less preload or "
            "a stronger motor.",
        ),
    )


def drag_unlike_warm(bench: Bench) -> tuple[Doubt, ...]:
    """E-23: drag in and out of mesh read at unlike temperatures: their difference is no mesh."""
    told = [
        [(r, t) for r in bench.of(kind) if (t := r.number("housing_temperature")) is not None]
        for kind in ("drag_in_mesh", "drag_out_of_mesh")
    ]
    if not all(told):
        return ()
    inside, out = (statistics.fmean(t for _, t in rows) for rows in told)
    if abs(inside - out) <= WARMER:
        return ()
    by = shown(abs(inside - out), "rise", resolution=1.0, units=bench.job.units)
    return (
        Doubt(
            "warn",
            "E-23",
            f"Drag in mesh and out of mesh were read {by} apart "
            f"({_named([r for rows in told for r, _ in rows])}).",
            "Grease drags by its temperature: the difference of the two is not the mesh alone.",
            "Read both at one temperature, the one right after the other.",
        ),
    )


def preload_too_high(bench: Bench, everything: Sequence[Reading]) -> tuple[Doubt, ...]:
    """E-15: out of mesh it drags more than twice as much as before the work."""
    now = [r for r in bench.of("drag_out_of_mesh") if r.value]
    before = [r for r in _earlier(now, everything) if r.value]
    if not now or not before:
        return ()
    rise = _mean(now) / _mean(before)
    if rise <= PRELOAD_RISE:
        return ()
    return (
        Doubt(
            "refuse",
            "E-15",
            f"Out of mesh the worm drags {rise:.1f} times as much as before the work "
            f"({_named(now)}).",
            "The bearings are squeezed too hard: they heat, and the motor has less left.",
            "Take preload out until the drag is below twice the first reading, then read again.",
        ),
    )


def torque_unlike_before(bench: Bench, everything: Sequence[Reading]) -> tuple[Doubt, ...]:
    """E-9: rocks before and after the work were taken at different torques."""
    doubts = []
    for kind in ROCKS:
        now = [r for r in bench.of(kind) if r.number("torque")]
        before = [r for r in _earlier(now, everything) if r.number("torque")]
        if not now or not before:
            continue
        is_now, was = (max(abs(r.number("torque") or 0.0) for r in rows) for rows in (now, before))
        if abs(math.log(is_now / was)) <= math.log(1.2):
            continue
        torques = " and ".join(
            shown(t, "torque", resolution=t / 100, units=bench.job.units) for t in (was, is_now)
        )
        doubts.append(
            Doubt(
                "warn",
                "E-9",
                f"Before and after were rocked at different torques ({torques}).",
                "Table and worm spring: the two maps are not comparable as they are.",
                "Rock once more at the torque of the first map.",
            )
        )
    return tuple(doubts)


def _earlier(now: Sequence[Reading], everything: Sequence[Reading]) -> list[Reading]:
    """Readings of the same kind from before the work: older than all of these, not replaced."""
    if not now:
        return []
    first = min(r.supersedes or r.seq for r in now)
    replaced = {r.supersedes for r in everything}
    kind = now[0].kind
    return [r for r in everything if r.kind == kind and r.seq < first and r.seq not in replaced]


def _mean(rows: Sequence[Reading]) -> float:
    return statistics.fmean(r.value or 0.0 for r in rows)


def _named(rows: Sequence[Reading]) -> str:
    return rows_words(tuple(sorted(r.seq for r in rows))).lower()


WORK_TRAPS = (wrong_oil, dirt, shut_when_warm, cold_stall, drag_unlike_warm)
"""Traps of the work seen in the readings of now."""
SINCE_TRAPS = (preload_too_high, torque_unlike_before)
"""Traps of the work seen beside the readings from before it."""
