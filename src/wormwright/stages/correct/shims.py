"""Shims for worm end play and table play: how thick, which way, and what is left afterwards."""

from __future__ import annotations

import math
from dataclasses import dataclass

from wormwright.core.shim import TIGHTENS, shim_thickness_from_gap
from wormwright.job.corrections import Correction
from wormwright.job.result import Doubt, Estimate
from wormwright.job.rotary import Units
from wormwright.quantities import shown
from wormwright.stages.correct.bearings import bearing_doubts, bearing_sizes, own_float
from wormwright.stages.correct.facts import BALLS, PLAIN, Facts
from wormwright.stages.correct.fits import fit_doubts, ring_fits
from wormwright.stages.correct.predict import Left
from wormwright.stages.correct.preload import (
    LIGHT_PRELOAD,
    SMALL_PAIR_STIFFNESS,
    preload_band,
    springs_of,
    squeeze_of,
    unloaded_gap,
    worm_preload,
)
from wormwright.stages.correct.rings import SHIM_TOLERANCE, THINNEST, Ring, play_ring, to_shop
from wormwright.stages.correct.stacks import stack_size
from wormwright.stages.correct.warm_preload import warm_doubts, warm_preload, warm_size
from wormwright.stages.correct.wording import length, made_to, sized, with_tolerance

RUNNING_FLOAT = 0.010
"""End float left to a plain worm bush with thrust washer, and to a bearing of unknown kind, mm."""

FLAT_WAY_FLOAT = 0.0025
"""Middle of the float of 0 to 5 µm wanted on flat table ways, mm."""


@dataclass(frozen=True, slots=True)
class ShimPlan:
    """A shim correction with what it leaves of each play; `correction` None means not possible."""

    correction: Correction | None
    leaves: dict[str, Left]
    doubts: tuple[Doubt, ...] = ()


def _need_arrangement(what: str, kind: str) -> Doubt:
    return Doubt(
        "refuse",
        "E-14" if what == "worm" else "shim side",
        f"Where the {what} shim acts has not been entered.",
        "In one arrangement a thicker shim tightens, in another it loosens; the wrong one doubles "
        "the play.",
        f"Look which two faces the shim keeps apart and enter `{kind}`; no thickness is given "
        "before.",
    )


def _need_reading(what: str, kind: str, why: str) -> Doubt:
    return Doubt("ask", "not read", f"{what} has not been read.", why, f"Read it: `{kind}`.")


def worm_shim(facts: Facts) -> ShimPlan:
    """The shim (or spacer) that sets the worm's end play."""
    if facts.worm_arrangement is None:
        return ShimPlan(None, {}, (_need_arrangement("worm", "worm_shim_arrangement"),))
    if facts.end_play is None:
        why = "The shim is made to the play that is there now."
        return ShimPlan(None, {}, (_need_reading("Worm end play", "worm_end_play", why),))
    kind = facts.bearing_kind
    pair = springs_of(facts.ends)
    preload = worm_preload(facts) if kind in BALLS else 0.0
    gap = unloaded_gap(facts.end_play.value, facts.end_play_force, pair)
    squeeze = squeeze_of(pair, preload) if kind in BALLS else -RUNNING_FLOAT
    u = math.hypot(facts.end_play.u, SHIM_TOLERANCE / math.sqrt(3))
    made = _thickness(facts, "worm", gap, squeeze)
    label = "preload" if kind in BALLS else "running float"
    ring = _ring_of(facts, "worm", made, f"worm end play to {label}")
    rows = tuple(end.row for end in facts.ends if end.row is not None)
    warm = warm_preload(facts, pair, squeeze)
    doubts = [*made.doubts, *ring.doubts, *_kind_doubts(kind), *warm_doubts(facts, warm)]
    doubts += bearing_doubts(facts, rows) if kind in BALLS else ()
    sizes = _new_thickness(made)
    checked: tuple[tuple[str, Estimate], ...] = ()
    sizes += stack_size(ring.stack)
    sizes.append(("take-up", sized(gap + squeeze, u, "end play and squeeze")))
    if kind in BALLS:
        sizes.append(("preload", preload_band(pair, squeeze, preload, u)))
        own = own_float(facts)
        checked = (*warm_size(warm, preload), *((own,) if own else ()))
        checked += (*bearing_sizes(facts, rows), *ring_fits(facts))
        doubts += fit_doubts(facts)
    correction = Correction(
        "worm_shim",
        f"Worm end play to {label} with a shim",
        "End play counts one to one at the wheel; no closing of the mesh cures it.",
        tuple(sizes),
        ring.parts,
        _worm_steps(facts, made, gap + squeeze),
        ("worm_end_play",),
        90.0,
        tuple(doubts),
        checked=checked,
    )
    return ShimPlan(correction, _worm_leaves(facts, kind, squeeze, u), tuple(doubts))


