"""Thick cylinders pressed together: pressure, closing of a bushing bore, clearance lost.

Diameters throughout; plane stress, as in rings and short bushings.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from wormwright.core.friction import Interval

MAKERS_SHARE = Interval(0.7, 0.9)
"""Share of the interference that a bearing loses in clearance by the makers' rule."""


@dataclass(frozen=True, slots=True)
class Sleeve:
    """A cylinder: bore (0 when solid), outside (inf when large), modulus, Poisson's ratio.

    Lengths mm, modulus N/mm².
    """

    bore: float
    outside: float
    modulus: float
    poisson: float

    def __post_init__(self) -> None:
        """Refuse a sleeve that cannot be."""
        if not 0 <= self.bore < self.outside:
            raise ValueError(f"sleeve {self.bore} / {self.outside} mm: expected bore < outside")
        if not (self.modulus > 1000 and 0 <= self.poisson < 0.5):
            raise ValueError(
                f"modulus {self.modulus} N/mm², Poisson {self.poisson}: expected N/mm² above 1000 "
                "and 0 to 0.5"
            )

    @property
    def shape(self) -> float:
        """(D² + d²)/(D² - d²): 1 when solid or endless, large when thin."""
        if math.isinf(self.outside):
            return 1.0
        return (self.outside**2 + self.bore**2) / (self.outside**2 - self.bore**2)

    @property
    def bore_give(self) -> float:
        """Growth of the bore per mm of its diameter and N/mm² inside."""
        return (self.shape + self.poisson) / self.modulus

    @property
    def outside_give(self) -> float:
        """Shrinking of the outside per mm of its diameter and N/mm² around it."""
        return (self.shape - self.poisson) / self.modulus


def fit_pressure(*, inner: Sleeve, outer: Sleeve, interference: float) -> float:
    """Pressure between two cylinders pressed together.

    Source: Shigley, Mechanical Engineering Design, eq. 3-56 (Lamé).
    Formula: p = delta / (d [(shape_o + nu_o)/E_o + (shape_i - nu_i)/E_i]), d the seat diameter.
    Inputs: inner, outer Sleeve; interference delta on diameter [mm]. Outputs: p [N/mm²].
    Valid for: elastic, the same length, smooth seats; the seat of both within the interference.
    Raises: ValueError when the seats differ by more, or for an interference below zero.

    >>> steel = (206_000, 0.3)
    >>> round(fit_pressure(inner=Sleeve(0, 20, *steel), outer=Sleeve(20, 40, *steel),
    ...                    interference=0.02), 2)
    77.25
    """
    seat = outer.bore
    if not 0 <= interference < 0.01 * seat:
        raise ValueError(f"interference {interference} mm on {seat} mm: expected 0 to 1 per cent")
    if abs(inner.outside - seat) > interference + 1e-9 * seat:
        raise ValueError(
            f"outside {inner.outside} in bore {seat} mm: expected one seat; give the nominal size"
        )
    return interference / (seat * (outer.bore_give + inner.outside_give))


def bore_closing_share(*, inner: Sleeve, outer: Sleeve) -> float:
    """How much the bore of a sleeve closes per mm of interference outside.

    Source: Lamé (Shigley, eq. 3-50 and 3-56): hoop strain of the bore under outside pressure.
    Formula: 2 c a/(E_i (c² - a²)) / (outer.bore_give + inner.outside_give), a bore, c outside.
    Inputs: inner (with a bore), outer Sleeve. Outputs: share [1].
    Valid for: elastic; near 1 for a thin sleeve in a thick housing.
    Raises: ValueError for a solid inner part.

    >>> iron, steel = (98_000, 0.25), (206_000, 0.3)
    >>> round(bore_closing_share(inner=Sleeve(35, 45, *steel), outer=Sleeve(45, 90, *iron)), 2)
    0.51
    """
    a, c = inner.bore, inner.outside
    if not a > 0:
        raise ValueError("a solid part has no bore to close: expected a sleeve")
    per_pressure = 2 * a * c**2 / (inner.modulus * (c**2 - a**2))
    return per_pressure / (c * (outer.bore_give + inner.outside_give))


def bore_closing(*, inner: Sleeve, outer: Sleeve, interference: float) -> float:
    """Closing of the bore of a pressed sleeve, on diameter.

    Source: `bore_closing_share`. Formula: share times interference.
    Inputs: inner, outer Sleeve; interference on diameter [mm]. Outputs: closing [mm].
    Valid for: as there; finish the bore after pressing when it matters.
    Raises: ValueError for an interference out of range.

    >>> iron, steel = (98_000, 0.25), (206_000, 0.3)
    >>> round(bore_closing(inner=Sleeve(35, 45, *steel), outer=Sleeve(45, 90, *iron),
    ...                    interference=0.03), 4)
    0.0152
    """
    fit_pressure(inner=inner, outer=outer, interference=interference)
    return bore_closing_share(inner=inner, outer=outer) * interference


