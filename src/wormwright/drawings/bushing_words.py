"""What is written on the sheet of a bushing: how to make it, what to check, how it fits."""

from __future__ import annotations

import math

from wormwright.drawings import figures
from wormwright.drawings.bushing_profile import slot_centres
from wormwright.drawings.bushing_section import PARALLEL, SEAT_DEPTH_TOLERANCE, SQUARE
from wormwright.drawings.general import EDGES, general_tolerance, surface
from wormwright.drawings.sheet import PartText
from wormwright.job.parts import EccentricBushing, Limits
from wormwright.job.rotary import Units

_STUB = 20.0
_PARTING = 10.0
_ROUGH = 1.0
_SIDES = {"A": "A (motor side)", "B": "B (far side)"}


def bushing_text(part: EccentricBushing, units: Units) -> PartText:
    """All words of the sheet."""
    return PartText(
        name=f"Eccentric bushing {_SIDES[part.side]}",
        material=part.material,
        quantity=part.quantity,
        fits=(
            f"Outside {_fit(part.outside, units, 'sized to the measured bore')}",
            f"Bearing seat {_fit(part.bore, units, '')}; for {part.bearing}",
        ),
        surface=surface("outside, bearing seat"),
        general=general_tolerance(units),
        edges=EDGES,
        notes=(
            ("HOW TO MAKE", _numbered(_steps(part, units))),
            ("CHECK AND WRITE DOWN", tuple(f"☐ {line}" for line in _checks(part, units))),
            ("FIT", _fitting(part, units)),
        ),
    )


def _fit(size: Limits, units: Units, otherwise: str) -> str:
    """Limits and the words of the fit, or `otherwise` if it has none."""
    words = size.fit or otherwise
    sizes = figures.limits(size, units).before("Ø").inline
    return f"{sizes}, {words}" if words else sizes


def _numbered(lines: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(f"{number} {line}" for number, line in enumerate(lines, start=1))


def _plain(length: float, units: Units) -> str:
    return figures.plain(length, units).inline


def tir(part: EccentricBushing, units: Units) -> str:
    """The needle swing to set in the four-jaw: twice the throw, with twice its tolerance."""
    return figures.plus_minus(2 * part.throw, 2 * part.throw_tolerance, units).inline


def _steps(part: EccentricBushing, units: Units) -> tuple[str, ...]:
    overall = part.flange_thickness + part.length
    blank = (
        f"Blank Ø{_plain(math.ceil(part.flange_outside + 3), units)} or over, "
        f"{_plain(math.ceil(overall + _STUB + _PARTING), units)} long. Hold about "
        f"{_plain(_STUB, units)} of it in the four-jaw"
    )
    from_face = part.seat_opens == "flange face"
    outward = "flange end out" if from_face else "flange end in the chuck, body out"
    last = "inner end to length, chamfer" if from_face else "face the flange to thickness"
    clear = _plain(part.shoulder_bore - 2 * _ROUGH, units)
    return (
        f"{blank}, {outward}. Rough {_plain(_ROUGH, units)} over, drill Ø{clear}. Let it cool.",
        "One hold: flange rim, back of flange and body to size; relieve the corner under the "
        f"flange {_plain(0.3, units)} deep; {'face the flange' if from_face else 'face the end'}.",
        f"Shift the jaws until the needle swings TIR {tir(part, units)}, twice the throw, on the "
        "body at TWO stations: beside the flange and at the other end. Both alike within "
        f"{figures.at_most(PARALLEL, units).inline}, high at the same place. No three-jaw packing.",
        "Needle lowest = thin wall = throw direction: scribe that line across the flange "
        f"{'face' if from_face else 'rim'} now. Stamp {part.side} on it.",
        f"Same hold: bore Ø{_plain(part.shoulder_bore, units)} through, bearing seat to limits and "
        f"depth, shoulder square, corner R {_plain(0.3, units)} at most, mouth "
        f"{_plain(part.chamfer, units)} x 45°. Read TIR again BEFORE it leaves the jaws.",
        f"Part off. Hold the body in a split ring, {last} (outer corners "
        f"{_plain(part.chamfer, units)} x 45°).",
        _slots(part, units),
        _mark(part),
        "Break the edges, wash.",
    )


def _turn(angle: float) -> str:
    turned = math.remainder(angle, math.tau)
    if abs(turned) < math.radians(0.05):
        return "on the throw line, thin side"
    if abs(abs(turned) - math.pi) < math.radians(0.05):
        return "on the throw line, thick side"
    way = "counter-clockwise" if turned > 0 else "clockwise"
    return f"{figures.degrees(abs(turned))} {way} from the throw line"


def _slots(part: EccentricBushing, units: Units) -> str:
    width, circle = _plain(part.slot_width, units), _plain(part.slot_circle, units)
    centres = [math.remainder(angle, math.tau) for angle in slot_centres(part)]
    if part.slot_sweep <= 0:
        places = ", ".join(figures.degrees(angle % math.tau) for angle in centres)
        return (
            f"Holes through the flange: {part.slot_count} of Ø{width} on Ø{circle} about the "
            f"OUTSIDE, at {places} counter-clockwise from the throw line."
        )
    half = part.slot_sweep / 2
    places = ", ".join(
        " to ".join(figures.degrees((angle + end) % math.tau) for end in (-half, half))
        for angle in sorted(angle % math.tau for angle in centres)
    )
    return (
        f"Slots through the flange: {part.slot_count}, {width} wide on Ø{circle} about the "
        "OUTSIDE. End centres, seen from the flange face, counter-clockwise from the throw "
        f"line: {places}."
    )


def _mark(part: EccentricBushing) -> str:
    marks = "Pop mark" if part.side == "A" else "Two pop marks side by side"
    return f"{marks} in the flange face near the rim, {_turn(part.mark_angle)}."


def _checks(part: EccentricBushing, units: Units) -> tuple[str, ...]:
    walls = figures.plus_minus(2 * part.throw, 2 * part.throw_tolerance, units).inline
    depth = figures.plus_minus(part.bearing_depth, SEAT_DEPTH_TOLERANCE, units).inline
    return (
        f"Outside, 3 places, 2 ways, micrometer: {figures.limits(part.outside, units).inline} ____",
        "Bearing seat, bore gauge or telescopic gauge and micrometer: "
        f"{figures.limits(part.bore, units).inline} ____",
        f"Wall at the seat, ball micrometer: thick ____ less thin ____ = {walls}; A and B alike "
        f"within {figures.at_most(part.throw_tolerance, units).inline}",
        f"Depth of the seat, depth micrometer: {depth} ____ (goes into the shim sum)",
        "Back of the flange to the outside, indicator: "
        f"{figures.at_most(SQUARE, units).inline} ____",
        "With the throw up, the pop mark is where the face view shows it",
    )


def _fitting(part: EccentricBushing, units: Units) -> tuple[str, ...]:
    thin = figures.plain(part.wall_thin, units).inline
    thick = figures.plain(part.wall_thick, units).inline
    way = "clockwise" if part.side == "A" else "counter-clockwise"
    return (
        f"Wall at the seat: thin {thin}, thick {thick}. DO NOT PRESS: neither the bushing into the "
        "housing nor the bearing into its seat; a thin uneven wall goes out of round. Both slide "
        "in by hand, oiled. The flange takes the worm thrust, no grub screw does.",
        f"Turning from the wheel toward the table top is {way} on this face.",
    )
