"""A positioning test from a CSV file: every line becomes a reading, with its text as it stands."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from wormwright.app.enter import with_lines
from wormwright.app.folder import Folder
from wormwright.app.problems import document
from wormwright.app.prove import proved
from wormwright.app.refused import Refused
from wormwright.app.table_file import entries_of_file, heads_of_file
from wormwright.job.blocks import Block, Doubts, Paragraph
from wormwright.job.reading import Reading
from wormwright.job.result import Doubt, StageRefusal
from wormwright.job.sheet_proof import FINE, READ_AT_TARGETS
from wormwright.packet import Document
from wormwright.quantities import QuantityError, read
from wormwright.store.entry import ReadingText
from wormwright.store.fault import JobFolderError
from wormwright.traveler import live_readings

SIDES = {
    **dict.fromkeys(("forward", "fwd", "f", "+", "plus", "up"), "forward"),
    **dict.fromkeys(("backward", "bwd", "b", "-", "−", "minus", "down", "reverse"), "backward"),
}
"""Words for the side that a target is reached from."""
ERRORS = ("error", "deviation")
_NAMES = {
    "target": "table_angle",
    "side": "approach",
    "direction": "approach",
    **dict.fromkeys(ERRORS, "reading"),
}
_SHOWN = 6
_PLACED = (*READ_AT_TARGETS, *FINE)

Place = tuple[bool, int, str, str]
"""Whether it is of a sweep, target in millionths of a rad, side, run."""


def import_document(folder: Folder, path: Path, *, fine: bool = False) -> Document:
    """Store every line of the file, or none if one is wrong or stands on file already.

    Columns: target, run, approach, and reading (the angle as shown) or error (measured less
    target), each with its unit in the head or beside the figure; means, instrument, note, u and
    other conditions of the kind may follow. With `fine` they are a sweep within a worm turn.

    Raises:
        Refused: the file is not such a table, or a line of it cannot be stored.
    """
    heads = heads_of_file(path)
    of = FINE if fine else READ_AT_TARGETS
    kind = of[0] if any(name in heads for name in ERRORS) else of[1]
    found = entries_of_file(path, kind=kind, other_names=_NAMES)
    lines = [(number, _worded(entry)) for number, entry in found]
    _refuse_twice(folder, path, lines)
    try:
        stored = folder.append_readings([entry for _, entry in lines])
    except JobFolderError as error:
        raise with_lines(error, path, [number for number, _ in lines]) from None
    return document("Imported", folder, (_said(path, stored), *_looked_at(folder, stored)))


def _worded(entry: ReadingText) -> ReadingText:
    """The line with the word of its side as the sheet writes it."""
    side = entry.conditions.get("approach", "").strip()
    word = SIDES.get(side.casefold(), side)
    return replace(entry, conditions={**entry.conditions, "approach": word})


def _refuse_twice(folder: Folder, path: Path, lines: Sequence[tuple[int, ReadingText]]) -> None:
    """Refuse a line whose target, side and run stand above it in the file, or on the sheet."""
    seen = {
        _place_of(r): f"row {r.seq} of the readings"
        for r in live_readings(folder.readings, folder.sign_offs)
        if r.kind in _PLACED
    }
    doubts = []
    for number, entry in lines:
        place = _place(entry)
        if place in seen:
            doubts.append(_twice(path, number, entry, seen[place]))
        elif place is not None:
            seen[place] = f"line {number}"
    if doubts:
        more = len(doubts) - _SHOWN
        what = f"{path.name}: nothing was stored"
        what += f"; {more} further lines stand twice" if more > 0 else ""
        raise Refused(what, doubts[:_SHOWN])


def _place(entry: ReadingText) -> Place | None:
    """Where the line belongs, or None when the store will refuse it anyway."""
    if entry.kind not in _PLACED:
        return None
    try:
        angle = read(entry.table_angle, "angle", field="target").value
    except QuantityError:
        return None
    run = entry.conditions.get("run", "").strip()
    side = entry.conditions["approach"]
    return entry.kind in FINE, round(angle * 1e6), side, run.removesuffix(".0")


def _place_of(reading: Reading) -> Place:
    run = reading.number("run") or 0.0
    side, angle = reading.said("approach") or "", reading.table_angle or 0.0
    return reading.kind in FINE, round(angle * 1e6), side, f"{run:g}"


def _twice(path: Path, number: int, entry: ReadingText, where: str) -> Doubt:
    run = entry.conditions.get("run", "")
    place = f"{entry.table_angle} {entry.conditions['approach']}, run {run}"
    return Doubt(
        "refuse",
        "P-3",
        f"{path.name}, line {number}: {place} stands already, as {where}.",
        "Two readings of one place cannot both be meant; no line of the file was stored.",
        "Take the line out or correct its target, side or run; to put right a row on the sheet use "
        "`wormwright measure DIR --replace SEQ TEXT`.",
    )


def _said(path: Path, stored: Sequence[Reading]) -> Block:
    targets = {round(math.degrees(r.table_angle or 0.0), 4) for r in stored}
    runs = {r.number("run") for r in stored}
    words = (
        f"{len(stored)} readings of {path.name} stored, rows {stored[0].seq} to {stored[-1].seq}: "
        f"{len(targets)} targets, {len(runs)} runs."
    )
    return Paragraph(words, strong=True)


def _looked_at(folder: Folder, stored: Sequence[Reading]) -> tuple[Block, ...]:
    """What looks wrong about the rows just stored."""
    rows = {r.seq for r in stored}
    try:
        doubts = proved(folder)[0].doubts
    except StageRefusal as refusal:
        doubts = refusal.doubts
    about = tuple(d for d in doubts if not d.rows or rows & set(d.rows))
    return (Doubts(about),) if about else ()
