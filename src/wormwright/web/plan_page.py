"""The correct page as a place to think: take a plan, turn the bushing, see what it gives."""

from __future__ import annotations

import math

from wormwright.app.correct import Planned, planned
from wormwright.app.folder import Folder
from wormwright.job.blocks import SectionPicture
from wormwright.job.parts import EccentricBushing, WormRelief
from wormwright.job.result import StageRefusal
from wormwright.job.rotary import Units
from wormwright.quantities import shown

Data = dict[str, object]
_FINE = 0.001


def plan_page(folder: Folder) -> Data:
    """The plans that may be taken, and the setting from which trials start."""
    try:
        found = planned(folder)
    except StageRefusal:
        return {"plans": [], "chosen": None, "trial": None, "section": False}
    remedy = found.remedy
    bushing = _bushing(found)
    return {
        "plans": [
            {"key": p.key, "label": p.label, "chance": f"{100 * p.p_meets_duty:.0f} %"}
            for p in remedy.plans
            if p.offered
        ],
        "chosen": remedy.chosen.key if remedy.chosen else None,
        "trial": _start(bushing, _relief(found), folder.job.units),
        "section": section_of(folder) is not None,
    }


def section_of(folder: Folder) -> SectionPicture | None:
    """The bushing of the taken plan in its bore, or None if the plan has none."""
    try:
        found = planned(folder)
    except StageRefusal:
        return None
    bushing, worm = _bushing(found), found.remedy.worm_outside
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


def _bushing(found: Planned) -> EccentricBushing | None:
    chosen = found.remedy.chosen
    parts = [p for c in chosen.corrections for p in c.parts] if chosen else []
    return next((p for p in parts if isinstance(p, EccentricBushing)), None)


def _relief(found: Planned) -> float:
    """What the taken plan turns off the worm, on the radius, mm."""
    chosen = found.remedy.chosen
    parts = [p for c in chosen.corrections for p in c.parts] if chosen else []
    worm = next((p for p in parts if isinstance(p, WormRelief)), None)
    return (worm.outside_before - worm.outside.size) / 2 if worm else 0.0


def _start(bushing: EccentricBushing | None, relief: float, units: Units) -> Data:
    """Where trials start: the planned bushing, else no throw at all."""

    def length(value: float) -> str:
        return shown(value, "length", resolution=_FINE, units=units)

    throw = bushing.throw if bushing else 0.0
    angle = bushing.start_angle if bushing else 0.0
    return {
        "throw": length(throw),
        "angle": round(math.degrees(angle)),
        "wheel_shift": length(throw * math.sin(angle)),
        "relief": length(relief),
        "bearing_outside": length(bushing.bore.size) if bushing else "",
    }
