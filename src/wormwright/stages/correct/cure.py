"""One thing that can be done to this unit, with what it changes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from wormwright.job.corrections import Correction
from wormwright.job.result import Doubt
from wormwright.stages.correct.predict import Left

TABLE_PARTS = frozenset(("table_radial", "table_axial"))
"""What a one-way approach does not take up: a cut can still push the table."""

CHAIN = frozenset(("mesh", "end_play", "worm_float", "wheel_joint", "drive"))
"""What lies to one side when the flanks are kept to one side."""


@dataclass(frozen=True, slots=True)
class Cure:
    """A correction and what it changes of the unit.

    `leaves` is what it leaves of each play. `trues` is the runout (TIR, mm) that it leaves of the
    wheel, None when the wheel stays as it is. `takes_up` are causes that the duty does not feel
    while it is in use, `shift` what it adds instead, rad. `needs` are keys of corrections without
    which it is no use. With `agreed` it changes how the axis is used: never taken unasked.
    """

    correction: Correction
    leaves: Mapping[str, Left] = field(default_factory=dict)
    trues: float | None = None
    takes_up: frozenset[str] = frozenset()
    shift: float = 0.0
    needs: tuple[str, ...] = ()
    agreed: bool = False

    @property
    def key(self) -> str:
        """Key of its correction."""
        return self.correction.key


def not_read(what: str, kind: str, why: str) -> Doubt:
    """The question that an unread figure asks."""
    return Doubt("ask", "not read", f"{what} has not been read.", why, f"Read it: `{kind}`.")
