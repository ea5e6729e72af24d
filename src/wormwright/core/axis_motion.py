"""How the axis of rotation itself wanders in a turn: reversal, what repeats and what does not."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from wormwright.core.runout import axis_and_part_by_reversal, waves
from wormwright.core.standard_uncertainty import chi_square_tail

Array = NDArray[np.float64]

LEAST_PLACES = 8
"""Fewer places round the turn leave nothing once the set-up is taken out."""


@dataclass(frozen=True, slots=True)
class AxisMotion:
    """Synchronous motion of the axis and form of the part, mm at the places, set-up taken out.

    `u` is the standard uncertainty of each value, `chance` the probability of a motion as large
    from the noise alone. `asynchronous` is the largest range between turns at one place, None from
    one turn; `turns` is of how many.
    """

    axis: Array
    part: Array
    u: float
    chance: float
    asynchronous: float | None
    turns: int

    @property
    def synchronous(self) -> float:
        """Radial error motion that repeats every turn, peak to valley, mm."""
        return float(np.ptp(self.axis))

    @property
    def form(self) -> float:
        """Out of round of the part, peak to valley about its mean circle, mm."""
        return float(np.ptp(self.part))

    @property
    def swing_u(self) -> float:
        """Standard uncertainty of a difference of two places, mm."""
        return math.sqrt(2) * self.u


def without_setting(angles: ArrayLike, readings: ArrayLike) -> Array:
    """A trace less its mean and once-a-turn part, which are how the part was set up.

    Source: ISO 230-7 (recalled): the once-a-turn part of a radial trace is no motion of the axis.
    Method: least squares of 1, cos theta, sin theta; places need not be even.
    Inputs: angles [rad, (n,)]; readings [mm, (n,)]. Outputs: rest [mm, (n,)].
    Valid for: four places or more. Raises: ValueError outside.

    >>> at = np.radians(np.arange(0, 360, 45))
    >>> rest = without_setting(at, 5 + 2 * np.cos(at - 1) + 0.1 * np.cos(2 * at))
    >>> bool(np.allclose(rest, 0.1 * np.cos(2 * at)))
    True
    """
    theta, r = np.asarray(angles, dtype=np.float64), np.asarray(readings, dtype=np.float64)
    if theta.shape != r.shape or len(theta) < 4:
        raise ValueError(f"{theta.size} angles, {r.size} readings: expected four of each or more")
    design = waves(theta, (1,))
    result: Array = r - design @ np.linalg.lstsq(design, r, rcond=None)[0]
    return result


def axis_motion(
    angles: ArrayLike, first: ArrayLike, turned: ArrayLike, *, reading_u: float
) -> AxisMotion:
    """Motion of the axis and form of the part from turns as set and turns after reversal.

    Source: reversal (Evans, Hocken and Estler, CIRP Annals 45(2), 1996; from memory), terms of
        ISO 230-7 (recalled): synchronous repeats every turn, asynchronous is the rest.
    Formula: S = (r1 - r2)/2, P = (r1 + r2)/2 of the means over turns, less k = 0 and 1;
        u² = (u1²/n1 + u2²/n2)/4; asynchronous = max over places of the range over turns.
    Inputs: angles [rad, (n,)]; first, turned [mm, (turns, n)]; reading_u of one reading [mm]. Where
        turns differ by more than reading_u their own scatter counts.
    Outputs: AxisMotion. Valid for: eight places or more, the same in both runs.
    Raises: ValueError outside.

    >>> at = np.radians(np.arange(0, 360, 45))
    >>> s, p = 0.002 * np.cos(2 * at), 0.001 * np.cos(3 * at)
    >>> found = axis_motion(at, [p + s], [p - s], reading_u=0.0001)
    >>> bool(np.allclose(found.axis, s) and np.allclose(found.part, p)), round(found.synchronous, 4)
    (True, 0.004)
    """
    r1, r2 = np.atleast_2d(np.asarray(first, float)), np.atleast_2d(np.asarray(turned, float))
    theta = np.asarray(angles, dtype=np.float64)
    if not (r1.shape[1] == r2.shape[1] == len(theta) >= LEAST_PLACES and reading_u > 0):
        raise ValueError(
            f"{len(theta)} places, runs of {r1.shape[1]} and {r2.shape[1]}: expected the same "
            f"{LEAST_PLACES} or more in both"
        )
    u = max(reading_u, _scatter(r1, r2))
    s, p = axis_and_part_by_reversal(r1.mean(axis=0), r2.mean(axis=0))
    axis, part = without_setting(theta, s), without_setting(theta, p)
    each = u * math.sqrt(1 / len(r1) + 1 / len(r2)) / 2
    ranges = [float(np.ptp(r, axis=0).max()) for r in (r1, r2) if len(r) > 1]
    return AxisMotion(
        axis=axis,
        part=part,
        u=each,
        chance=chi_square_tail(float(np.sum((axis / each) ** 2)), len(theta) - 3),
        asynchronous=max(ranges, default=None),
        turns=max(len(r1), len(r2)),
    )


def _scatter(*runs: Array) -> float:
    """Pooled standard deviation of one reading about the mean of its place; 0 from single turns."""
    squares = sum(float(np.sum((r - r.mean(axis=0)) ** 2)) for r in runs)
    dof = sum((len(r) - 1) * r.shape[1] for r in runs)
    return math.sqrt(squares / dof) if dof else 0.0
