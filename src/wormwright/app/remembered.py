"""The last answer about each open folder, for as long as what it was made from stands."""

from __future__ import annotations

from typing import Generic, TypeVar
from weakref import WeakKeyDictionary

from wormwright.app.folder import Folder
from wormwright.job.result import StageRefusal

Answer = TypeVar("Answer")


class Remembered(Generic[Answer]):
    """Answers by folder, each with the nouns that it was made from.

    An answer counts only while the folder hands out those very nouns. A refusal is an answer too.
    """

    def __init__(self) -> None:
        self._last: WeakKeyDictionary[Folder, tuple[tuple[object, ...], Answer | StageRefusal]]
        self._last = WeakKeyDictionary()

    def keep(self, folder: Folder, of: tuple[object, ...], answer: Answer | StageRefusal) -> None:
        """Remember what was made from those nouns."""
        self._last[folder] = (of, answer)

    def get(self, folder: Folder, of: tuple[object, ...]) -> Answer | None:
        """The answer that was made from these very nouns, or None.

        Raises:
            StageRefusal: the answer was a refusal.
        """
        last = self._last.get(folder)
        if last is None or not all(a is b for a, b in zip(last[0], of, strict=True)):
            return None
        if isinstance(last[1], StageRefusal):
            raise StageRefusal(last[1].stage, last[1].doubts)
        return last[1]
