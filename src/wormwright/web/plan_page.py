"""The correct page as a place to think: take a plan, turn the bushing, see what it gives."""

from __future__ import annotations

import math
from typing import TypeVar

from wormwright.app.correct import Planned, planned
from wormwright.app.folder import Folder
from wormwright.job.blocks import SectionPicture
from wormwright.job.parts import EccentricBushing, Part, ShimRing, WormRelief
from wormwright.job.result import StageRefusal
from wormwright.job.rotary import Units
from wormwright.quantities import shown

Data = dict[str, object]
Made = TypeVar("Made", EccentricBushing, WormRelief)
_FINE = 0.001


def plan_page(folder: Folder) -> Data:
    """The plans that may be taken, and the setting from which trials start."""
    try:
        found = planned(folder)
    except StageRefusal:
        return {"plans": [], "chosen": None, "trial": None, "section": False}
    remedy = found.remedy
    return {
        "plans": [
            {"key": p.key, "label": p.label, "chance": f"{100 * p.p_meets_duty:.0f} %"}
            for p in remedy.plans
            if p.offered
        ],
        "chosen": remedy.chosen.key if remedy.chosen else None,
        "trial": _start(found, folder.job.units),
        "section": section_of(folder) is not None,
    }


def section_of(folder: Folder) -> SectionPicture | None:
    """The bushing of the taken plan in its bore, or None if the plan has none."""
    try:
        found = planned(folder)
    except StageRefusal:
        return None
    bushing, worm = _first(found, EccentricBushing), found.remedy.worm_outside
    if bushing is None or worm is None:
        return None
    return SectionPicture(
        "The bushing in its bore",
        bushing.outside.size,
        bushing.bore.size,
        bushing.throw,
        0.0,
        worm,
        math.pi,
    )


def _parts(found: Planned) -> dict[str, tuple[Part, ...]]:
    """The parts that the taken plan makes, by correction."""
    chosen = found.remedy.chosen
    return {c.key: c.parts for c in chosen.corrections} if chosen else {}


def _first(found: Planned, kind: type[Made]) -> Made | None:
    """The first part of that kind in the taken plan."""
    parts = (part for made in _parts(found).values() for part in made)
    return next((part for part in parts if isinstance(part, kind)), None)


def _start(found: Planned, units: Units) -> Data:
    """Where trials start: what the taken plan makes, else no throw at all."""

    def length(value: float) -> str:
        return shown(value, "length", resolution=_FINE, units=units)

    bushing, worm = _first(found, EccentricBushing), _first(found, WormRelief)
    throw = bushing.throw if bushing else 0.0
    angle = bushing.start_angle if bushing else 0.0
    relief = (worm.outside_before - worm.outside.size) / 2 if worm else 0.0
    shims = {
        key: next((p for p in _parts(found).get(key, ()) if isinstance(p, ShimRing)), None)
        for key in ("worm_shim", "table_shim")
    }
    return {
        "throw": length(throw),
        "angle": round(math.degrees(angle)),
        "wheel_shift": length(throw * math.sin(angle)),
        "relief": length(relief),
        "bearing_outside": length(bushing.bore.size) if bushing else "",
        **{key: length(ring.thickness.size) if ring else "" for key, ring in shims.items()},
    }
