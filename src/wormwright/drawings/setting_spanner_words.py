"""What the setting spanner reads and how far it turns, and what is written on its sheet."""

from __future__ import annotations

import math

from wormwright.core.setting_tools import pin_spread, turn_before_screw
from wormwright.drawings import figures, notes
from wormwright.drawings.general import EDGES, general_tolerance, surface
from wormwright.drawings.sheet import PartText
from wormwright.job.parts import SettingSpanner
from wormwright.job.rotary import Units

RIM = 14.0
"""Depth of the arc that carries the degree lines [mm]."""
LINES = (4.0, 6.0, 9.0)
"""Length of the lines at degrees, fives and tens [mm]."""
_MARGIN = 5.0
"""Plate over the outline [mm]."""


def spread_for(part: SettingSpanner) -> float:
    """The angle between pins that bear on the near ends of two neighbour slots [rad]."""
    return pin_spread(
        slots=part.slot_count,
        slot_sweep=part.slot_sweep,
        slot_width=part.slot_width,
        pin=part.pin.size,
        circle=part.pin_circle,
    )


def free_turn(part: SettingSpanner) -> float:
    """How far it turns either way with the screws in the middle of their slots [rad]."""
    return turn_before_screw(
        slot_sweep=part.slot_sweep,
        slot_width=part.slot_width,
        pin=part.pin.size,
        head=part.screw_head,
        circle=part.pin_circle,
    )


def angle_for(length: float, part: SettingSpanner) -> float:
    """The angle that a length along the reading edge stands for [rad]."""
    return length / part.reading_radius


def spanner_text(part: SettingSpanner, units: Units) -> PartText:
    """All words of the sheet."""
    return PartText(
        name="Setting spanner for eccentric bushings",
        material=f"{part.material}; pins hardened",
        quantity=part.quantity,
        fits=(
            f"Pins {notes.fitted(part.pin, units)}, pressed in; slots of the bushing "
            f"{notes.size(part.slot_width, units)} wide",
            f"Slot for the key {notes.bounds(part.key_slot, units)} across the lever, "
            f"{notes.size(part.key_slot_length, units)} along it",
        ),
        surface=surface("pins, key slot"),
        general=general_tolerance(units),
        edges=EDGES,
        notes=(
            ("HOW TO MAKE", notes.numbered(_steps(part, units))),
            ("HOW TO USE", notes.numbered(_use(part))),
            ("CHECK AND WRITE DOWN", notes.ticked(_checks(part, units))),
        ),
    )


def _steps(part: SettingSpanner, units: Units) -> tuple[str, ...]:
    reach = 2 * part.reading_radius * math.sin(part.scale_range)
    extent = (part.head_outside / 2 + part.reading_radius, max(part.head_outside, reach))
    long, high = (notes.size(math.ceil(each + _MARGIN), units) for each in extent)
    ones, fives, tens = (notes.size(line, units) for line in LINES)
    return (
        f"Plate {long} x {high} x {notes.size(part.plate_thickness, units)}. Bore the middle "
        "hole; everything is set out from it, on a rotary table or dividing head.",
        f"Pin holes on the circle, {figures.degrees(part.pin_spread / 2)} either side of the "
        "lever line carried through the middle; drill and ream for a light press. Key slot on the "
        "lever line, milled.",
        f"Same centre: mill the arc to its radius and scribe a line a degree, {ones} long, fives "
        f"{fives}, tens {tens}; stamp the tens.",
        "Saw out, file to the lines. Press the pins in from behind, their ends domed; try it on "
        "the bushing before the second one.",
    )


def _use(part: SettingSpanner) -> tuple[str, ...]:
    together = (
        f"{part.quantity} spanners, one on each end, turned TOGETHER by the same angle in space: "
        "opposite ways as seen from their own faces."
        if part.quantity > 1
        else "Both ends turn by the same angle in space: opposite ways as seen from their own "
        "faces. Small steps, one end and the other in turn."
    )
    return (
        "Pins to either side of the throw mark: the lever points AWAY from the throw. Key block "
        "clamped to the housing, its line against the arc: read there.",
        "Nip the clamp screws, do not slacken them. Turn from the open side only; if it goes too "
        "far, back well off and come up again.",
        together,
        "The scale finds the place. The indicator on the worm shaft at each end decides, read "
        "again after locking.",
    )


def _checks(part: SettingSpanner, units: Units) -> tuple[str, ...]:
    return (
        f"Pins, micrometer: {notes.bounds(part.pin, units)} ____ ____",
        f"Reach of the pins {notes.size(part.pin_reach, units)}, under the flange thickness "
        f"{notes.size(part.flange_thickness, units)} ____",
        "On the bushing: both pins bear on their slot ends, no rock by hand ____",
        f"Reading edge from the middle of the hole: {notes.size(part.reading_radius, units)} ____",
        f"Key slot {notes.bounds(part.key_slot, units)} ____",
        "It goes over shaft, bearing and cover without touching ____",
    )


def free_words(part: SettingSpanner) -> str:
    """How far it turns before a pin meets a screw head, and what to do beyond."""
    free = free_turn(part)
    rest = (
        "take the two screws beside the pins out, the other stays nipped"
        if part.slot_count > 2
        else "take both screws out, the key holds the lever"
    )
    if free < math.radians(1):
        return f"no room beside the screw heads: {rest}"
    return (
        f"screws in the middle of their slots: {figures.degrees(free)} either way; beyond: {rest}"
    )
