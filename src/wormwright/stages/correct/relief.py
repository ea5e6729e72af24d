"""Room for the worm crest: is there enough after closing, and what to turn off if not."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from wormwright.core.flank import Place
from wormwright.core.mesh_results import crest_room
from wormwright.core.worm_pair import contact_ratio_lost_by_relief
from wormwright.job.corrections import Correction
from wormwright.job.parts import Limits, WormRelief
from wormwright.job.result import Doubt, Estimate
from wormwright.stages.correct.facts import Facts
from wormwright.stages.correct.unit import Array, UnitRows, half_opened
from wormwright.stages.correct.wording import length, made_to

OVERSIZE = 0.08
"""A worm outside this much above what fits is called oversize, mm on diameter."""

STANDARD_CLEARANCE = 0.2
"""Crest clearance of a standard tooth, in modules (DIN 3975)."""

STEP = 0.05
"""Relief is given in steps of this on diameter, mm."""

STRAIGHT = 0.010
"""Runout of journals and crest that a turned worm may show, mm TIR (common practice)."""

OD_TOLERANCE = 0.05


@dataclass(frozen=True, slots=True)
class Room:
    """Tip clearance at the tightest runout after closing, its doubt and the least wanted, mm."""

    left: float
    u: float
    least: float

    @property
    def short(self) -> bool:
        """Whether the worm would bottom, or could for all that is known."""
        return self.left - 2 * self.u < self.least and self.left < self.least + 2 * self.u


def least_clearance(module: float) -> float:
    """Least crest clearance worth having: the larger of 0.05 mm and 0.05 m (common practice)."""
    return max(0.05, 0.05 * module)


def relief_needed(
    facts: Facts, unit: UnitRows, closing: Estimate, aside: float
) -> tuple[Correction | None, float, tuple[Doubt, ...]]:
    """The relief that the planned move asks for, what it adds to the room, and what is in doubt."""
    room = room_after(facts, unit, closing=closing.value, closing_u=closing.u, aside=aside)
    if room is None:
        doubt = Doubt(
            "ask",
            "E-20",
            "The clearance between worm crest and wheel root has not been read.",
            "A worm that bottoms feels like a mesh without play.",
            "Read `tip_clearance`, or worm outside, wheel root and centre distance.",
        )
        return None, 0.0, (doubt,)
    if not room.short:
        return None, 0.0, ()
    correction, adds = relief_of(facts, room, opened=float(unit.opened.mean()))
    if correction is None:
        doubt = Doubt(
            "refuse",
            "E-20",
            "The crest clearance is too short for the closing and the worm outside is not known.",
            "The worm would bottom before the flanks are set.",
            "Measure `worm_od`.",
        )
        return None, 0.0, (doubt,)
    return correction, adds, ()


def room_after(
    facts: Facts, unit: UnitRows, *, closing: float, closing_u: float, aside: float
) -> Room | None:
    """Clearance left: the move of the worm and half of each runout come off it."""
    read = facts.tip_clearance
    if read is None:
        return None
    taken = crest_taken(unit, closing=np.array([closing]), aside=np.array([aside]))
    left = read.value - float(taken[0]) - float(unit.runout.mean())
    return Room(left, math.hypot(read.u, closing_u), least_clearance(facts.pair.axial_module))


def crest_taken(unit: UnitRows, *, closing: Array, aside: Array) -> Array:
    """Room of the worm crest that a move takes, on the least forgiving wheel still possible, mm.

    From the hollow that the hob left in each exact mesh; without one, closing and the wedge at the
    edge of the face together.
    """
    taken = []
    for mesh in unit.meshes.kinds:
        if mesh.belief > 0 and mesh.exact is not None:
            opened = half_opened(unit, mesh.kind)
            places = Place(da=np.append(opened, opened - closing), dz=np.append(0.0, aside))
            room = crest_room(mesh.exact.mesh, places).worm_crest
            taken.append(room[0] - room[1:])
    if not taken:
        return closing + np.abs(aside) * unit.pair.sin_face
    most: Array = np.max(taken, axis=0)
    return most


def relief_of(facts: Facts, room: Room, *, opened: float) -> tuple[Correction | None, float]:
    """Relief of the worm outside and what it adds to the radial clearance, mm.

    `opened` is how far the centres are thought to stand apart of where the wheel was cut.

    None when it cannot be given a size; the doubt then stands in the plan's reason.
    """
    tip, pair, units = facts.pair.worm_od, facts.pair, facts.job.units
    missing = room.least + 2 * room.u - room.left
    radial = STEP / 2 * math.ceil(round(2 * missing / STEP, 6))
    if tip is None:
        return None, radial
    loss = contact_ratio_lost_by_relief(
        radial, axial_module=pair.axial_module, pressure_angle=pair.pressure_angle
    )
    excess = oversize_by(facts, opened=opened)
    new = round(tip.value - 2 * radial, 3)
    part = _part(facts, tip.value, new)
    correction = Correction(
        "relief",
        "Turn the worm down on its outside",
        "The crest would meet the wheel root before the flanks are set: it feels like no play and "
        "rocks under load.",
        (
            (
                "worm outside diameter",
                made_to(new - OD_TOLERANCE / 2, OD_TOLERANCE / 2, "clearance wanted"),
            ),
        ),
        (part,),
        (
            _oversize_words(facts, excess),
            f"Turn or grind the outside from {length(tip.value, units, to=0.01)} to at most "
            f"{length(new, units, to=0.01)} and at least "
            f"{length(new - OD_TOLERANCE, units, to=0.01)}, between centres, before the mesh is "
            "set.",
            "Nothing but the outside: flanks, backlash and ratio stay as they are. Stone the new "
            "edges of the crest; do not round them over.",
            "Afterwards, still between centres: both journals and the crest within "
            f"{length(STRAIGHT, units)} TIR, looked at in the middle as well as at the ends. Metal "
            "off one skin lets a drawn or hardened shaft go crooked: press it straight, or grind "
            "the journals true again.",
            f"Contact ratio falls by {loss:.2f}.",
            "This helps the worm crest only. If the WHEEL throat meets the worm root (bright line "
            "at the root of the worm), relieve the throat instead.",
        ),
        ("worm_relief",),
        60.0,
        _doubts(excess),
    )
    return correction, radial


def _part(facts: Facts, before: float, new: float) -> WormRelief:
    pair, seat = facts.pair, facts.ends[0].seat
    root = pair.worm_d1 - 2.4 * pair.axial_module
    return WormRelief(
        outside_before=before,
        outside=Limits(new, 0.0, -OD_TOLERANCE, "free size"),
        length=facts.worm_length or 5 * math.pi * pair.axial_module,
        lead_angle=math.atan(pair.g),
        axial_pitch=math.pi * pair.axial_module,
        shaft_diameter=seat.value if seat else root,
        hand=pair.hand,
        material=facts.job.rotary.worm_material,
    )


def oversize_by(facts: Facts, *, opened: float) -> float:
    """How much the worm outside is over what this wheel was cut for, mm on diameter.

    A standard tooth leaves 0.2 m of crest clearance, and the opening on top; what is missing was
    left on the worm (or the wheel was cut shallow). Also against d1 + 2 m, where d1 is known apart.
    """
    tip, pair, read = facts.pair.worm_od, facts.pair, facts.tip_clearance
    over_nominal = tip.value - pair.worm_d1 - 2 * pair.axial_module if tip else 0.0
    if read is None:
        return over_nominal
    missing = STANDARD_CLEARANCE * pair.axial_module + opened - read.value
    return max(over_nominal, 2 * missing)


def _oversize_words(facts: Facts, excess: float) -> str:
    if excess > OVERSIZE:
        over = length(excess, facts.job.units, to=0.01)
        return (
            f"The crest stands about {over} (on diameter) further out than a standard tooth would "
            "at these centres: the outside was left oversize, or the wheel cut shallow. This puts "
            "that right; it does not weaken the thread."
        )
    return "The worm is not over its nominal outside; this takes off real addendum."


def _doubts(excess: float) -> tuple[Doubt, ...]:
    if excess > OVERSIZE:
        return ()
    return (
        Doubt(
            "ask",
            "E-20",
            "The crest clearance is short although the worm outside is nominal.",
            "A wheel root left high, or a clearance read at dirt, would look the same.",
            "Clean the wheel root and read the clearance again before turning the worm.",
        ),
    )
