"""The verdict on the finished axis: each demand of the duty met, not met, or not to be told."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from wormwright.job.result import Estimate

Answer = Literal["met", "not met", "cannot be told"]


@dataclass(frozen=True, slots=True)
class Demand:
    """One demand of the duty.

    `value` against `low` and `high` (None: no limit there), one dimension; `chance` that it is met
    and `band` the guard band (both None where the value is not known). `reason` says why the
    answer is what it is, `decide` which reading would settle it; empty where it is settled.
    """

    key: str
    label: str
    value: Estimate | None
    low: float | None
    high: float | None
    answer: Answer
    chance: float | None
    band: float | None
    reason: str
    decide: str


@dataclass(frozen=True, slots=True)
class ProofVerdict:
    """The answers to all demands, the one over all of them, and what was not tested.

    `certainty` is the probability with which met and not met are said.
    """

    answer: Answer
    demands: tuple[Demand, ...]
    not_tested: tuple[str, ...]
    certainty: float

    def of(self, key: str) -> Demand:
        """The demand of that key."""
        return next(one for one in self.demands if one.key == key)
