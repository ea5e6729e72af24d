"""Drag read round the turn: parts that repeat with table and worm, the peak, and the tight spot."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from wormwright.core.linear_fit import linear_fit, unseparated
from wormwright.core.turn_vector import TurnVector

Array = NDArray[np.float64]
Agreement = Literal["agree", "differ", "cannot tell"]

MEDIAN_FACTOR = math.sqrt(math.pi / 2)
"""Standard uncertainty of a median over that of a mean, many normal readings."""

BLURRED = math.radians(45)
"""Two places whose difference is known no better than this are not compared."""


@dataclass(frozen=True, slots=True)
class DragRound:
    """Mean drag and the waves once a table turn and once a worm turn, N·mm.

    `worm` is None when the places cannot tell it, as at whole worm turns.
    """

    mean: float
    mean_u: float
    table: TurnVector
    worm: TurnVector | None
    rest: Array


def drag_round_the_turn(
    table_angle: ArrayLike, worm_angle: ArrayLike, torque: ArrayLike, *, u: float
) -> DragRound:
    """Drag as mean, once-per-table-turn and once-per-worm-turn parts.

    Source: least squares (JCGM 100:2008, H.3).
    Formula: T = T0 + a cos phi + b sin phi + c cos psi + d sin psi.
    Inputs: table_angle phi, worm_angle psi [rad, (n,)]; torque [N·mm, (n,)]; u of one [N·mm].
    Outputs: DragRound [N·mm]; vectors point at the mark of most drag.
    Valid for: four places round the table or more; a sharp tight spot also leaves a rest.
    Raises: ValueError when not even the table's part can be told.

    >>> phi = np.radians(np.arange(0, 360, 30))
    >>> turn = drag_round_the_turn(phi, 90 * phi, 200 + 50 * np.cos(phi), u=5.0)
    >>> round(turn.table.size, 6), round(math.degrees(turn.table.direction_u), 1), turn.worm
    (50.0, 2.3, None)
    """
    phi, psi = np.asarray(table_angle, dtype=np.float64), np.asarray(worm_angle, dtype=np.float64)
    t = np.asarray(torque, dtype=np.float64)
    if not phi.shape == psi.shape == t.shape or len(t) < 4:
        raise ValueError(f"drag map of {t.size} readings: expected 4 or more, each with its angles")
    columns = [np.ones_like(phi), np.cos(phi), np.sin(phi)]
    names = ["mean", "once a table turn", "once a table turn"]
    with_worm = [*columns, np.cos(psi), np.sin(psi)]
    worm_names = [*names, "once a worm turn", "once a worm turn"]
    told = len(t) >= 5 and not unseparated(np.column_stack(with_worm), worm_names)
    if told:
        columns, names = with_worm, worm_names
    fit = linear_fit(np.column_stack(columns), t, u=u, names=names)
    s = fit.u
    return DragRound(
        mean=float(fit.values[0]),
        mean_u=float(s[0]),
        table=TurnVector(float(fit.values[1]), float(fit.values[2]), float(s[1:3].max())),
        worm=TurnVector(float(fit.values[3]), float(fit.values[4]), float(s[3:5].max()))
        if told
        else None,
        rest=fit.residuals,
    )


class Ratio(NamedTuple):
    """A pure number and its standard uncertainty."""

    value: float
    u: float


def peak_over_median(torque: ArrayLike, *, u: float) -> Ratio:
    """How sharp the tight spot is: highest drag over the median.

    Source: common practice asks for at most 2; u of a median by normal theory.
    Formula: q = max/median; u² = (u/median)² + (q u sqrt(pi/2)/(median sqrt n))².
    Inputs: torque round the turn [N·mm, (n,)]; u of one reading [N·mm]. Outputs: Ratio [1].
    Valid for: six places or more, median above zero. The highest of many noisy readings stands a
        little high. Raises: ValueError outside.

    >>> round(peak_over_median([100, 100, 110, 200, 110, 100], u=5.0).value, 3)
    1.905
    """
    t = np.asarray(torque, dtype=np.float64)
    if t.ndim != 1 or len(t) < 6:
        raise ValueError(f"peak over median of {t.size} places: expected 6 or more round the turn")
    median = float(np.median(t))
    if not median > 0:
        raise ValueError(f"median drag {median} N·mm: expected above zero")
    q = float(t.max()) / median
    return Ratio(q, u / median * math.hypot(1.0, q * MEDIAN_FACTOR / math.sqrt(len(t))))


class Place(NamedTuple):
    """A mark of the table and its standard uncertainty, rad."""

    angle: float
    u: float


def place_of_peak(table_angle: ArrayLike, torque: ArrayLike, *, u: float) -> Place:
    """Mark of the table where the drag is highest, with its doubt.

    Source: derived here: centre of the readings that stand in the upper half of the peak.
    Formula: w = T - (median + peak)/2 where above zero; mark = arg sum w exp(i phi);
        u² = sum (u sin(phi - mark)/R)² over them + step²/12, R = |sum w exp(i phi)|.
    Inputs: table_angle [rad, (n,)]; torque [N·mm, (n,)]; u of one reading [N·mm].
    Outputs: Place [rad]; u runs up to 104° (anywhere) for a map without a peak.
    Valid for: six places or more round the turn. Raises: ValueError outside.

    >>> place = place_of_peak(np.radians(np.arange(0, 360, 30)),
    ...                       [34, 34, 33, 34, 34, 35, 40, 46, 46, 42, 35, 34], u=1.0)
    >>> round(math.degrees(place.angle))
    231
    """
    phi, t = np.asarray(table_angle, dtype=np.float64), np.asarray(torque, dtype=np.float64)
    if phi.shape != t.shape or len(t) < 6:
        raise ValueError(f"place of the peak from {t.size} readings: expected 6 or more")
    median, peak = float(np.median(t)), float(t.max())
    anywhere = Place(float(phi[np.argmax(t)]) % (2 * math.pi), math.pi / math.sqrt(3))
    if not peak - median > 2 * math.hypot(u, u * MEDIAN_FACTOR / math.sqrt(len(t))):
        return anywhere
    weight = np.maximum(t - (median + peak) / 2, 0.0)
    centre = complex(np.sum(weight * np.exp(1j * phi)))
    if not abs(centre) > 0.1 * float(weight.sum()):
        return anywhere
    mark = math.atan2(centre.imag, centre.real)
    pull = float(np.sum((u * np.sin(phi - mark)[weight > 0]) ** 2)) / abs(centre) ** 2
    step = 2 * math.pi / len(t)
    return Place(mark % (2 * math.pi), min(math.sqrt(pull + step**2 / 12), anywhere.u))


def places_agree(first: Place, second: Place) -> Agreement:
    """Whether two ways of finding the tight spot, as by drag and by rock, name the same place.

    Source: difference against its standard uncertainty, k = 2.
    Formula: d = angle between, u = hypot(u1, u2); agree when d <= 2u, cannot tell when u > 45°.
    Inputs: two Places [rad]. Outputs: agree, differ or cannot tell.
    Valid for: independent readings. Raises: nothing.

    >>> places_agree(Place(0.1, 0.1), Place(6.2, 0.1)), places_agree(Place(0, 0.1), Place(3, 0.1))
    ('agree', 'differ')
    """
    u = math.hypot(first.u, second.u)
    if u > BLURRED:
        return "cannot tell"
    apart = abs(math.remainder(first.angle - second.angle, 2 * math.pi))
    return "agree" if apart <= 2 * u else "differ"
