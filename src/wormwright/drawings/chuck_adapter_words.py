"""What is written on the sheet of a chuck adapter."""

from __future__ import annotations

from wormwright.drawings import figures, notes
from wormwright.drawings.general import EDGES, general_tolerance, surface
from wormwright.drawings.sheet import PartText
from wormwright.job.parts import ChuckAdapter
from wormwright.job.rotary import Units

_CUT = 0.05
"""A light cut on a worm-driven table [mm]; common practice."""
_BAR_REACH = 100.0
_BLANK_ROUND, _BLANK_LONG = 4.0, 4.0
"""Stock over the finished plate [mm on diameter, on length]."""


def adapter_text(part: ChuckAdapter, units: Units) -> PartText:
    """All words of the sheet."""
    kind = "loose on purpose" if part.adjustable else "finished in place"
    return PartText(
        name=part.name[:1].upper() + part.name[1:],
        material=part.material,
        quantity=1,
        fits=(
            f"Register {notes.fitted(part.spigot, units)}; {kind}; chuck recess "
            f"Ø{figures.fine(part.chuck_recess, units).inline}",
            f"Back spigot {notes.fitted(part.locating, units)} in the bore of the table",
        ),
        surface=surface("register, face, back"),
        general=general_tolerance(units),
        edges=EDGES,
        notes=(
            ("HOW TO MAKE", notes.numbered(_steps(part, units))),
            ("TRUE IT IN PLACE", notes.numbered(_true(part, units))),
            ("CHECK AND WRITE DOWN", notes.ticked(_checks(part, units))),
        ),
    )


def _steps(part: ChuckAdapter, units: Units) -> tuple[str, ...]:
    overall = part.spigot_length + part.thickness + part.locating_length
    blank = (
        f"Ø{notes.size(part.outside + _BLANK_ROUND, units)} x "
        f"{notes.size(overall + _BLANK_LONG, units)} long"
    )
    rough = notes.size(part.spigot.size + 2 * part.skim, units)
    return (
        f"Blank {blank}. In ONE hold: face the back, turn the back spigot to limits, relieve its "
        f"corner {notes.size(0.3, units)} deep, bore through.",
        "Turn round: soft jaws bored to the back spigot, back face hard against them. Outside to "
        f"size, end of the register to {notes.size(overall, units)} overall. Register only to "
        f"Ø{rough}, face only to {notes.size(part.thickness + part.skim, units)} from the back.",
        "Drill both bolt circles as seen from the chuck. Sink the table heads "
        f"{notes.size(part.table_head_depth + part.skim, units)} deep from the face as it is now, "
        f"tap {part.chuck_thread}. Chamfer every mouth, or a raised burr lifts the chuck.",
        "Pop mark in the face near the rim, one on the table beside it: it always goes back so.",
    )


def _true(part: ChuckAdapter, units: Units) -> tuple[str, ...]:
    truth = notes.within(part.runout, units)
    skim = (
        "Table bearings set and re-read FIRST: a skim copies their play into the plate.",
        "Clean both faces, bolt the plate to its marks, final torque.",
        "Sharp tool clamped to the machine, spindle stopped and locked; rotary turned by its own "
        f"motor, always one way, hands off. Cuts of {notes.size(_CUT, units)} at most: face to "
        f"{notes.size(part.thickness, units)} from the back, then register to limits, without "
        "unbolting between.",
    )
    if not part.adjustable:
        return (*skim, "Chuck on, mark it to the plate; draw the screws up in turn.")
    return (
        *skim,
        "Chuck on, screws just nipped. Test bar in the jaws, indicator close to them: find the "
        "high place, TAP the body there with a soft hammer by half the reading; repeat until TIR "
        f"{truth}.",
        "Draw the screws up in turn, reading on: a shift at the last quarter turn is usual. Mark "
        "chuck and plate. After a crash, true it again.",
    )


def _checks(part: ChuckAdapter, units: Units) -> tuple[str, ...]:
    truth = notes.within(part.runout, units)
    least = part.chuck_recess - part.spigot.size - part.spigot.upper
    most = part.chuck_recess - part.spigot.size - part.spigot.lower
    low, high = figures.fine(least, units), figures.fine(most, units)
    return (
        f"Before you cut: chuck recess, bore gauge ____, deeper than "
        f"{notes.size(part.spigot_length, units)} ____; table bore ____, deeper than "
        f"{notes.size(part.locating_length, units)} ____",
        f"Back spigot {notes.bounds(part.locating, units)} ____; back on blue, bears all round",
        f"Register {notes.bounds(part.spigot, units)} ____; play in the recess {low.first} to "
        f"{high.first} [{low.other} to {high.other}]",
        f"Register, indicator, one turn: TIR {truth} ____ high at ____°",
        f"Face near the rim, indicator: TIR {truth} ____ high at ____°",
        "Unbolt, wipe, bolt to the marks: both read the same again ____ ____",
        f"Bar in the chuck, TIR close ____ and {notes.size(_BAR_REACH, units)} out ____",
    )
