"""Pairing a device of the shop network with this page by a code that is shown once."""

from __future__ import annotations

import hmac
import secrets
import threading
import time
from collections import deque
from collections.abc import Callable

COOKIE = "wormwright_device"
DIGITS = 8
TRIES = 5
WINDOW_S = 60.0


class Pairing:
    """Holds the code of the moment and the devices that gave it. Nothing of it is written down.

    A code works once: with each device that pairs, `tell` is given a new one. More than a few
    wrong tries a minute, from wherever, are not looked at.
    """

    def __init__(
        self, tell: Callable[[str], None], clock: Callable[[], float] = time.monotonic
    ) -> None:
        self._tell, self._clock = tell, clock
        self._lock = threading.Lock()
        self._tries: deque[float] = deque()
        self._devices: set[str] = set()
        self._code = ""
        self._renew()

    def _renew(self) -> None:
        self._code = f"{secrets.randbelow(10**DIGITS):0{DIGITS}d}"
        self._tell(self._code)

    def knows(self, token: str | None) -> bool:
        """Whether that token was given to a device."""
        return token is not None and any(hmac.compare_digest(token, t) for t in self._devices)

    def pair(self, code: str) -> str | None:
        """A token for a device that gives the code; None for a wrong one.

        Raises:
            TooManyTriesError: wait before the next try.
        """
        with self._lock:
            now = self._clock()
            while self._tries and now - self._tries[0] > WINDOW_S:
                self._tries.popleft()
            if len(self._tries) >= TRIES:
                raise TooManyTriesError
            self._tries.append(now)
            given = "".join(c for c in code if c.isdigit())
            if not hmac.compare_digest(given, self._code):
                return None
            token = secrets.token_urlsafe(32)
            self._devices.add(token)
            self._renew()
            return token


class TooManyTriesError(Exception):
    """More wrong codes than a person mistypes."""
