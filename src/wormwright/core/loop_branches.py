"""The branches of a rock loop: which way the torque went, cycle by cycle, and where they settle."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from wormwright.core.linear_fit import linear_fit
from wormwright.core.rock_loop import NAMES, RockLoop, loop_design, rock_loop

Array = NDArray[np.float64]

MOST_ROUNDS = 20


def branches_of(torque: ArrayLike) -> Array:
    """Branch of every reading from the torques in the order in which they were hung on.

    Source: definition. Formula: sign of the step that led to the reading; a step of nothing keeps
        the branch, unless it turns at the end of the travel (the same full torque read twice).
    Inputs: torque, in the order read [N·mm, (n,)]. Outputs: +1 rising, -1 falling [(n,)].
    Valid for: two readings or more that differ. Raises: ValueError outside.

    >>> branches_of([0, 4, 8, 4, 0, -4, -8, -4]).astype(int).tolist()
    [1, 1, 1, -1, -1, -1, -1, 1]
    """
    t = np.asarray(torque, dtype=np.float64)
    if t.ndim != 1 or len(t) < 2 or not np.ptp(t) > 0:
        raise ValueError(f"loop of {t.size} torques: expected steps that rise and fall")
    steps = np.sign(np.diff(t, prepend=t[0]))
    for i in range(1, len(steps)):
        if steps[i] == 0:
            after = steps[i + 1 :]
            turned = after[after != 0]
            repeats_end = len(turned) > 0 and turned[0] == -steps[i - 1]
            steps[i] = turned[0] if repeats_end else steps[i - 1]
    first = steps[steps != 0][0]
    return np.where(steps == 0, first, steps)


def cycles_of(branch: ArrayLike) -> NDArray[np.intp]:
    """Number of the cycle of every reading, from 1: a new one with every second turn of the torque.

    Source: definition; the first climb from rest belongs to the first cycle.
    Inputs: branch +1 or -1 in the order read [(n,)]. Outputs: cycle [(n,)].
    Valid for: any order. Raises: nothing.

    >>> cycles_of([1, 1, -1, -1, 1, 1, -1, -1, 1, 1]).tolist()
    [1, 1, 1, 1, 1, 1, 2, 2, 2, 2]
    """
    b = np.asarray(branch, dtype=np.float64)
    turns = np.cumsum(np.diff(b, prepend=b[:1]) != 0)
    result: NDArray[np.intp] = np.maximum(turns - 1, 0) // 2 + 1
    return result


def settled(torque: ArrayLike, branch: ArrayLike, *, friction: float) -> NDArray[np.bool_]:
    """Readings far enough past the last turn of the torque for their branch to have settled.

    Source: dry friction: after a turn the table sticks until the torque has moved by twice the
        friction (also from where the loop began, which may stick anywhere).
    Formula: |T - T_turn| >= 2 T_f.
    Inputs: torque [N·mm], branch, in the order read [(n,)]; friction T_f [N·mm].
    Outputs: mask [(n,)]. Valid for: friction of zero or more. Raises: ValueError below.

    >>> settled([0, 4, 8, 6, 2, -4], [1, 1, 1, -1, -1, -1], friction=1.5).tolist()
    [False, True, True, False, True, True]
    """
    if friction < 0:
        raise ValueError(f"friction: expected zero or more, got {friction} N·mm")
    t, b = np.asarray(torque, dtype=np.float64), np.asarray(branch, dtype=np.float64)
    turned_at = np.empty_like(t)
    last = t[0]
    for i in range(len(t)):
        if i and b[i] != b[i - 1]:
            last = t[i - 1]
        turned_at[i] = last
    result: NDArray[np.bool_] = np.abs(t - turned_at) >= 2 * friction
    return result


@dataclass(frozen=True, slots=True)
class SettledLoop:
    """The loop from the readings that count, which those are, and what the fit leaves of each.

    `moved` is the largest difference between the rest positions of two cycles, with its u.
    """

    loop: RockLoop
    used: NDArray[np.bool_]
    residuals: Array
    reading_u: float
    moved: float
    moved_u: float


def settled_loop(
    torque: ArrayLike, angle: ArrayLike, branch: ArrayLike, *, u: float, least_torque: float
) -> SettledLoop:
    """Clearance, stiffness and friction from the parts of a loop where both branches have settled.

    Source: as `rock_loop`; readings within twice the friction of a turn are left out, the friction
        being that of the loop itself (found by repeating).
    Inputs: torque [N·mm], angle [rad], branch, in the order read [(n,)]; u of one angle [rad];
        least_torque, above which the gap is closed [N·mm].
    Outputs: SettledLoop; where the readings scatter by more than u, their scatter counts.
    Valid for: readings of both signs and branches, enough of them past the turns.
    Raises: ValueError naming what cannot be told, or a sign that is the wrong way round.

    >>> t = np.array([0, 4, 8, 4, 0, -4, -8, -4, 0, 4, 8.0]) * 1000
    >>> b = branches_of(t)
    >>> a = t / 2e6 + np.sign(t) * 4e-4 - b * 1e-4
    >>> found = settled_loop(t, a, b, u=1e-5, least_torque=1000)
    >>> round(found.loop.clearance, 6), found.loop.stiffness is not None
    (0.0008, True)
    """
    t, a, b = (np.asarray(v, dtype=np.float64) for v in (torque, angle, branch))
    used = np.abs(t) >= least_torque
    loop = rock_loop(t, a, b, u=u, least_torque=least_torque)
    _refuse_backwards(loop)
    for _ in range(MOST_ROUNDS):
        friction = max(loop.friction_torque or 0.0, 0.0)
        now = (np.abs(t) >= least_torque) & settled(t, b, friction=friction)
        if np.array_equal(now, used):
            break
        used = now
        loop = _fitted(t[used], a[used], b[used], u, least_torque)
    widen = max(1.0, math.sqrt(loop.chi_square / loop.dof)) if loop.dof > 0 else 1.0
    if widen > 1:
        loop = rock_loop(t[used], a[used], b[used], u=widen * u, least_torque=least_torque)
    drawn = [loop.angle_at(float(x), branch=int(s)) for x, s in zip(t, b, strict=True)]
    residuals = a - np.array(drawn)
    moved, moved_u = _moved(t[used], a[used], b[used], cycles_of(b)[used], u)
    return SettledLoop(loop, used, residuals, widen * u, moved, moved_u)


def _fitted(t: Array, a: Array, b: Array, u: float, least_torque: float) -> RockLoop:
    try:
        return rock_loop(t, a, b, u=u, least_torque=least_torque)
    except ValueError as lacking:
        raise ValueError(
            f"too little is left past the turns, where the table sticks ({lacking}); go to a "
            "higher torque or take smaller steps"
        ) from None


def _refuse_backwards(loop: RockLoop) -> None:
    if loop.compliance < -3 * loop.compliance_u:
        raise ValueError(
            "the table turns against the torque: the sign of torque or needle is the wrong way "
            "round"
        )
    if loop.half_width < -3 * loop.half_width_u:
        raise ValueError(
            "the loop runs backwards, further round with the torque rising than falling: rising "
            "and falling are swapped, or the zero moved in between"
        )


def _moved(t: Array, a: Array, b: Array, cycles: NDArray[np.intp], u: float) -> tuple[float, float]:
    """Largest difference between the rest positions of two cycles, and its u; 0 with one cycle."""
    numbers = np.unique(cycles)
    if len(numbers) < 2:
        return 0.0, 0.0
    own = (cycles[:, None] == numbers[1:]).astype(float)
    design = np.column_stack([loop_design(t / np.abs(t).max(), b), own])
    try:
        fit = linear_fit(design, a, u=u, names=(*NAMES, *(f"cycle {n}" for n in numbers[1:])))
    except ValueError:  # a cycle that was only begun, with nothing to tell it from the next
        return 0.0, 0.0
    rest = np.append(0.0, fit.values[4:])
    low, high = int(rest.argmin()), int(rest.argmax())
    pick = np.zeros(len(rest))
    pick[high] += 1
    pick[low] -= 1
    variance = float(pick[1:] @ fit.covariance[4:, 4:] @ pick[1:])
    return float(rest[high] - rest[low]), math.sqrt(variance)
