"""What a part to make is called: in the names of files and in captions."""

from __future__ import annotations

import re

from wormwright.job.parts import EccentricBushing, JournalBush, Part, WormRelief
from wormwright.stages.correct.bushing import INNER_BUSHING


def part_name(part: Part) -> str:
    """The short name, of small letters and hyphens."""
    if isinstance(part, EccentricBushing):
        return f"bushing-{part.side.lower()}{'-outer' if _is_outer(part) else ''}"
    if isinstance(part, JournalBush):
        return f"journal-bush-{part.side.lower()}"
    return _own_name(part).replace(" ", "-")


def part_caption(part: Part) -> str:
    """The caption under its drawing."""
    if isinstance(part, EccentricBushing):
        which = "Outer eccentric bushing" if _is_outer(part) else "Eccentric bushing"
        return f"{which}, end {part.side}, seen on its own flange face"
    if isinstance(part, WormRelief):
        return "Worm, outside turned down"
    if isinstance(part, JournalBush):
        return f"Journal bush, end {part.side}"
    name = _own_name(part)
    return name[0].upper() + name[1:]


def _own_name(part: Part) -> str:
    """The name it was given, else what it is: a `SettingKey` is a setting key."""
    name = getattr(part, "name", "")
    return name or re.sub(r"(?<!^)(?=[A-Z])", " ", type(part).__name__).lower()


def _is_outer(part: EccentricBushing) -> bool:
    return part.bearing == INNER_BUSHING
