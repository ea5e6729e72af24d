"""Is it within its limit? Guard bands, the chance of conforming, and three answers, never two."""

from __future__ import annotations

import math
from statistics import NormalDist
from typing import Literal

Answer = Literal["conforms", "does not conform", "cannot be told"]
_NORMAL = NormalDist()


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
