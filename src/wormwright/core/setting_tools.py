"""The pin spanner that turns an eccentric bushing by its slots, and the key for fine setting."""

from __future__ import annotations

import math


def pin_spread(
    *, slots: int, slot_sweep: float, slot_width: float, pin: float, circle: float
) -> float:
    """Angle between two pins that touch the near ends of two neighbour slots.

    Source: geometry: a pin smaller than the slot lies beyond the centre of the slot's end radius
        by half the difference.
    Formula: 2 pi / n - sweep - (w - d) / (circle / 2).
    Inputs: number of slots n, sweep between the centres of the end radii [rad], slot width w, pin
        diameter d, diameter of the circle they stand on [mm]. Outputs: angle [rad].
    Valid for: two slots or more, w >= d > 0, and an angle above zero. Raises: ValueError outside.

    >>> spread = pin_spread(
    ...     slots=3, slot_sweep=math.radians(40), slot_width=4.5, pin=4.5, circle=56.0
    ... )
    >>> round(math.degrees(spread), 6)
    80.0
    """
    if slots < 2 or not slot_width >= pin > 0 or not circle > slot_width:
        raise ValueError(
            f"pins of {pin} mm in {slots} slots of {slot_width} mm on a circle of {circle} mm: "
            "expected two slots or more and pins no wider than the slots"
        )
    spread = math.tau / slots - slot_sweep - 2 * (slot_width - pin) / circle
    if not spread > 0:
        raise ValueError("no metal is left between the slots for two pins to bear on; turn by hand")
    return spread


def turn_before_screw(
    *, slot_sweep: float, slot_width: float, pin: float, head: float, circle: float
) -> float:
    """How far a spanner turns either way from mid slot before a pin meets a screw head.

    Source: geometry: the pin rides at the end of its slot with the bushing, the screw stays.
    Formula: half the sweep, and the pin's play in the slot end, less the angle of the chord
        (head + d) / 2 at which they touch.
    Inputs: sweep [rad]; slot width, pin d, screw head or washer, circle [mm].
    Outputs: angle [rad]; zero or below: pin and head do not both fit the slot.
    Valid for: positive sizes, head and pin together smaller than the circle. Raises: ValueError.

    >>> free = turn_before_screw(
    ...     slot_sweep=math.radians(40), slot_width=4.5, pin=4.5, head=7.5, circle=60.0
    ... )
    >>> round(math.degrees(free), 2)  # 20 less 2 asin(6 / 60)
    8.52
    """
    if not (0 < pin <= slot_width and head > 0 and head + pin < circle):
        raise ValueError(
            f"pin {pin} mm, slot {slot_width} mm, screw head {head} mm, circle {circle} mm: "
            "expected pin <= slot, and head and pin smaller than the circle"
        )
    at_end = slot_sweep / 2 + (slot_width - pin) / circle
    return at_end - 2 * math.asin((head + pin) / (2 * circle))


def key_turn(*, offset: float, lever_radius: float) -> float:
    """How far an eccentric key moves a lever either way from its middle.

    Source: geometry: the eccentric stands off by its offset across the lever.
    Formula: asin(offset / radius).
    Inputs: offset of the eccentric, radius of the slot from the axis turned about [mm].
    Outputs: angle [rad]. Valid for: 0 < offset < radius. Raises: ValueError outside.

    >>> round(math.degrees(key_turn(offset=1.0, lever_radius=88.0)), 2)
    0.65
    """
    if not 0 < offset < lever_radius:
        raise ValueError(
            f"key offset {offset} mm at a lever radius of {lever_radius} mm: expected an offset "
            "above zero and below the radius"
        )
    return math.asin(offset / lever_radius)
