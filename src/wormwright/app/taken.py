"""Readings and sign-offs that come from a page: each stored once, however often it is sent."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from wormwright.app.enter import edited_by_hand, settled
from wormwright.app.folder import Folder
from wormwright.job.operation import SignOff
from wormwright.job.reading import Reading
from wormwright.store.entry import ReadingText
from wormwright.store.reading_rows import CONFIRMED


@dataclass(frozen=True, slots=True)
class Taken:
    """What was stored, and whether all of it had been stored before."""

    readings: tuple[Reading, ...]
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
    return Taken((*old, *folder.append_readings(new)), again=not new)


def confirmed(folder: Folder, seq: int, when: str) -> Taken:
    """Say that a row is right, as `settled` does; said again it is not written again.

    Raises:
        Refused: nothing is asked about that row.
    """
    done = tuple(r for r in folder.readings if _says_so(r, seq, when))
    if done and not edited_by_hand(folder, seq):
        return Taken(done, again=True)
    return Taken(settled(folder, seq, when=when))


def _says_so(reading: Reading, seq: int, when: str) -> bool:
    """Whether this reading is what a confirmation of row `seq` at that moment left behind."""
    if reading.seq == seq:
        return CONFIRMED in reading.flags
    return reading.supersedes == seq and bool(when) and reading.when == when


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
