"""A refusal in plain words: what was seen, what was expected, what to do."""

from __future__ import annotations

from collections.abc import Iterable

from wormwright.job.result import Doubt


class Refused(Exception):  # noqa: N818  (it is an answer, not a fault)
    """The use case will not go on. `doubts` say what was seen, why it matters and what to do."""

    def __init__(self, what: str, doubts: Iterable[Doubt] = ()) -> None:
        self.what = what
        self.doubts = tuple(doubts)
        super().__init__(what)


def refused(what: str, *, expected: str, got: str, do: str) -> Refused:
    """A refusal with one reason.

    Example:
        >>> str(refused("plan", expected="one of leave, shim", got="'shmi'", do="name one of them"))
        "plan: expected one of leave, shim, got 'shmi'; name one of them"
    """
    return Refused(f"{what}: expected {expected}, got {got}; {do}")


def nearest(word: str, known: Iterable[str]) -> str:
    """The known words that a mistyped one may have meant, for a message.

    Example:
        >>> nearest("rok", ["rock", "teeth"])
        'did you mean rock?'
    """
    from difflib import get_close_matches  # noqa: PLC0415  (only needed for a message)

    words = list(known)
    close = get_close_matches(word, words, n=3, cutoff=0.5)
    return f"did you mean {' or '.join(close)}?" if close else f"there are {', '.join(words)}"
