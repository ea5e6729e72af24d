"""The difference of two means, with its doubt and whether it is proven."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import NamedTuple

from wormwright.core.uncertainty import coverage_factor, effective_degrees_of_freedom


class Mean(NamedTuple):
    """A mean, its standard uncertainty and degrees of freedom."""

    value: float
    u: float
    dof: float = math.inf


@dataclass(frozen=True, slots=True)
class Difference:
    """One mean less another, with the doubt of both and the degrees of freedom of that doubt."""

    value: float
    u: float
    dof: float

    @property
    def least(self) -> float:
        """Lower end of the 95 % interval."""
        return self.value - coverage_factor(0.95, dof=self.dof) * self.u

    @property
    def most(self) -> float:
        """Upper end of the 95 % interval."""
        return self.value + coverage_factor(0.95, dof=self.dof) * self.u

    @property
    def proven(self) -> bool:
        """Whether nought lies outside the 95 % interval."""
        return not self.least <= 0 <= self.most


def difference_of_means(one: Mean, other: Mean, *, known: Mean | None = None) -> Difference:
    """One mean less another, and less a difference that is known to be there anyway.

    Source: two-sample comparison with unequal spread (Welch), degrees of freedom by
        JCGM 100:2008, G.4.
    Formula: d = one - other - known; u² = u1² + u2² + u_k².
    Inputs: means, known [one unit]. Outputs: Difference.
    Valid for: independent means, doubts above zero, degrees of freedom above zero.
    Raises: ValueError outside.

    >>> d = difference_of_means(Mean(0.120, 0.003), Mean(0.090, 0.004))
    >>> round(d.value, 3), round(d.u, 3), d.proven
    (0.03, 0.005, True)
    """
    third = known or Mean(0.0, 0.0)
    if not (one.u > 0 and other.u > 0 and third.u >= 0 and min(one.dof, other.dof) > 0):
        raise ValueError(
            f"doubts {one.u}, {other.u}, {third.u}: expected above zero for both sides"
        )
    dof = effective_degrees_of_freedom((one.u, other.u, third.u), (one.dof, other.dof, third.dof))
    return Difference(
        one.value - other.value - third.value, math.hypot(one.u, other.u, third.u), max(1.0, dof)
    )
