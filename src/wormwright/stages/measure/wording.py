"""Words that the doubts of this stage share."""

from __future__ import annotations

from collections.abc import Sequence

from wormwright.job.reading import Reading
from wormwright.job.result import Action, Doubt


def one_doubt(
    action: Action, code: str, found: Sequence[Reading], how: str, *, why: str, do: str
) -> tuple[Doubt, ...]:
    """One doubt for all rows that share a fault; none when there is no such row."""
    if not found:
        return ()
    seqs = tuple(sorted(r.seq for r in found))
    verb = "was" if len(seqs) == 1 else "were"
    return (Doubt(action, code, f"{rows_words(seqs)} {verb} taken {how}.", why, do, seqs),)


def rows_words(seqs: tuple[int, ...]) -> str:
    """`Row 3`, or `Rows 3, 4, 5` with at most six of them named."""
    listed = ", ".join(str(s) for s in seqs[:6]) + (" …" if len(seqs) > 6 else "")
    return f"Row {listed}" if len(seqs) == 1 else f"Rows {listed}"
