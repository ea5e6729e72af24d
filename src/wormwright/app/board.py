"""Where a job stands: what comes next, what is blocked and why, what has become stale."""

from __future__ import annotations

from dataclasses import dataclass

from wormwright.app.folder import Folder
from wormwright.app.sign import plan_or_doubts, planned_operations
from wormwright.job.operation import Operation
from wormwright.job.reading import Reading
from wormwright.job.result import Doubt
from wormwright.traveler import ALL, Step, progress, stale_readings, what_next


@dataclass(frozen=True, slots=True)
class Board:
    """The operations of the plan with their state, the next one in words, the stale readings.

    `doubts` say why only the baseline is ordered, while nothing can be planned.
    """

    steps: tuple[Step, ...]
    next_words: str
    stale: tuple[tuple[Reading, str], ...]
    doubts: tuple[Doubt, ...] = ()

    def operation(self, key: str) -> Operation | None:
        """The operation of that key if the plan needs it."""
        needed = (s.operation for s in self.steps if s.state != "not needed")
        return next((op for op in needed if op.key == key), None)


def board(folder: Folder) -> Board:
    """The state of the whole job."""
    found, doubts = plan_or_doubts(folder)
    operations = planned_operations(folder, found)
    steps = progress(operations, folder.readings, folder.sign_offs)
    stale = stale_readings(folder.readings, folder.sign_offs)
    by_seq = {r.seq: r for r in folder.readings}
    rows = tuple((by_seq[seq], ALL[op].title) for seq, op in stale.items() if seq in by_seq)
    return Board(steps, what_next(steps), rows, doubts)
