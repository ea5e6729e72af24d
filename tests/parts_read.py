"""Takes the readings of the parts of a rotary beside its plays: runouts, drag, tilt, clamp."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from simulated_rotary import Taker, rock

Conditions = dict[str, float | str]
Wave = tuple[float, float]
"""Amplitude and direction (rad) of a once-per-turn part."""

EIGHT = tuple(math.radians(a) for a in range(0, 360, 45))
TWELVE = tuple(math.radians(a) for a in range(0, 360, 30))


def once(wave: Wave) -> Callable[[float], float]:
    """A trace that stands out most at the direction of the wave."""
    return lambda phi: wave[0] * math.cos(phi - wave[1])


def lobed(order: int, amplitude: float, first_high: float) -> Callable[[float], float]:
    """A form with so many lobes, the first high point at that table angle."""
    return lambda phi: amplitude * math.cos(order * (phi - first_high))


def series(
    taker: Taker,
    kind: str,
    *traces: Callable[[float], float],
    places: Sequence[float] = TWELVE,
    zero: float = 0.07,
    **conditions: float | str,
) -> None:
    """One series of a runout, the sum of the traces about an arbitrary zero of the needle."""
    for phi in places:
        value = zero + sum(trace(phi) for trace in traces)
        taker.take(kind, value, phi=phi, conditions=conditions)


def drag_map(
    taker: Taker,
    *,
    mean: float,
    extra: float = 0.0,
    peak: float = 0.0,
    places: Sequence[float] = TWELVE,
) -> None:
    """Drag in mesh round the turn with a tight place `extra` above the rest."""
    for phi in places:
        near = max(0.0, math.cos(phi - peak)) ** 4
        taker.take("drag_in_mesh", mean + extra * near, phi=phi)


def drag_steps(taker: Taker, *, out: float, slack: float, bare: float) -> None:
    """Drag out of mesh as found, with the preload let off, with the seals off as well."""
    for kind, value in (
        ("drag_out_of_mesh", out),
        ("drag_preload_slack", slack),
        ("drag_seals_off", bare),
    ):
        for _ in range(3):
            taker.take(kind, value)


def tilts(taker: Taker, *, play: float, spring: float, moments: Sequence[float]) -> None:
    """Tilt to and fro at an arm of 90 mm: play (rad) and springing (rad per N·mm, one way)."""
    for moment in moments:
        value = 90.0 * (play + 2 * spring * moment)
        for _ in range(2):
            taker.take("tilt_under_moment", value, conditions={"moment": moment, "arm": 90.0})


def loop(taker: Taker, *, clearance: float, compliance: float, friction: float, phi: float) -> None:
    """Three cycles of a rock loop: clearance (rad), rad per N·mm one way, friction (N·mm)."""
    up = (-3000.0, -2000.0, -1000.0, 1000.0, 2000.0, 3000.0)
    for cycle in (1.0, 2.0, 3.0):
        for branch, torques in (("up", up), ("down", tuple(reversed(up)))):
            lag = -friction * compliance if branch == "up" else friction * compliance
            for torque in torques:
                angle = torque * compliance + math.copysign(clearance / 2, torque) + lag
                taker.take(
                    "rock_loop",
                    80.0 * angle,
                    phi=phi,
                    conditions={
                        "pin_radius": 80.0,
                        "pin_radius_u": 0.3,
                        "torque": torque,
                        "branch": branch,
                        "cycle": cycle,
                        "worm_held": "at the worm",
                    },
                )


def clamp(taker: Taker, station: str, value: float, **conditions: float | str) -> None:
    """Three lockings of one kind."""
    for _ in range(3):
        taker.take("clamp_shift", value, station=station, conditions=conditions)


def rock_with(taker: Taker, phi: float, **more: float | str) -> None:
    """One rock on one pin with further conditions written."""
    value = rock(taker.truth, phi, 0.0, radius=80.0, torque=3000.0, pins=1)
    conditions: Conditions = {
        "pin_radius": 80.0,
        "pin_radius_u": 0.3,
        "pin_angle": 0.0,
        "torque": 3000.0,
        "worm_held": "at the worm",
        "lock": "off",
        "surface": "pin in T-slot",
        **more,
    }
    taker.take("rock", value, phi=phi, psi=0.0, conditions=conditions)
