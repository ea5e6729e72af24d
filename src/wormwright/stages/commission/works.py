"""What single works ask of the settings: divided turns, and drawings laid round a cylinder."""

from __future__ import annotations

import math
from collections import Counter

from wormwright.core.feed import (
    Move,
    degrees_a_minute,
    degrees_per_mm,
    feed_at_radius,
    inverse_time,
    inverse_time_word,
    seam_gap,
)
from wormwright.core.steps import divided_turn, truncated_turn_error
from wormwright.job.commissioning import Divided, Wrapped
from wormwright.job.control import Control
from wormwright.job.result import Estimate
from wormwright.job.rotary import Job
from wormwright.job.work import Task
from wormwright.stages.commission.ratio import Gearing

DIAMETER_OFF = 0.1
"""A diameter taken from the nominal stock is easily out by this, mm."""
SAMPLE = Move(10.0, 90.0)
"""The block that the feed words are shown on: 10 mm along and a quarter turn."""
ARCSEC = math.radians(1 / 3600)


def divided_of(job: Job, gearing: Gearing) -> tuple[Divided, ...]:
    """Every work with a number of divisions; none when a turn is no whole number of pulses."""
    turn = gearing.per_table_turn
    if turn.denominator != 1:
        return ()
    found = []
    for task in job.work:
        if task.teeth is None or task.teeth > turn.numerator:
            continue
        got = divided_turn(pulses=turn.numerator, divisions=task.teeth)
        found.append(
            Divided(
                work=task.name,
                divisions=task.teeth,
                moves=tuple(sorted(Counter(got.moves).items())),
                worst=got.worst,
                at_radius=float(got.worst) * ARCSEC * task.radius,
                lost=truncated_turn_error(pulses=turn.numerator, divisions=task.teeth),
            )
        )
    return tuple(found)


def wrapped_of(job: Job, safe: Estimate | None) -> tuple[Wrapped, ...]:
    """Every work that is laid round a cylinder or fed round it."""
    control = job.control or Control()
    return tuple(
        _wrapped(task, control, safe)
        for task in job.work
        if task.kind in ("engraving", "continuous") or task.feed is not None
    )


def _wrapped(task: Task, control: Control, safe: Estimate | None) -> Wrapped:
    diameter = 2 * task.radius
    fastest = None if safe is None else 360 * safe.low
    words = "no feed given"
    round_it = None
    if task.feed is not None:
        round_it = degrees_a_minute(feed=task.feed, radius=task.radius)
        words = _inverse(task.feed, task.radius, control, fastest)
    most = None if fastest is None else feed_at_radius(degrees=fastest, radius=task.radius)
    return Wrapped(
        work=task.name,
        diameter=diameter,
        degrees_per_mm=degrees_per_mm(diameter=diameter),
        feed=task.feed,
        degrees_a_minute=round_it,
        inverse_time=words,
        most_feed=most,
        seam=seam_gap(diameter=diameter + DIAMETER_OFF, believed=diameter),
    )


def _inverse(feed: float, radius: float, control: Control, fastest: float | None) -> str:
    if control.inverse_time == "none":
        return "this control has none"
    per_minute = inverse_time(
        SAMPLE, radius=radius, feed=feed, most_turn=fastest if fastest else math.inf
    )
    word = inverse_time_word(per_minute, rule=control.inverse_time)
    return f"F{word:.3g} ({control.inverse_time})"
