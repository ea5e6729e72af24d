"""What the proof of a finished axis showed, topic by topic; a topic not read is None."""

from __future__ import annotations

from dataclasses import dataclass, fields

from wormwright.job.proof_axis import AxisProof
from wormwright.job.proof_closure import ClosureProof
from wormwright.job.proof_compared import Comparison
from wormwright.job.proof_compensation import Compensated
from wormwright.job.proof_harmonics import Harmonics
from wormwright.job.proof_loop import LoopProof
from wormwright.job.proof_part import PartError
from wormwright.job.proof_position import PositionTest
from wormwright.job.proof_record import ProofRecord
from wormwright.job.proof_verdict import ProofVerdict
from wormwright.job.result import Doubt

MADE = frozenset({"compensation", "part", "verdict", "compared", "record", "doubts"})
"""Fields that no reading stands behind by itself."""


@dataclass(frozen=True, slots=True)
class Proof:
    """Everything that the readings of the finished axis show, with what is wrong about them.

    `compensation`, `part`, `verdict`, `compared` and `record` are made of the other topics and of
    the readings.
    """

    positioning: PositionTest | None = None
    closure: ClosureProof | None = None
    axis: AxisProof | None = None
    loop: LoopProof | None = None
    part: PartError | None = None
    verdict: ProofVerdict | None = None
    compared: Comparison | None = None
    record: ProofRecord | None = None
    harmonics: Harmonics | None = None
    compensation: Compensated | None = None
    doubts: tuple[Doubt, ...] = ()

    @property
    def empty(self) -> bool:
        """True when no topic was read."""
        topics = (f.name for f in fields(self) if f.name not in MADE)
        return all(getattr(self, topic) is None for topic in topics)
