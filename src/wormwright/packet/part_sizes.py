"""The sizes of a part in words, for those who cannot see its drawing."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

from wormwright.job.parts import (
    CentreShim,
    ChuckAdapter,
    EccentricBushing,
    JournalBush,
    MotorPlate,
    MountPlate,
    Part,
    SettingKey,
    SettingSpanner,
    SetUp,
    ShimRing,
    WheelSeat,
    WormRelief,
)
from wormwright.job.rotary import Units
from wormwright.packet.wording import Shown, clean, limits_shown, number_shown, span

Rows = tuple[tuple[Shown, ...], ...]

_HALF_DEGREE = math.radians(0.5)
_ROUGH = 0.1
_COARSE = 0.01
_FINE = 0.001


def _length(value: float, resolution: float, units: Units) -> Shown:
    return number_shown(value, "length", units, resolution=resolution, both=True)


def part_rows(part: Part, units: Units) -> Rows:
    """What and how large, row by row, for the part of any drawing."""
    return _ROWS[type(part)](part, units)


def _relief_rows(part: WormRelief, units: Units) -> Rows:
    return (
        (Shown("Worm outside, before"), _length(part.outside_before, _COARSE, units)),
        (Shown("Worm outside, turn to"), limits_shown(part.outside, units)),
        (Shown("Length to turn"), _length(part.length, _ROUGH, units)),
        (Shown("Hand of the worm"), Shown(part.hand)),
    )


def _bushing_rows(part: EccentricBushing, units: Units) -> Rows:
    low, high = part.throw - part.throw_tolerance, part.throw + part.throw_tolerance
    first, second = (span(2 * low, 2 * high, system) for system in _leading(units))
    return (
        (Shown("Quantity"), Shown(str(part.quantity), figure=True)),
        (Shown("Side"), Shown(part.side)),
        (Shown("Material"), Shown(clean(part.material))),
        (Shown("Outside"), limits_shown(part.outside, units)),
        (Shown("Bore for the bearing"), limits_shown(part.bore, units)),
        (Shown("Throw"), _length(part.throw, _FINE, units)),
        (
            Shown("Indicator swing in the four-jaw chuck, twice the throw"),
            Shown(first, second, figure=True),
        ),
        (Shown("Length"), _length(part.length, _ROUGH, units)),
        (Shown("Flange outside"), _length(part.flange_outside, _ROUGH, units)),
        (Shown("Flange thickness"), _length(part.flange_thickness, _ROUGH, units)),
        (Shown("Depth of the bearing seat"), _length(part.bearing_depth, _COARSE, units)),
        (Shown("Bore behind the seat"), _length(part.shoulder_bore, _ROUGH, units)),
        (Shown("Thinnest wall"), _length(part.wall_thin, _COARSE, units)),
        (Shown("Thickest wall"), _length(part.wall_thick, _COARSE, units)),
        (Shown("Circle of the slots"), _length(part.slot_circle, _ROUGH, units)),
        (Shown("Width of the slots"), _length(part.slot_width, _ROUGH, units)),
        (Shown("Sweep of the slots"), _angle(part.slot_sweep, units)),
        (Shown("Witness mark, from the throw, left turn"), _angle(part.mark_angle, units)),
        (Shown("Start angle, from pointing at the wheel"), _angle(part.start_angle, units)),
        (Shown("Bearing"), Shown(clean(part.bearing))),
    )


def _angle(value: float, units: Units) -> Shown:
    return number_shown(value, "angle", units, resolution=_HALF_DEGREE)


def _leading(units: Units) -> tuple[Units, Units]:
    return ("mm", "in") if units == "mm" else ("in", "mm")


def _shim_rows(part: ShimRing, units: Units) -> Rows:
    rows: list[tuple[Shown, ...]] = [
        (Shown("Quantity"), Shown(str(part.quantity), figure=True)),
        (Shown("Sets"), Shown(clean(part.purpose))),
        (Shown("Material"), Shown(clean(part.material))),
        (Shown("Inside"), limits_shown(part.inside, units)),
        (Shown("Outside"), limits_shown(part.outside, units)),
        (Shown("Thickness"), limits_shown(part.thickness, units)),
    ]
    if part.holes:
        rows.append((Shown("Screw holes"), Shown(str(part.holes), figure=True)))
        rows.append((Shown("Screw hole"), _length(part.hole, _ROUGH, units)))
        rows.append((Shown("Circle of the screw holes"), _length(part.circle, _ROUGH, units)))
    if part.stack:
        pieces = (_length(piece, _FINE, units).line for piece in part.stack)
        rows.append((Shown("From stock"), Shown(" + ".join(pieces), figure=True)))
    return tuple(rows)


def _count(label: str, number: int) -> tuple[Shown, ...]:
    return (Shown(label), Shown(str(number), figure=True))


def _packing_rows(part: CentreShim, units: Units) -> Rows:
    rows: list[tuple[Shown, ...]] = [
        _count("Quantity", part.quantity),
        (Shown("Sets"), Shown(clean(part.purpose))),
        (Shown("Material"), Shown(clean(part.material))),
        (Shown("Length"), _length(part.length, _ROUGH, units)),
        (Shown("Width"), _length(part.width, _ROUGH, units)),
        (Shown("Thickness"), limits_shown(part.thickness, units)),
        (Shown("Pieces alike within"), _length(part.match, _FINE, units)),
        _count("Bolt holes", len(part.holes)),
        (Shown("Bolt hole"), _length(part.hole, _ROUGH, units)),
    ]
    if part.stack:
        pieces = (_length(piece, _FINE, units).line for piece in part.stack)
        rows.append((Shown("From stock"), Shown(" + ".join(pieces), figure=True)))
    return tuple(rows)


def _adapter_rows(part: ChuckAdapter, units: Units) -> Rows:
    return (
        (Shown("Material"), Shown(clean(part.material))),
        (Shown("Outside"), _length(part.outside, _ROUGH, units)),
        (Shown("Thickness"), _length(part.thickness, _ROUGH, units)),
        (Shown("Register for the chuck"), limits_shown(part.spigot, units)),
        (Shown("Length of the register"), _length(part.spigot_length, _ROUGH, units)),
        (Shown("Recess of the chuck"), _length(part.chuck_recess, _COARSE, units)),
        (Shown("Spigot at the back"), limits_shown(part.locating, units)),
        (Shown("Length of the back spigot"), _length(part.locating_length, _ROUGH, units)),
        (Shown("Bore"), _length(part.bore, _ROUGH, units)),
        _count("Table screws", part.table_count),
        (Shown("Circle of the table screws"), _length(part.table_circle, _ROUGH, units)),
        _count("Chuck screws", part.chuck_count),
        (Shown("Circle of the chuck screws"), _length(part.chuck_circle, _ROUGH, units)),
        (Shown("Thread of the chuck screws"), Shown(clean(part.chuck_thread))),
        (Shown("Left to skim in place"), _length(part.skim, _COARSE, units)),
        (Shown("Runout allowed, register and face"), _length(part.runout, _FINE, units)),
    )


def _motor_plate_rows(part: MotorPlate, units: Units) -> Rows:
    rows = [
        (Shown("Material"), Shown(clean(part.material))),
        (Shown("Motor frame"), Shown(str(part.frame))),
        (Shown("Outside"), _length(part.outside, _ROUGH, units)),
        (Shown("Thickness"), _length(part.thickness, _ROUGH, units)),
        (Shown("Pilot of the motor"), limits_shown(part.pilot, units)),
        (Shown("Depth of the pilot"), _length(part.pilot_depth, _ROUGH, units)),
        (Shown("Square of the motor screws"), _length(part.pitch, _COARSE, units)),
        (Shown("Register on the rotary"), limits_shown(part.register, units)),
        (Shown("Depth of the register"), _length(part.register_depth, _ROUGH, units)),
        (Shown("Hole through"), _length(part.through, _ROUGH, units)),
        _count("Screws of the rotary", part.holes),
        (Shown("Their circle"), _length(part.circle, _ROUGH, units)),
        (Shown("Travel each way"), _length(part.travel, _COARSE, units)),
        (Shown("Pillars for the coupling"), _length(part.standoff, _ROUGH, units)),
        (Shown("Offset allowed to be left"), _length(part.offset_left, _FINE, units)),
    ]
    if part.throw:
        rows.append((Shown("Throw of the register"), _length(part.throw, _COARSE, units)))
    return tuple(rows)


def _seat_rows(part: WheelSeat, units: Units) -> Rows:
    return (
        (Shown("Wheel outside"), _length(part.wheel_outside, _ROUGH, units)),
        (Shown("Bore as found"), _length(part.bore_found, _COARSE, units)),
        (Shown("Runout as found, over a pin"), _length(part.runout_found, _COARSE, units)),
        (Shown("Bore of the wheel"), limits_shown(part.bore, units)),
        (Shown("Outside of the sleeve"), limits_shown(part.sleeve, units)),
        (Shown("Seat, bored in the sleeve"), limits_shown(part.seat, units)),
        (Shown("Pin in the tooth spaces"), _length(part.pin, _ROUGH, units)),
        _count("Places to read", part.stations),
        (Shown("Runout allowed over the pin"), _length(part.runout, _FINE, units)),
        (Shown("Runout allowed at the face"), _length(part.face_runout, _FINE, units)),
    )


def _bush_rows(part: JournalBush, units: Units) -> Rows:
    return (
        _count("Quantity", part.quantity),
        (Shown("Side"), Shown(part.side)),
        (Shown("Material"), Shown(clean(part.material))),
        (Shown("Outside"), limits_shown(part.outside, units)),
        (Shown("Bore, finished in place"), limits_shown(part.bore, units)),
        (Shown("Bore before pressing"), _length(part.bore_turned, _COARSE, units)),
        (Shown("Journal"), limits_shown(part.shaft, units)),
        (Shown("Length in the housing"), _length(part.length, _ROUGH, units)),
        (Shown("Oil hole"), _length(part.oil_hole, _ROUGH, units)),
        (Shown("Depth of the oil groove"), _length(part.groove_depth, _ROUGH, units)),
    )


def _spanner_rows(part: SettingSpanner, units: Units) -> Rows:
    return (
        _count("Quantity", part.quantity),
        (Shown("Material"), Shown(clean(part.material))),
        (Shown("Circle of the pins"), _length(part.pin_circle, _COARSE, units)),
        (Shown("Pins"), limits_shown(part.pin, units)),
        (Shown("Angle between the pins"), _angle(part.pin_spread, units)),
        (Shown("Reach of the pins"), _length(part.pin_reach, _ROUGH, units)),
        (Shown("Middle hole"), _length(part.centre_hole, _ROUGH, units)),
        (Shown("Radius of the reading edge"), _length(part.reading_radius, _ROUGH, units)),
        (Shown("Degree lines to either side"), _angle(part.scale_range, units)),
        (Shown("Radius of the key slot"), _length(part.key_radius, _ROUGH, units)),
        (Shown("Key slot across the lever"), limits_shown(part.key_slot, units)),
    )


def _key_rows(part: SettingKey, units: Units) -> Rows:
    along, across = part.block
    return (
        _count("Quantity", part.quantity),
        (Shown("Material"), Shown(clean(part.material))),
        (Shown("Journal"), limits_shown(part.journal, units)),
        (Shown("Eccentric"), limits_shown(part.eccentric, units)),
        (Shown("Offset of the eccentric"), _length(part.offset, _COARSE, units)),
        (Shown("Length of the journal"), _length(part.journal_length, _ROUGH, units)),
        (Shown("Length of the eccentric"), _length(part.eccentric_length, _ROUGH, units)),
        (Shown("Head outside"), _length(part.head_outside, _ROUGH, units)),
        (Shown("Block, along the lever"), _length(along, _ROUGH, units)),
        (Shown("Block, across the lever"), _length(across, _ROUGH, units)),
        (Shown("Hole of the block"), limits_shown(part.block_hole, units)),
    )


def _plate_rows(part: MountPlate, units: Units) -> Rows:
    rows: list[tuple[Shown, ...]] = [
        _count("Quantity", part.quantity),
        (Shown("Material"), Shown(clean(part.material))),
        (Shown("Length, along the axis"), _length(part.length, _ROUGH, units)),
        (Shown("Width"), _length(part.width, _ROUGH, units)),
        (Shown("Thickness"), limits_shown(part.thickness, units)),
        (Shown("Flat within"), _length(part.flat, _FINE, units)),
        (Shown("Parallel within, over the feet"), _length(part.parallel, _FINE, units)),
        (Shown("Bolts"), Shown(clean(part.bolts))),
    ]
    if part.foot_holes:
        rows.append((Shown("Thread for the feet"), Shown(clean(part.foot_thread))))
    for name, places in (("Foot", part.foot_holes), ("Bolt", part.bolt_holes)):
        for number, (x, y) in enumerate(places, start=1):
            along, across = (_length(v, _ROUGH, units).line for v in (x, y))
            rows.append((Shown(f"{name} hole {number}"), Shown(f"{along} along, {across} across")))
    if part.key_slot is not None:
        width, depth, middle = (_length(v, _ROUGH, units).line for v in part.key_slot)
        rows.append((Shown("Key groove"), Shown(f"{width} wide, {depth} deep, at {middle}")))
    return tuple(rows)


def _set_up_rows(part: SetUp, units: Units) -> Rows:
    rows: list[tuple[Shown, ...]] = [
        (Shown("Axis over the table"), _length(part.axis, _ROUGH, units)),
        (Shown("Riser under the unit"), _length(part.riser, _ROUGH, units)),
    ]
    rows += [
        (Shown(f"{m.first} and {m.second}: {m.state}"), _length(m.room, _ROUGH, units))
        for m in part.meetings
        if m.state != "clear"
    ]
    return tuple(rows)


_ROWS: dict[type, Callable[[Any, Units], Rows]] = {
    EccentricBushing: _bushing_rows,
    ShimRing: _shim_rows,
    WormRelief: _relief_rows,
    CentreShim: _packing_rows,
    ChuckAdapter: _adapter_rows,
    MotorPlate: _motor_plate_rows,
    WheelSeat: _seat_rows,
    JournalBush: _bush_rows,
    SettingSpanner: _spanner_rows,
    SettingKey: _key_rows,
    MountPlate: _plate_rows,
    SetUp: _set_up_rows,
}
