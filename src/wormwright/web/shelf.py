"""The jobs that the page serves: one folder, or every job folder that lies in one."""

from __future__ import annotations

import re
from pathlib import Path
from threading import Lock

from wormwright.app.refused import refused
from wormwright.store.contents import job_places
from wormwright.web.desk import Desk
from wormwright.web.reckoner import Reckoner

_NAME = re.compile(r"[^a-z0-9]+")


class Shelf:
    """Job folders by a name that is fit for an address; nothing outside them can be reached."""

    def __init__(self, root: Path, reckoner: Reckoner) -> None:
        self._root, self._reckoner = root, reckoner
        self._desks: dict[str, Desk] = {}
        self._lock = Lock()
        if not self.places():
            raise refused(
                f"serve {root}",
                expected="a job folder, or a folder that holds job folders",
                got="no job.toml there",
                do="start one with `wormwright new DIR --from EXAMPLE`",
            )

    def places(self) -> dict[str, Path]:
        """Every job by its name in the address; looked up anew, so that new jobs appear."""
        found = job_places(self._root)
        named: dict[str, Path] = {}
        for place in found:
            name = _NAME.sub("-", place.resolve().name.casefold()).strip("-") or "job"
            while name in named:
                name += "-2"
            named[name] = place
        return named

    def desk(self, name: str) -> Desk | None:
        """The desk of that job, or None if there is no such job."""
        place = self.places().get(name)
        if place is None:
            return None
        with self._lock:
            if name not in self._desks:
                self._desks[name] = Desk(name, place, self._reckoner)
            return self._desks[name]
