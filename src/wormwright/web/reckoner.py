"""What takes long, done one after the other in the background for every job that is served."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from threading import Lock, Thread
from typing import Any, Protocol, TypeVar

from wormwright.store.fault import JobFolderError

Answer = TypeVar("Answer")
Call = Callable[..., Any]


class Reckons(Protocol):
    """A job about which something can be reckoned."""

    def reckon(self, what: str, call: Call) -> None:
        """Do it on the job as it stands now."""


def here(work: Callable[..., Answer], *given: object) -> Answer:
    """Work done in this very process."""
    return work(*given)


class Reckoner:
    """Asks in the order in which they came, each asked for once however many ask.

    What is asked is answered from the job as it stands when its turn comes, so ten readings that
    come in meanwhile cost one reckoning. `call` does the work: here, or in a second process.
    """

    def __init__(self, call: Call = here) -> None:
        self.call = call
        self._asks: dict[tuple[Reckons, str], None] = {}
        self._lock = Lock()
        self._at_work = False

    def ask(self, job: Reckons, what: str) -> None:
        """Put it in the row, if it does not stand there yet."""
        with self._lock:
            self._asks.setdefault((job, what))
            if not self._at_work:
                self._at_work = True
                Thread(target=self._run, name="reckoner").start()

    def _run(self) -> None:
        """Work until nothing is asked any more."""
        while True:
            with self._lock:
                if not self._asks:
                    self._at_work = False
                    return
                job, what = next(iter(self._asks))
                del self._asks[job, what]
            with suppress(JobFolderError):  # whoever asks meets it at the folder itself
                job.reckon(what, self.call)
