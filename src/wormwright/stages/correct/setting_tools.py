"""Spanner and key that turn the bushings to their depth, sized from the bushings themselves."""

from __future__ import annotations

import math
from collections.abc import Sequence

from wormwright.core.setting_tools import pin_spread
from wormwright.job.parts import EccentricBushing, Limits, SettingKey, SettingSpanner

PIN = Limits(4.0, 0.012, 0.004, "m6 dowel pin")
PIN_SHORT = 1.0
"""The pins end this much before the flange is through, mm."""
SCREW_HEAD = 7.0
"""Head of the M4 clamp screws, mm."""
PLATE, LEVER = 6.0, 22.0
INSIDE = 8.0
"""The middle hole is this much smaller than the pin circle, mm."""
EDGES = tuple(round(360.0 / math.pi * share, 1) for share in (1.0, 1.5, 2.0, 3.0))
"""Reading radii at which 1 mm is 1/2, 1/3, 1/4 and 1/6 of a degree, mm."""
LEVER_FREE = 40.0
"""Reading edge outside the head at the least: the arc, the key slot and metal round it, mm."""
KEY_FROM_EDGE = 26.6
TOOLS_MINUTES = 120.0
"""Making two spanners and two keys with their blocks (estimate)."""
SCALE = math.radians(20)
KEY_SLOT = Limits(10.0, 0.03, 0.015)
KEY_SLOT_LENGTH = 14.0


def setting_tools(
    bushings: Sequence[EccentricBushing],
) -> tuple[SettingSpanner | SettingKey, ...]:
    """A spanner for each pattern of slots, as many as there are flanges of it, and the keys."""
    patterns: dict[tuple[float, float, int], list[EccentricBushing]] = {}
    for part in bushings:
        pattern = (part.slot_circle, round(part.slot_sweep, 4), part.slot_count)
        patterns.setdefault(pattern, []).append(part)
    radius = max((_reading_radius(part) for part in bushings), default=EDGES[0])
    spanners = tuple(_spanner(alike, radius) for alike in patterns.values())
    if not spanners:
        return ()
    ends = len({part.side for part in bushings})
    throw = max(part.throw for part in bushings)
    return (*spanners, _key(spanners[0], ends=ends, throw=throw))


def _reading_radius(part: EccentricBushing) -> float:
    least = _head(part) / 2 + LEVER_FREE
    return next((edge for edge in EDGES if edge >= least), math.ceil(least))


def _head(part: EccentricBushing) -> float:
    """As large as the flange, with metal round the pins, mm."""
    return max(part.flange_outside, part.slot_circle + INSIDE)


def _spanner(alike: Sequence[EccentricBushing], radius: float) -> SettingSpanner:
    part = alike[0]
    return SettingSpanner(
        pin_circle=part.slot_circle,
        pin=PIN,
        pin_spread=pin_spread(
            slots=part.slot_count,
            slot_sweep=part.slot_sweep,
            slot_width=part.slot_width,
            pin=PIN.size,
            circle=part.slot_circle,
        ),
        pin_reach=part.flange_thickness - PIN_SHORT,
        plate_thickness=PLATE,
        head_outside=_head(part),
        centre_hole=round(part.slot_circle - INSIDE, 1),
        reading_radius=radius,
        scale_range=SCALE,
        lever_width=LEVER,
        key_radius=round(radius - KEY_FROM_EDGE, 1),
        key_slot=KEY_SLOT,
        key_slot_length=KEY_SLOT_LENGTH,
        slot_count=part.slot_count,
        slot_width=part.slot_width,
        slot_sweep=part.slot_sweep,
        screw_head=SCREW_HEAD,
        flange_thickness=part.flange_thickness,
        throw=max(one.throw for one in alike),
        material="steel",
        quantity=len(alike),
    )


def _key(spanner: SettingSpanner, *, ends: int, throw: float) -> SettingKey:
    return SettingKey(
        journal=Limits(6.0, -0.004, -0.012, "g6"),
        journal_length=14.0,
        eccentric=Limits(10.0, 0.0, -0.015),
        eccentric_length=spanner.plate_thickness + 1.0,
        offset=1.0,
        offset_tolerance=0.05,
        head_outside=14.0,
        head_length=10.0,
        cross_hole=4.0,
        block=(45.0, 20.0),
        block_hole=Limits(6.0, 0.012, 0.0, "H7"),
        hole_from_end=12.0,
        lever_radius=spanner.key_radius,
        lever_thickness=spanner.plate_thickness,
        key_slot=spanner.key_slot,
        throw=throw,
        material="steel",
        quantity=ends,
    )
