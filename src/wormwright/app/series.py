"""A series of one kind, value after value, as they are read out at the bench."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace

from wormwright.app.table_file import DITTO
from wormwright.job.kind import ReadingKind
from wormwright.job.reading import Reading
from wormwright.store.entry import ReadingText

Append = Callable[[ReadingText], Reading]


@dataclass(frozen=True, slots=True)
class Said:
    """What to answer after a line: words for the reader, and whether the series is over."""

    words: str
    over: bool = False


@dataclass(slots=True)
class Series:
    """Asks for the next value, takes a line, stores it; knows nothing of the terminal.

    `places` are the positions given in advance (table or worm angle, as text); without them a
    kind that needs an angle asks for it before each value. An empty line ends the series, `u`
    goes one back: the value typed next supersedes the row that stands there, which stays in the
    file. A ditto mark repeats the value above.
    """

    kind: ReadingKind
    pattern: ReadingText
    append: Append
    places: Sequence[str] = ()
    rows: list[tuple[str, Reading]] = field(default_factory=list)
    at: int = 0
    _place: str | None = None

    @property
    def asks_place(self) -> bool:
        """True when the next line must be an angle."""
        return self.needs_place and self.at >= len(self.rows) and self._next_place() is None

    @property
    def needs_place(self) -> bool:
        """True when this kind is read at a table or worm angle."""
        return self.kind.needs_table_angle or self.kind.needs_worm_angle

    @property
    def prompt(self) -> str:
        """What to ask for next."""
        which = f"{self.at + 1}"
        if self.asks_place:
            return f"{which}: angle"
        place = self._next_place()
        unit = f" [{self.pattern.column_unit}]" if self.pattern.column_unit else ""
        return f"{which}: {self.kind.key}{f' at {place}' if place else ''}{unit}"

    def take(self, line: str) -> Said:
        """Take one line. A ValueError of the store leaves the series where it was."""
        text = line.strip()
        if not text:
            return Said(f"{len(self.rows)} readings stored", over=True)
        if text.casefold() == "u":
            return self._back()
        if self.asks_place:
            self._place = text
            return Said("")
        if text.casefold() in DITTO:
            return self._repeat()
        return self._store(replace(self.pattern, raw=text))

    def _next_place(self) -> str | None:
        if self.at < len(self.rows):
            return self.rows[self.at][0]
        if self._place is not None:
            return self._place
        return self.places[self.at] if self.at < len(self.places) else None

    def _store(self, entry: ReadingText) -> Said:
        place = self._next_place() or ""
        old = self.rows[self.at][1].seq if self.at < len(self.rows) else None
        placed = replace(entry, supersedes=old)
        if place and self.kind.needs_table_angle:
            placed = replace(placed, table_angle=place)
        elif place:
            placed = replace(placed, worm_angle=place)
        reading = self.append(placed)
        if old is None:
            self.rows.append((place, reading))
        else:
            self.rows[self.at] = (place, reading)
        self.at += 1
        self._place = None
        words = f"row {reading.seq}: {reading.raw}" + (f" at {place}" if place else "")
        if old is not None:
            words += f", supersedes row {old}"
        done = bool(self.places) and self.at >= len(self.places)
        return Said(words + ("; that was the last position" if done else ""), over=done)

    def _repeat(self) -> Said:
        if self.at == 0:
            return Said("there is no value above to repeat")
        above = self.rows[self.at - 1][1].raw
        return self._store(replace(self.pattern, raw=above, note="copied from the row above"))

    def _back(self) -> Said:
        if self._place is not None:
            self._place = None
            return Said("angle forgotten; type it again")
        if self.at == 0:
            return Said("nothing to undo")
        self.at -= 1
        place, old = self.rows[self.at]
        where = f" at {place}" if place else ""
        return Said(f"row {old.seq} ({old.raw}{where}): type what it should be")