def _worm_leaves(facts: Facts, kind: str | None, squeeze: float, u: float) -> dict[str, Left]:
    floats = [f for f in facts.worm_float if f]
    now = sum(f.value for f in floats) / len(floats) if floats else 0.02
    if kind in BALLS:
        # A squeezed pair has no float; what could be left is a shim that missed by more.
        missed = max(0.0, 2 * u - squeeze) / 2
        return {"end_play": Left(0.0, missed + 0.0005), "worm_float": Left(0.0, 0.001)}
    leaves = {"end_play": Left(RUNNING_FLOAT, max(u, 0.002))}
    if kind != PLAIN:  # unknown kind: the radial float may go wholly, partly or not at all
        leaves["end_play"] = Left(RUNNING_FLOAT, max(2 * u, 0.006))
        leaves["worm_float"] = Left(now / 2, now / math.sqrt(12))
    return leaves


def table_shim(facts: Facts) -> ShimPlan:
    """The shim under the table retainer or of the table bearing."""
    if facts.table_arrangement is None:
        return ShimPlan(None, {}, (_need_arrangement("table", "table_shim_arrangement"),))
    if facts.table_axial is None:
        why = "The shim is made to the play that is there now."
        return ShimPlan(None, {}, (_need_reading("Table axial play", "table_axial_play", why),))
    flat = facts.table_bearing == "flat ways"
    known = facts.table_bearing is not None
    gap = facts.table_axial.value
    squeeze = -FLAT_WAY_FLOAT if flat or not known else LIGHT_PRELOAD / SMALL_PAIR_STIFFNESS
    u = math.hypot(facts.table_axial.u, SHIM_TOLERANCE / math.sqrt(3))
    made = _thickness(facts, "table", gap, squeeze)
    setting = "a free float" if flat or not known else "light preload"
    ring = _ring_of(facts, "table", made, f"table play to {setting}")
    sizes = _new_thickness(made)
    sizes += stack_size(ring.stack)
    sizes.append(("take-up", sized(gap + squeeze, u, "axial play and wanted setting")))
    doubts = [*made.doubts, *ring.doubts]
    if not known:
        doubts.append(_need_reading("The kind of table bearing", "table_bearing_kind", ""))
    correction = Correction(
        "table_shim",
        "Table play out with a shim",
        "Table play moves every later reading and lets the mesh breathe under load.",
        tuple(sizes),
        ring.parts,
        _table_steps(facts, made, gap + squeeze, flat=flat or not known),
        ("table_bearing",),
        90.0,
        tuple(doubts),
    )
    return ShimPlan(correction, _table_leaves(facts, flat=flat, known=known), tuple(doubts))


def _table_leaves(facts: Facts, *, flat: bool, known: bool) -> dict[str, Left]:
    leaves = {"table_axial": Left(FLAT_WAY_FLOAT, 0.0015)}
    if flat:  # flat ways have no Hertz contact: the radial play is another surface and stays
        return leaves
    now = facts.table_radial.value if facts.table_radial else 0.01
    if not known:
        return leaves | {"table_radial": Left(now / 2, now / math.sqrt(12))}
    return {"table_axial": Left(0.0, 0.001), "table_radial": Left(0.0, 0.001)}


@dataclass(frozen=True, slots=True)
class _Made:
    """New thickness, or None when only the change is known; the shim's side for the words."""

    thickness: float | None
    arrangement: str
    doubts: tuple[Doubt, ...] = ()


def _new_thickness(made: _Made) -> list[tuple[str, Estimate]]:
    if made.thickness is None or made.thickness < THINNEST:
        return []
    name = "spacer" if made.arrangement == "nut with inner spacer" else "shim"
    return [(f"{name}, new thickness", made_to(made.thickness, SHIM_TOLERANCE, "gap and setting"))]


def _ring_of(facts: Facts, what: str, made: _Made, goal: str) -> Ring:
    if made.thickness is None:
        return Ring(None)
    return play_ring(facts, what, made.arrangement, made.thickness, goal)


def _thickness(facts: Facts, what: str, gap: float, squeeze: float) -> _Made:
    """The new thickness in what the shop can make, or why only the change is known."""
    read = facts.worm_shim if what == "worm" else facts.table_shim
    arrangement = str(facts.worm_arrangement if what == "worm" else facts.table_arrangement)
    if read is None:
        why = "Only the change can be given without it."
        doubt = _need_reading(f"The {what} shim in place", f"{what}_shim", why)
        return _Made(None, arrangement, (doubt,))
    in_place = read.value
    if in_place < gap + squeeze and arrangement == "cover on outer ring":
        # Nothing under the cover to take out: a ring behind the outer ring does the same.
        squeeze, in_place, arrangement = squeeze - in_place, 0.0, "ring behind outer ring"
    try:
        new = shim_thickness_from_gap(
            in_place=in_place, gap=gap, squeeze=squeeze, arrangement=arrangement
        )
    except ValueError as why:
        doubt = Doubt("ask", "shim side", str(why), "", "Take it off the face that is named.")
        return _Made(None, arrangement, (doubt,))
    return _Made(to_shop(new, facts.job.units), arrangement)


