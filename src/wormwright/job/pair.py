"""The worm and wheel in hand, with what is not known about them."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from wormwright.job.result import Doubt, Estimate

WheelKind = Literal["hob-equal", "oversize-hob", "helical"]


@dataclass(frozen=True, slots=True)
class PairCandidate:
    """One standard pair that the caliper readings may mean, with its share of belief."""

    name: str
    axial_module: float
    pressure_angle: float
    probability: float
    misfit: float


@dataclass(frozen=True, slots=True)
class KindTold:
    """What rocks at known closings told: slope of rock over closing at r2, and each kind's own."""

    slope: Estimate
    expected: tuple[tuple[WheelKind, float], ...]
    rocks: int


@dataclass(frozen=True, slots=True)
class WormPair:
    """The pair as identified. Lengths mm, angles rad. Angles are axial (in the axial plane).

    `pressure_angle_u` is the standard uncertainty of the axial pressure angle.
    `kinds` holds the belief in each wheel kind (sums to 1), `hob_excess_max` the largest radius
    excess of an oversize hob that is believable. `edge` is the broken edge at each end of the face,
    `mark_off` how far the middle of the worn band lies off the middle of the face, toward the table
    top above zero; `wobble` how far the wheel's rim swings along the table axis at r2, in all;
    `told` what rocks at known settings said of the kind.
    """

    teeth: int
    starts: int
    hand: Literal["right", "left"]
    axial_module: float
    pressure_angle: float
    pressure_angle_u: float
    worm_d1: float
    face_width: float
    kinds: tuple[tuple[WheelKind, float], ...]
    hob_excess_max: float
    candidates: tuple[PairCandidate, ...] = ()
    worm_od: Estimate | None = None
    throat: Estimate | None = None
    wheel_root: Estimate | None = None
    centre_distance: Estimate | None = None
    doubts: tuple[Doubt, ...] = ()
    edge: float = 0.0
    mark_off: float = 0.0
    wobble: float = 0.0
    told: KindTold | None = None

    def __post_init__(self) -> None:
        """Refuse a pair that cannot exist."""
        if self.teeth < 6 or self.starts < 1:
            raise ValueError(f"worm pair: {self.teeth} teeth, {self.starts} starts cannot be")
        for name in ("axial_module", "pressure_angle", "worm_d1", "face_width"):
            if not getattr(self, name) > 0:
                raise ValueError(f"worm pair: {name} must be above zero")
        if abs(sum(p for _, p in self.kinds) - 1) > 1e-9:
            raise ValueError("worm pair: the beliefs in the wheel kinds must sum to 1")

    @property
    def ratio(self) -> float:
        """Worm turns per table turn."""
        return self.teeth / self.starts

    @property
    def r1(self) -> float:
        """Worm reference radius, mm."""
        return self.worm_d1 / 2

    @property
    def r2(self) -> float:
        """Wheel pitch radius, mm."""
        return self.axial_module * self.teeth / 2

    @property
    def t(self) -> float:
        """Tangent of the axial pressure angle."""
        return math.tan(self.pressure_angle)

    @property
    def g(self) -> float:
        """Tangent of the lead angle."""
        return self.axial_module * self.starts / self.worm_d1

    @property
    def sin_face(self) -> float:
        """Sine of the half angle that the effective face spans on the worm, b2/(2 r1)."""
        return min(0.99, self.bearing_face / (2 * self.r1))

    @property
    def bearing_face(self) -> float:
        """Face that bears, mm: less its edges; of a worn wheel twice its farther half."""
        return max(self.face_width - 2 * self.edge, self.axial_module) + 2 * abs(self.mark_off)
