"""Shims for worm end play and table play: how thick, which way, and what is left afterwards."""

from __future__ import annotations

import math
from dataclasses import dataclass

from wormwright.core.shim import Piece, best_stack, shim_thickness_from_gap
from wormwright.handbook.shim_stock import shims
from wormwright.job.corrections import Correction
from wormwright.job.parts import Limits, ShimRing
from wormwright.job.result import Doubt, Estimate
from wormwright.job.rotary import Units
from wormwright.quantities import shown
from wormwright.stages.correct.facts import BALLS, PLAIN, Facts
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
from wormwright.stages.correct.wording import length, sized

SHIM_TOLERANCE = 0.005
"""Half of the tolerance on a shim that is ground or lapped to size, mm."""

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
    made = _thickness(
        facts.worm_shim.value if facts.worm_shim else None, gap, squeeze, facts.worm_arrangement
    )
    doubts = [*made.doubts, *_kind_doubts(kind), *_warm_end_float(facts, squeeze)]
    label = "preload" if kind in BALLS else "running float"
    sizes = (
        [("shim or spacer, new thickness", sized(made.thickness, u, "gap and squeeze"))]
        if (made.thickness is not None)
        else []
    )
    sizes.append(("take-up", sized(gap + squeeze, u, "end play and squeeze")))
    if kind in BALLS:
        sizes.append(("preload", preload_band(pair, squeeze, preload, u)))
    part = _worm_ring(facts, made, label)
    correction = Correction(
        "worm_shim",
        f"Worm end play to {label} with a shim",
        "End play counts one to one at the wheel; no closing of the mesh cures it.",
        tuple(sizes),
        (part,) if part else (),
        _worm_steps(facts, made, gap + squeeze),
        ("worm_end_play",),
        90.0,
        tuple(doubts),
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
    made = _thickness(
        facts.table_shim.value if facts.table_shim else None,
        gap,
        squeeze,
        facts.table_arrangement,
    )
    sizes: list[tuple[str, Estimate]] = []
    if made.thickness is not None:
        sizes.append(("shim, new thickness", sized(made.thickness, u, "gap and wanted setting")))
    sizes.append(("take-up", sized(gap + squeeze, u, "axial play and wanted setting")))
    doubts = list(made.doubts)
    if not known:
        doubts.append(_need_reading("The kind of table bearing", "table_bearing_kind", ""))
    correction = Correction(
        "table_shim",
        "Table play out with a shim",
        "Table play moves every later reading and lets the mesh breathe under load.",
        tuple(sizes),
        (),
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


def _thickness(in_place: float | None, gap: float, squeeze: float, arrangement: str) -> _Made:
    take_up = gap + squeeze
    if in_place is None:
        why = "Only the change can be given without it."
        return _Made(None, arrangement, (_need_reading("The shim in place", "*_shim", why),))
    if in_place < take_up and arrangement == "cover on outer ring":
        # Nothing under the cover to take out: a ring behind the outer ring does the same.
        extra = shim_thickness_from_gap(
            in_place=0.0, gap=gap, squeeze=squeeze - in_place, arrangement="ring behind outer ring"
        )
        return _Made(extra, "ring behind outer ring")
    try:
        new = shim_thickness_from_gap(
            in_place=in_place, gap=gap, squeeze=squeeze, arrangement=arrangement
        )
    except ValueError as why:
        doubt = Doubt("ask", "shim side", str(why), "", "Take it off the face that is named.")
        return _Made(None, arrangement, (doubt,))
    return _Made(new, arrangement)


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


def _warm_end_float(facts: Facts, squeeze: float) -> tuple[Doubt, ...]:
    """Warn when a warm housing lets go of the preload: the float grows one to one."""
    from wormwright.core.thermal import end_float_change  # noqa: PLC0415  (late: costs start-up)
    from wormwright.handbook.materials import material  # noqa: PLC0415  (late: costs start-up)

    if facts.span is None or facts.worm_arrangement == "retainer on shim":
        return ()
    face_to_face = facts.worm_arrangement == "cover on outer ring"
    rise = facts.job.duty.rise_k
    try:
        grown = float(
            end_float_change(
                "face to face" if face_to_face else "back to back",
                span=facts.span,
                housing_expansion=material(facts.job.rotary.housing_material).expansion,
                housing_rise=rise,
                shaft_expansion=material(facts.job.rotary.worm_material).expansion,
                shaft_rise=rise,
            )
        )
    except ValueError:
        return ()
    if grown <= max(squeeze, 0.0) or grown < 0.003:
        return ()
    units = facts.job.units
    return (
        Doubt(
            "warn",
            "E-15",
            f"Warm by {rise:g} K the housing grows {length(grown, units)} more than the worm; the "
            f"squeeze is {length(max(squeeze, 0.0), units)}.",
            "The end float comes back warm, one to one at the wheel.",
            "Use a spring washer of at least 1.3 times the thrust, or locate both bearings at one "
            "end.",
        ),
    )


def _worm_ring(facts: Facts, made: _Made, purpose: str) -> ShimRing | None:
    """The ring to make, when its outline is known from the housing bore and the bearing."""
    if made.thickness is None or made.thickness < 0.02:
        return None
    end = facts.ends[0]
    bore = end.housing_bore.value if end.housing_bore else end.outside
    if bore is None or end.bore is None or end.outside is None:
        return None
    section = (end.outside - end.bore) / 2
    if made.arrangement == "nut with inner spacer":
        inside = Limits(end.bore + 0.1, 0.1, 0.0, "clears the seat")
        outside = Limits(end.bore + 0.6 * section, 0.0, -0.2, "below the inner ring's shoulder")
        name = "spacer between the inner rings"
    elif made.arrangement == "ring behind outer ring":
        inside = Limits(end.outside - 0.4 * section, 0.2, 0.0, "clears cage and shield")
        outside = Limits(bore - 0.2, 0.0, -0.1, "drops into the bore")
        name = "ring between cover and outer ring"
    else:
        inside = Limits(bore + 0.5, 0.2, 0.0, "clears the cover's spigot")
        outside = Limits(bore + 12.0, 0.0, -0.5, "as the cover's flange; copy the old shim")
        name = "shim under the cover"
    return ShimRing(
        name,
        f"worm end play to {purpose}",
        inside,
        outside,
        Limits(made.thickness, SHIM_TOLERANCE, -SHIM_TOLERANCE, "lapped flat"),
        "steel",
        _stack(facts, made),
    )


def _stack(facts: Facts, made: _Made) -> tuple[float, ...]:
    if made.arrangement == "nut with inner spacer" or made.thickness is None:
        return ()
    units: Units = facts.job.units
    stock = [Piece(t) for t in facts.job.shim_stock_mm] or [
        Piece(s.thickness) for s in shims("metric foil" if units == "mm" else "inch stock")
    ]
    near = [p for p in stock if p.thickness <= made.thickness + SHIM_TOLERANCE]
    if not near or len(near) > 80:
        return ()
    best = best_stack(made.thickness, near, tolerance=SHIM_TOLERANCE)
    return tuple(p.thickness for p in best.pieces) if best.hits else ()


_HOW = {
    "cover on outer ring": "The shim lies under the flange of the cover: thinner tightens.",
    "ring behind outer ring": "Put the ring between the cover's spigot and the outer ring: "
    "thicker tightens. There is not enough shim under the cover to take out.",
    "nut with inner spacer": "The spacer keeps the inner rings apart: shorter tightens. Face one "
    "end square; do not build it up from foil.",
    "retainer on shim": "The retainer is screwed down on the shim: thinner tightens.",
}


def _change_words(made: _Made, take_up: float, units: Units) -> str:
    if made.thickness is None:
        return f"Make the stack {length(take_up, units)} tighter than it is now."
    if made.thickness == 0:
        return "Leave the shim out altogether."
    return f"New thickness {length(made.thickness, units)}, ± {length(SHIM_TOLERANCE, units)}."


def _worm_steps(facts: Facts, made: _Made, take_up: float) -> tuple[str, ...]:
    units = facts.job.units
    return (
        _HOW[made.arrangement],
        _change_words(made, take_up, units),
        "Worm out of mesh. Stone both faces, measure the shim in three places, all within "
        f"{length(0.003, units)}.",
        "Close up, turn the worm several turns both ways, then read the end play again while "
        "rocking, and the starting drag out of mesh.",
        "Plain bush: it must turn freely by the fingertips. Balls: even drag without rough places; "
        "one ring must be able to slide or the shim does not act.",
    )


def _table_steps(facts: Facts, made: _Made, take_up: float, *, flat: bool) -> tuple[str, ...]:
    units = facts.job.units
    drag = facts.job.duty.drag_limit_nmm
    goal = (
        f"Wanted: a float of 0 to {length(0.005, units)} and an even slight drag."
        if flat
        else "Wanted: no float, a light preload felt as even drag."
    )
    return (
        _HOW[made.arrangement],
        _change_words(made, take_up, units),
        "Same outline as the shim in place; if the wheel holds the table down, its shim and the "
        "retainer's are one stack: change only one of them.",
        goal,
        "Gate: worm out of mesh, table drag even all round and, brought to the worm, far below "
        f"the duty's limit of {shown(drag, 'torque', units=units)}.",
    )
