"""Many units at once: one line each, as it stands on the wall of a club, a school or a shop."""

from __future__ import annotations

from dataclasses import asdict, dataclass, fields
from typing import Any, Literal, Self

State = Literal["still good", "adjust", "cannot tell", "being worked on", "not read", "unusable"]


@dataclass(frozen=True, slots=True)
class FleetRow:
    """One unit. Angles rad at the table, None where nothing tells them.

    `stamp` is the hash of the job's files: a row is good as long as its job has that stamp. `why`
    says what stands in the way of more.
    """

    folder: str
    stamp: str
    name: str
    unit: str
    made_up: bool
    state: State
    loosest: float | None = None
    loosest_u: float | None = None
    tight: float | None = None
    tight_u: float | None = None
    hours: float | None = None
    last_check: str = ""
    next_check: str = ""
    questions: int = 0
    signed: int = 0
    why: str = ""

    def plain(self) -> dict[str, Any]:
        """As plain words and numbers, for a file."""
        return asdict(self)

    @classmethod
    def from_plain(cls, given: dict[str, Any]) -> Self:
        """A row from a file.

        Raises:
            TypeError: a field is missing or unknown.
        """
        known = {field.name for field in fields(cls)}
        if not set(given) <= known:
            raise TypeError(f"unknown: {', '.join(sorted(set(given) - known))}")
        return cls(**given)
