"""What would change the verdict: the smallest change of each entered figure that does."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

from wormwright.job.choice import Change, Load, Side, Way
from wormwright.job.rotary import Job
from wormwright.stages.choose.knobs import Knob, knobs_of
from wormwright.stages.choose.verdict import Outcome, outcome, sides_of

FURTHEST = 4.0
"""A figure is changed up to this many times, and down to this part."""
LOOKS, HALVINGS = 16, 22
DIGITS = 3
"""Digits that a turning point is stated to."""


def flips_of(job: Job, sides: tuple[Side, ...], loads: tuple[Load, ...]) -> tuple[Change, ...]:
    """For every entered figure and way the nearest change of the verdict, the smallest first."""
    found = [_flip(_Asked(job, sides, loads), knob, up) for knob in knobs_of(job) for up in _WAYS]
    return tuple(sorted((c for c in found if c is not None), key=lambda change: change.share))


_WAYS = (True, False)


@dataclass(frozen=True, slots=True)
class _Asked:
    """A job as judged, so that a change of one drive judges that drive alone anew."""

    job: Job
    sides: tuple[Side, ...]
    loads: tuple[Load, ...]

    def with_value(self, knob: Knob, value: float) -> Outcome:
        changed = knob.set(self.job, value)
        if knob.drive is None:
            return outcome(sides_of(changed))
        place = knob.drive
        one = replace(changed, drives=(changed.drives[place],))
        fresh = sides_of(one, self.loads)
        return outcome((*self.sides[:place], *fresh, *self.sides[place + 1 :]))


def _flip(asked: _Asked, knob: Knob, upward: bool) -> Change | None:
    base = outcome(asked.sides)
    turns = turning_point(knob, upward, lambda value: asked.with_value(knob, value) != base)
    if turns is None:
        return None
    return _change(knob, turns, upward, words_of(asked.with_value(knob, turns)))


def _change(knob: Knob, turns: float, upward: bool, then: str) -> Change:
    share = abs(turns / knob.now - 1)
    return Change(knob.what, knob.now, turns, upward, knob.dimension, share, then)


def turning_point(knob: Knob, upward: bool, changed: Callable[[float], bool]) -> float | None:
    """The value nearest to now from which on something has changed, to three digits; None if none.

    The digits are rounded so that at the stated value it has changed.
    """
    end = min(FURTHEST, knob.most) if upward else 1 / FURTHEST
    if upward and end <= 1:
        return None
    before, after = 1.0, None
    for look in range(1, LOOKS + 1):
        factor = end ** (look / LOOKS)
        if changed(knob.now * factor):
            after = factor
            break
        before = factor
    if after is None:
        return None
    for _ in range(HALVINGS):
        middle = math.sqrt(before * after)
        if changed(knob.now * middle):
            after = middle
        else:
            before = middle
    return _rounded(knob.now * after, upward, changed)


def _rounded(value: float, upward: bool, changed: Callable[[float], bool]) -> float:
    near = float(f"{value:.{DIGITS}g}")
    if near > 0 and changed(near):
        return near
    step = 10.0 ** (math.floor(math.log10(value)) - DIGITS + 1)
    return float(f"{near + (step if upward else -step):.{DIGITS}g}")


def ways_of(job: Job, sides: tuple[Side, ...]) -> tuple[Way, ...]:
    """For each drive that does not meet the needs the single changes of a need that would do."""
    needs = [knob for knob in knobs_of(job) if knob.eases]
    return tuple(
        _way(job, needs, place, side)
        for place, side in enumerate(sides)
        if side.standing != "meets every need"
    )


def _way(job: Job, needs: list[Knob], place: int, side: Side) -> Way:
    changes = []
    for knob in needs:

        def meets(value: float, knob: Knob = knob) -> bool:
            changed = knob.set(job, value)
            one = replace(changed, drives=(changed.drives[place],))
            return sides_of(one)[0].standing == "meets every need"

        turns = turning_point(knob, knob.eases > 0, meets)
        if turns is not None:
            changes.append(_change(knob, turns, knob.eases > 0, "meets every need"))
    changes.sort(key=lambda change: change.share)
    unmet = tuple(f"{need.label} ({need.work})" for need in side.unmet)
    return Way(side.drive.name, tuple(changes), unmet)


def words_of(what: Outcome) -> str:
    """An outcome in words."""
    word, names = what
    listed = " or ".join(names)
    return {
        "keep what you have": f"keep {listed}",
        "take this one": f"take {listed}",
        "any of these": f"{listed}: nothing entered tells them apart",
        "none of these": "none of these",
        "no verdict yet": f"no verdict: {listed} may or may not do",
    }[word]