def _kind_doubts(kind: str | None) -> tuple[Doubt, ...]:
    if kind in (*BALLS, PLAIN):
        return ()
    return (
        Doubt(
            "ask",
            "bearing kind",
            "The worm bearings are of unknown or unlike kind.",
            "A running float is planned and the prediction is widened: nobody should preload a "
            "bearing that is not known.",
            "Enter `bearing_kind` of both ends.",
        ),
    )


_HOW = {
    "cover on outer ring": "The shim lies under the flange of the cover: thinner tightens.",
    "ring behind outer ring": "The ring lies between the cover's spigot and the outer ring: "
    "thicker tightens.",
    "nut with inner spacer": "The spacer keeps the inner rings apart: shorter tightens. Face one "
    "end square; do not build it up from foil.",
    "retainer on shim": "The retainer is screwed down on the shim: thinner tightens.",
}


def _how(facts: Facts, what: str, made: _Made) -> str:
    named = facts.worm_arrangement if what == "worm" else facts.table_arrangement
    if made.arrangement == named:
        return _HOW[made.arrangement]
    return (
        f"{_HOW[made.arrangement]} Take all shim out from under the cover: there is not enough "
        "of it to do without the ring."
    )


def _change_words(made: _Made, take_up: float, units: Units) -> str:
    if made.thickness is None:
        return f"Make the stack {length(take_up, units)} tighter than it is now."
    if made.thickness < THINNEST:
        return "Leave the shim out altogether."
    way = "thinner" if TIGHTENS[made.arrangement] < 0 else "thicker"
    size = with_tolerance(made.thickness, SHIM_TOLERANCE, units)
    return f"Make it {size}: that is {length(take_up, units)} {way} than now."


def _worm_steps(facts: Facts, made: _Made, take_up: float) -> tuple[str, ...]:
    units = facts.job.units
    return (
        _how(facts, "worm", made),
        _change_words(made, take_up, units),
        "Worm out of mesh. Stone both faces, measure the shim in three places, all within "
        f"{length(0.003, units)}.",
        "Close up, turn the worm several turns both ways, then read the end play again while "
        "rocking, and the starting drag out of mesh.",
        _turns(facts.bearing_kind),
    )


def _turns(kind: str | None) -> str:
    plain = "it must turn freely by the fingertips"
    balls = (
        "even drag without rough places; one ring must be able to slide or the shim does not act"
    )
    if kind == PLAIN:
        return f"Plain bush: {plain}."
    if kind in BALLS:
        return f"Balls: {balls}."
    return f"Plain bush: {plain}. Balls: {balls}."


def _table_steps(facts: Facts, made: _Made, take_up: float, *, flat: bool) -> tuple[str, ...]:
    units = facts.job.units
    drag = facts.job.duty.drag_limit_nmm
    goal = (
        f"Wanted: a float of 0 to {length(0.005, units)} and an even slight drag."
        if flat
        else "Wanted: no float, a light preload felt as even drag."
    )
    return (
        _how(facts, "table", made),
        _change_words(made, take_up, units),
        "Same outline as the shim in place; if the wheel holds the table down, its shim and the "
        "retainer's are one stack: change only one of them.",
        goal,
        "Gate: worm out of mesh, table drag even all round and, brought to the worm, far below "
        f"the duty's limit of {shown(drag, 'torque', units=units)}.",
    )


def shim_moves_with_bushings(facts: Facts) -> tuple[Doubt, ...]:
    """New bearings sit elsewhere than the old ones: the worm shim is proved with them in."""
    if facts.worm_arrangement is None or facts.end_play is None:
        return ()
    units = facts.job.units
    balls = facts.bearing_kind in BALLS
    squeeze = squeeze_of(springs_of(facts.ends), worm_preload(facts)) if balls else 0.0
    more = f" and {length(squeeze, units)} more" if balls else ""
    way = "thinner" if TIGHTENS[facts.worm_arrangement] < 0 else "thicker"
    less = "" if balls else f", less a float of {length(RUNNING_FLOAT, units)}"
    fit_cover = (
        " Turn the cover's spigot to enter the new seat without touching the inner ring."
        if facts.worm_arrangement in ("cover on outer ring", "ring behind outer ring")
        else ""
    )
    return (
        Doubt(
            "warn",
            "shim after bushings",
            "The worm shim is sized for the bearings that are in now; in the bushings the rings "
            "stand elsewhere.",
            "The end play, or the preload, would be out by whatever the new seats differ.",
            f"With the bushings in, close up on a shim that leaves end play, read it, and make "
            f"the shim {way} by what was read{more}{less}.{fit_cover}",
        ),
    )
