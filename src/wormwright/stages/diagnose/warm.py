"""Cold and warm rocks compared, and held against what the metals should do."""

from __future__ import annotations

import math
import statistics

from wormwright.bench import Bench
from wormwright.bench.warm import expansions_of, mesh_change
from wormwright.core.thermal import Rises
from wormwright.job.findings import Figured, Finding
from wormwright.job.pair import WormPair
from wormwright.stages.diagnose.paired import Difference, paired_difference
from wormwright.stages.diagnose.rows import WARMER, Row, Rows
from wormwright.stages.diagnose.wording import estimate_from

METAL_DOUBT = 0.5
"""Doubt of the reckoned change as a share of it: parts are never all at one temperature."""

LEAST_DOUBT = 0.002
"""Least doubt of the reckoned change, mm at r2."""


def warm_finding(made: Rows, bench: Bench, pair: WormPair) -> Finding:
    """What warming did to the lost motion, from the warm rocks against the cold ones."""
    cold = [r for r in made.rows if r.is_rock and r.temperature is not None]
    rise = statistics.fmean(_kelvin(made.warm)) - statistics.fmean(_kelvin(cold))
    title = "Cold and warm"
    found = paired_difference(made.warm, cold)
    if found is None:
        apart = (
            f"Rocks were taken {rise:.0f} K apart but none at the same place, worm angle, pin and "
            "torque: repeat one cold place warm."
        )
        return Finding("warm", title, (), (apart,))
    change = estimate_from(
        found.value / pair.r2, found.u / pair.r2, "angle", f"{found.places} like places"
    )
    figures = [Figured("change", f"change of lost motion over {rise:.0f} K", change)]
    words = [_seen(found)]
    reckoned = _reckoned(bench, pair, cold, rise)
    if reckoned is not None:
        u = max(METAL_DOUBT * abs(reckoned), LEAST_DOUBT)
        figures.append(
            Figured(
                "reckoned",
                "change the metals should make, all at one temperature",
                estimate_from(reckoned / pair.r2, u / pair.r2, "angle", "growth by heat"),
            )
        )
        words.append(_compared(found, reckoned, u))
    return Finding("warm", title, tuple(figures), tuple(words))


def _kelvin(rows: list[Row]) -> list[float]:
    return [r.temperature for r in rows if r.temperature is not None]


def _reckoned(bench: Bench, pair: WormPair, cold: list[Row], rise: float) -> float | None:
    """Change of backlash that the metals make over the rise, mm at r2; None if not known."""
    start = statistics.fmean(_kelvin(cold)) - 20.0
    try:
        grows = expansions_of(bench.job)
        before = mesh_change(pair, Rises("cold", start, start, start), grows)
        warm = start + rise
        return mesh_change(pair, Rises("warm", warm, warm, warm), grows) - before
    except ValueError:
        return None


def _seen(found: Difference) -> str:
    if abs(found.value) <= 2 * found.u:
        return f"Over more than {WARMER:.0f} K no change stands out of the noise."
    if found.value < 0:
        return (
            "The play gets less as the unit warms: set the mesh with that much more play cold, or "
            "it binds in work."
        )
    return "The play grows as the unit warms: judge the unit warm, and do not set it by that."


def _compared(found: Difference, reckoned: float, u: float) -> str:
    if abs(found.value - reckoned) <= 2 * math.hypot(found.u, u):
        return "That agrees with the growth of housing, worm and wheel."
    return (
        "That is not the growth of housing, worm and wheel alone: look for a bearing that gains or "
        "loses float, for grease gone thin, or for a stand that moved."
    )
