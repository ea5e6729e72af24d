"""What is written on the sheet of a journal bush."""

from __future__ import annotations

import math

from wormwright.drawings import figures, notes
from wormwright.drawings.general import EDGES, general_tolerance, surface
from wormwright.drawings.sheet import PartText
from wormwright.job.parts import JournalBush
from wormwright.job.rotary import Units

SQUARE = 0.010
"""Thrust face of the flange to the outside [mm]: it carries the thrust over its whole ring."""
LEAD_IN = math.radians(15)
TURNED = 0.05
"""Bore before pressing [mm either way]: closer than this buys nothing, it is finished in place."""
_BLANK_ROUND, _BLANK_LONG = 2.0, 25.0
"""Bar over the finished bush [mm on diameter; on length with what the jaws hold]."""
_NAMES = {"A": "A (motor side)", "B": "B (far side)"}


def bush_text(part: JournalBush, units: Units) -> PartText:
    """All words of the sheet."""
    return PartText(
        name=f"Journal bush {_NAMES[part.side]}",
        material=part.material,
        quantity=part.quantity,
        fits=(
            f"Outside {notes.fitted(part.outside, units)}, pressed into the housing",
            f"Bore {notes.fitted(part.bore, units)}; FINISHED IN PLACE",
            f"Journal {notes.fitted(part.shaft, units)}; play {_play(part, units)}",
        ),
        surface=surface("bore, outside, thrust face"),
        general=general_tolerance(units),
        edges=EDGES,
        notes=(
            ("HOW TO MAKE", notes.numbered(_steps(part, units))),
            ("FINISH IN PLACE", notes.numbered(_in_place(part, units))),
            ("CHECK AND WRITE DOWN", notes.ticked(_checks(part, units))),
        ),
    )


def _play(part: JournalBush, units: Units) -> str:
    least = part.bore.size + part.bore.lower - part.shaft.size - part.shaft.upper
    most = part.bore.size + part.bore.upper - part.shaft.size - part.shaft.lower
    low, high = figures.fine(least, units), figures.fine(most, units)
    return f"{low.first} to {high.first} [{low.other} to {high.other}]"


def _turned(part: JournalBush, units: Units) -> str:
    return figures.plus_minus(part.bore_turned, TURNED, units).before("Ø").inline


def _steps(part: JournalBush, units: Units) -> tuple[str, ...]:
    across = max(part.flange_outside, part.outside.size) + _BLANK_ROUND
    long = part.flange_thickness + part.length + _BLANK_LONG
    bar = f"Bar Ø{notes.size(across, units)} x {notes.size(long, units)}"
    flanged = part.flange_thickness > 0
    turn = (
        f"{bar}, flange end outward. In ONE hold: thrust face, flange, its back and the body with "
        f"a left-hand tool, bore {_turned(part, units)}: NOT to the finished size."
        if flanged
        else f"{bar}. In ONE hold: outer end, body, bore {_turned(part, units)}: NOT to the "
        "finished size."
    )
    dots = "One pop mark" if part.side == "A" else "Two pop marks"
    return (
        turn,
        f"Part off, face the inner end in a split ring, lead-in chamfer 15°, "
        f"{notes.size(part.chamfer, units)} long.",
        f"Drill the oil hole Ø{notes.size(part.oil_hole, units)} through the wall, "
        f"{notes.size(part.oil_hole_at, units)} from the "
        f"{'flange face' if flanged else 'outer end'}.",
        "Groove with a round-nosed tool moved along by the carriage, or a rotary file; edges "
        "rounded so that oil is drawn in and not scraped off.",
        f"{dots} on the {'flange face' if flanged else 'outer end'} in line with the oil hole, on "
        "the housing too. Break the edges, wash.",
    )


def _in_place(part: JournalBush, units: Units) -> tuple[str, ...]:
    return (
        "Press with a drawbolt and a shouldered plug, marks in line. The bore closes by about "
        f"{notes.within(part.closes, units)}.",
        "Both bushes in, block bolted down and tight as for work: finish both bores in ONE pass "
        "from one side, with a line reamer guided in the far bush or a boring bar.",
        "The journal turns by hand, oiled, with no bright band in either bush. Clear the oil hole.",
    )


def _checks(part: JournalBush, units: Units) -> tuple[str, ...]:
    lines = (
        f"Before you cut: journal {notes.bounds(part.shaft, units)} ____; housing bore ____",
        f"Outside, micrometer: {notes.bounds(part.outside, units)} ____, over the housing bore "
        "by ____",
        f"Bore before pressing {_turned(part, units)} ____, after ____",
        f"Bore finished, 2 places, 2 ways: {notes.bounds(part.bore, units)} ____ ____",
        f"Play journal in bush, indicator: {_play(part, units)} ____",
    )
    if not part.flange_thickness:
        return lines
    return (
        *lines,
        "Thrust face to the outside before pressing, indicator: "
        f"{notes.within(SQUARE, units)} ____; blue on the whole ring after",
    )
