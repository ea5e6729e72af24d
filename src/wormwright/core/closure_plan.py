"""Planning a closure before the first reading: which re-settings, how many, and what they buy."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from wormwright.core.closure import uncertainty_factor

Array = NDArray[np.float64]

MOST_TRIED = 4000
"""Up to so many designs all are tried; beyond it set-ups are added one by one, the best each."""


@dataclass(frozen=True, slots=True)
class ClosureDesign:
    """Re-settings of an artefact, and the uncertainty of each error in those of one reading."""

    positions: int
    shifts: tuple[int, ...]
    factor: float

    @property
    def readings(self) -> int:
        """How many readings it takes."""
        return self.positions * len(self.shifts)

    @property
    def degrees_of_freedom(self) -> int:
        """How many of them are left to show the scatter."""
        return self.readings - (2 * self.positions + len(self.shifts) - 2)


def _variances(positions: int, moved: NDArray[np.complex128]) -> Array:
    """u² of each of many designs, whose spectra are the rows: sum of K/(K² - |W|²), n times."""
    k = np.abs(moved[:, :1])  # the wave of no turn counts the set-ups
    apart = k**2 - np.abs(moved[:, 1:]) ** 2
    seen = apart > 1e-9 * k**2
    terms = np.where(seen, k / np.where(seen, apart, 1.0), math.inf)
    result: Array = terms.sum(axis=1) / positions
    return result


def _spectrum(positions: int, shifts: NDArray[np.intp]) -> NDArray[np.complex128]:
    """exp(2 pi i f s/n) of every wave f for each shift, (shifts, n)."""
    waves = np.outer(shifts, np.arange(positions)) % positions
    result: NDArray[np.complex128] = np.exp(2j * math.pi * waves / positions)
    return result


def best_design(positions: int, set_ups: int) -> ClosureDesign:
    """The re-settings of so many set-ups that leave the least uncertainty.

    Source: derived, as `uncertainty_factor`. Method: all designs when there are few; else the best
        set-up is added to those there, the first two standing one position apart.
    Inputs: positions round the turn; set_ups, the first one not moved. Outputs: ClosureDesign.
    Valid for: 3 positions or more, 2 set-ups to as many as positions. Raises: ValueError outside.

    >>> best_design(4, 4).shifts, round(best_design(12, 3).factor, 4), best_design(12, 3).shifts
    ((0, 1, 2, 3), 0.674, (0, 1, 4))
    """
    if not (positions >= 3 and 2 <= set_ups <= positions):
        raise ValueError(
            f"closure of {positions} positions in {set_ups} set-ups: expected 3 positions or more "
            f"and 2 set-ups to {max(positions, 3)}"
        )
    few = math.comb(positions - 1, set_ups - 1) <= MOST_TRIED
    shifts = _of_all(positions, set_ups) if few else _one_by_one(positions, set_ups)
    return ClosureDesign(positions, shifts, uncertainty_factor(positions, shifts))


def _of_all(positions: int, set_ups: int) -> tuple[int, ...]:
    sets = np.array([(0, *rest) for rest in combinations(range(1, positions), set_ups - 1)])
    spectrum = _spectrum(positions, np.arange(positions))
    moved = spectrum[sets].sum(axis=1)
    best = int(np.argmin(np.round(_variances(positions, moved), 12)))
    return tuple(int(s) for s in sets[best])


def _one_by_one(positions: int, set_ups: int) -> tuple[int, ...]:
    chosen = [0, 1]
    while len(chosen) < set_ups:
        there = _spectrum(positions, np.array(chosen)).sum(axis=0)
        chosen.append(_best_addition(positions, there, chosen))
    return tuple(sorted(chosen))


def _best_addition(
    positions: int, there: NDArray[np.complex128], chosen: list[int], *, block: int = 256
) -> int:
    """The shift whose set-up, added to those there, leaves the least variance."""
    best, at = math.inf, 0
    free = np.setdiff1d(np.arange(positions), chosen)
    for start in range(0, len(free), block):
        some = free[start : start + block]
        found = np.round(_variances(positions, there + _spectrum(positions, some)), 12)
        if found.min() < best:
            best, at = float(found.min()), int(some[found.argmin()])
    return at


def designs(positions: int, *, most: int = 6) -> Iterator[ClosureDesign]:
    """The best design of 2, 3, ... set-ups, and the full one at the end.

    Source: as `best_design`. Inputs: positions; most, set-ups of a part design.
    Outputs: designs with rising numbers of set-ups. Valid for: as `best_design`. Raises: as it.

    >>> [(len(d.shifts), round(d.factor, 3)) for d in designs(4)]
    [(2, 0.791), (3, 0.53), (4, 0.433)]
    """
    part = min(most, positions - 1)
    for set_ups in range(2, part + 1):
        yield best_design(positions, set_ups)
    full = tuple(range(positions))
    yield ClosureDesign(positions, full, uncertainty_factor(positions, full))


def folded_wave(order: int, positions: int) -> int:
    """The wave of a turn as which a fast wave shows at even positions; 0 when it shows not at all.

    Source: sampling theorem. Formula: order modulo n, the smaller of it and n less it.
    Inputs: order, waves a turn; positions n. Outputs: wave, 0 to n/2.
    Valid for: order of 1 or more, n of 2 or more. Raises: ValueError outside.

    >>> folded_wave(72, 12), folded_wave(90, 12), folded_wave(72, 16)
    (0, 6, 8)
    """
    if order < 1 or positions < 2:
        raise ValueError(f"wave {order} at {positions} positions: expected 1 and 2 or more")
    rest = order % positions
    return min(rest, positions - rest)
