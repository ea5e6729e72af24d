"""Adapter and register made to run true: re-seat, wedge shim, skim in place, loose register."""

from __future__ import annotations

import math
from collections.abc import Sequence

from wormwright.core.register import play_to_tap_true, skimmed_diameter
from wormwright.core.runout_causes import shims_under_bolts
from wormwright.core.turn_vector import TurnVector
from wormwright.handbook.fits import deviations
from wormwright.job.adapter import AdapterPlate
from wormwright.job.corrections import Correction
from wormwright.job.findings import Runout
from wormwright.job.parts import ChuckAdapter, Limits
from wormwright.job.result import Doubt, Estimate
from wormwright.job.rotary import Units
from wormwright.stages.correct.facts import Facts
from wormwright.stages.correct.wording import MICRON, length, made_to, turn

RUNS_TRUE = 0.013
"""Swing (TIR) of register or face that good work takes, mm (half a thou; trade practice)."""
WANTED = 0.010
"""Swing (TIR) that a skim in place is made to, mm (trade practice)."""
CLEAN_UP = 0.01
"""Least cut that leaves no old surface, mm (common practice)."""
MARGIN = 0.10
"""Play on diameter beyond what tapping true takes up, mm."""
LEAST_PLAY, MOST_PLAY = 0.25, 0.90
"""Play on diameter of an adjustable register, mm (10 thou and up; trade practice)."""
PLAY_TOLERANCE = 0.05
THINNEST_FOIL = 0.01
"""No thinner shim is sold, mm."""
INWARD = ("bore", "taper")
TAKEN_OFF = ("adapter", "chuck")
"""Surfaces of what is bolted to the table."""
UNTURNED = ("as-cast", "rough")
PLACES = 4


def adapter_truing(facts: Facts) -> Correction | None:
    """What to shim, skim or leave loose; None when face and register run true or are unread."""
    runouts = facts.diagnosis.runouts
    face, register = _worst(runouts, "face"), _worst(runouts, "register")
    if face is None and register is None:
        return None
    moved = _to_tap(register, runouts)
    play = _play(moved) if moved else None
    sizes = (*_face_sizes(face), *_register_sizes(register, play))
    plate = facts.job.adapter
    part = _part(plate, play, _cut(face, register)) if plate else None
    return Correction(
        "adapter",
        "Adapter and register trued in place",
        "Work on a register that stands off the axis, or on a face that leans, runs out however "
        "little play the axis has.",
        sizes,
        (part,) if part else (),
        _steps(facts, face, register, play),
        ("adapter_true",),
        150.0,
        _doubts(facts, play, part),
    )


def _worst(runouts: Sequence[Runout], key: str) -> Runout | None:
    """The surface of that key that swings most, of those proven to swing more than is good."""
    out = [
        r
        for r in runouts
        if r.key == key
        and r.high_at is not None
        and 2 * r.eccentricity.value > RUNS_TRUE
        and not r.surface.startswith(UNTURNED)
    ]
    return max(out, key=lambda r: r.eccentricity.value, default=None)


def _to_tap(register: Runout | None, runouts: Sequence[Runout]) -> Estimate | None:
    """How far the chuck must be moved: its bar at the jaws if that stands off more, else itself."""
    if register is None:
        return None
    near = next((r.eccentricity for r in runouts if r.key == "bar"), None)
    return max((e for e in (register.eccentricity, near) if e), key=lambda e: e.value)


def _play(moved: Estimate) -> float:
    wanted = play_to_tap_true(offset=moved.value, offset_u=moved.u, margin=MARGIN)
    return max(LEAST_PLAY, math.ceil(wanted / 0.01 - 1e-9) * 0.01)


def _swing(runout: Runout, method: str) -> Estimate:
    e = runout.eccentricity
    return Estimate(2 * e.value, 2 * e.u, 2 * e.low, 2 * e.high, "length", method)


def _cut(face: Runout | None, register: Runout | None) -> float:
    """Stock that must be left on a new plate to skim it true, mm."""
    swings = [_swing(r, "").high for r in (face, register) if r]
    return math.ceil((max(swings) + CLEAN_UP) * 10) / 10


