"""Shim rings as parts to make: outline as read, side and way of acting in words."""

from __future__ import annotations

import math
from dataclasses import dataclass

from wormwright.core.bearing import RingSide, Scraping, scraping_of_ring
from wormwright.core.shim import TIGHTENS, Stack
from wormwright.job.corrections import Correction
from wormwright.job.parts import Limits, ShimRing
from wormwright.job.result import Doubt
from wormwright.job.rotary import Units
from wormwright.stages.correct.facts import EndBearing, Facts, Outline
from wormwright.stages.correct.stacks import nearest_stack
from wormwright.stages.correct.wording import length

SHIM_TOLERANCE = 0.005
"""Half of the tolerance on a shim that is ground or lapped to size, mm."""

WHEEL_TOLERANCE = 0.02
"""Half of the tolerance on a ring that only places the wheel, mm: the blue decides there."""

MOST_STACKED = 2.0
"""A thicker ring is turned from bar: a stack of many pieces is springy, mm."""

THINNEST = 0.02
"""A thinner shim than this cannot be bought or made, mm."""

OUTLINE_ROOM = 0.2
"""Width of the tolerance on the two diameters of a shim ring, to the free side, mm."""

LEAST_WEB = 1.0
"""Least metal beside a screw hole and least width of a ring, mm."""

OUTER_LAND = 0.4
"""How far a ring behind an outer ring may reach in, as a share of the bearing's section."""

BORE_ROOM = 0.2
"""What such a ring is smaller than the housing bore that it drops into, mm on diameter."""

SCREWED = ("cover on outer ring", "retainer on shim")
"""Arrangements in which the ring lies under a part that is screwed on."""

UNREAD = "shim outline"
"""Code of the doubt that stands for a ring that cannot be drawn yet."""

STEPS = {"mm": 0.001, "in": 0.00254}
"""What a lapped or ground size is made to: a micrometre, or a tenth of a thou, mm."""

PLACES = {
    "cover on outer ring": "under the flange of the {what} cover",
    "ring behind outer ring": "between the {what} cover's spigot and the outer ring",
    "nut with inner spacer": "between the inner rings of the {what} bearings",
    "retainer on shim": "under the {what} retainer",
}
"""Where a ring lies, by arrangement."""

TOUCHES = {
    "cover on outer ring": "Lies flat between cover and housing, clear of the cover's spigot",
    "ring behind outer ring": "Touches the outer ring only: not the shield, not the inner ring",
    "nut with inner spacer": "Touches the inner rings only: not the shields, not the cages",
    "retainer on shim": "Lies flat under the retainer, clear of the turning parts",
}
"""What a ring bears on and must keep clear of, by arrangement."""

_ON_WHEEL = "Lies flat on the seat and the wheel on it; the wheel turns clear of the housing"
FOIL = "shim steel or brass, as rolled"
LAPPED = "lapped flat"


@dataclass(frozen=True, slots=True)
class Ring:
    """A ring, or the doubts that keep it from being drawn."""

    part: ShimRing | None
    doubts: tuple[Doubt, ...] = ()
    stack: Stack | None = None

    @property
    def parts(self) -> tuple[ShimRing, ...]:
        """The ring as a part list."""
        return (self.part,) if self.part else ()


def to_shop(size: float, units: Units) -> float:
    """A size to the step that the shop can make and measure, mm."""
    return round(round(size / STEPS[units]) * STEPS[units], 6)


def set_by(arrangement: str, what: str, goal: str) -> str:
    """Where the ring goes, what it sets, and which way tightens."""
    way = "thinner" if TIGHTENS[arrangement] < 0 else "thicker"
    return f"{goal}; lies {PLACES[arrangement].format(what=what)}; {way} tightens"


def play_ring(facts: Facts, what: str, arrangement: str, thickness: float, goal: str) -> Ring:
    """The shim or spacer that sets the play of the table or of the worm."""
    name = _NAMES.get(arrangement, "shim")
    if thickness < THINNEST:
        return Ring(None, _too_thin(facts, what, thickness))
    stack = None
    if name != "spacer" and thickness <= MOST_STACKED:
        stack = nearest_stack(facts, thickness, tolerance=SHIM_TOLERANCE)
    purpose = set_by(arrangement, what, goal)
    wanted = _Wanted(
        f"{what} {name}", purpose, thickness, SHIM_TOLERANCE, stack, TOUCHES[arrangement]
    )
    outline = facts.outlines[what]
    if what == "worm" and arrangement != facts.worm_arrangement:
        outline = _behind_outer_ring(facts) or outline
    ring = _ring(facts, what, wanted, outline, screwed=arrangement in SCREWED)
    return _kept_clear(facts, arrangement, ring) if what == "worm" else ring


