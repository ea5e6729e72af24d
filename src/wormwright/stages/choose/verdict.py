"""The verdict over all drives; none is stated where the ranges of the figures overlap."""

from __future__ import annotations

from dataclasses import replace

from wormwright.job.choice import ChoiceWord, Load, Side
from wormwright.job.given import Given
from wormwright.job.result import Estimate
from wormwright.job.rotary import Job
from wormwright.stages.choose.load import load_of
from wormwright.stages.choose.side import judged

Outcome = tuple[ChoiceWord, tuple[str, ...]]


def sides_of(job: Job, loads: tuple[Load, ...] | None = None) -> tuple[Side, ...]:
    """Every drive against the needs."""
    known = loads if loads is not None else tuple(load_of(cut, job) for cut in job.work)
    limit = job.control.pulse_limit if job.control is not None else None
    return tuple(
        replace(judged(drive, known, limit), cost=cost_of(job, drive.cost, drive.hours, drive.have))
        for drive in job.drives
    )


def cost_of(job: Job, cost: Given | None, hours: Given | None, have: bool) -> Estimate | None:
    """Cost with its hours, in the machinist's own currency; None where it was not entered."""
    if cost is None and not have:
        return None
    spent = cost or Given.plain(0.0)
    rate = job.hour_cost or 0.0
    worked = hours or Given.plain(0.0)
    total = Given(
        spent.value + rate * worked.value,
        spent.low + rate * worked.low,
        spent.high + rate * worked.high,
    )
    return total.estimate("none", "cost as entered")


def outcome(sides: tuple[Side, ...]) -> Outcome:
    """What to do, and the drives it is about."""
    good = [side for side in sides if side.standing == "meets every need"]
    owned = [side.drive.name for side in good if side.drive.have]
    if owned:
        return "keep what you have", tuple(owned)
    if not good:
        maybe = tuple(side.drive.name for side in sides if side.standing == "cannot tell")
        return ("no verdict yet", maybe) if maybe else ("none of these", ())
    cheapest = _cheapest(good)
    if len(cheapest) == 1:
        return "take this one", (cheapest[0].drive.name,)
    return "any of these", tuple(side.drive.name for side in cheapest)


def _cheapest(good: list[Side]) -> list[Side]:
    """Those whose cost is not certainly above another's; all of them where a cost is missing."""
    costs = [side.cost for side in good if side.cost is not None]
    if len(costs) < len(good):
        return good
    least = min(cost.high for cost in costs)
    return [side for side in good if side.cost is not None and side.cost.low <= least]
