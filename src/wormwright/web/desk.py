"""One job as the page serves it: the folder as it stands now, and what was reckoned from it."""

from __future__ import annotations

import hashlib
import time
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from threading import Condition, Lock, RLock
from typing import Any

from wormwright.app.diagnose import diagnosis_document
from wormwright.app.measure import sheet_of
from wormwright.job.result import StageRefusal
from wormwright.packet import Document, Style
from wormwright.store import JobFolder
from wormwright.store.job_file import JOB
from wormwright.store.reading_rows import READINGS
from wormwright.store.sheets import stamp_of
from wormwright.store.signoff_rows import SIGN_OFFS
from wormwright.web.linked_pictures import LinkedPictures
from wormwright.web.live_folder import LiveFolder, Snapshot
from wormwright.web.reckoner import Call, Reckoner
from wormwright.web.reckonings import FINDINGS, RECKONINGS

FILES = (JOB, READINGS, SIGN_OFFS)
PATIENCE_S = 120.0
BRIEF_S = 0.15
"""What a page waits for a reckoning before it is shown without."""
ALBUMS_KEPT = 12


@dataclass(frozen=True, slots=True)
class Reckoned:
    """What a long reckoning gave, and the folder as it stood when it was begun."""

    snapshot: Snapshot
    answer: object


@dataclass(frozen=True, slots=True)
class Standing:
    """The folder for a page to show, None while nothing is reckoned; whether it is as it is now."""

    snapshot: Snapshot | None
    current: bool


class Desk:
    """A job folder in use by several devices.

    Whatever stands in the folder counts, whoever wrote it: before each use the files are looked
    at, and when one has changed there is a new snapshot. A snapshot never changes, so everything
    but writing is done on one without a lock. What takes long is reckoned elsewhere: `latest` gives
    what there is and asks for what there is not.
    """

    def __init__(self, name: str, place: Path, reckoner: Reckoner) -> None:
        self.name, self.place = name, place
        self.lock = RLock()
        self.packing = Lock()
        self._checking = Lock()
        self._store: JobFolder | None = None
        self._now: Snapshot | None = None
        self._reckoner = reckoner
        self._reckoned: dict[str, Reckoned] = {}
        self._came = Condition()
        self._albums: OrderedDict[tuple[str, str], LinkedPictures] = OrderedDict()

    def mark(self) -> str:
        """A short sign of the state of the files; another sign means that something changed."""
        stamp = repr(stamp_of(self.place, FILES)).encode()
        return hashlib.blake2b(stamp, digest_size=8).hexdigest()

    def snapshot(self) -> Snapshot:
        """The job as it stands now.

        Raises:
            JobFolderError: a file of it cannot be used.
        """
        now = self._now
        if now is not None and now.mark == self.mark():
            return now
        with self.lock:
            mark = self.mark()  # first: what changes while the files are read is seen next time
            if self._now is None or self._now.mark != mark:
                number = self._now.number + 1 if self._now else 1
                self._now = Snapshot(self._fresh(), self.lock, mark, number)
            return self._now

    def checked(self) -> Snapshot:
        """The job as it stands, its readings checked. Who waits here shares the next check.

        Raises:
            JobFolderError: a file of it cannot be used.
        """
        with self._checking:
            now = self.snapshot()
            now.kept("sheet", sheet_of)
            return now

    def folder(self) -> LiveFolder:
        """The job to write in, as it stands now.

        Raises:
            JobFolderError: a file of it cannot be used.
        """
        with self.lock:
            return LiveFolder(self._fresh(), self.lock)

    def _fresh(self) -> JobFolder:
        if self._store is None:
            self._store = JobFolder.open(self.place)
        else:
            self._store.refresh()
        return self._store

    def latest(self, what: str) -> Reckoned | None:
        """The last reckoning of that name; if it is not of the job as it stands, one is asked for.

        Raises:
            JobFolderError: a file of the job cannot be used.
        """
        last = self._reckoned.get(what)
        if last is None or last.snapshot is not self.snapshot():
            self._reckoner.ask(self, what)
        return last

    def waited(self, what: str) -> Snapshot:
        """The job as it stood at a reckoning that is not older than this call; waits for it.

        Raises:
            JobFolderError: a file of the job cannot be used.
            TimeoutError: nothing came.
        """
        least = self.snapshot().number
        until = time.monotonic() + PATIENCE_S
        with self._came:
            while time.monotonic() < until:
                last = self.latest(what)
                if last is not None and last.snapshot.number >= least:
                    return last.snapshot
                self._came.wait(1.0)
        raise TimeoutError(f"{what}: nothing came within {PATIENCE_S:.0f} s")

    def standing(self, what: str, patience_s: float = BRIEF_S) -> Standing:
        """What a page can show that needs that reckoning, if any; it is waited for briefly.

        Raises:
            JobFolderError: a file of the job cannot be used.
        """
        now = self.snapshot()
        if not what:
            return Standing(now, current=True)
        with self._came:
            last = self.latest(what)
            if last is None or last.snapshot.number < now.number:
                self._came.wait(patience_s)
                last = self.latest(what)
        return Standing(
            last.snapshot if last else None,
            current=last is not None and last.snapshot.number >= now.number,
        )

    def reckon(self, what: str, call: Callable[..., Any]) -> None:
        """Do that reckoning on the job as it stands, unless it is done; `call` does the work."""
        now, last = self.snapshot(), self._reckoned.get(what)
        if last is not None and last.snapshot is now:
            return
        before = None if last is None else last.answer
        try:
            answer: object = RECKONINGS[what](now, before, call)
            self._draw(what, now)
        except StageRefusal as refusal:
            answer = refusal
        except Exception as fault:  # a page that needs it meets it there
            answer = fault
        with self._came:
            self._reckoned[what] = Reckoned(now, answer)
            self._came.notify_all()

    def _draw(self, what: str, now: Snapshot) -> None:
        """Draw what a live panel shows before it is shown."""
        if what == FINDINGS:
            document = now.kept("stage diagnose", diagnosis_document)
            self.album("diagnose", now, document).draw_charts()

    @property
    def call(self) -> Call:
        """Where long work is done."""
        return self._reckoner.call

    def album(self, page: str, snapshot: Snapshot, document: Document) -> LinkedPictures:
        """The pictures of a page, drawn when they are asked for; kept for a while."""

        def made(_: Snapshot) -> LinkedPictures:
            style = Style(units=snapshot.job.units, sheet=snapshot.job.sheet)
            address = f"/jobs/{self.name}/pictures/{page}/{snapshot.mark}"
            return LinkedPictures(style, document, address, self._reckoner.call)

        pictures = snapshot.kept(f"pictures {page}", made)
        with self.lock:
            self._albums[page, snapshot.mark] = pictures
            self._albums.move_to_end((page, snapshot.mark))
            while len(self._albums) > ALBUMS_KEPT:
                self._albums.popitem(last=False)
        return pictures

    def pictures(self, page: str, mark: str) -> LinkedPictures | None:
        """The pictures of a page as it was at that mark, or None if they are gone."""
        return self._albums.get((page, mark))
