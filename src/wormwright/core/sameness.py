"""Is a size within the limits of a pattern? Three answers for one size and for many together."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Literal

from wormwright.core.conformity import conformance_probability

Sameness = Literal["same", "not the same", "cannot tell"]


def inside_probability(
    value: float, *, u: float, low: float = -math.inf, high: float = math.inf, dof: float = math.inf
) -> float:
    """Chance that the true size lies within its limits.

    Source: JCGM 106:2012, 7.3 (recalled); for few repeats Student's t in place of the normal law
        (JCGM 100:2008, G.3).
    Formula: F((high - y)/u) - F((low - y)/u); 1 or 0 for an exact value (u = 0), limits included.
    Inputs: value y, its standard uncertainty u and the limits, one unit; dof of u.
    Outputs: 0 to 1. Valid for: u >= 0, low <= high, dof > 0. Raises: ValueError outside.

    >>> round(inside_probability(24.82, u=0.01, low=24.75, high=24.85), 4)
    0.9987
    >>> inside_probability(80, u=0, low=80, high=80)
    1.0
    """
    if not (u >= 0 and low <= high and dof > 0):
        raise ValueError(
            f"sameness: expected u >= 0, low <= high and dof > 0, got u {u}, {low} to {high}, {dof}"
        )
    if u == 0 or low == high:
        return 1.0 if u == 0 and low <= value <= high else 0.0
    if math.isinf(dof):
        return conformance_probability(value, u=u, low=low, high=high)
    from scipy.special import stdtr  # noqa: PLC0415  (late: costs start-up)

    above = 1.0 if high == math.inf else float(stdtr(dof, (high - value) / u))
    below = 0.0 if low == -math.inf else float(stdtr(dof, (low - value) / u))
    return above - below


def sameness(inside: float, *, sizes: int = 1, p: float = 0.95) -> Sameness:
    """Answer for one of several sizes that are compared with a pattern.

    Source: decision rule of ISO 14253-1:2017 (recalled) with the chance of JCGM 106 in place of
        the guard band, so that it holds for narrow limits too; derived here for many sizes.
    Formula: same from p on. Not the same up to 1 - p^(1/sizes): a unit whose every size sits at
        its limit is then called "not the same" no more often than 1 - p, and a unit with one size
        out of its limits is called "same" no more often than 1 - p.
    Inputs: inside, chance of `inside_probability`; sizes, how many are compared; p.
    Outputs: one of the three answers.
    Valid for: independent readings, 0.5 < p < 1, sizes >= 1. Raises: ValueError outside.

    >>> [sameness(c, sizes=10) for c in (0.99, 0.5, 0.02, 0.001)]
    ['same', 'cannot tell', 'cannot tell', 'not the same']
    """
    if not (0 <= inside <= 1 and 0.5 < p < 1 and sizes >= 1):
        raise ValueError(
            f"sameness: expected a chance 0..1, p in 0.5..1 and sizes >= 1, "
            f"got {inside}, {p}, {sizes}"
        )
    if inside >= p:
        return "same"
    return "not the same" if inside <= 1 - p ** (1 / sizes) else "cannot tell"


def all_same(answers: Iterable[Sameness]) -> Sameness:
    """One answer for the whole unit: one size that differs settles it, all must be the same.

    Source: weakest link of the single answers; derived here.
    Inputs: answers. Outputs: the answer; "cannot tell" for none.
    Valid for: answers of `sameness` with `sizes` their number. Raises: nothing.

    >>> all_same(["same", "cannot tell"]), all_same(["same", "same"])
    ('cannot tell', 'same')
    """
    given = set(answers)
    if "not the same" in given:
        return "not the same"
    return "same" if given == {"same"} else "cannot tell"


def coarsest_u(value: float, *, low: float, high: float, p: float = 0.95) -> float | None:
    """The standard uncertainty with which this reading would have settled the question.

    Source: JCGM 106:2012, 7.3, solved for u; derived here.
    Formula: the largest u with inside probability >= p if y lies within the limits, else with
        probability <= 1 - p: distance to the nearer limit over z_p, sharpened for two limits.
    Inputs: value, low, high in one unit; p. Outputs: u, or None on the limit itself.
    Valid for: low < high, 0.5 < p < 1. Raises: ValueError outside.

    >>> u = coarsest_u(24.82, low=24.75, high=24.85)
    >>> round(u, 4), round(inside_probability(24.82, u=u, low=24.75, high=24.85), 3)
    (0.0182, 0.95)
    """
    from statistics import NormalDist  # noqa: PLC0415

    from scipy.optimize import brentq  # noqa: PLC0415  (late: costs start-up)

    if not (low < high and 0.5 < p < 1):
        raise ValueError(f"sameness: expected low < high and p in 0.5..1, got {low}, {high}, {p}")
    away = min(abs(value - low), abs(value - high))
    if away == 0:
        return None
    one_sided = away / NormalDist().inv_cdf(p)
    if not low < value < high:
        return one_sided
    ends = (one_sided / 4, one_sided * (1 + 1e-9))
    return float(brentq(lambda u: inside_probability(value, u=u, low=low, high=high) - p, *ends))
