"""What commissioning hands back: exact settings, safe speeds, feeds, programmes, refusals."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from wormwright.job.findings import Figured
from wormwright.job.parts import MotorPlate
from wormwright.job.result import Doubt, Estimate

Allowed = Literal["allowed", "allowed for a time", "refused", "read first"]


@dataclass(frozen=True, slots=True)
class Setting:
    """One line of the parameter sheet: a name, its figure as text with unit and sign, a remark."""

    name: str
    figure: str
    remark: str = ""


@dataclass(frozen=True, slots=True)
class RoundingCost:
    """What the rounded setting costs after some turns, exact: pulses, and angle in arc seconds."""

    turns: int
    pulses: Fraction
    arcsec: Fraction


@dataclass(frozen=True, slots=True)
class SpeedLimit:
    """A largest table speed, rpm, and what sets it; None where it cannot be told."""

    key: str
    label: str
    rpm: Estimate | None
    why: str


@dataclass(frozen=True, slots=True)
class Divided:
    """A turn divided for one work: how many moves of each length in pulses, and the worst place.

    `worst` in arc seconds exact, `at_radius` the same in mm, `lost` what cutting each move down by
    itself would lose in a turn, pulses.
    """

    work: str
    divisions: int
    moves: tuple[tuple[int, int], ...]
    worst: Fraction
    at_radius: float
    lost: int


@dataclass(frozen=True, slots=True)
class Wrapped:
    """A cylinder: diameter mm, degrees for a mm, feed words, and the seam for a diameter off."""

    work: str
    diameter: float
    degrees_per_mm: float
    feed: float | None
    degrees_a_minute: float | None
    inverse_time: str
    most_feed: float | None
    seam: float


@dataclass(frozen=True, slots=True)
class Turning:
    """Turning work judged: speed wanted rpm, minutes it may run (inf: as long as wanted), why."""

    work: str
    rpm: float
    allowed: Allowed
    minutes: float | None
    share: float | None
    reasons: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Programme:
    """A test programme: a file name without ending, what it shows, and its text."""

    name: str
    shows: str
    text: str


@dataclass(frozen=True, slots=True)
class CouplingFit:
    """A kind of coupling against the offset that is left, mm; `takes` says whether it bears it."""

    kind: str
    offset: float
    left: float
    takes: bool
    play: str
    carries_true: bool


@dataclass(frozen=True, slots=True)
class Commissioning:
    """Everything that is typed into the control, and what the motor will do."""

    ratio: Fraction
    ratio_from: str
    pulses_per_turn: int
    per_degree: Fraction
    typed: Fraction
    rounding: tuple[RoundingCost, ...]
    limits: tuple[SpeedLimit, ...]
    safe_rpm: Estimate | None
    figures: tuple[Figured, ...]
    settings: tuple[Setting, ...]
    divided: tuple[Divided, ...]
    wrapped: tuple[Wrapped, ...]
    turning: tuple[Turning, ...]
    programmes: tuple[Programme, ...]
    checks: tuple[str, ...]
    doubts: tuple[Doubt, ...] = ()
    plate: MotorPlate | None = None
    couplings: tuple[CouplingFit, ...] = ()