def _face_sizes(face: Runout | None) -> tuple[tuple[str, Estimate], ...]:
    if face is None:
        return ()
    swing = _swing(face, "once per turn")
    skim = Estimate(
        swing.value + CLEAN_UP,
        swing.u,
        swing.low + CLEAN_UP,
        swing.high + CLEAN_UP,
        "length",
        "swing and clean-up",
    )
    return (
        (f"swing (TIR) of the {face.surface}", swing),
        ("skim of the face, most, at its high side", skim),
    )


def _register_sizes(
    register: Runout | None, play: float | None
) -> tuple[tuple[str, Estimate], ...]:
    if register is None or play is None:
        return ()
    lost = [
        -skimmed_diameter(diameter=1e3, offset=max(e, 0.0), clean_up=CLEAN_UP) + 1e3
        for e in (
            register.eccentricity.value,
            register.eccentricity.low,
            register.eccentricity.high,
        )
    ]
    off = Estimate(
        lost[0], 2 * register.eccentricity.u, lost[1], lost[2], "length", "offset and clean-up"
    )
    return (
        (f"swing (TIR) of the {register.surface}", _swing(register, "once per turn")),
        ("change of its diameter by the skim", off),
        (
            "play of an adjustable register in the recess, on diameter",
            made_to(play + PLAY_TOLERANCE, PLAY_TOLERANCE, "to tap the chuck true"),
        ),
    )


def _steps(
    facts: Facts, face: Runout | None, register: Runout | None, play: float | None
) -> tuple[str, ...]:
    seen = [r.surface for r in (face, register) if r]
    loose = any(surface.startswith(TAKEN_OFF) for surface in seen)
    again = (
        "Off with it: clean both faces, stone the burrs, look at the mouths of tapped holes. Bolt "
        "it down crosswise and read again, then once more half a turn round. What goes away was "
        "dirt, what goes round with the plate is the plate."
        if loose
        else "Clean face and bore of the table, stone the burrs of slots and tapped holes, read "
        "again: what goes away was dirt."
    )
    return (
        "Table bearings first: a skim copies their play into what it cuts.",
        again,
        *_face_steps(facts, face),
        *_register_steps(facts, register, play),
        "Pop marks on the table and on what sits on it, at the place where it was trued; it goes "
        "back so or not at all. Read face and register again, screws tight as in use: "
        f"{length(WANTED, facts.job.units)} TIR or less.",
    )


def _face_steps(facts: Facts, face: Runout | None) -> tuple[str, ...]:
    if face is None or face.slope is None or face.slope_at is None:
        return ()
    units, at = facts.job.units, face.slope_at.value
    slope, radius = face.slope.value, face.eccentricity.value / face.slope.value
    plate = facts.job.adapter
    bolts, circle = (plate.table_count, plate.table_circle / 2) if plate else (PLACES, radius)
    opposite = turn((at + math.pi) % math.tau)
    skim = (
        f"Else skim it in place: {length(2 * face.eccentricity.value, units)} comes off at "
        f"{turn(at)}, it just cleans up at {opposite} (at {length(radius, units, to=1.0)} radius)."
    )
    if 2 * slope * circle < THINNEST_FOIL:
        return (f"The face is too near to true for a shim. {skim}",)
    where = (
        "at its screws"
        if plate
        else f"at {length(circle, units, to=1.0)} radius, in proportion nearer in"
    )
    return (
        f"A wedge of shims under the low side at table {opposite} costs no metal, {where}: "
        f"{_wedge(slope, circle, max(bolts, 3), units)}.",
        skim,
    )


