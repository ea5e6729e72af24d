"""What is written on the sheet of a wheel that is trued on its seat."""

from __future__ import annotations

from wormwright.drawings import figures, notes
from wormwright.drawings.general import EDGES, general_tolerance, surface
from wormwright.drawings.sheet import PartText
from wormwright.job.parts import WheelSeat
from wormwright.job.rotary import Units

_SLEEVE_BORE = 1.0
"""The bore of the sleeve is left under the seat by this until it is fixed [mm on diameter]."""
_SLEEVE_OVER, _BLANK_ROUND, _CHUCKED = 1.0, 3.0, 20.0
"""The sleeve over the hub [mm]; its bar over its outside [mm on diameter], held in the jaws."""
_LEAST_HOLD = 5.0
"""A shorter hub [mm beside the rim] cannot be held by the jaws."""


def seat_text(part: WheelSeat, units: Units) -> PartText:
    """All words of the sheet."""
    return PartText(
        name="Worm wheel, trued on its seat",
        material=f"wheel: {part.wheel_material}; sleeve: {part.sleeve_material}",
        quantity=1,
        fits=(
            f"Wheel bored {notes.fitted(part.bore, units, 'concentric with the teeth')}",
            f"Sleeve outside {notes.fitted(part.sleeve, units, 'fixed in the wheel')}",
            f"Seat {notes.fitted(part.seat, units, 'to the measured table shaft')}",
            "Sizes in ( ) are as found: measure, do not cut",
        ),
        surface=surface("bore, sleeve, seat"),
        general=general_tolerance(units),
        edges=EDGES,
        notes=(
            ("BEFORE YOU CUT", notes.numbered(_before(part, units))),
            ("HOW TO MAKE", notes.numbered(_steps(part, units))),
            ("CHECK AND WRITE DOWN", notes.ticked(_checks(part, units))),
        ),
    )


def _before(part: WheelSeat, units: Units) -> tuple[str, ...]:
    return (
        f"Found: TIR {figures.fine(part.runout_found, units).inline} over the pin, bore "
        f"Ø{figures.fine(part.bore_found, units).inline}. Turn the wheel half round on its seat "
        "and read again: if the high spot stays with the table, the seat is out and not the "
        "wheel. Stop.",
        "Wheel held by screws with play in the holes: try shifting it first.",
        "Pop mark on the front in line with tooth space 1, one on the table at the same place.",
    )


def _hold(part: WheelSeat) -> str:
    if part.hub_length - part.face_width >= _LEAST_HOLD:
        return (
            "Wheel in the four-jaw by the hub, front outward, soft packing under the jaws. Never "
            "by the teeth."
        )
    return (
        "No hub to hold: wheel on a faceplate, front outward, parallel packing behind the rim, "
        "clamped on its web just tight enough. Never by the teeth."
    )


def _steps(part: WheelSeat, units: Units) -> tuple[str, ...]:
    truth, face = notes.within(part.runout / 2, units), notes.within(part.face_runout / 2, units)
    over = part.hub_length + _SLEEVE_OVER
    bar = notes.size(part.sleeve.size + _BLANK_ROUND, units)
    return (
        f"Sleeve first, from bar Ø{bar} x {notes.size(over + _CHUCKED, units)}: outside to "
        f"limits, bore Ø{notes.size(part.seat.size - _SLEEVE_BORE, units)}, part off at "
        f"{notes.size(over, units)}.",
        _hold(part),
        f"Indicate surface 1 at all {part.stations} stations to TIR {truth}, surface 2 to "
        f"{face}: half of what is allowed. Tap for 2, set over for 1, in turn. Same finger "
        "pressure on the pin.",
        f"Bore to {notes.bounds(part.bore, units)} in light cuts. Read both surfaces again BEFORE "
        "anything else: if they moved, true up and take another pass.",
        "Fix the sleeve in the same hold: clean, retaining compound or light press, let it set.",
        f"Still the same hold: bore the sleeve to {notes.bounds(part.seat, units)}, face it flush.",
    )


def _checks(part: WheelSeat, units: Units) -> tuple[str, ...]:
    face = notes.within(part.face_runout, units)
    return (
        "Before the last cut: table shaft at the seat, micrometer, 2 ways ____ ____",
        f"Seat {notes.bounds(part.seat, units)}, 2 ways ____ ____",
        "On a mandrel between centres: hub face that goes against the table, TIR "
        f"{face} ____; skim it only if it is over. Skimmed off ____: the wheel moves by it",
        f"On the table, screws tight, over the pin: TIR {notes.within(part.runout, units)} ____ "
        "high at space ____",
        f"Front of the rim: TIR {face} ____",
        "Screws slack and tight read the same within half of it ____",
        "Old key or pin holes: does the joint carry the torque? Sleeve cut for the key ____",
        "Tight spot map again, 12 places, and centring by blue: old settings are void",
    )
