"""Numbers for the results file: two places beyond those on paper, and no further."""

from __future__ import annotations

import math

from wormwright.job.result import Estimate

SPARE = 2
_PLAIN = 6
Data = dict[str, object]


def maybe(estimate: Estimate | None) -> Data | None:
    """The estimate, or null when there is none."""
    return None if estimate is None else estimate_data(estimate)


def estimate_data(estimate: Estimate) -> Data:
    """Value, doubt and interval, rounded by the doubt."""
    u = max(estimate.u, (estimate.high - estimate.low) / 4)
    return {
        "value": to_u(estimate.value, u),
        "u": plain(estimate.u, digits=SPARE + 1),
        "low": to_u(estimate.low, u),
        "high": to_u(estimate.high, u),
        "dimension": estimate.dimension,
        "method": estimate.method,
    }


def to_u(value: float, u: float) -> float:
    """The value to two places beyond the leading digit of its uncertainty."""
    if not u > 0:
        return plain(value)
    return round(value, SPARE - math.floor(math.log10(u)))


def plain(value: float, *, digits: int = _PLAIN) -> float:
    """The value to so many digits."""
    return float(f"{value:.{digits}g}")


def if_known(value: float, *, digits: int) -> float | None:
    """The value to so many digits, or null when it is no number."""
    return plain(value, digits=digits) if math.isfinite(value) else None


def probability(p: float, draws: int) -> float:
    """A share of draws, to the place that so many draws carry."""
    return round(p, max(2, math.floor(math.log10(max(draws, 1)) / 2)))
