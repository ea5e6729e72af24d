"""Deep-groove ball bearings: geometry, radial clearance, contact angle and axial play."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

RingSide = Literal["outer ring", "inner ring"]
Scraping = Literal["clear", "over the shield", "on the other ring"]


@dataclass(frozen=True, slots=True)
class BallSet:
    """Inside of a bearing: number of balls, ball and pitch diameter in mm, groove radii.

    `inner` and `outer` are f_i and f_o, groove radius over ball diameter, above 0.5.
    """

    balls: int
    ball: float
    pitch: float
    inner: float = 0.52
    outer: float = 0.52

    def __post_init__(self) -> None:
        """Refuse a bearing that cannot be put together."""
        if self.balls < 3:
            raise ValueError(f"a ball bearing needs 3 balls or more, got {self.balls}")
        if not 0 < self.ball < self.pitch / 2:
            raise ValueError(f"ball {self.ball} mm does not suit a pitch circle of {self.pitch} mm")
        if not (0.5 < self.inner < 0.6 and 0.5 < self.outer < 0.6):
            raise ValueError(
                f"groove radii {self.inner} and {self.outer}: expected above 0.5 and below 0.6 "
                "ball diameters, usually 0.515 to 0.53"
            )

    @property
    def groove_distance(self) -> float:
        """A, distance of the groove centres at no clearance, mm."""
        return (self.inner + self.outer - 1) * self.ball


def groove_distance_from_factor(factor: float) -> float:
    """Distance of the groove centres from a maker's axial play factor.

    Source: NSK E1102e, 15.3 (K = 2 sqrt(r_e + r_i - D_w)).
    Formula: A = K^2 / 4.
    Inputs: factor K [mm^0.5]. Outputs: A [mm].
    Valid for: single-row deep-groove bearings, 0 < K < 5.
    Raises: ValueError outside.

    >>> round(groove_distance_from_factor(1.06), 4)
    0.2809
    """
    if not 0 < factor < 5:
        raise ValueError(f"axial play factor: expected 0 to 5 mm^0.5, got {factor}")
    return factor * factor / 4


def free_contact_angle(*, radial_clearance: float, groove_distance: float) -> float:
    """Angle at which the balls touch when the rings are pushed apart by hand.

    Source: Harris, Rolling Bearing Analysis, 4th ed., ch. 2.
    Formula: cos a0 = 1 - P_d / (2 A).
    Inputs: radial_clearance P_d, diametral [mm]; groove_distance A [mm].
    Outputs: a0 [rad].
    Valid for: 0 <= P_d < 2 A.
    Raises: ValueError outside.

    >>> angle = free_contact_angle(radial_clearance=0.010, groove_distance=0.281)
    >>> round(math.degrees(angle), 1)
    10.8
    """
    if not (groove_distance > 0 and 0 <= radial_clearance < 2 * groove_distance):
        raise ValueError(
            f"radial clearance {radial_clearance} mm: expected 0 to {2 * groove_distance:.3f} mm "
            "for these grooves; check the unit"
        )
    return math.acos(1 - radial_clearance / (2 * groove_distance))


def axial_play(*, radial_clearance: float, groove_distance: float) -> float:
    """End play of one bearing, full to-and-fro motion of one ring against the other.

    Source: Harris, Rolling Bearing Analysis, 4th ed., ch. 2.
    Formula: P_e = 2 A sin a0; nearly K sqrt(P_d) with K = 2 sqrt(A).
    Inputs: radial_clearance P_d, diametral [mm]; groove_distance A [mm].
    Outputs: P_e [mm].
    Valid for: 0 <= P_d < 2 A, no load.
    Raises: ValueError outside.

    >>> round(axial_play(radial_clearance=0.010, groove_distance=0.281), 3)
    0.106
    """
    angle = free_contact_angle(radial_clearance=radial_clearance, groove_distance=groove_distance)
    return 2 * groove_distance * math.sin(angle)


def radial_clearance_from_axial_play(*, play: float, groove_distance: float) -> float:
    """Radial clearance that a measured end play of one bearing stands for.

    Source: the axial play formula of Harris, ch. 2, solved for P_d.
    Formula: P_d = 2 A (1 - sqrt(1 - (P_e / 2A)^2)).
    Inputs: play P_e [mm]; groove_distance A [mm]. Outputs: P_d, diametral [mm].
    Valid for: 0 <= P_e < 2 A, no load.
    Raises: ValueError outside.

    >>> round(radial_clearance_from_axial_play(play=0.106, groove_distance=0.281), 4)
    0.0101
    """
    if not (groove_distance > 0 and 0 <= play < 2 * groove_distance):
        raise ValueError(
            f"axial play {play} mm: expected 0 to {2 * groove_distance:.3f} mm for one bearing; "
            "a larger figure is a loose ring or a gap, not bearing play"
        )
    return 2 * groove_distance * (1 - math.sqrt(1 - (play / (2 * groove_distance)) ** 2))


def float_of_cross_located_pair(*, first_play: float, second_play: float, gap: float) -> float:
    """Axial float of a shaft whose two bearings each stop one direction.

    Source: derived here: each bearing is crossed from its middle to one side.
    Formula: s = (P_e1 + P_e2) / 2 + gap.
    Inputs: end plays of the two bearings [mm]; gap left by the spacing, below zero when the
        spacing squeezes [mm].
    Outputs: s, full to-and-fro float, not below zero [mm].
    Valid for: plays not below zero.
    Raises: ValueError for a negative play.

    >>> round(float_of_cross_located_pair(first_play=0.10, second_play=0.12, gap=-0.03), 3)
    0.08
    """
    if first_play < 0 or second_play < 0:
        raise ValueError(f"end plays must not be below zero, got {first_play} and {second_play}")
    return max(0.0, (first_play + second_play) / 2 + gap)


def mounted_clearance(
    *, unmounted: float, inner_interference: float, outer_interference: float, share: float
) -> float:
    """Radial clearance left after the rings are fitted.

    Source: NSK E1102e, 9.2.2 (a ring passes on 0.7 to 0.9 of its interference).
    Formula: G = G_r - share * (inner + outer interference), loose fits counting nothing.
    Inputs: unmounted G_r [mm]; interferences on diameter [mm], below zero is loose; share [1].
    Outputs: G [mm], below zero is radial preload.
    Valid for: share 0.5 to 1.
    Raises: ValueError outside.

    >>> left = mounted_clearance(
    ...     unmounted=0.012, inner_interference=0.006, outer_interference=-0.01, share=0.8)
    >>> round(left, 4)
    0.0072
    """
    if not 0.5 <= share <= 1:
        raise ValueError(
            f"share of interference: expected 0.5 to 1, usually 0.7 to 0.9, got {share}"
        )
    return unmounted - share * (max(0.0, inner_interference) + max(0.0, outer_interference))


def clearance_lost_to_warm_inner_ring(
    *, bore: float, outside: float, expansion: float, difference: float
) -> float:
    """Radial clearance lost when the inner ring runs hotter than the outer.

    Source: NSK E1102e, equations 9.6 and 9.7.
    Formula: loss = a * dT * D_e with D_e = (4 D + d) / 5, the outer raceway diameter.
    Inputs: bore d, outside D [mm]; expansion a [1/K]; difference dT, inner less outer [K].
    Outputs: loss [mm], below zero when the outer ring is hotter.
    Valid for: bore below outside.
    Raises: ValueError outside.

    >>> loss = clearance_lost_to_warm_inner_ring(
    ...     bore=20, outside=47, expansion=12.5e-6, difference=5)
    >>> round(loss, 4)
    0.0026
    """
    if not 0 < bore < outside:
        raise ValueError(f"expected 0 < bore < outside, got {bore} and {outside} mm")
    return expansion * difference * (4 * outside + bore) / 5


INNER_SHOULDER = (0.29, 0.40)
"""Where the inner ring's shoulder stands, as a share of outside less bore (makers' tables)."""

OUTER_RECESS = (0.17, 0.24)
"""How far in the outer ring's recess stands from the outside, as such a share."""

