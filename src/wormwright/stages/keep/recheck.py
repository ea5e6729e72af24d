"""A re-check of a finished axis: is it still good, what has moved, what to adjust, when again."""

from __future__ import annotations

import math
from collections.abc import Sequence

from wormwright.bench import Bench, pair_in_hand
from wormwright.core.conformity import conformity
from wormwright.job.corrections import SettingRow
from wormwright.job.recheck import Adjust, CheckDay, KindChange, Recheck, StillGood
from wormwright.job.result import Doubt, Estimate, StageRefusal
from wormwright.job.rotary import Duty
from wormwright.job.sheet import ROCKS
from wormwright.quantities import shown
from wormwright.stages.keep.ahead import ahead_of
from wormwright.stages.keep.changes import changes_of, same_places
from wormwright.stages.keep.checks import Check, checks_of, pooled

_ANSWER: dict[str, StillGood] = {
    "conforms": "still good",
    "does not conform": "adjust",
    "cannot be told": "cannot tell",
}


def recheck(
    bench: Bench, *, chart: Sequence[SettingRow] = (), angle_now: float | None = None
) -> Recheck:
    """What the checks since the proof show, against what the duty allows.

    `chart` and `angle_now` (rad) are the setting chart of the bushings and where they stand.

    Raises:
        StageRefusal: no rock was read since the unit was last worked on.
    """
    checks = checks_of(bench.readings)
    if not checks:
        raise StageRefusal("keep", (NO_CHECK,))
    first, last = checks[0], checks[-1]
    loosest, where = _loosest(last)
    allowed = _allowed(bench.job.duty)
    pairs, doubts = same_places(first, last) if len(checks) > 1 else ({}, [])
    changes = changes_of(pairs)
    rocks = [c for c in changes if c.kind in ROCKS]
    mean = rocks[0].last.value if rocks else loosest.value
    return Recheck(
        answer=_answer(loosest, allowed, changes),
        loosest=loosest,
        loosest_at=where,
        allowed=allowed,
        checks=tuple(_day(c) for c in checks),
        changes=changes,
        ahead=ahead_of(checks, math.inf if allowed is None else allowed - (loosest.value - mean)),
        adjust=_adjust(bench, changes, chart, angle_now),
        repeat=tuple(c.label for c in changes if c.moved != "no change shown"),
        doubts=(*doubts, *_missing(checks, changes)),
    )


NO_CHECK = Doubt(
    "refuse",
    "",
    "No rock is on file since the unit was last worked on.",
    "A re-check compares the rocks of the proof with those of today, at the same places.",
    "Read the hours and the rocks: wormwright measure DIR --read hours_run 120, then --series rock "
    "at the places of the proof.",
)


def _allowed(duty: Duty) -> float | None:
    """The rock that the duty allows, rad; None for a duty that feels the table bearing alone."""
    if duty.direction != "tangential" or duty.approach == "one way":
        return None
    return duty.error_mm / duty.radius_mm


def _answer(loosest: Estimate, allowed: float | None, changes: tuple[KindChange, ...]) -> StillGood:
    if allowed is not None:
        return _ANSWER[conformity(loosest.value, u=loosest.u, high=allowed)]
    grown = any(c.moved == "more" for c in changes)
    return "cannot tell" if grown else "still good"


def _loosest(check: Check) -> tuple[Estimate, str]:
    rocks = {p: pooled(rows) for p, rows in check.by_place().items() if p[0] in ROCKS}
    place = max(rocks, key=lambda p: rocks[p].value)
    found = rocks[place]
    where = "" if place[2] is None else f"{place[2]}°"
    return Estimate.normal(found.value, found.u, "angle", "rock at its pin radius"), where


def _day(check: Check) -> CheckDay:
    day = "" if check.day is None else check.day.isoformat()
    return CheckDay(day, check.hours, len(check.readings))


def _adjust(
    bench: Bench,
    changes: tuple[KindChange, ...],
    chart: Sequence[SettingRow],
    angle_now: float | None,
) -> tuple[Adjust, ...]:
    """What takes up the change without a strip-down: the worm shim first, then the mesh."""
    by_kind = {c.kind: c for c in changes}
    found = []
    end = by_kind.get("worm_end_play")
    if end is not None and end.moved == "more":
        how = "Take the change out of the worm shim (which way: its arrangement on the sheet)."
        found.append(Adjust("worm end play", end.change, how))
    rock = by_kind.get("rock_pins") or by_kind.get("rock")
    pair = pair_in_hand(bench)
    if rock is None or pair is None or rock.moved != "more":
        return tuple(found)
    grown = rock.change.scaled(pair.r2, "length")
    of_end = end.change if end is not None else Estimate(0, 0, 0, 0, "length", "not read")
    mesh, u = grown.value - of_end.value, math.hypot(grown.u, of_end.u)
    if mesh > 1.96 * u:
        closing = Estimate.normal(mesh / (2 * pair.t), u / (2 * pair.t), "length", "2 t closing")
        found.append(Adjust("closing of the mesh", closing, _turn(closing, chart, angle_now)))
    return tuple(found)


def _turn(closing: Estimate, chart: Sequence[SettingRow], angle_now: float | None) -> str:
    """How to close by that much: the bushing angles by the setting chart."""
    end = " Set it at the tight spot, lock, read the locked rock; never by feel alone."
    if angle_now is None or not chart:
        return "By the adjustment of the unit, both ends alike." + end
    side = sorted((r for r in chart if r.angle * angle_now >= 0), key=lambda r: r.closing)
    now = min(side, key=lambda r: abs(r.angle - angle_now))
    wanted = now.closing + closing.value
    if wanted > side[-1].closing:
        return "The bushings cannot close so far any more: new bushings, or wheel and worm."
    new = min(side, key=lambda r: abs(r.closing - wanted))
    if new.false_tight:
        return "The chart shows a false tight there: new bushings, or centre the wheel again."
    turn = [shown(r.angle, "angle", resolution=math.radians(1)) for r in (now, new)]
    return f"Turn both bushings from {turn[0]} to {turn[1]}, the same way in space.{end}"


def _missing(checks: tuple[Check, ...], changes: tuple[KindChange, ...]) -> list[Doubt]:
    if len(checks) < 2:
        why = "A change needs two checks; what stands here is the state of today only."
        do = "Keep this as the reference and check again when it is due."
        return [Doubt("warn", "", "There is one check so far.", why, do)]
    if not any(c.kind in ROCKS for c in changes):
        why = "A rock changes round the turn; other places would be taken for wear."
        do = "Read the rock at the table angles, radius and torque of the first check."
        return [Doubt("ask", "", "No rock was read at a place of the first check.", why, do)]
    kinds = {c.kind for c in changes}
    if "worm_end_play" not in kinds:
        why = "Worm end play that has grown looks like a mesh that has opened."
        do = "Read the worm end play as at the first check."
        return [Doubt("warn", "E-14", "The worm end play was not read again.", why, do)]
    return []
