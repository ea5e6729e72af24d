"""Feed words with a rotary axis: how long a block takes, and what to program. mm, degrees, minutes.

Angles here are in degrees and feeds in units a minute, because that is what the words carry.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

G94Rule = Literal["linear part", "one vector"]
"""A block with both: F is the speed along the linear part only, or of mm and degrees as one."""
G93Rule = Literal["blocks a minute", "seconds a block", "blocks a second"]
"""What the F word of inverse time means on a control; ISO 6983-1 says blocks a minute."""


@dataclass(frozen=True, slots=True)
class Move:
    """One straight block: linear distance mm (or in) and turn of the table in degrees."""

    linear: float
    turn: float

    def __post_init__(self) -> None:
        """Refuse a block that goes nowhere."""
        if not (math.isfinite(self.linear) and math.isfinite(self.turn) and self.linear >= 0):
            raise ValueError(f"a block needs finite distances, got {self!r}")
        if self.linear == 0 and self.turn == 0:
            raise ValueError("a block must move something")


def block_minutes(move: Move, *, feed: float, rule: G94Rule = "linear part") -> float:
    """Time of a block at a feed in units a minute.

    Source: RS274/NGC (NIST, version 3), 2.1.2.5: F is along X, Y, Z if any of them moves and the
        rotary axes follow; else it is degrees a minute.
    Formula: linear/F; turn/F without linear motion; sqrt(linear² + turn²)/F for one vector.
    Inputs: move; feed F [units/min or degrees/min]; rule of the control. Outputs: [min].
    Valid for: F above zero. Raises: ValueError outside.

    >>> round(60 * block_minutes(Move(3.742, 0), feed=28), 2)
    8.02
    """
    if not feed > 0:
        raise ValueError(f"feed: expected above zero, got {feed}")
    if rule == "one vector":
        return math.hypot(move.linear, move.turn) / feed
    return (move.linear or abs(move.turn)) / feed


def path_at_radius(move: Move, *, radius: float) -> float:
    """Length that the cutter runs over the work.

    Source: geometry of a helix at a constant radius. Formula: sqrt(linear² + (r turn)²).
    Inputs: move; radius r at the cut [mm]. Outputs: [mm]. Valid for: r above zero.
    Raises: ValueError outside.

    >>> round(path_at_radius(Move(30, 90), radius=25), 1)
    49.4
    """
    if not radius > 0:
        raise ValueError(f"radius: expected above zero, got {radius} mm")
    return math.hypot(move.linear, radius * math.radians(move.turn))


def inverse_time(
    move: Move,
    *,
    radius: float,
    feed: float,
    most_turn: float = math.inf,
    most_linear: float = math.inf,
) -> float:
    """Blocks a minute so that the cutter runs over the work at a feed and no axis goes too fast.

    Source: RS274/NGC, G93: the block takes 1/F minutes. Formula: min(v/L, w/turn, v_x/linear).
    Inputs: move; radius at the cut [mm]; feed v over the work [mm/min]; most_turn w of the rotary
        [degrees/min]; most_linear v_x [mm/min]. Outputs: F of G93 [1/min].
    Valid for: all above zero. Raises: ValueError outside.

    >>> round(inverse_time(Move(30, 90), radius=25, feed=600), 2)
    12.14
    """
    if not (feed > 0 and most_turn > 0 and most_linear > 0):
        raise ValueError(f"feed {feed} and largest speeds: expected above zero")
    wanted = [feed / path_at_radius(move, radius=radius)]
    if move.turn:
        wanted.append(most_turn / abs(move.turn))
    if move.linear:
        wanted.append(most_linear / move.linear)
    return min(wanted)


def inverse_time_word(per_minute: float, *, rule: G93Rule) -> float:
    """The F word of inverse time as this control wants it.

    Source: RS274/NGC for blocks a minute; controls' manuals for the others.
    Formula: F, 60/F or F/60. Inputs: per_minute, blocks a minute; rule of the control.
    Outputs: the word. Valid for: above zero. Raises: ValueError outside.

    >>> inverse_time_word(12.0, rule="seconds a block")
    5.0
    """
    if not per_minute > 0:
        raise ValueError(f"inverse time: expected above zero, got {per_minute}")
    return {
        "blocks a minute": per_minute,
        "seconds a block": 60 / per_minute,
        "blocks a second": per_minute / 60,
    }[rule]


def degrees_a_minute(*, feed: float, radius: float) -> float:
    """Turning speed that gives a feed over the work.

    Source: geometry. Formula: v/r in degrees. Inputs: feed v [mm/min]; radius r [mm].
    Outputs: [degrees/min]. Valid for: r above zero. Raises: ValueError outside.

    >>> round(degrees_a_minute(feed=600, radius=25), 1)
    1375.1
    """
    if not radius > 0:
        raise ValueError(f"radius: expected above zero, got {radius} mm")
    return math.degrees(feed / radius)


def feed_at_radius(*, degrees: float, radius: float) -> float:
    """Feed over the work at a turning speed.

    Source: geometry. Formula: r w. Inputs: degrees w [degrees/min]; radius r [mm].
    Outputs: [mm/min]. Valid for: r above zero. Raises: ValueError outside.

    >>> round(feed_at_radius(degrees=2400, radius=5))
    209
    """
    if not radius > 0:
        raise ValueError(f"radius: expected above zero, got {radius} mm")
    return math.radians(degrees) * radius


def degrees_per_mm(*, diameter: float) -> float:
    """Degrees that lay one mm of a flat drawing round a cylinder.

    Source: geometry. Formula: 360/(pi D), D at the cut. Inputs: diameter D [mm]. Outputs: [deg/mm].
    Valid for: D above zero. Raises: ValueError outside.

    >>> round(degrees_per_mm(diameter=38.1), 3)
    3.008
    """
    if not diameter > 0:
        raise ValueError(f"diameter: expected above zero, got {diameter} mm")
    return 360 / (math.pi * diameter)


def seam_gap(*, diameter: float, believed: float) -> float:
    """Gap (above zero) or overlap at the seam of a full wrap made for another diameter.

    Source: geometry: a drawing pi d_believed long laid on a cylinder pi d round at 1:1.
    Formula: pi (d - d_believed). Inputs: diameter d at the cut, believed d [mm]. Outputs: [mm].
    Valid for: above zero. Raises: ValueError outside.

    >>> round(seam_gap(diameter=40.1, believed=40.0), 3)
    0.314
    """
    if not (diameter > 0 and believed > 0):
        raise ValueError(f"diameters {diameter}, {believed} mm: expected above zero")
    return math.pi * (diameter - believed)
