"""One job as the page serves it: its folder kept fresh, and answers kept while they hold."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from pathlib import Path
from threading import RLock
from typing import TypeVar, cast

from wormwright.store import JobFolder
from wormwright.store.job_file import JOB
from wormwright.store.reading_rows import READINGS
from wormwright.store.sheets import stamp_of
from wormwright.store.signoff_rows import SIGN_OFFS

FILES = (JOB, READINGS, SIGN_OFFS)
Answer = TypeVar("Answer")


class Desk:
    """A job folder with the answers of the moment.

    Whatever stands in the folder counts, whoever wrote it: before each use the files are looked
    at, and when one has changed everything that was reckoned from them is thrown away. One thread
    works on a job at a time.
    """

    def __init__(self, name: str, place: Path) -> None:
        self.name, self.place = name, place
        self.lock = RLock()
        self._mark = ""
        self._folder: JobFolder | None = None
        self._answers: dict[str, object] = {}

    def mark(self) -> str:
        """A short sign of the state of the files; another sign means that something changed."""
        stamp = repr(stamp_of(self.place, FILES)).encode()
        return hashlib.blake2b(stamp, digest_size=8).hexdigest()

    def folder(self) -> JobFolder:
        """The job as it stands now. Hold the lock.

        Raises:
            JobFolderError: a file of it cannot be used.
        """
        mark = self.mark()  # taken first: what changes while the files are read is seen next time
        if self._folder is None:
            self._folder = JobFolder.open(self.place)
            self._mark = mark
        elif mark != self._mark:
            self._folder.refresh()
            self._mark, self._answers = mark, {}
        return self._folder

    def kept(self, key: str, make: Callable[[JobFolder], Answer]) -> Answer:
        """An answer about the job as it stands, made once while it holds. Hold the lock."""
        folder = self.folder()
        if key not in self._answers:
            self._answers[key] = make(folder)
        return cast("Answer", self._answers[key])

    def had(self, key: str) -> object | None:
        """An answer that was made before and still holds, or None. Hold the lock."""
        return self._answers.get(key)
