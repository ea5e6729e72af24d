"""From a reading at a target to the deviation there: wrapped angles, zero, sense of counting."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from wormwright.bench import Bench
from wormwright.job.reading import Reading
from wormwright.job.result import Doubt

Array = NDArray[np.float64]

BELIEVABLE = math.radians(5.0)
"""No axis that is worth a test stands further off its targets, once the zero is taken out, rad."""


@dataclass(frozen=True, slots=True)
class Deviation:
    """A reading with what it says: table angle as measured less target, rad."""

    reading: Reading
    x: float

    @property
    def target(self) -> float:
        """The commanded angle, rad."""
        return self.reading.table_angle or 0.0

    @property
    def approach(self) -> str:
        """forward or backward."""
        return self.reading.said("approach") or ""

    @property
    def run(self) -> int:
        """Number of the run."""
        return round(self.reading.number("run") or 0)

    @property
    def stood_by(self) -> bool:
        """True when the row was written again: it was looked at and is meant."""
        return self.reading.supersedes is not None


def deviations_of(
    bench: Bench, kinds: tuple[str, str]
) -> tuple[tuple[Deviation, ...], tuple[Doubt, ...]]:
    """The deviations of a test written in one of two ways (`kinds`: error, position as shown)."""
    errors, shown = (tuple(r for r in bench.of(k) if r.value is not None) for k in kinds)
    doubts: tuple[Doubt, ...] = ()
    if errors and shown:
        doubts = (_two_ways(min(errors, shown, key=len)),)
    if len(errors) >= len(shown):
        return tuple(Deviation(r, r.value or 0.0) for r in errors), doubts
    found, wrong = _from_positions(shown)
    return found, (*doubts, *wrong)


def _from_positions(rows: Sequence[Reading]) -> tuple[tuple[Deviation, ...], tuple[Doubt, ...]]:
    """Positions less targets, the common zero taken out, brought within half a turn."""
    shown = np.array([r.value for r in rows], float)
    targets = np.array([r.table_angle or 0.0 for r in rows])
    x = _about_common_zero(shown - targets)
    if _spread(x) > BELIEVABLE and _spread(_about_common_zero(shown + targets)) < BELIEVABLE:
        return (), (_counts_against(rows),)
    return tuple(Deviation(r, float(v)) for r, v in zip(rows, x, strict=True)), ()


def _about_common_zero(turned: Array) -> Array:
    """Angles about their common direction, each within half a turn of it."""
    zero = float(np.angle(np.exp(1j * turned).sum()))
    result: Array = np.angle(np.exp(1j * (turned - zero)))
    return result


def _spread(x: Array) -> float:
    return float(np.median(np.abs(x - np.median(x))))


def _two_ways(fewer: Sequence[Reading]) -> Doubt:
    return Doubt(
        "warn",
        "P-1",
        f"Errors and positions stand side by side; the {len(fewer)} rows of {fewer[0].kind} were "
        "left out.",
        "Their zeros have nothing to do with each other.",
        "Write the whole test in one way.",
        tuple(r.seq for r in fewer),
    )


def _counts_against(rows: Sequence[Reading]) -> Doubt:
    return Doubt(
        "refuse",
        "P-2",
        "The measuring means counts against the table: what it shows falls while the targets rise.",
        "Every deviation would come out as twice the target.",
        "Turn its sense of counting round, or write the position with the other sign.",
        tuple(r.seq for r in rows),
    )
