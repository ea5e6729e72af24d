"""The trend of the rock over the checks, and when to look again."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from datetime import timedelta
from typing import Literal

from wormwright.core.trend import FEWEST, Trend, limit_reached, trend
from wormwright.job.recheck import Ahead
from wormwright.job.result import Estimate
from wormwright.job.sheet import ROCKS
from wormwright.stages.keep.checks import Check, Place, pooled

FIXED_DAYS, FIXED_HOURS = 182.0, 500.0
"""Between checks while no trend is proven: each half year or 500 h (common practice)."""
FARTHEST = 2.0
"""A trend is believed no further than so many times its own span."""
YEAR, THOUSAND = 365.25, 1000.0
AT_LIMIT = "the rock has reached what the duty allows"


def ahead_of(checks: Sequence[Check], limit: float) -> Ahead | None:
    """Trend of the mean rock at the places that every check has, and the next check.

    `limit` is what the mean rock may reach, rad. None when the checks have no day and no hours, or
    no place in common.
    """
    times = _times(checks)
    common = _common(checks)
    if times is None or not common:
        return None
    unit, at = times
    means = tuple(_mean(c, common) for c in checks)
    line = _line(at, means, _noise(checks[-1], common))
    reaches, why, step = _next(line, means[-1], at, limit, unit)
    start = checks[-1].day
    day = ""
    if unit == "d" and start is not None:
        day = (start + timedelta(days=step)).isoformat()
    return Ahead(unit, at, means, _rate(line, unit), reaches, at[-1] + step, day, why)


def _times(checks: Sequence[Check]) -> tuple[Literal["h", "d"], tuple[float, ...]] | None:
    """Hours run where every check tells them, else days since the first."""
    hours = [c.hours for c in checks if c.hours is not None]
    if len(hours) == len(checks) and sorted(set(hours)) == hours:
        return "h", tuple(hours)
    days = [c.day for c in checks if c.day is not None]
    if len(days) < len(checks) or sorted(days) != days:
        return None
    return "d", tuple(float((day - days[0]).days) for day in days)


def _common(checks: Sequence[Check]) -> list[Place]:
    places = set.intersection(*(set(c.by_place()) for c in checks))
    return [place for place in places if place[0] in ROCKS]


def _mean(check: Check, places: list[Place]) -> float:
    rows = check.by_place()
    return sum(pooled(rows[place]).value for place in places) / len(places)


def _line(at: tuple[float, ...], means: tuple[float, ...], noise: float) -> Trend | None:
    """The trend, its scatter never below half the noise of the readings; None for few."""
    if len(set(at)) < FEWEST:
        return None
    line = trend(at, means)
    return replace(line, s=max(line.s, noise / 2))


def _noise(check: Check, places: list[Place]) -> float:
    """Standard uncertainty of the mean rock of one check, from the readings."""
    rows = check.by_place()
    return math.sqrt(sum(pooled(rows[place]).u ** 2 for place in places)) / len(places)


def _next(
    line: Trend | None, last: float, at: tuple[float, ...], limit: float, unit: str
) -> tuple[float | None, str, float]:
    """Where the prediction meets the limit, what sets the next check, and how far off it is."""
    fixed = FIXED_HOURS if unit == "h" else FIXED_DAYS
    usual = "500 h" if unit == "h" else "half a year"
    if last >= limit:
        return None, AT_LIMIT, 0.0
    if line is None:
        return None, f"too few checks for a trend: the usual {usual}", fixed
    try:
        reaches = limit_reached(line, limit) if limit < math.inf else None
    except ValueError:
        return None, AT_LIMIT, 0.0
    if reaches is None:
        return None, f"no limit is in sight: the usual {usual}", fixed
    span = FARTHEST * line.longest
    if reaches - at[-1] <= span:
        return reaches, "the prediction meets the limit then", max(0.0, reaches - at[-1])
    return reaches, "twice the span of the checks: no trend is believed further", span


def _rate(line: Trend | None, unit: str) -> Estimate | None:
    if line is None:
        return None
    per = THOUSAND if unit == "h" else YEAR
    return Estimate.normal(line.slope * per, line.slope_u * per, "angle", "straight line")
