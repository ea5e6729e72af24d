"""Which oil or grease suits the metal of a wheel."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from wormwright.handbook.rows import rows

YELLOW, NOT_KNOWN = "yellow metal", "not known"


@dataclass(frozen=True, slots=True)
class Lubricant:
    """What to fill for one family of wheel metals.

    `names` are words that tell the family by; `attacked` says that active sulphur and phosphorus
    of EP and hypoid oils harm it, or may.
    """

    metal: str
    names: tuple[str, ...]
    fill: str
    attacked: bool
    source: str


@cache
def lubricants() -> tuple[Lubricant, ...]:
    """Every row, in the order in which a name is looked up."""
    return tuple(
        Lubricant(
            row["metal"],
            tuple(name for name in row["names"].split(";") if name),
            row["fill"],
            row["attacked"] == "yes",
            row["source"],
        )
        for row in rows("lubricants")
    )


def lubricant_for(wheel_material: str) -> Lubricant:
    """The row for a wheel of that material; the row of an unknown metal when no word is known."""
    wanted = wheel_material.casefold()
    for row in lubricants():
        if any(name in wanted for name in row.names):
            return row
    return next(row for row in lubricants() if row.metal == NOT_KNOWN)
