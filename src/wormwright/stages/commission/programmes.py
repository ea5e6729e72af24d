"""Test programmes in plain words of ISO 6983: return, direction, and a divided turn."""

from __future__ import annotations

import math

from wormwright.job.commissioning import Programme
from wormwright.job.control import Control
from wormwright.job.iso_words import degrees_text, remark
from wormwright.job.result import Estimate
from wormwright.job.rotary import Job
from wormwright.job.work import Task

CAREFUL = 0.5
"""Test programmes turn at this share of the safe speed."""
SLOW_RPM = 1.0
PLACES = 6
OVERRUN = math.radians(3)
"""Each place of a divided turn is come to from this far before it."""


def programmes_of(job: Job, safe: Estimate | None) -> tuple[Programme, ...]:
    """All test programmes; at a slow walk while no safe speed is known."""
    control = job.control or Control()
    rpm = SLOW_RPM if safe is None else CAREFUL * safe.low
    feed = max(1.0, math.floor(360 * rpm))
    unit = job.rotary.unit_id
    made = [
        _direction(control, feed, unit),
        _return(control, feed, unit, 10),
        _return(control, feed, unit, 100),
    ]
    made += [_divided(control, feed, unit, task) for task in job.work if task.teeth is not None]
    return tuple(made)


def _head(what: str, unit: str) -> list[str]:
    return [
        remark(what),
        remark(unit),
        remark("nothing in the way for a whole turn both ways - table bare - hands off"),
    ]


def _text(lines: list[str]) -> str:
    return "\n".join([*lines, "M2", ""])


def _direction(control: Control, feed: float, unit: str) -> Programme:
    way = control.positive
    a = control.axis
    lines = [
        *_head(f"direction - the table must turn 90 degrees {way} seen on its face", unit),
        "G91 G94",
        f"G1 {a}90.0 F{feed:.0f}",
        "M0",
        remark("and back to where it stood"),
        f"G1 {a}-90.0",
        "G90",
    ]
    shows = f"plus turns the table {way}, seen on its face, by a quarter turn"
    return Programme("direction", shows, _text(lines))


def _return(control: Control, feed: float, unit: str, turns: int) -> Programme:
    a = control.axis
    lines = [
        *_head(f"return after {turns} turns - needle on an edge - zero it at the first stop", unit),
        "G91 G94",
        remark("take up the play - then come on from the same side as later"),
        f"G1 {a}-5.0 F{feed:.0f}",
        f"G1 {a}5.0",
        "M0",
        *[f"G1 {a}360.0"] * min(turns, 10),
    ]
    if turns > 10:
        lines[-10:] = [f"G1 {a}{360 * (turns // 10)}.0"] * 10
    lines += [
        remark("back by as much and 5 degrees more - then on from the same side"),
        f"G1 {a}-{360 * turns + 5}.0",
        f"G1 {a}5.0",
        remark("the needle must read zero again"),
        "M0",
        "G90",
    ]
    shows = (
        f"{turns} turns and back: the needle comes back to its zero unless pulses are lost; the "
        "steps for a degree are proved by a mark that comes round to the needle each turn"
    )
    return Programme(f"return-{turns}", shows, _text(lines))


def _divided(control: Control, feed: float, unit: str, task: Task) -> Programme:
    """Every place from zero, never step by step, so that no remainder is lost."""
    a, n = control.axis, task.teeth or 2
    lines = [
        *_head(f"{n} divisions of a turn - {task.name} - each come to from below", unit),
        "G90 G94",
    ]
    for k in [*range(n), n]:
        angle = 2 * math.pi * k / n
        before = degrees_text(angle - OVERRUN, decimals=PLACES)
        lines += [f"G1 {a}{before} F{feed:.0f}"] if k == 0 else [f"G1 {a}{before}"]
        lines += [f"G1 {a}{degrees_text(angle, decimals=PLACES)}", "M0"]
    lines.append(remark("the last place must fall on the first"))
    shows = (
        f"{n} places for {task.name}; the last must fall on the first: scratch them before you cut"
    )
    return Programme(f"divide-{n}", shows, _text(lines))
