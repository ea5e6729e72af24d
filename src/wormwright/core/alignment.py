"""Where the axis of a rotary stands to the travels of the machine, from a bar and an indicator.

Distances run outward from the jaws along the travel; a lean is above zero when the axis rises (top)
or goes to machine plus (side) on the way outward.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from wormwright.core.linear_fit import linear_fit

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Slope:
    """Lean of the axis against a travel [1], and what it does over a length [mm]."""

    lean: float

    def over(self, length: float) -> float:
        """Rise or drift over a length, mm: a shim under the far feet, a move at the key."""
        return self.lean * length

    def taper(self, length: float) -> float:
        """Difference of diameter over a length of work turned or milled along the travel, mm."""
        return 2 * abs(self.lean) * length


def slope_of_axis(*, near: tuple[float, float], far: tuple[float, float], distance: float) -> Slope:
    """Lean of the axis from readings on a bar at two places, the bar turned half round at each.

    Source: geometry: the mean of two readings half a turn apart is free of the bar's own runout.
    Formula: (mean of far - mean of near) / distance.
    Inputs: near, far, readings at 0° and 180° [mm], plus when the bar stands toward the needle;
        distance between the two places along the travel [mm].
    Outputs: Slope, above zero when the bar comes toward the needle going outward.
    Valid for: a straight bar, one needle carried along the travel. Raises: ValueError for a
        distance not above zero.

    >>> round(slope_of_axis(near=(0.0, 0.01), far=(0.03, 0.04), distance=150.0).lean * 1e6)
    200
    """
    if not distance > 0:
        raise ValueError(f"axis: expected the two places apart, got {distance} mm")
    return Slope((sum(far) / 2 - sum(near) / 2) / distance)


@dataclass(frozen=True, slots=True)
class HalfTurn:
    """One place on the bar read half a turn apart, mm: where the axis stands, and the bar off it.

    `axis` still holds the sag of the bar and the straightness of the travel; `u` is of `axis`.
    """

    distance: float
    axis: float
    bar: float
    u: float


def half_turn(
    *, distance: float, at_start: Sequence[float], turned: Sequence[float], reading_u: float
) -> HalfTurn:
    """Axis and bar error at one place, from readings half a turn apart.

    Source: ISO 230-1 practice of the reversed mandrel (from memory); derived here.
    Formula: axis = (a + b)/2, bar = (a - b)/2, a and b the means of the repeats;
        u = sqrt(u_r^2/n_a + u_r^2/n_b)/2.
    Inputs: distance from the jaws, readings as started and turned half round, reading_u of one
        reading [mm]. Outputs: HalfTurn [mm].
    Valid for: one reading or more each way, on the same two lines of the bar.
    Raises: ValueError without a reading half a turn apart, or for a u not above zero.

    >>> place = half_turn(distance=100.0, at_start=[0.038], turned=[0.006], reading_u=0.002)
    >>> round(place.axis, 3), round(place.bar, 3)
    (0.022, 0.016)
    """
    if not (at_start and turned):
        raise ValueError(
            f"bar at {distance:g} mm: expected readings half a turn apart, got "
            f"{len(at_start)} and {len(turned)}; turn the axis half round and read that place again"
        )
    if not reading_u > 0:
        raise ValueError(f"u of a reading must be above zero, got {reading_u}")
    a, b = (math.fsum(side) / len(side) for side in (at_start, turned))
    u = reading_u * math.sqrt(1 / len(at_start) + 1 / len(turned)) / 2
    return HalfTurn(distance, (a + b) / 2, (a - b) / 2, u)


@dataclass(frozen=True, slots=True)
class AxisLine:
    """The axis as a line: height at the jaws [mm], lean [1], their covariance, what is left [mm].

    `u_travel` is the part of the lean's doubt that the straightness of the travel brings.
    """

    at_jaws: float
    lean: float
    u_jaws: float
    u_lean: float
    u_travel: float
    left: Array
    chi_square: float
    dof: int


def axis_line(
    places: Sequence[HalfTurn],
    *,
    sag: ArrayLike = 0.0,
    travel: ArrayLike = 0.0,
    travel_u: float = 0.0,
) -> AxisLine:
    """Line of the axis through the places, with sag of the bar and bend of the travel taken out.

    Source: weighted straight line (JCGM 100:2008, H.3); derived here for the corrections.
    Formula: axis_i + sag_i - travel_i = h + lean z_i; with two places
        u(lean) = sqrt(u_1^2 + u_2^2 + 2 u_t^2)/(z_2 - z_1), which for equal u of the readings is
        u_d/(z_2 - z_1).
    Inputs: places; sag of the bar there, down above zero, [mm, one or (n,)]; travel, what the
        needle shows on a straight line there, in the same sign as the readings [mm, one or (n,)];
        travel_u of each of those, or of a travel that was not read [mm].
    Outputs: AxisLine. Valid for: two places or more apart from each other.
    Raises: ValueError with fewer.

    >>> two = [half_turn(distance=0.0, at_start=[0.0], turned=[0.012], reading_u=0.002),
    ...        half_turn(distance=100.0, at_start=[0.038], turned=[0.006], reading_u=0.002)]
    >>> line = axis_line(two)
    >>> round(line.lean * 1e6), round(line.u_lean * 1e6)
    (160, 20)
    """
    z = np.array([p.distance for p in places], dtype=np.float64)
    if len(z) < 2 or float(np.ptp(z)) <= 0:
        raise ValueError(
            f"axis: expected the bar read at two places or more, got {len(set(z.tolist()))}; read "
            "it near the jaws and near its end"
        )
    if travel_u < 0:
        raise ValueError(f"travel_u must not be below zero, got {travel_u}")
    y = np.array([p.axis for p in places]) + np.asarray(sag) - np.asarray(travel)
    u_own = np.array([p.u for p in places])
    design = np.column_stack([np.ones_like(z), z])
    fit = linear_fit(design, y, u=np.hypot(u_own, travel_u), names=("height", "lean"))
    own = linear_fit(design, y, u=u_own, names=("height", "lean"))
    by_travel = max(float(fit.u[1]) ** 2 - float(own.u[1]) ** 2, 0.0)
    return AxisLine(
        float(fit.values[0]),
        float(fit.values[1]),
        float(fit.u[0]),
        float(fit.u[1]),
        math.sqrt(by_travel),
        fit.residuals,
        fit.chi_square,
        fit.dof,
    )


def travel_by_turned_edge(*, as_laid: ArrayLike, turned_over: ArrayLike) -> Array:
    """Bend of a travel from a straight-edge read as laid and turned over, its own form cancelled.

    Source: straight-edge reversal (ISO 230-1 practice, from memory); derived here.
    Formula: as laid s + f, turned over s - f; s = (as laid + turned over)/2, less the straight
        line through its ends.
    Inputs: readings along the edge at the same places, evenly spaced or not [mm, (n,)].
    Outputs: bend of the travel at those places [mm, (n,)], as the needle shows it.
    Valid for: two readings or more, in the same order. Raises: ValueError otherwise.

    >>> travel_by_turned_edge(as_laid=[0, 0.006, 0], turned_over=[0, -0.002, 0]).tolist()
    [0.0, 0.002, 0.0]
    """
    first, second = np.asarray(as_laid, np.float64), np.asarray(turned_over, np.float64)
    if first.shape != second.shape or first.ndim != 1 or len(first) < 2:
        raise ValueError(
            f"straight-edge: expected two runs over the same places, got {first.shape} and "
            f"{second.shape}"
        )
    mean = (first + second) / 2
    return mean - np.linspace(mean[0], mean[-1], len(mean))


def centre_height(*, over: tuple[float, float], diameter: float) -> float:
    """Height of an axis from a height gauge over a bar in it, the bar turned half round.

    Source: geometry. Formula: mean of the two readings less half the diameter.
    Inputs: over, readings at 0° and 180° [mm]; diameter of the bar there [mm].
    Outputs: height [mm]. Valid for: diameter above zero. Raises: ValueError outside.

    >>> round(centre_height(over=(112.534, 112.508), diameter=25.004), 3)
    100.019
    """
    if not diameter > 0:
        raise ValueError(f"centre height: expected a diameter above zero, got {diameter} mm")
    return sum(over) / 2 - diameter / 2
