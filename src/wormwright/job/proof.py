"""What the proof of a finished axis showed, topic by topic; a topic not read is None."""

from __future__ import annotations

from dataclasses import dataclass, fields

from wormwright.job.proof_closure import ClosureProof
from wormwright.job.proof_position import PositionTest
from wormwright.job.result import Doubt


@dataclass(frozen=True, slots=True)
class Proof:
    """Everything that the readings of the finished axis show, with what is wrong about them."""

    positioning: PositionTest | None = None
    closure: ClosureProof | None = None
    doubts: tuple[Doubt, ...] = ()

    @property
    def empty(self) -> bool:
        """True when no topic was read."""
        topics = (f.name for f in fields(self) if f.name != "doubts")
        return all(getattr(self, topic) is None for topic in topics)
