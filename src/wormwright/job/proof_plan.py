"""The plan of a positioning test: where to go, from which side, in which order, how long."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

Pause = Literal["stop", "optional", "none"]
"""At each target: stop until started again, stop only with the switch for it on, or dwell only."""
Purpose = Literal["go", "read", "again", "fine"]
"""What a move is for: only to get there, to read a target, the first one again, the sweep."""


@dataclass(frozen=True, slots=True)
class PlanSettings:
    """What the machinist chooses. `feed` in degrees a minute, `dwell` in seconds."""

    targets: int = 8
    runs: int = 5
    axis: str = "A"
    feed: float = 720.0
    dwell: float = 3.0
    pause: Pause = "stop"
    sweep: bool = True

    def __post_init__(self) -> None:
        """Refuse settings that make no test."""
        if len(self.axis) != 1 or self.axis not in "ABCUVWXYZ":
            raise ValueError(f"axis: expected one letter of ABCUVWXYZ, got {self.axis!r}")
        for name, value, low, high in (
            ("targets", self.targets, 3, 360),
            ("runs", self.runs, 2, 50),
            ("feed", self.feed, 1.0, 100_000.0),
            ("dwell", self.dwell, 0.0, 3600.0),
        ):
            if not (math.isfinite(value) and low <= value <= high):
                raise ValueError(f"{name}: expected {low:g} to {high:g}, got {value:g}")


@dataclass(frozen=True, slots=True)
class Move:
    """One move of the table: to `angle` (rad), coming from `approach`, for what."""

    angle: float
    purpose: Purpose
    approach: str = ""
    run: int = 0


@dataclass(frozen=True, slots=True)
class PlannedTest:
    """A planned test. Angles in rad; `moves` in the order of the programme.

    `blindness` is how nearly all targets meet one phase of the worm (0 none, 1 all), for one and
    for two waves a worm turn; `even_blindness` the same of as many even targets.
    """

    settings: PlanSettings
    ratio: float
    targets: Array
    sweep: Array
    overrun: float
    moves: tuple[Move, ...]
    blindness: tuple[float, float]
    even_blindness: float
    minutes: float
    programme: str
    form: str

    @property
    def readings(self) -> int:
        """Readings to take."""
        return sum(move.purpose != "go" for move in self.moves)