RUNNING_GAP = 0.5
"""Least gap of a standing ring from a turning one, mm on diameter each side (common practice)."""


def scraping_of_ring(
    *, against: RingSide, inside: float, outside: float, bearing_bore: float, bearing_outside: float
) -> Scraping:
    """Whether a shim ring beside a bearing rubs on its shield or on the ring that it must clear.

    Source: DIN 988 warns of scraping on cage or other ring; shoulder and recess diameters as
        shares of the section by the makers' tables of capped deep-groove bearings.
    Formula: s = D - d; inner shoulder d + 0.29..0.40 s, outer recess D - 0.17..0.24 s. On the
        outer ring: other ring when inside < d + 0.40 s + 2 gap, shield when inside < D - 0.24 s.
        On the inner ring: other ring when outside > D - 0.24 s - 2 gap, shield when outside >
        d + 0.40 s.
    Inputs: against, the ring it bears on; inside, outside of the shim ring; bore d and outside D
        of the bearing [mm].
    Outputs: "clear", "over the shield", "on the other ring".
    Valid for: single-row deep-groove bearings; inside below outside, d below D.
    Raises: ValueError outside.

    >>> scraping_of_ring(against="outer ring", inside=37, outside=47,
    ...                  bearing_bore=20, bearing_outside=47)
    'over the shield'
    """
    if not (0 < inside < outside and 0 < bearing_bore < bearing_outside):
        raise ValueError(
            f"ring {inside} / {outside} mm beside a bearing {bearing_bore} / {bearing_outside} mm: "
            "expected inside below outside for both"
        )
    section = bearing_outside - bearing_bore
    shoulder = bearing_bore + INNER_SHOULDER[1] * section
    recess = bearing_outside - OUTER_RECESS[1] * section
    if against == "outer ring":
        if inside < shoulder + 2 * RUNNING_GAP:
            return "on the other ring"
        return "over the shield" if inside < recess else "clear"
    if outside > recess - 2 * RUNNING_GAP:
        return "on the other ring"
    return "over the shield" if outside > shoulder else "clear"


