"""The setting move of a unit that adjusts by itself: no new bushings."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from wormwright.job.corrections import Correction
from wormwright.job.result import Doubt, Estimate
from wormwright.stages.correct.facts import Facts
from wormwright.stages.correct.packing import block_packing
from wormwright.stages.correct.strategy import BLUE_U
from wormwright.stages.correct.unit import Array
from wormwright.stages.correct.wording import length, sized, turn

UNLIMITED = 10.0
"""Reach of a pivot or a block, mm: more than any mesh needs."""

MINUTES = {"factory eccentric": 75.0, "pivot box": 75.0, "bolted block": 105.0}


@dataclass(frozen=True, slots=True)
class SettingMove:
    """The move, how far off centre it leaves the worm and how far it can reach (rows, mm)."""

    strategy: str
    correction: Correction
    closing: Estimate
    sideways: Array
    reach: Array


def setting_move(facts: Facts, closing: Array, *, target: float, model: str) -> SettingMove:
    """The move of a factory eccentric, pivot box or bolted block for the wanted closing."""
    kind = str(facts.adjusting)
    low, high = (float(x) for x in np.quantile(closing, [0.025, 0.975]))
    estimate = Estimate(
        (low + high) / 2, float(closing.std()), low, high, "length", f"{model}, by draws"
    )
    packing = block_packing(facts, estimate.value) if kind == "bolted block" else None
    if packing is not None:
        steps, sizes, doubts = packing.steps, packing.sizes, packing.doubts
    else:
        steps, sizes, doubts = _words(facts, kind, estimate.value)
    key, move = ("centre_shim", "centre_shim") if packing else ("setting", "setting_move")
    throw = facts.adjuster_throw
    reach = 2 * throw.value if kind == "factory eccentric" and throw else UNLIMITED
    place = (np.arange(len(closing)) + 0.5) * math.sqrt(5) % 1.0
    centred: Array = 2 * BLUE_U * (2 * np.asarray(place, dtype=np.float64) - 1)
    sideways = centred if kind == "factory eccentric" else np.zeros(len(closing))
    correction = Correction(
        key,
        "New packing under the worm block" if packing else f"Set the {kind} deeper",
        f"This unit adjusts by its {kind}; "
        + ("packing sets its depth." if packing else "nothing has to be made to close the mesh."),
        (
            ("closing wanted", estimate),
            ("backlash to set at the tight spot, at r2", sized(target, facts.rock_u, "by rock")),
            *sizes,
        ),
        packing.parts if packing else (),
        (*steps, *_common(facts)),
        (move, "axial_centring", "final_depth", "coupling"),
        MINUTES[kind],
        doubts,
        step_operations=(*(move for _ in steps), "final_depth", "coupling"),
    )
    return SettingMove(kind, correction, estimate, sideways, np.full(len(closing), reach))


Sizes = tuple[tuple[str, Estimate], ...]


def _words(
    facts: Facts, kind: str, closing: float
) -> tuple[tuple[str, ...], Sizes, tuple[Doubt, ...]]:
    if kind == "factory eccentric":
        return _eccentric(facts, closing)
    if kind == "pivot box":
        return _pivot(facts, closing)
    units = facts.job.units
    steps = (
        f"Slacken the block and bring it {length(closing, units)} nearer to the wheel, square: an "
        "indicator at each end of the worm, both to read the same within "
        f"{length(0.003, units)}; a shim of that thickness behind the block does the same.",
        "Clamp an angle across both ends while the screws are tightened.",
    )
    return steps, (), ()


def _eccentric(facts: Facts, closing: float) -> tuple[tuple[str, ...], Sizes, tuple[Doubt, ...]]:
    units, throw, arm = facts.job.units, facts.adjuster_throw, facts.adjuster_arm
    if throw is None:
        doubt = Doubt(
            "ask",
            "adjuster throw",
            "The throw of the factory eccentric has not been read.",
            "Without it the angle of the move and its sideways part are not known.",
            "Read `adjuster_throw` (half of the full swing).",
        )
        line = f"Turn it in until the worm is {length(closing, units)} nearer, by indicator."
        return (line,), (), (doubt,)
    e = throw.value
    if closing > 2 * e:
        doubt = Doubt(
            "warn",
            "adjuster stroke",
            f"The eccentric's whole stroke of {length(2 * e, units)} is less than the closing.",
            "The mesh stays open by the rest.",
            "Set it as deep as it goes and read the rock again.",
        )
        return ("Turn it to its deepest place.",), (), (doubt,)
    neutral = math.asin(min(1.0, closing / e))
    aside = e - math.sqrt(max(0.0, e**2 - min(closing, e) ** 2))
    steps: tuple[str, ...] = (
        f"Lock loose, turn it in. If the throw stands square to the wheel now, {turn(neutral)} "
        f"does it and moves the worm {length(aside, units)} sideways; nearer to pointing at the "
        "wheel (or away) it takes more turn and moves more sideways. The indicator on the worm "
        f"decides: {length(closing, units)} nearer.",
    )
    if arm is not None:
        slot = arm.value * neutral
        steps += (f"At the clamp slot that is about {length(slot, units, to=0.1)}.",)
    sizes = (
        (
            "turn from square to the wheel",
            Estimate(neutral, 0.0, neutral, neutral, "angle", "geometry"),
        ),
    )
    doubts = _sideways_doubt(facts, aside, closing)
    return steps, sizes, doubts


def _sideways_doubt(facts: Facts, aside: float, closing: float) -> tuple[Doubt, ...]:
    units = facts.job.units
    if dict(facts.pair.kinds).get("helical", 0.0) > 0.95:
        return ()
    return (
        Doubt(
            "warn",
            "E-19",
            f"An eccentric moves the worm sideways as well: {length(aside, units)} from square to "
            f"the wheel, as much as the closing ({length(closing, units)}) at 45°.",
            "On a hollow wheel that shuts the mesh too far out and loosens as it beds in.",
            "Note the lever's place, and blue the wheel at the new one.",
        ),
    )


def _pivot(facts: Facts, closing: float) -> tuple[tuple[str, ...], Sizes, tuple[Doubt, ...]]:
    units, arm = facts.job.units, facts.adjuster_arm
    if arm is None:
        steps = (f"Swing the box in until the worm is {length(closing, units)} nearer.",)
        doubt = Doubt(
            "ask",
            "adjuster arm",
            "The arm from pivot to worm has not been read.",
            "Without it the swing can only be set by indicator.",
            "Read `adjuster_arm`.",
        )
        return steps, (), (doubt,)
    swing = closing / arm.value
    u = swing * arm.u / arm.value
    size = Estimate.normal(swing, u, "angle", "closing / arm")
    steps = (
        f"Pivot bolt just loose, swing the box in until the worm is {length(closing, units)} "
        "nearer by indicator; no play in the pivot when clamped, or it counts like worm end play.",
    )
    return steps, (("swing of the box", size),), ()


def _common(facts: Facts) -> tuple[str, ...]:
    spot = facts.diagnosis.tight_spot.angle
    where = f"at table {turn(spot.value)}" if spot else "at the tight spot (find it first)"
    return (
        f"Set {where}, worm turned once to its own tightest angle; lock with the indicator on and "
        "read again locked.",
        "Set the coupling to the new worm line.",
    )
