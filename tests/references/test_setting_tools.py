"""Spanner and key for the bushings against distances reckoned point by point."""

from __future__ import annotations

import cmath
import math

import pytest
from scipy.optimize import brentq

from published import derived
from wormwright.core.setting_tools import key_turn, pin_spread, turn_before_screw


@derived(method="distance from the middle line of the slot, stepped along it")
@pytest.mark.parametrize(
    ("slots", "sweep", "pin"), [(3, 40.0, 4.0), (2, 90.0, 4.3), (4, 25.0, 4.5)]
)
def test_both_pins_touch_the_near_ends_of_their_slots(slots: int, sweep: float, pin: float) -> None:
    """The middle line of a slot is an arc; a pin inside touches where its play is used up."""
    radius, width, half = 28.0, 4.5, math.radians(sweep) / 2
    spread = pin_spread(
        slots=slots, slot_sweep=2 * half, slot_width=width, pin=pin, circle=2 * radius
    )
    pitch = math.tau / slots
    for way in (1, -1):
        at = cmath.rect(radius, pitch / 2 - way * spread / 2)
        middle = 0.0 if way > 0 else pitch
        near = middle + way * half
        line = [cmath.rect(radius, near - way * half * step / 500) for step in range(1001)]
        gap = width / 2 - min(abs(at - point) for point in line) - pin / 2
        assert gap == pytest.approx(0.0, abs=1e-3)  # the arc of the play is taken for its chord


@derived(method="pin and head turned apart until the distance of their centres is half their sum")
@pytest.mark.parametrize(("head", "pin"), [(7.0, 4.0), (8.5, 4.5), (5.0, 2.5)])
def test_the_pin_meets_the_screw_head_where_their_centres_say(head: float, pin: float) -> None:
    radius, sweep, width = 29.5, math.radians(60), 4.5
    start = sweep / 2 + (width - pin) / (2 * radius)

    def apart(turn: float) -> float:
        return abs(cmath.rect(radius, start - turn) - radius) - (head + pin) / 2

    met = brentq(apart, 0.0, start)
    found = turn_before_screw(
        slot_sweep=sweep, slot_width=width, pin=pin, head=head, circle=2 * radius
    )
    assert found == pytest.approx(met, rel=1e-9)


@derived(method="the eccentric turned round in steps, largest angle of its centre seen")
def test_the_key_moves_the_lever_by_its_offset() -> None:
    """With the slot along the lever only the part of the offset across it counts."""
    offset, radius = 1.5, 88.0
    angles = [
        cmath.phase(radius + cmath.rect(offset, math.radians(step / 10))) for step in range(3600)
    ]
    assert key_turn(offset=offset, lever_radius=radius) == pytest.approx(max(angles), rel=1e-5)


@pytest.mark.parametrize(
    "sizes",
    [
        {"slots": 1, "slot_sweep": 0.5, "slot_width": 4.5, "pin": 4.0, "circle": 56.0},
        {"slots": 3, "slot_sweep": 0.5, "slot_width": 4.5, "pin": 4.6, "circle": 56.0},
        {"slots": 3, "slot_sweep": 2.1, "slot_width": 4.5, "pin": 4.0, "circle": 56.0},
        {"slots": 3, "slot_sweep": 0.5, "slot_width": 4.5, "pin": 4.0, "circle": 4.0},
    ],
)
def test_pins_that_cannot_bear_are_refused(sizes: dict[str, float]) -> None:
    with pytest.raises(ValueError, match="pins"):
        pin_spread(**sizes)  # type: ignore[arg-type]  # slots is a whole number in each


def test_heads_and_keys_out_of_range_are_refused() -> None:
    with pytest.raises(ValueError, match="smaller than the circle"):
        turn_before_screw(slot_sweep=1.0, slot_width=4.5, pin=4.0, head=60.0, circle=56.0)
    with pytest.raises(ValueError, match="above zero and below the radius"):
        key_turn(offset=0.0, lever_radius=88.0)
    with pytest.raises(ValueError, match="above zero and below the radius"):
        key_turn(offset=90.0, lever_radius=88.0)
