"""The wheel trued on its seat as a part to make: drawn only from sizes that were read."""

from __future__ import annotations

import math
from collections.abc import Mapping

from wormwright.bench import Bench
from wormwright.handbook.fits import deviations
from wormwright.job.corrections import Correction
from wormwright.job.parts import Limits, WheelSeat
from wormwright.job.result import Doubt
from wormwright.stages.correct.facts import Facts
from wormwright.stages.correct.wording import length

SIZES = (
    "wheel_od",
    "wheel_face",
    "wheel_hub_outside",
    "wheel_hub_length",
    "wheel_pin",
    "wheel_bore",
    "table_seat",
)
"""Readings that the drawing is made from, beside the teeth and the runout."""

STATIONS = 12
"""Tooth spaces round the wheel over which the pin is read (common practice)."""

SLEEVE_WALLS = (3.0, 2.0, 1.5)
"""Wall of the sleeve, mm: the first that leaves the hub enough is taken (common practice)."""

LEAST_HUB = 3.0
"""Wall that the hub keeps outside of the new bore, mm (common practice)."""

CLEANS_UP = 0.2
"""New bore over the old one and its runout, so that it cleans up, mm on diameter."""

SEAT_LEAST, SEAT_MOST = 0.002, 0.010
"""The seat over the measured shaft, mm: what the wheel can still be moved by on it."""

LOOSEST, TIGHTEST = 1.0, -0.1
"""Bore less shaft as read, mm: outside of this the two do not belong together."""

BORE_FIT, SLEEVE_FIT = "H7", "p6"
SLEEVE_METAL = "steel"
UNREAD = "wheel seat"
"""Code of the doubt that stands for a wheel seat whose sizes must be read before it is drawn."""


def wheel_seat_part(
    facts: Facts, bench: Bench, *, found: float, left: float
) -> tuple[WheelSeat | None, tuple[Doubt, ...]]:
    """The part, or the doubt that says why there is none; `found` and `left` are TIR in mm."""
    figures = {kind: bench.figure(kind) for kind in SIZES}
    read = {kind: round(figure.value, 3) for kind, figure in figures.items() if figure}
    missing = [kind for kind in SIZES if kind not in read]
    if missing:
        return None, (_unread("Sizes of the wheel and its seat have not been read.", missing),)
    fault = _fault(read)
    if fault is not None:
        return None, (fault,)
    new = _new_bore(read, found)
    if new is None:
        return None, (_thin_hub(facts, read),)
    try:
        bore, sleeve = deviations(BORE_FIT, new), deviations(SLEEVE_FIT, new)
    except ValueError:
        return None, (_beyond_tables(facts, new),)
    pressed = f"{SLEEVE_FIT}: light press with retaining compound"
    part = WheelSeat(
        wheel_outside=read["wheel_od"],
        face_width=read["wheel_face"],
        hub_outside=read["wheel_hub_outside"],
        hub_length=read["wheel_hub_length"],
        teeth=facts.pair.teeth,
        pin=read["wheel_pin"],
        stations=min(STATIONS, facts.pair.teeth),
        bore_found=read["wheel_bore"],
        runout_found=round(found, 2),
        bore=Limits(new, bore.upper, bore.lower, BORE_FIT),
        sleeve=Limits(new, sleeve.upper, sleeve.lower, pressed),
        seat=Limits(read["table_seat"], SEAT_MOST, SEAT_LEAST, "over the measured shaft"),
        runout=left,
        face_runout=left,
        wheel_material=facts.job.rotary.wheel_material,
        sleeve_material=SLEEVE_METAL,
    )
    return part, ()


def unread_seat(corrections: tuple[Correction, ...]) -> tuple[str, ...]:
    """The wheel seat that cannot be drawn yet, with what to read."""
    doubts = (d for c in corrections for d in c.doubts if d.code == UNREAD)
    return tuple(
        f"sizes of the wheel on its seat ({d.do[0].lower()}{d.do[1:].rstrip('.')})" for d in doubts
    )


def _new_bore(read: Mapping[str, float], runout: float) -> float | None:
    """The bore for the thickest sleeve that the hub has room for, in half millimetres."""
    cleans = read["wheel_bore"] + runout + CLEANS_UP
    for wall in SLEEVE_WALLS:
        new = math.ceil(2 * max(cleans, read["table_seat"] + 2 * wall)) / 2
        if (read["wheel_hub_outside"] - new) / 2 >= LEAST_HUB:
            return new
    return None


def _fault(read: Mapping[str, float]) -> Doubt | None:
    """What cannot be true of the sizes as read."""
    play = read["wheel_bore"] - read["table_seat"]
    faults = (
        (
            not TIGHTEST <= play <= LOOSEST,
            "The bore of the wheel and the shaft it sits on do not fit each other as read.",
            ["wheel_bore", "table_seat"],
        ),
        (
            read["wheel_hub_outside"] >= read["wheel_od"],
            "The hub was read as large as the wheel.",
            ["wheel_hub_outside", "wheel_od"],
        ),
        (
            read["wheel_face"] > read["wheel_hub_length"],
            "The rim of the wheel was read wider than its hub is long.",
            ["wheel_face", "wheel_hub_length"],
        ),
    )
    return next((_unread(seen, keys, again=True) for wrong, seen, keys in faults if wrong), None)


def _unread(seen: str, keys: list[str], *, again: bool = False) -> Doubt:
    return Doubt(
        "ask",
        UNREAD,
        f"{seen} There is no drawing of the wheel on its seat.",
        "The work stands; a bore or sleeve of guessed size would spoil the wheel.",
        f"{'Read again: ' if again else 'Read '}{', '.join(f'`{key}`' for key in keys)}.",
    )


def _thin_hub(facts: Facts, read: Mapping[str, float]) -> Doubt:
    units = facts.job.units
    wall = (read["wheel_hub_outside"] - read["wheel_bore"]) / 2
    return Doubt(
        "warn",
        "hub too thin",
        f"The hub has {length(wall, units, to=0.1)} of wall: no room for a sleeve of "
        f"{length(SLEEVE_WALLS[-1], units, to=0.1)} and {length(LEAST_HUB, units, to=0.1)} of hub "
        "round it. There is no drawing of the wheel on its seat.",
        "A thinner wall does not stay round when the sleeve is fixed.",
        "Shift the wheel inside the clearance of its register; if that is not enough, turn the "
        "hub off and put a new one on, or take another wheel.",
    )


def _beyond_tables(facts: Facts, bore: float) -> Doubt:
    return Doubt(
        "warn",
        "wheel bore large",
        f"A bore of {length(bore, facts.job.units, to=0.1)} lies beyond the tables of fits here. "
        "There is no drawing of the wheel on its seat.",
        "",
        f"Take {BORE_FIT} for the bore and {SLEEVE_FIT} for the sleeve from ISO 286-2 and sketch "
        "it by the steps.",
    )
