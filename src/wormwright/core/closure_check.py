"""Whether a closure hangs together: chi-square of its residuals, and readings that stand out."""

from __future__ import annotations

import math
from dataclasses import dataclass
from statistics import NormalDist

import numpy as np

from wormwright.core.closure import Closure
from wormwright.core.standard_uncertainty import chi_square_tail

CHANCE = 0.05
"""How often a sound closure is doubted all the same, whatever its number of readings."""

NO_FREEDOM = 1e-6
"""A reading with less freedom than this decides its own residual, which then says nothing."""


@dataclass(frozen=True, slots=True)
class Outlier:
    """One reading (position and set-up from 0) and by how many of its own u it stands out."""

    position: int
    set_up: int
    times: float


@dataclass(frozen=True, slots=True)
class ClosureCheck:
    """Chi-square with its chance, the readings that stand out (worst first), and u to use.

    `u` is the uncertainty of one reading as stated, or as the residuals show where that is more.
    """

    chi_square: float
    chance: float
    outliers: tuple[Outlier, ...]
    u: float

    @property
    def hangs_together(self) -> bool:
        """Whether residuals as large as these are no wonder at the stated uncertainty."""
        return self.chance >= CHANCE


def closure_check(found: Closure, *, u: float) -> ClosureCheck:
    """Residuals of a closure against the uncertainty of one reading.

    Source: chi-square test of a least-squares fit; normalised residuals with Bonferroni's limit
        (from memory; both in any text on adjustment of observations).
    Formula: chi² = sum r²/u² on dof; w = r/(u sqrt(freedom)) against z of 1 - 0.05/(2 m).
    Inputs: found; u of one reading, as the readings [unit]. Outputs: ClosureCheck.
    Valid for: u above zero and a degree of freedom or more. Raises: ValueError outside.

    >>> from wormwright.core.closure import closure
    >>> y = [[9.5, -3, -4, 19], [-7.5, -20, 1, 8], [4.5, 24, 19, 20], [-0.5, -7, -8, -7]]
    >>> check = closure_check(closure(y, [0, 1, 2, 3]), u=1.0)
    >>> check.hangs_together, [(o.position, o.set_up) for o in check.outliers[:1]]
    (False, [(2, 1)])
    """
    if not u > 0 or found.degrees_of_freedom < 1:
        raise ValueError(
            f"closure: u {u}, {found.degrees_of_freedom} degrees of freedom: expected an "
            "uncertainty above zero and more readings than unknowns; add a set-up"
        )
    chi_square = float(np.nansum(found.residuals**2)) / u**2
    chance = chi_square_tail(chi_square, found.degrees_of_freedom)
    loose = found.freedom > NO_FREEDOM
    normal = np.where(loose, found.residuals, 0.0) / (
        u * np.sqrt(np.where(loose, found.freedom, 1))
    )
    limit = NormalDist().inv_cdf(1 - CHANCE / 2 / max(int(loose.sum()), 1))
    places = np.argwhere(np.abs(normal) > limit)
    outliers = sorted(
        (Outlier(int(i), int(k), float(abs(normal[i, k]))) for i, k in places),
        key=lambda o: -o.times,
    )
    seen = u * math.sqrt(chi_square / found.degrees_of_freedom)
    return ClosureCheck(
        chi_square, chance, tuple(outliers), u if chance >= CHANCE else max(u, seen)
    )
