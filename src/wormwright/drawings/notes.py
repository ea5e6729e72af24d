"""How the notes of a sheet are worded: numbered steps, boxes to tick, sizes with their fit."""

from __future__ import annotations

from collections.abc import Iterable

from wormwright.drawings import figures
from wormwright.job.parts import Limits
from wormwright.job.rotary import Units


def numbered(lines: Iterable[str]) -> tuple[str, ...]:
    """Steps in order, each with its number."""
    return tuple(f"{number} {line}" for number, line in enumerate(lines, start=1))


def ticked(lines: Iterable[str]) -> tuple[str, ...]:
    """Checks, each with a box."""
    return tuple(f"☐ {line}" for line in lines)


def size(length: float, units: Units) -> str:
    """A size under the general tolerance, in both units."""
    return figures.plain(length, units).inline


def within(length: float, units: Units) -> str:
    """A largest permitted value, in both units."""
    return figures.at_most(length, units).inline


def bounds(each: Limits, units: Units) -> str:
    """The two limits in both units."""
    return figures.limits(each, units).inline


def fitted(each: Limits, units: Units, otherwise: str = "") -> str:
    """A diameter with its limits and the words of its fit, or `otherwise` if it has none."""
    words = each.fit or otherwise
    sizes = figures.limits(each, units).before("Ø").inline
    return f"{sizes}, {words}" if words else sizes
