"""What is written on the sheet of the setting key and its block."""

from __future__ import annotations

import math

from wormwright.core.setting_tools import key_turn
from wormwright.drawings import figures, notes
from wormwright.drawings.general import EDGES, general_tolerance, surface
from wormwright.drawings.sheet import PartText
from wormwright.job.parts import SettingKey
from wormwright.job.rotary import Units

_BLANK_ROUND, _CHUCKED = 2.0, 25.0
"""Bar over the head [mm on diameter] and what the jaws hold beyond the key [mm]."""
_UNDER = 0.5
"""Gap between the top of the block and the lever [mm]."""


def turn_of(part: SettingKey) -> float:
    """How far the key turns the bushing either way from its middle [rad]."""
    return key_turn(offset=part.offset, lever_radius=part.lever_radius)


def key_text(part: SettingKey, units: Units) -> PartText:
    """All words of the sheet."""
    return PartText(
        name="Setting key and its block",
        material=f"{part.material}; block: the same",
        quantity=part.quantity,
        fits=(
            f"Journal {notes.fitted(part.journal, units)}; block reamed "
            f"{notes.fitted(part.block_hole, units)}",
            f"Eccentric {notes.fitted(part.eccentric, units)}; slot of the spanner "
            f"{notes.bounds(part.key_slot, units)}",
        ),
        surface=surface("journal, eccentric"),
        general=general_tolerance(units),
        edges=EDGES,
        notes=(
            ("HOW TO MAKE", notes.numbered(_steps(part, units))),
            ("HOW TO USE", notes.numbered(_use(part, units))),
            ("CHECK AND WRITE DOWN", notes.ticked(_checks(part, units))),
        ),
    )


def _tir(part: SettingKey, units: Units) -> str:
    return figures.plus_minus(2 * part.offset, 2 * part.offset_tolerance, units).inline


def _steps(part: SettingKey, units: Units) -> tuple[str, ...]:
    key = part.journal_length + part.eccentric_length + part.head_length
    bar = (
        f"Bar Ø{notes.size(part.head_outside + _BLANK_ROUND, units)} x "
        f"{notes.size(key + _CHUCKED, units)}"
    )
    return (
        f"{bar} in the four-jaw, true: face, journal to limits, outside of the head.",
        f"Set over by the offset: TIR {_tir(part, units)} on the journal. Turn the eccentric to "
        "limits; its shoulder faces the journal.",
        "Part off, face the head. Cross hole through the middle of the head. Pop mark in the head "
        "over the high side of the eccentric.",
        "Block: ream the hole square to the top; scribe a line from its middle along the block.",
    )


def _use(part: SettingKey, units: Units) -> tuple[str, ...]:
    turn = turn_of(part)
    moved = notes.within(part.throw * math.sin(turn), units)
    return (
        "Set coarse with the spanner alone, key out: the line of the block is what its arc reads "
        "against. Block clamped hard to the housing.",
        "Then shift the block until the key drops through the lever, mark along the lever: the "
        "middle.",
        f"A quarter turn either way moves the bushing by {figures.degrees(turn)}, the bore by "
        f"about {moved}. One key at each end, turned in small steps, the indicators deciding.",
        "Come up from the open side. Leave both keys in until the locked reading is good.",
    )


def _checks(part: SettingKey, units: Units) -> tuple[str, ...]:
    return (
        f"Journal {notes.bounds(part.journal, units)} ____, eccentric "
        f"{notes.bounds(part.eccentric, units)} ____",
        f"Journal turned in the block, indicator on the eccentric: TIR {_tir(part, units)} ____",
        f"Block hole {notes.bounds(part.block_hole, units)} ____; its line passes the middle of "
        f"the hole within {notes.size(0.1, units)}",
        f"Eccentric in the spanner slot {notes.bounds(part.key_slot, units)}: turns by hand, no "
        "shake felt ____",
        f"Key seated on the block: lever {notes.size(part.lever_thickness, units)} free under the "
        f"head, block top about {notes.size(_UNDER, units)} under the lever ____",
    )
