"""Readings and sign-offs that come from a page: each stored once, however often it is sent."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from wormwright.app.enter import once_more
from wormwright.app.folder import Folder
from wormwright.app.measure import row_doubts
from wormwright.job.operation import SignOff
from wormwright.job.reading import Reading
from wormwright.job.result import Doubt
from wormwright.store.entry import ReadingText


@dataclass(frozen=True, slots=True)
class Taken:
    """What was stored, the doubts about it, and whether it had been stored before."""

    readings: tuple[Reading, ...]
    doubts: tuple[Doubt, ...]
    again: bool = False


def take(folder: Folder, entries: Sequence[ReadingText]) -> Taken:
    """Store readings, all or none; those that were sent before are not stored twice.

    A page on a bad line sends again what was not answered. It gives each entry the moment at which
    it was typed, to the millisecond, and never changes it: an entry with the same moment, kind,
    place and text is the same entry.
    """
    known = {_marks(r): r for r in folder.readings if r.when}
    before = [known.get(_marks(e)) if e.when else None for e in entries]
    old = tuple(r for r in before if r is not None)
    new = [e for e, r in zip(entries, before, strict=True) if r is None]
    stored = (*old, *folder.append_readings(new))
    rows = {r.seq for r in stored}
    return Taken(stored, row_doubts(folder, rows), again=not new)


def confirmed(folder: Folder, seq: int, when: str) -> Taken:
    """Write a row once more, word for word, as one that was looked at and is right."""
    return take(folder, [once_more(folder, seq, when=when)])


def signed_before(folder: Folder, operation: str, initials: str, when: str) -> SignOff | None:
    """The sign-off that this very request has already made, or None."""
    return next(
        (
            done
            for done in folder.sign_offs
            if (done.operation, done.initials, done.when) == (operation, initials, when)
        ),
        None,
    )


def _marks(typed: ReadingText | Reading) -> tuple[str, ...]:
    return typed.when, typed.kind, typed.station, typed.raw