def ball_set_from_rating(
    *,
    static_rating: float,
    f0: float,
    bore: float,
    outside: float,
    groove_distance: float | None = None,
) -> BallSet:
    """Number and size of balls that a catalogue's static rating implies.

    Source: ISO 76 (C0r = f0 Z D_w^2 for one row at 0 degrees); usual ball sizes of ISO 3290.
    Formula: the (Z, D_w) with Z D_w^2 nearest to C0r/f0 among sets that fill 170 to 200 degrees
        of the ring, as a deep-groove bearing must for its balls to be put in.
    Inputs: static_rating C0r [N]; f0 [1]; bore, outside [mm]; groove_distance A [mm] sets the
        groove radii, else 0.52 of a ball.
    Outputs: BallSet, inferred: neighbours may fit the rounded C0r nearly as well, which moves the
        axial stiffness by up to a fifth.
    Valid for: deep-groove bearings of bore 8 mm and more.
    Raises: ValueError when no set of balls comes within 4 %.

    >>> balls = ball_set_from_rating(static_rating=6600, f0=13.1, bore=20, outside=47)
    >>> balls.balls, balls.ball
    (8, 7.9375)
    """
    if not (static_rating > 0 and f0 > 0 and 8 <= bore < outside):
        raise ValueError(
            f"C0r {static_rating} N, f0 {f0}, bore {bore}, outside {outside} mm: "
            "expected all above zero, bore 8 mm or more and below outside"
        )
    wanted, pitch = static_rating / f0, (bore + outside) / 2
    misfit, balls, ball = min(
        (abs(z * d * d / wanted - 1), z, d) for z, d in _sets_that_fill(pitch, outside - bore)
    )
    if misfit > 0.04:
        raise ValueError(
            f"no set of balls gives C0r/f0 = {wanted:.1f} mm^2 within 4 % between bore {bore} and "
            f"outside {outside} mm; check the rating and f0"
        )
    if groove_distance is None:
        return BallSet(balls, ball, pitch)
    groove = (groove_distance / ball + 1) / 2
    return BallSet(balls, ball, pitch, groove, groove)


_BALL_SIZES = (*(step * 25.4 / 32 for step in range(2, 65)), 2.778, 3.5, 5.953, 6.747)


def _sets_that_fill(pitch: float, section: float) -> Iterable[tuple[int, float]]:
    """Ball counts and sizes that take 0.22 to 0.36 of the section and fill half the ring."""
    for ball in _BALL_SIZES:
        if not 0.22 <= ball / section <= 0.36:
            continue
        pace = 2 * math.asin(ball / pitch)
        for balls in range(5, 40):
            if math.radians(170) <= (balls - 1) * pace <= math.radians(200):
                yield balls, ball
