"""Runout readings round one turn taken apart: mean, eccentricity, lobes, rest.

Angles are marks of the table under the indicator. A reading grows when the surface comes nearer to
the indicator, so a vector points at the mark where the surface stands out.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from wormwright.core.linear_fit import LinearFit, linear_fit, unseparated
from wormwright.core.turn_vector import CHI_SQUARE_95, TurnVector, largest_u

Array = NDArray[np.float64]

LEAST_PLACES = 8
"""Fewer places round the turn carry no lobes, only the eccentricity."""

WORST_U = 3.0
"""A lobe that comes out this many times worse than even spacing gives is refused."""


@dataclass(frozen=True, slots=True)
class Lobe:
    """One wave of `order` lobes round the turn: amplitude and marks of its high points."""

    order: int
    cosine: float
    sine: float
    u: float

    @property
    def amplitude(self) -> float:
        """Half of its swing, mm."""
        return math.hypot(self.cosine, self.sine)

    @property
    def first_high(self) -> float:
        """Mark of the first high point, rad; the others follow every 2 pi / order."""
        return math.atan2(self.sine, self.cosine) % (2 * math.pi) / self.order

    @property
    def stands_out(self) -> bool:
        """Whether it is proven not to be zero (95 %)."""
        return self.amplitude**2 > CHI_SQUARE_95 * self.u**2


@dataclass(frozen=True, slots=True)
class Runout:
    """Parts of a runout trace, mm. `rest` is what they leave of each reading."""

    mean: float
    mean_u: float
    eccentricity: TurnVector
    lobes: tuple[Lobe, ...]
    rest: Array
    swing: float
    reading_u: float
    dof: int

    @property
    def rest_swing(self) -> float:
        """Peak to valley of the rest, mm."""
        return float(np.ptp(self.rest))


def places_of(angles: ArrayLike) -> Array:
    """Distinct marks of a turn among the angles, rad in order; 0 and 360° are one place.

    Source: definition. Formula: angles modulo 2 pi, equal within 1e-6.
    Inputs: angles [rad, (n,)]. Outputs: places [rad, (places,)].
    Valid for: finite angles. Raises: ValueError otherwise.

    >>> places_of(np.radians([0, 90, 180, 270, 360])).round(4).tolist()
    [0.0, 1.5708, 3.1416, 4.7124]
    """
    turned = np.asarray(angles, dtype=np.float64) % (2 * math.pi)
    if turned.ndim != 1 or not np.all(np.isfinite(turned)):
        raise ValueError("angles: expected one finite angle for each reading")
    grid = np.round(turned, 6)
    return np.unique(np.where(grid >= round(2 * math.pi, 6), 0.0, grid))


def evenly_spaced(places: Array) -> bool:
    """Whether the places divide the turn evenly (within 0.01°)."""
    steps = np.diff(places, append=places[:1] + 2 * math.pi)
    return bool(np.all(np.abs(steps - 2 * math.pi / len(places)) < math.radians(0.01)))


def folds_onto(order: int, places: int) -> tuple[int, int]:
    """Lobes that look exactly like `order` lobes at evenly spaced places.

    Source: sampling theorem. Formula: N - k and N + k read as k.
    Inputs: order k, places N. Outputs: (N - k, N + k).
    Valid for: 1 <= k < N. Raises: ValueError outside.

    >>> folds_onto(3, 12)
    (9, 15)
    """
    if not 1 <= order < places:
        raise ValueError(f"lobes {order} on {places} places: expected 1 to {places - 1}")
    return places - order, places + order


def waves(angles: ArrayLike, orders: Sequence[int]) -> Array:
    """Columns 1, cos k theta, sin k theta of each order, (n, 1 + 2 orders)."""
    theta = np.asarray(angles, dtype=np.float64)
    columns = [np.ones_like(theta)]
    for k in orders:
        columns += [np.cos(k * theta), np.sin(k * theta)]
    return np.column_stack(columns)


def wave_names(orders: Sequence[int]) -> tuple[str, ...]:
    """Names of the columns of `waves`, the two of one order alike."""
    return ("mean", *(f"{k} a turn" for k in orders for _ in (0, 1)))


def most_lobes(angles: ArrayLike) -> int:
    """Highest lobe number that the angles can carry together with all below it.

    Source: sampling theorem for even spacing; rank of the design otherwise.
    Formula: floor((N - 1)/2) for N places, less when uneven places make a lobe too doubtful.
    Inputs: angles [rad, (n,)]. Outputs: lobes; 1 below eight places, 0 below three.
    Valid for: finite angles. Raises: ValueError otherwise.

    >>> most_lobes(np.radians(np.arange(0, 360, 30)))
    5
    """
    places = places_of(angles)
    if len(places) < 3:
        return 0
    most = (len(places) - 1) // 2 if len(places) >= LEAST_PLACES else 1
    carried = (k for k in range(most, 0, -1) if not _weak(places, range(1, k + 1)))
    return next(carried, 0)


def _weak(places: Array, orders: Sequence[int]) -> tuple[int, ...]:
    """Orders that the places leave unseen, or much worse known than even spacing would."""
    design = waves(places, orders)
    lost = unseparated(design, wave_names(orders))
    if lost:
        return tuple(k for k in orders if f"{k} a turn" in lost)
    fit = linear_fit(design, np.zeros(len(places)), u=1.0, names=wave_names(orders))
    ideal = math.sqrt(2 / len(places))
    pairs = np.maximum(fit.u[1::2], fit.u[2::2])
    return tuple(k for k, u in zip(orders, pairs, strict=True) if u > WORST_U * ideal)


def _refuse_unseen(places: Array, orders: Sequence[int]) -> None:
    n = len(places)
    if n < 3:
        raise ValueError(f"{n} places round the turn: expected 3 or more, better 8 or 12")
    if n < LEAST_PLACES and max(orders) > 1:
        raise ValueError(
            f"lobes from {n} places: expected {LEAST_PLACES} places or more; with fewer only mean "
            "and eccentricity can be told"
        )
    weak = _weak(places, orders)
    if not weak:
        return
    if evenly_spaced(places):
        pairs = ", ".join(
            f"{k} looks like {n - k}" if 2 * k != n else f"{k} shows only half of itself"
            for k in weak
            if k < n
        )
        raise ValueError(
            f"{n} evenly spaced places carry lobes up to {(n - 1) // 2}, asked for "
            f"{', '.join(map(str, weak))} ({pairs or 'beyond one a place'}); read more places"
        )
    raise ValueError(
        f"these {n} angles cannot carry {', '.join(map(str, weak))} lobes a turn beside the "
        "others: expected places spread more evenly, or more of them"
    )


def runout_parts(
    angles: ArrayLike, readings: ArrayLike, *, reading_u: float, lobes: Sequence[int] | None = None
) -> Runout:
    """Mean, eccentricity, lobes and rest of a runout trace.

    Source: least-squares reference circle of ISO 12181 (NIST/SEMATECH e-Handbook, 2.3.4.4) with
        higher waves; covariance by JCGM 100:2008, H.3.
    Formula: r = a0 + sum a_k cos k theta + b_k sin k theta; e = (a_1, b_1);
        for N even places a_k = (2/N) sum r cos k theta and u(a_k) = u sqrt(2/N).
    Inputs: angles [rad, (n,)]; readings [mm, (n,)]; reading_u of one reading [mm]; lobes 2.. to
        take out, all that the angles carry (up to 5) when None.
    Outputs: Runout [mm]. `reading_u` in it is the larger of the one given and what the rest shows.
    Valid for: eccentricity small against the radius (its own second lobe is e²/4R).
    Raises: ValueError for lobes that the number or the spread of the angles cannot carry.

    >>> trace = runout_parts(np.radians([0, 90, 180, 270]), [0.02, 0.0, -0.02, 0.0],
    ...                      reading_u=0.001)
    >>> round(trace.eccentricity.size, 4), trace.lobes
    (0.02, ())
    """
    theta, r = np.asarray(angles, dtype=np.float64), np.asarray(readings, dtype=np.float64)
    if theta.shape != r.shape or not reading_u > 0:
        raise ValueError(
            f"{theta.size} angles, {r.size} readings, u {reading_u}: expected one angle for each "
            "reading and an uncertainty above zero"
        )
    places = places_of(theta)
    if lobes is None:
        lobes = range(2, min(most_lobes(theta), 5) + 1)
    orders = (1, *lobes)
    if list(orders) != sorted(set(orders)):
        raise ValueError(f"lobes {tuple(lobes)}: expected rising numbers from 2")
    _refuse_unseen(places, orders)
    fit = linear_fit(waves(theta, orders), r, u=reading_u, names=wave_names(orders))
    return _runout(fit, orders, r, reading_u)


def _runout(fit: LinearFit, orders: Sequence[int], r: Array, reading_u: float) -> Runout:
    seen = math.sqrt(fit.chi_square / fit.dof) if fit.dof > 0 else 1.0
    widen = max(seen, 1.0)
    covariance = fit.covariance * widen**2
    found = [
        Lobe(
            k,
            float(fit.values[2 * i + 1]),
            float(fit.values[2 * i + 2]),
            largest_u(covariance[2 * i + 1 : 2 * i + 3, 2 * i + 1 : 2 * i + 3]),
        )
        for i, k in enumerate(orders)
    ]
    return Runout(
        mean=float(fit.values[0]),
        mean_u=math.sqrt(covariance[0, 0]),
        eccentricity=TurnVector(found[0].cosine, found[0].sine, found[0].u),
        lobes=tuple(found[1:]),
        rest=fit.residuals,
        swing=float(np.ptp(r)),
        reading_u=reading_u * widen,
        dof=fit.dof,
    )


def second_lobe_of_offset(*, offset: float, radius: float) -> float:
    """Amplitude of the false oval that a true circle shows when it runs off centre.

    Source: geometry of the off-centre circle (limacon), second order in e/R.
    Formula: e² / (4 R).
    Inputs: offset e, radius R [mm]. Outputs: amplitude [mm].
    Valid for: e below a tenth of R. Raises: ValueError outside.

    >>> round(second_lobe_of_offset(offset=0.1, radius=25), 6)
    0.0001
    """
    if not (radius > 0 and 0 <= offset < radius / 10):
        raise ValueError(f"offset {offset}, radius {radius} mm: expected an offset below R/10")
    return offset**2 / (4 * radius)


def axis_and_part_by_reversal(run: ArrayLike, turned_run: ArrayLike) -> tuple[Array, Array]:
    """Motion of the axis and form of the part by turning the part half round.

    Source: reversal method for radial error (Evans, Hocken and Estler, CIRP Annals 45(2), 1996;
        from memory). Part and indicator are turned, the table angles stay.
    Formula: with r1 = P + S and r2 = P - S: P = (r1 + r2)/2, S = (r1 - r2)/2.
    Inputs: run, turned_run [mm, (n,)] at the same table angles. Outputs: (S axis, P part) [mm].
    Valid for: an axis that repeats every turn; mean and once-a-turn part carry the set-up.
    Raises: ValueError for runs of different length.

    >>> axis, part = axis_and_part_by_reversal([0.003, 0.001], [0.001, -0.001])
    >>> axis.round(4).tolist(), part.round(4).tolist()
    ([0.001, 0.001], [0.002, 0.0])
    """
    first, second = np.asarray(run, dtype=np.float64), np.asarray(turned_run, dtype=np.float64)
    if first.shape != second.shape:
        raise ValueError(f"runs of {first.size} and {second.size} readings: expected equal ones")
    return (first - second) / 2, (first + second) / 2