def _wedge(slope: float, circle: float, bolts: int, units: Units) -> str:
    """Shims at evenly spaced places, told from the low side round to the high side."""
    round_ = [math.tau * n / bolts for n in range(bolts)]
    marks = [math.pi + at for at in round_]  # the slope points at mark 0, the low side opposite
    thick = shims_under_bolts(TurnVector(slope, 0.0, 0.0), bolt_radius=circle, bolt_marks=marks)
    words = []
    for at, shim in list(zip(round_, thick, strict=True))[: bolts // 2 + 1]:
        place = "there" if at == 0 else f"{turn(at)} to either side"
        place = "opposite" if math.isclose(at, math.pi) else place
        size = length(float(shim), units) if shim > MICRON / 2 else "nothing"
        words.append(f"{place} {size}")
    return f"{', '.join(words)}; screws in between take what lies between"


def _register_steps(facts: Facts, register: Runout | None, play: float | None) -> tuple[str, ...]:
    if register is None or register.high_at is None or play is None:
        return ()
    units, at = facts.job.units, turn(register.high_at.value)
    e = register.eccentricity.value
    change = 2 * (e + CLEAN_UP)
    if register.surface.startswith(INWARD):
        return (
            f"The {register.surface} stands {length(e, units)} off toward table {at}. Bored true "
            f"in place it grows by {length(change, units)}: bush it, or turn the spigot of the "
            "plate to what it measures then.",
        )
    return (
        f"The {register.surface} stands {length(e, units)} off toward table {at}. Skimmed true it "
        f"loses {length(change, units)} of its diameter and is loose in the chuck: make it "
        f"adjustable then, {length(play, units)} to "
        f"{length(play + 2 * PLAY_TOLERANCE, units)} under the recess, and tap the chuck true.",
        "Or leave it: turn it loose by that much without truing it, bar in the jaws, and tap the "
        f"chuck over by {length(e, units)} away from {at}.",
    )


def _part(plate: AdapterPlate, play: float | None, cut: float) -> ChuckAdapter:
    recess, back = plate.chuck_recess, deviations("g6", plate.table_bore)
    if play is None:
        h6 = deviations("h6", recess)
        spigot = Limits(recess, h6.upper, h6.lower, "h6 to the measured recess")
    else:
        middle = round(recess - play - PLAY_TOLERANCE, 3)
        spigot = Limits(middle, PLAY_TOLERANCE, -PLAY_TOLERANCE, "loose in the recess")
    return ChuckAdapter(
        name="chuck adapter",
        outside=plate.outside,
        thickness=plate.thickness,
        spigot=spigot,
        spigot_length=plate.register_length,
        locating=Limits(plate.table_bore, back.upper, back.lower, "g6"),
        locating_length=plate.back_length,
        bore=plate.bore,
        table_circle=plate.table_circle,
        table_count=plate.table_count,
        table_hole=plate.table_hole,
        table_head=plate.table_head,
        table_head_depth=plate.table_head_depth,
        chuck_circle=plate.chuck_circle,
        chuck_count=plate.chuck_count,
        chuck_drill=plate.chuck_drill,
        chuck_thread=plate.chuck_thread,
        chuck_turn=plate.chuck_turn,
        chuck_recess=recess,
        skim=cut,
        runout=WANTED,
        material=plate.material,
        adjustable=play is not None,
    )


def _doubts(facts: Facts, play: float | None, part: ChuckAdapter | None) -> tuple[Doubt, ...]:
    found: list[Doubt] = []
    loose = [p for p in (facts.table_axial, facts.table_radial) if p and p.value > RUNS_TRUE]
    if loose:
        found.append(
            Doubt(
                "warn",
                "bearing first",
                "The table has more play than a skim should be made on.",
                "Play of the bearings is copied into the plate, and it is skimmed twice.",
                "Set the table bearing, read play, face and register again, then skim.",
            )
        )
    if play is not None and play > MOST_PLAY:
        units = facts.job.units
        found.append(
            Doubt(
                "refuse",
                "adapter",
                f"An adjustable register would need {length(play, units)} of play.",
                "So far off is dirt, a burr, or another fault than the register.",
                "Clean, re-seat and read again; else make the plate new.",
            )
        )
    if part is None:
        found.append(
            Doubt(
                "ask",
                "adapter sizes",
                "The sizes of the plate between table and chuck are not known.",
                "Without them there is no drawing of it; what to shim and skim is known all the "
                "same.",
                "Describe it in the section [adapter] of job.toml.",
            )
        )
    return tuple(found)
