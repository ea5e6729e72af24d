"""The refusal of a worm and wheel that cannot be, in the three parts a machinist needs."""

from __future__ import annotations


class ImpossiblePairError(ValueError):
    """Sizes that no worm and wheel can have together: what was expected, what came, what to do."""

    def __init__(self, *, got: str, expected: str, do: str) -> None:
        """Carry the three parts; the message says them all."""
        self.got, self.expected, self.do = got, expected, do
        super().__init__(f"{got}; expected {expected}; {do}")
