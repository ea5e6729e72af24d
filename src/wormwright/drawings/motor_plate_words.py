"""What is written on the sheet of a motor plate."""

from __future__ import annotations

from wormwright.drawings import notes
from wormwright.drawings.general import EDGES, general_tolerance, surface
from wormwright.drawings.sheet import PartText
from wormwright.job.parts import MotorPlate
from wormwright.job.rotary import Units


def plate_text(part: MotorPlate, units: Units) -> PartText:
    """All words of the sheet."""
    return PartText(
        name=f"Motor plate, frame {part.frame}, {part.style}",
        material=part.material,
        quantity=1,
        fits=(
            f"Pilot of the motor {notes.fitted(part.pilot, units)}",
            f"Register on the rotary {notes.fitted(part.register, units)}",
        ),
        surface=surface("pilot, register, both faces"),
        general=general_tolerance(units),
        edges=EDGES,
        notes=(
            ("HOW TO MAKE", notes.numbered(_steps(part, units))),
            ("FIT IT AFTER THE MESH IS SET", notes.numbered(_fit(part, units))),
            ("CHECK AND WRITE DOWN", notes.ticked(_checks(part, units))),
        ),
    )


def _steps(part: MotorPlate, units: Units) -> tuple[str, ...]:
    register = (
        "Turn round on the faced side. Register to limits."
        if part.style == "slotted"
        else f"Four-jaw: set it over by {notes.size(part.throw, units)}, indicator TIR "
        f"{notes.size(2 * part.throw, units)} toward the pop mark, then the register to limits."
    )
    return (
        "In ONE hold: face, pilot to limits, hole through.",
        register,
        "Both faces parallel within a thou; drill from the motor side, mill the slots along the "
        "closing. Chamfer every mouth.",
        f"Four pillars {notes.size(part.standoff, units)} long, ends faced in one set-up.",
    )


def _fit(part: MotorPlate, units: Units) -> tuple[str, ...]:
    way = (
        "slide it along the slots"
        if part.style == "slotted"
        else "turn the register in its seat, both ways, for the least swing"
    )
    return (
        "Power isolated. Mesh set and locked FIRST: the worm line is only now where it stays.",
        f"Indicator carried round by the worm on the motor hub: {way} until half the swing is "
        "within the limit; tighten in a star, read again.",
        f"Coupling: {part.coupling}. Shaft {notes.size(part.shaft, units)} to "
        f"{notes.size(part.worm_shaft, units)}; grub screws on flats, or a clamp hub with the key.",
        "Dowel or scribe it where it stands; seal the gap, relieve the cable.",
    )


def _checks(part: MotorPlate, units: Units) -> tuple[str, ...]:
    return (
        f"Pilot {notes.bounds(part.pilot, units)} ____, deeper than the motor's pilot ____",
        f"Register {notes.bounds(part.register, units)} ____",
        f"Offset left, half the swing: at most {notes.within(part.offset_left, units)} ____",
        "Face of the motor to the worm line, needle carried round: TIR ____",
        "Turns by hand a whole table turn, power off ____",
    )