def outside_growth_share(*, inner: Sleeve, outer: Sleeve) -> float:
    """How much the outside of a ring grows per mm of interference in its bore.

    Source: Lamé (Shigley, eq. 3-50 and 3-56): hoop strain of the outside under inside pressure.
    Formula: 2 c b/(E_o (b² - c²)) / (outer.bore_give + inner.outside_give), c seat, b outside.
    Inputs: inner, outer Sleeve. Outputs: share [1].
    Valid for: elastic. Raises: ValueError for an endless outer part.

    >>> steel = (206_000, 0.3)
    >>> round(outside_growth_share(inner=Sleeve(0, 20, *steel), outer=Sleeve(20, 25, *steel)), 3)
    0.8
    """
    c, b = outer.bore, outer.outside
    if math.isinf(b):
        raise ValueError("an endless part has no outside to grow: expected a ring")
    per_pressure = 2 * b * c**2 / (outer.modulus * (b**2 - c**2))
    return per_pressure / (c * (outer.bore_give + inner.outside_give))


def clearance_loss(
    *,
    inner_interference: float,
    outer_interference: float,
    inner_share: float,
    outer_share: float,
) -> float:
    """Radial clearance that a bearing loses by the fits of its two rings.

    Source: NSK Rolling Bearings E1102e, 9.2.2: G = G_r - delta_i - delta_e.
    Formula: k_i I_i + k_e I_e; a ring with clearance loses nothing.
    Inputs: interference of inner ring on shaft and outer ring in housing, below zero when clear
        [mm]; shares by `outside_growth_share` and `bore_closing_share` with the raceways as
        outside and bore, or out of MAKERS_SHARE [1].
    Outputs: loss of radial clearance, diametral [mm].
    Valid for: shares 0 to 1. Raises: ValueError outside.

    >>> round(clearance_loss(inner_interference=0.010, outer_interference=-0.005,
    ...                      inner_share=0.8, outer_share=0.8), 4)
    0.008
    """
    if not (0 <= inner_share <= 1 and 0 <= outer_share <= 1):
        raise ValueError(f"shares {inner_share} and {outer_share}: expected 0 to 1")
    return inner_share * max(inner_interference, 0) + outer_share * max(outer_interference, 0)


def clearance_loss_by_rule(*, inner_interference: float, outer_interference: float) -> Interval:
    """Radial clearance lost by the makers' rule of 0.7 to 0.9 of the interference.

    Source: NSK Rolling Bearings E1102e, 9.2.2 (solid steel shaft, iron or steel housing).
    Formula: 0.7 to 0.9 times the sum of the interferences.
    Inputs: interferences [mm], below zero when clear. Outputs: Interval [mm].
    Valid for: as the source; hollow shafts and thin or light housings lose less, use
        `clearance_loss` with their shares. Raises: nothing.

    >>> loss = clearance_loss_by_rule(inner_interference=0.010, outer_interference=0.0)
    >>> round(loss.low, 4), round(loss.high, 4)
    (0.007, 0.009)
    """
    both = max(inner_interference, 0) + max(outer_interference, 0)
    return Interval(MAKERS_SHARE.low * both, MAKERS_SHARE.high * both)


def closing_share_of_uneven_wall(
    *, least_wall: float, most_wall: float, inner: Sleeve, outer: Sleeve
) -> Interval:
    """Bounds of the mean closing share of an eccentric bushing, by its thinnest and thickest wall.

    Source: derived here: the share rises steadily as the wall thins, so even sleeves of the
        thickest and thinnest wall enclose it. Finite elements agree; in a housing far stiffer
        than the bushing they do not, so such a housing is refused.
    Formula: `bore_closing_share` with bore = outside - 2 wall, for both walls.
    Inputs: least_wall, most_wall [mm]; inner, the bushing (its outside, modulus, ratio); outer.
    Outputs: Interval [1]. The bore also goes out of round; measure it after pressing.
    Valid for: 0 < least <= most < outside/2, housing at most twice as stiff as the bushing.
    Raises: ValueError outside.

    >>> share = closing_share_of_uneven_wall(least_wall=4.0, most_wall=6.0,
    ...     inner=Sleeve(35, 45, 206_000, 0.3), outer=Sleeve(45, 90, 98_000, 0.25))
    >>> round(share.low, 2), round(share.high, 2)
    (0.45, 0.57)
    """
    if not 0 < least_wall <= most_wall < inner.outside / 2:
        raise ValueError(
            f"walls {least_wall} and {most_wall} mm in {inner.outside} mm: expected thin to thick"
        )
    if outer.modulus > 2 * inner.modulus:
        raise ValueError(
            f"housing of {outer.modulus:.0f} N/mm² on a bushing of {inner.modulus:.0f}: expected "
            "one at most twice as stiff; bore after pressing and measure"
        )

    def share(wall: float) -> float:
        even = Sleeve(inner.outside - 2 * wall, inner.outside, inner.modulus, inner.poisson)
        return bore_closing_share(inner=even, outer=outer)

    return Interval(share(most_wall), share(least_wall))
