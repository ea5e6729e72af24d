"""Is it within its limit? Guard bands, the chance of conforming, and three answers, never two."""

from __future__ import annotations

import math
from dataclasses import dataclass
from statistics import NormalDist
from typing import Literal

Answer = Literal["conforms", "does not conform", "cannot be told"]
_NORMAL = NormalDist()

NARROW = 4.0
"""A zone not wider than so many guard bands is judged by the chance alone."""


def conformance_probability(
    value: float, *, u: float, low: float = -math.inf, high: float = math.inf
) -> float:
    """Chance that the true value lies within its limits.

    Source: JCGM 106:2012, 7.3 and 7.4. Formula: Phi((high - y)/u) - Phi((low - y)/u).
    Inputs: value y, its standard uncertainty u, limits, one unit. Outputs: 0 to 1.
    Valid for: normal doubt, u > 0, low < high. Raises: ValueError outside.

    >>> round(conformance_probability(-5.47, u=0.05, high=-5.40), 2)
    0.92
    """
    if not (u > 0 and low < high):
        raise ValueError(f"conformity: expected u > 0 and low < high, got {u}, {low}, {high}")
    above = 1.0 if high == math.inf else _NORMAL.cdf((high - value) / u)
    below = 0.0 if low == -math.inf else _NORMAL.cdf((low - value) / u)
    return above - below


def guard_band(*, u: float, p: float = 0.95) -> float:
    """How far inside its limit a value must lie to prove that it conforms.

    Source: ISO 14253-1:2017 (one-sided, default 95 %; recalled). Formula: z_p u.
    Inputs: u standard uncertainty; p. Outputs: the band in the unit of u.
    Valid for: u >= 0, 0.5 <= p < 1. Raises: ValueError outside.

    >>> round(60 - guard_band(u=12.0), 2)
    40.26
    """
    if u < 0 or not 0.5 <= p < 1:
        raise ValueError(f"guard band: expected u >= 0 and p in 0.5..1, got {u}, {p}")
    return _NORMAL.inv_cdf(p) * u


def conformity(value: float, *, u: float, high: float, p: float = 0.95) -> Answer:
    """Three answers about a value that must stay below a limit.

    Source: ISO 14253-1:2017 (recalled).
    Formula: conforms up to high - g, does not conform from high + g on, g of `guard_band`.
    Inputs: value, u and high in one unit; p. Outputs: one of the three answers.
    Valid for: as `guard_band`. Raises: ValueError as `guard_band`.

    >>> [conformity(v, u=12.0, high=60.0) for v in (40, 45, 80)]
    ['conforms', 'cannot be told', 'does not conform']
    """
    band = guard_band(u=u, p=p)
    if value <= high - band:
        return "conforms"
    return "does not conform" if value >= high + band else "cannot be told"


@dataclass(frozen=True, slots=True)
class Judgement:
    """The answer, the chance that the true value lies in its zone, and the guard bands used.

    `narrow` says that the zone is no wider than a few bands, so that the chance alone decided.
    """

    answer: Answer
    chance: float
    band_low: float
    band_high: float
    narrow: bool


def judged(
    value: float,
    *,
    u_below: float,
    u_above: float,
    low: float = -math.inf,
    high: float = math.inf,
    p: float = 0.95,
) -> Judgement:
    """Three answers about a value in its zone, its doubt unequal on both sides if need be.

    Source: ISO 14253-1:2017 (guard band at each limit, recalled) and JCGM 106:2012, 8.3.2 and 7.4
        where the zone is not much wider than the doubt.
    Formula: conforms within low + z u_below .. high - z u_above; does not conform beyond
        low - z u_above or high + z u_below; z = z_p. In a narrow zone, not wider than 4 bands:
        conforms when the chance is p or more, does not when it is 1 - p or less.
    Inputs: value; u_below, u_above: standard uncertainty toward lower and higher values; limits,
        one unit; p. Outputs: Judgement.
    Valid for: doubts above zero, low < high, 0.5 <= p < 1. Raises: ValueError outside.

    >>> judged(45.0, u_below=12.0, u_above=12.0, high=60.0).answer
    'cannot be told'
    >>> narrow = judged(5.0, u_below=2.0, u_above=2.0, low=0.0, high=10.0)
    >>> narrow.narrow, round(narrow.chance, 3), narrow.answer
    (True, 0.988, 'conforms')
    """
    if not (u_below > 0 and u_above > 0 and low < high):
        raise ValueError(
            f"conformity: expected doubts above zero and low < high, "
            f"got {u_below}, {u_above}, {low}, {high}"
        )
    below, above = guard_band(u=u_below, p=p), guard_band(u=u_above, p=p)
    chance = _chance_below(high, value, u_below, u_above) - _chance_below(
        low, value, u_below, u_above
    )
    narrow = high - low <= NARROW * max(below, above)
    answer: Answer = "cannot be told"
    if narrow:
        if chance >= p:
            answer = "conforms"
        elif chance <= 1 - p:
            answer = "does not conform"
    elif low + below <= value <= high - above:
        answer = "conforms"
    elif value >= high + below or value <= low - above:
        answer = "does not conform"
    return Judgement(answer, chance, below, above, narrow)


def _chance_below(limit: float, value: float, u_below: float, u_above: float) -> float:
    """Chance that the true value lies below a limit, two half bells joined at the value."""
    if math.isinf(limit):
        return 1.0 if limit > 0 else 0.0
    u = u_above if limit >= value else u_below
    return _NORMAL.cdf((limit - value) / u)