_BESIDE: dict[str, RingSide] = {
    "ring behind outer ring": "outer ring",
    "nut with inner spacer": "inner ring",
}


def _kept_clear(facts: Facts, arrangement: str, ring: Ring) -> Ring:
    """The same ring, or the doubt that it would rub on what turns against it."""
    against, part = _BESIDE.get(arrangement), ring.part
    found = [_scrapes(end, against, part) for end in facts.ends] if against and part else []
    if part is None or not set(found) - {"clear"}:
        return ring
    which, size = ("inside", part.inside) if against == "outer ring" else ("outside", part.outside)
    read = length(size.size, facts.job.units, to=0.01)
    if "on the other ring" in found:
        seen = f"The {part.name} of {read} {which} would reach the ring that turns against it."
        doubt = unread(seen, [f"worm_shim_{which}"], again=True)
        return Ring(None, (*ring.doubts, doubt), ring.stack)
    return Ring(part, (*ring.doubts, _over_the_shield(part.name, read, which)), ring.stack)


def _scrapes(end: EndBearing, against: RingSide, part: ShimRing) -> Scraping:
    if end.bore is None or end.outside is None:
        return "clear"
    return scraping_of_ring(
        against=against,
        inside=part.inside.size,
        outside=part.outside.size,
        bearing_bore=end.bore,
        bearing_outside=end.outside,
    )


def _over_the_shield(name: str, size: str, which: str) -> Doubt:
    way = "larger" if which == "inside" else "smaller"
    return Doubt(
        "warn",
        "ring over shield",
        f"The {name} of {size} {which} reaches over the shield or seal of the bearing.",
        "Squeezed, a shield that is touched bends and scrapes.",
        f"Look whether the shield stands back from the ring's face; else make it {way}.",
    )


def _behind_outer_ring(facts: Facts) -> Outline | None:
    """A ring that drops into the housing bore and clears cage and shield, as the bearing says."""
    end = facts.ends[0]
    if end.outside is None or end.bore is None:
        return None
    bore = end.housing_bore.value if end.housing_bore else end.outside
    return Outline(end.outside - OUTER_LAND * (end.outside - end.bore) / 2, bore - BORE_ROOM)


_NAMES = {"nut with inner spacer": "spacer", "ring behind outer ring": "ring"}


def wheel_ring(facts: Facts, shift: float, way: str) -> Ring:
    """The ring that moves the wheel along the table axis to the throat centre."""
    purpose = (
        f"moves the wheel toward the {way}: lies on the side of the wheel away from the {way}; "
        "thicker moves it further. A seat on the other side is faced back by as much instead"
    )
    thickness = to_shop(shift, facts.job.units)
    stack = None
    if thickness <= MOST_STACKED:
        stack = nearest_stack(facts, thickness, tolerance=WHEEL_TOLERANCE)
    wanted = _Wanted("wheel shim", purpose, thickness, WHEEL_TOLERANCE, stack, _ON_WHEEL)
    return _ring(facts, "wheel", wanted, facts.outlines["wheel"], screwed=True)


@dataclass(frozen=True, slots=True)
class _Wanted:
    """A ring before its outline is known."""

    name: str
    purpose: str
    thickness: float
    tolerance: float
    stack: Stack | None
    touches: str


