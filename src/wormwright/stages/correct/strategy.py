"""Which eccentric pair reaches the depth without standing sideways: the list, in its order."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

import numpy as np

from wormwright.core.eccentric import (
    pointing_throw,
    worst_sideways_of_pointing_pair,
)
from wormwright.job.result import Estimate
from wormwright.stages.correct.bushing import EXTRA, PLACED, Turned
from wormwright.stages.correct.facts import SIDES, Facts
from wormwright.stages.correct.matching import skew_borne
from wormwright.stages.correct.meshes import Meshes, kinds_of, sideways_that_shuts
from wormwright.stages.correct.swap import NoRoomError, Swap, swap_at
from wormwright.stages.correct.unit import GOLDEN, Array
from wormwright.stages.correct.wording import length, turn

TRIAL_HALF_WIDTH = 0.010
"""95 % half-width of the depth and the throat centre after a trial pair, mm."""

FINE_SETTING = 0.020
"""Half-width of the last fine setting after the wheel is centred, mm."""

BLUE_U = 0.015
"""Doubt of centring the wheel by blue, one standard deviation, mm (common practice)."""

MOST_AXIAL_SHIFT = 0.5
"""Largest axial shift of the wheel that shims are asked for, mm."""

GRADE = 0.020
"""Step of throw between graded pairs, mm: no finer than two pairs can be told apart in place."""

RECENTRED = "wheel re-centred"
"""The strategy that shims the wheel along its axis by itself."""

AFTER_TRIAL = " after trial"
FINAL = "final pair" + AFTER_TRIAL
"""The strategy of a pair made to what a trial pair told."""

LEAST_BELIEF = 0.05
"""A wheel kind believed less than this does not decide."""

RECENTRED_RATIO = (1.45, 2.0)
"""Throw over depth for the strategy with the wheel re-centred: 46 to 60 degrees."""


@dataclass(frozen=True, slots=True)
class Wanted:
    """The wanted depth, the sideways tolerance of each wheel kind, and the kind that decides.

    `skew` is what that kind bears of unequal ends, rad.
    """

    closing: Estimate
    half_width: float
    tolerance: tuple[tuple[str, float], ...]
    judged: str
    tan_face: float
    skew: float

    @property
    def tolerated(self) -> float:
        """Sideways tolerance of the kind that decides, mm."""
        return dict(self.tolerance)[self.judged]


@dataclass(frozen=True, slots=True)
class Strategy:
    """One way to make the pair: the pair to turn, what it leaves sideways, minutes, reason.

    `sideways` and `reach` are rows: how far off the throat centre the worm ends up, and the
    deepest closing the pair can give, mm. `first` is the trial pair or the outer bushing.
    """

    key: str
    turned: Turned
    swaps: tuple[Swap, Swap]
    sideways: Array
    reach: Array
    wheel_shift: float
    minutes: float
    reason: str
    first: Turned | None = None
    found_throat: float | None = None

    @property
    def throat(self) -> float:
        """Where the throat centre of the wheel lies or is brought to, sideways, mm."""
        if self.found_throat is not None:
            return self.found_throat
        return self.turned.throw * math.sin(self.turned.start) if self.wheel_shift > 0 else 0.0


def wanted_point(facts: Facts, closing: Array, *, target: float, meshes: Meshes) -> Wanted:
    """Depth as an estimate, and how far sideways each kind may stand for it."""
    pair = facts.pair
    low, high = np.quantile(closing, [0.025, 0.975])
    middle = float((low + high) / 2)
    estimate = Estimate(
        middle, float(closing.std()), float(low), float(high), "length", f"{meshes.used}, by draws"
    )
    false_depth = target / (2 * pair.t)
    belief = {str(kind): p for kind, p in pair.kinds}
    tolerance, judged = [], "helical"
    for kind, _, _ in kinds_of(pair):
        tolerance.append((kind, sideways_that_shuts(meshes, kind, false_depth=false_depth)))
        if belief.get(kind, 0.0) >= LEAST_BELIEF:
            judged = kind
    tan_face = pair.sin_face / math.sqrt(1 - pair.sin_face**2)
    skew = skew_borne(meshes, judged)
    return Wanted(estimate, float((high - low) / 2), tuple(tolerance), judged, tan_face, skew)


def strategies_that_fit(
    facts: Facts, wanted: Wanted, closing: Array, throat: Array | None = None
) -> tuple[tuple[Strategy, ...], tuple[tuple[str, str], ...]]:
    """The strategies of the list that fit, in its order, and why the others do not.

    After a trial pair `throat` is where it found the throat centre, mm, and the final pair made to
    it takes the place of the first two.
    """
    first: tuple[tuple[str, Try], ...] = (
        ("single pair", _single),
        ("trial pair", _trial),
        (RECENTRED, _recentred),
    )
    if throat is not None:
        first = (
            (FINAL, partial(_final, throat=throat)),
            (RECENTRED + AFTER_TRIAL, partial(_recentred, throat=throat)),
        )
    tries: tuple[tuple[str, Try], ...] = (
        *first,
        ("graded pairs", _graded),
        ("nested pair", _nested),
    )
    fitting: list[Strategy] = []
    rejected: list[tuple[str, str]] = []
    for name, attempt in tries:
        try:
            fitting.append(attempt(facts, wanted, closing))
        except NoRoomError as why:
            rejected.append((name, str(why)))
    return tuple(fitting), tuple(rejected)


Try = Callable[[Facts, Wanted, Array], Strategy]
"""An attempt at one strategy; it raises NoRoomError when it does not fit."""


def _swaps(facts: Facts, throw: float, *, bushings: int = 1) -> tuple[Swap, Swap]:
    a, b = (swap_at(facts, side, throw=throw, bushings=bushings) for side in SIDES)
    return a, b


def _up(value: float) -> float:
    """A throw rounded up to what a lathe can be set to."""
    return math.ceil(round(value * 200, 6)) / 200


def _along(throw: float, closing: Array) -> Array:
    """Sideways of a pair of that throw at each closing; at its end where it cannot reach."""
    reached = np.minimum(closing, throw)
    result: Array = np.sqrt(np.maximum((throw - reached) * (throw + reached), 0.0))
    return result


def _angle(closing: float, throw: float) -> float:
    return math.acos(max(-1.0, min(1.0, closing / throw)))


def _single(facts: Facts, wanted: Wanted, closing: Array) -> Strategy:
    depth, u = wanted.closing.value, wanted.half_width
    units = facts.job.units
    throw = _up(pointing_throw(closing=depth, half_width=u))
    worst = worst_sideways_of_pointing_pair(closing=depth, half_width=u)
    if worst > wanted.tolerated:
        raise NoRoomError(
            f"pointing at the wheel it must reach {length(throw, units)}; turned back to the least "
            f"depth that may be needed it would stand {length(worst, units)} sideways, and this "
            f"wheel bears {length(wanted.tolerated, units)}"
        )
    start, end = _angle(depth, throw), _angle(depth - u, throw)
    reason = (
        f"A single pair pointing at the wheel reaches {length(depth, units)} and can only open "
        f"from {length(throw, units)}; it stands at most {length(worst, units)} sideways."
    )
    turned = Turned(throw, start, -EXTRA, end + EXTRA)
    swaps = _swaps(facts, throw)
    return Strategy(
        "single pair",
        turned,
        swaps,
        _along(throw, closing),
        np.full(closing.shape, throw),
        0.0,
        390.0,
        reason,
    )


def _trial(facts: Facts, wanted: Wanted, closing: Array) -> Strategy:
    depth, u, units = wanted.closing.value, wanted.half_width, facts.job.units
    least, most = depth + u, (depth - u) / wanted.tan_face
    if not 0 < least < most:
        raise NoRoomError(
            "no trial throw both jams pointing at the wheel and runs free across it on this face: "
            f"it would have to lie between {length(max(least, 0), units)} and "
            f"{length(max(most, 0), units)}"
        )
    worst = worst_sideways_of_pointing_pair(closing=depth, half_width=TRIAL_HALF_WIDTH)
    if worst > wanted.tolerated:
        raise NoRoomError(
            f"even with the depth found to ± {length(TRIAL_HALF_WIDTH, units)} the final pair "
            f"may stand {length(worst, units)} sideways; this wheel bears "
            f"{length(wanted.tolerated, units)}"
        )
    trial = _up(math.sqrt(least * most))
    final = _up(depth + TRIAL_HALF_WIDTH)
    swaps = _swaps(facts, max(trial, final))
    reason = (
        f"A trial pair of throw {length(trial, units)}, turned to one side and to the other until "
        "it just drags, gives the depth and the throat centre; the final pair is made to them. "
        f"The final throw given here ({length(final, units)}) is the expected one: make the trial "
        "pair first."
    )
    start = _angle(depth, final)
    sideways: Array = np.sqrt(2 * np.maximum(closing, 0.0) * TRIAL_HALF_WIDTH + TRIAL_HALF_WIDTH**2)
    return Strategy(
        "trial pair",
        Turned(final, start, -EXTRA, start + EXTRA),
        swaps,
        sideways,
        np.asarray(closing + TRIAL_HALF_WIDTH),
        0.0,
        690.0,
        reason,
        Turned(trial, math.pi / 2, -math.pi / 2, math.pi / 2),
    )


def _recentred(
    facts: Facts, wanted: Wanted, closing: Array, throat: Array | None = None
) -> Strategy:
    depth, u, units = wanted.closing.value, wanted.half_width, facts.job.units
    low, high = RECENTRED_RATIO
    ratio = max(low, 1.1 * (depth + u) / depth)
    if ratio > high:
        raise NoRoomError(
            f"the depth {length(depth, units)} is in doubt by ± {length(u, units)}: a throw that "
            "reaches it all would stand more than 60 degrees from the wheel"
        )
    throw = _up(ratio * depth)
    start = _angle(depth, throw)
    centre = float(throat.mean()) if throat is not None else 0.0
    shift = max(throw * math.sin(start) - abs(centre), 0.0)
    if shift > MOST_AXIAL_SHIFT:
        raise NoRoomError(
            f"the wheel would have to be shifted {length(shift, units)} along its axis, more than "
            f"{length(MOST_AXIAL_SHIFT, units)}"
        )
    fine = FINE_SETTING / math.tan(start)
    if fine > wanted.tolerated:
        raise NoRoomError(
            f"the last fine setting of {length(FINE_SETTING, units)} moves {length(fine, units)} "
            f"sideways; this wheel bears {length(wanted.tolerated, units)}"
        )
    swaps = _swaps(facts, throw)
    left = math.hypot(2 * BLUE_U, fine)
    reason = (
        f"Throw {length(throw, units)} at {turn(start)} with the wheel re-centred by "
        f"{length(shift, units, to=PLACED)} along the table axis: the worm is then "
        f"centred at its depth, and fine setting moves it sideways by "
        f"{1 / math.tan(start):.1f} times the depth only."
    )
    way = -1.0 if centre < 0 else 1.0
    ends = sorted((way * _angle(depth + u, throw), way * _angle(depth - u, throw)))
    return Strategy(
        RECENTRED if throat is None else RECENTRED + AFTER_TRIAL,
        Turned(throw, way * start, ends[0] - EXTRA, ends[1] + EXTRA),
        swaps,
        _spread(left, closing),
        np.full(closing.shape, throw),
        shift,
        480.0,
        reason,
    )


def _graded(facts: Facts, wanted: Wanted, closing: Array) -> Strategy:
    depth, u, units = wanted.closing.value, wanted.half_width, facts.job.units
    shallow = depth - u
    if shallow < GRADE:
        raise NoRoomError(
            f"the depth {length(depth, units)} is in doubt by ± {length(u, units)}: there is no "
            "first pair that surely stands short of it"
        )
    expected, first = _up(depth), _up(shallow) - GRADE / 2
    swaps = _swaps(facts, _up(depth + u))
    reason = (
        f"Graded pairs, all pointing at the wheel and never turned: the first of throw "
        f"{length(first, units)} cannot jam; read the rock with it, and make the pair that stands "
        f"just short of the depth, in steps of {length(GRADE, units)} (expected "
        f"{length(expected, units)}). Nothing moves sideways."
    )
    place = (np.arange(len(closing)) + 0.5) * GOLDEN % 1.0
    reach: Array = np.asarray(closing - GRADE * place, dtype=np.float64)
    return Strategy(
        "graded pairs",
        Turned(expected, 0.0, -EXTRA, EXTRA),
        swaps,
        _spread(2 * BLUE_U, closing),
        reach,
        0.0,
        690.0,
        reason,
        Turned(first, 0.0, -EXTRA, EXTRA),
    )


def _final(facts: Facts, wanted: Wanted, closing: Array, *, throat: Array) -> Strategy:
    depth, u, units = wanted.closing.value, wanted.half_width, facts.job.units
    centre = float(throat.mean())
    throw = _up(math.hypot(depth + u, centre))
    worst = math.sqrt(throw**2 - (depth - u) ** 2) - abs(centre)
    if worst > wanted.tolerated:
        raise NoRoomError(
            f"the trial leaves ± {length(u, units)} of doubt: the final pair of "
            f"{length(throw, units)} may stand {length(worst, units)} off the throat centre, and "
            f"this wheel bears {length(wanted.tolerated, units)}; read the angles again"
        )
    way = math.copysign(1.0, centre)
    start = way * _angle(depth, throw)
    ends = sorted((way * _angle(depth + u, throw), way * _angle(depth - u, throw)))
    side = "table top" if centre >= 0 else "table base"
    reason = (
        f"The trial pair found the depth {length(depth, units)} ± {length(u, units)} and the "
        f"throat {length(abs(centre), units, to=0.01)} toward the {side}: one pair of throw "
        f"{length(throw, units)} at {turn(abs(start))} reaches both."
    )
    sideways: Array = way * _along(throw, closing) - throat
    return Strategy(
        FINAL,
        Turned(throw, start, ends[0] - EXTRA, ends[1] + EXTRA),
        _swaps(facts, throw),
        sideways,
        np.full(closing.shape, throw),
        0.0,
        330.0,
        reason,
        found_throat=centre,
    )


def _nested(facts: Facts, wanted: Wanted, closing: Array) -> Strategy:
    depth, u, units = wanted.closing.value, wanted.half_width, facts.job.units
    each = _up((depth + u) * 0.55)
    swaps = _swaps(facts, 2 * each, bushings=2)
    reason = (
        f"Nested pairs, each of throw {length(each, units)}: the two turned against each other "
        "reach any depth straight toward the wheel. Wall enough for two bushings."
    )
    half = math.acos(min(1.0, depth / (2 * each)))
    return Strategy(
        "nested pair",
        Turned(each, half, -EXTRA, half + EXTRA),
        swaps,
        _spread(2 * BLUE_U, closing),
        np.full(closing.shape, 2 * each),
        0.0,
        720.0,
        reason,
        Turned(each, -half, -half - EXTRA, EXTRA),
    )


def _spread(half_width: float, closing: Array) -> Array:
    """A sideways error of that half-width, spread evenly over the rows."""
    place = (np.arange(len(closing)) + 0.5) * math.sqrt(5) % 1.0
    result: Array = half_width * (2 * np.asarray(place, dtype=np.float64) - 1)
    return result