def _ring(facts: Facts, what: str, wanted: _Wanted, outline: Outline, *, screwed: bool) -> Ring:
    fault = _outline_fault(what, wanted.name, outline, facts.job.units, screwed=screwed)
    if fault is not None or outline.inside is None or outline.outside is None:
        return Ring(None, (fault,) if fault else (), wanted.stack)
    inside, outside = outline.inside, outline.outside
    screws = (outline.screws or 0) if screwed else 0
    stack = wanted.stack if wanted.stack and wanted.stack.hits else None
    part = ShimRing(
        wanted.name,
        wanted.purpose,
        Limits(math.ceil(inside * 10 - 1e-6) / 10, OUTLINE_ROOM, 0.0),
        Limits(math.floor(outside * 10 + 1e-6) / 10, 0.0, -OUTLINE_ROOM),
        Limits(wanted.thickness, wanted.tolerance, -wanted.tolerance, "" if stack else LAPPED),
        FOIL if stack else "steel",
        tuple(p.thickness for p in stack.pieces) if stack else (),
        holes=screws,
        hole=round(outline.hole or 0.0, 1) if screws else 0.0,
        circle=round(outline.circle or 0.0, 1) if screws else 0.0,
        touches=wanted.touches,
        stack_least=round(stack.low, 4) if stack else 0.0,
        stack_most=round(stack.high, 4) if stack else 0.0,
    )
    return Ring(part, (), wanted.stack)


def _outline_fault(
    what: str, name: str, outline: Outline, units: Units, *, screwed: bool
) -> Doubt | None:
    """What keeps the ring from being drawn: a reading that is missing or cannot be."""
    inside, outside = outline.inside, outline.outside
    sizes = (f"{what}_shim_inside", f"{what}_shim_outside")
    screws = f"{what}_shim_screws"
    missing = [key for key, got in zip(sizes, (inside, outside), strict=True) if got is None]
    if screwed and outline.screws is None:
        missing.append(screws)
    if missing or inside is None or outside is None:
        return unread(f"The outline of the {name} has not been read.", missing)
    if outside - inside < 2 * LEAST_WEB + 2 * OUTLINE_ROOM:
        seen = (
            f"The {name} was read {length(inside, units, to=0.01)} inside and "
            f"{length(outside, units, to=0.01)} outside: that is no ring that can be made."
        )
        return unread(seen, list(sizes), again=True)
    return _screw_fault(what, name, outline, units) if screwed and outline.screws else None


def _screw_fault(what: str, name: str, outline: Outline, units: Units) -> Doubt | None:
    """What is wrong with the screw holes of a ring whose diameters are known."""
    screws, sizes = f"{what}_shim_screws", (f"{what}_shim_inside", f"{what}_shim_outside")
    count, inside, outside = outline.screws or 0, outline.inside or 0.0, outline.outside or 0.0
    if outline.circle is None or outline.hole is None:
        seen = f"{count} screws pass through the {name}, and it was not written where."
        return unread(seen, [f"{screws} with `circle` and `hole`"], again=True)
    reach = outline.hole / 2 + LEAST_WEB
    if not inside / 2 + reach <= outline.circle / 2 <= outside / 2 - reach:
        seen = (
            f"Holes of {length(outline.hole, units, to=0.1)} on a circle of "
            f"{length(outline.circle, units, to=0.1)} break out of the {name}."
        )
        return unread(seen, [*sizes, screws], again=True)
    if math.pi * outline.circle < count * (outline.hole + LEAST_WEB):
        seen = f"{count} holes of that size meet on the circle of the {name}."
        return unread(seen, [screws], again=True)
    return None


def unread(seen: str, keys: list[str], *, again: bool = False) -> Doubt:
    """The doubt that stands for a part that cannot be drawn before something is read."""
    read = "Read again: " if again else "Read "
    named = ", ".join(key if "`" in key else f"`{key}`" for key in keys)
    return Doubt(
        "ask",
        UNREAD,
        f"{seen} There is no drawing of it.",
        "The thickness stands; a guessed outline would foul a spigot, a cage or a screw.",
        f"{read}{named}.",
    )


def unread_outlines(corrections: tuple[Correction, ...]) -> tuple[str, ...]:
    """Rings and packing to be made that cannot be drawn yet, each with what to read."""
    doubts = (d for c in corrections for d in c.doubts if d.code == UNREAD)
    return tuple(f"the outline of a shim ({d.do[0].lower()}{d.do[1:].rstrip('.')})" for d in doubts)


def _too_thin(facts: Facts, what: str, thickness: float) -> tuple[Doubt, ...]:
    if thickness <= 0:
        return ()
    size = length(thickness, facts.job.units)
    return (
        Doubt(
            "ask",
            "shim too thin",
            f"The {what} shim would be {size} thick; nobody can make or buy that.",
            "",
            f"Leave it out and read the play again; what is left, up to {size}, comes off the "
            "face that the shim lies against.",
        ),
    )
