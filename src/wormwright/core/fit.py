"""ISO 286 fits: limit deviations from table values, clearance of a fit and its uncertainty."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

FitKind = Literal["clearance", "transition", "interference"]
_MINUS = ("d", "e", "f", "g")
_PLUS = ("k", "m", "n", "p", "r", "s")


@dataclass(frozen=True, slots=True)
class Deviations:
    """Upper and lower limit deviation from the nominal size, mm."""

    upper: float
    lower: float

    def __post_init__(self) -> None:
        """Refuse crossed or unreal limits."""
        if not (math.isfinite(self.upper) and math.isfinite(self.lower)):
            raise ValueError(f"limit deviations must be finite, got {self.upper}, {self.lower}")
        if self.upper < self.lower:
            raise ValueError(f"upper deviation {self.upper} is below the lower one {self.lower}")

    @property
    def width(self) -> float:
        """The tolerance, mm."""
        return self.upper - self.lower

    @property
    def middle(self) -> float:
        """Mean deviation, mm."""
        return (self.upper + self.lower) / 2


@dataclass(frozen=True, slots=True)
class Clearance:
    """Clearance of a fit, mm on diameter; below zero is interference."""

    least: float
    most: float

    @property
    def kind(self) -> FitKind:
        """Clearance, transition or interference fit, as ISO 286-1 names them."""
        if self.least >= 0:
            return "clearance"
        return "interference" if self.most <= 0 else "transition"

    @property
    def mean(self) -> float:
        """Middle of the band, mm."""
        return (self.least + self.most) / 2


def shaft_deviations(letter: str, *, it: float, fundamental: float) -> Deviations:
    """Limit deviations of a shaft class.

    Source: ISO 286-1:2010, 4.3.2.
    Formula: d..g and h: es = fundamental, ei = es - IT; js: +/- IT/2; k..s: ei = fundamental,
        es = ei + IT.
    Inputs: letter; it, standard tolerance [mm]; fundamental deviation with its sign [mm].
    Outputs: Deviations [mm].
    Valid for: letters d e f g h js k m n p r s.
    Raises: ValueError for another letter, a tolerance not above zero, or a wrong sign.

    >>> shaft_deviations("g", it=0.016, fundamental=-0.009)
    Deviations(upper=-0.009, lower=-0.025)
    """
    if not it > 0:
        raise ValueError(f"standard tolerance must be above zero, got {it}")
    if letter == "js":
        return Deviations(upper=it / 2, lower=-it / 2)
    if letter == "h":
        return Deviations(upper=0.0, lower=-it)
    if letter in _MINUS and fundamental < 0:
        return Deviations(upper=fundamental, lower=fundamental - it)
    if letter in _PLUS and fundamental >= 0:
        return Deviations(upper=fundamental + it, lower=fundamental)
    raise ValueError(
        f"shaft {letter!r} with fundamental deviation {fundamental} mm: expected d e f g (below "
        "zero), h, js, or k m n p r s (not below zero)"
    )


def hole_deviations(
    letter: str, *, it: float, shaft_fundamental: float, delta: float = 0.0
) -> Deviations:
    """Limit deviations of a hole class from the shaft deviation of the same letter.

    Source: ISO 286-1:2010, 4.3.2.5, general rule and its exception for K, M, N to IT8 and P, R, S
        to IT7.
    Formula: D..G: EI = -es; H: EI = 0; JS: +/- IT/2; K..S: ES = -ei + delta, EI = ES - IT.
    Inputs: letter; it [mm]; shaft_fundamental, es or ei of the small letter [mm];
        delta = IT_n - IT_(n-1) where the exception holds, else 0 [mm].
    Outputs: Deviations [mm].
    Valid for: letters D E F G H JS K M N P R S.
    Raises: ValueError for another letter or a negative delta.

    >>> hole = hole_deviations("K", it=0.025, shaft_fundamental=0.002, delta=0.009)
    >>> round(hole.upper, 4), round(hole.lower, 4)
    (0.007, -0.018)
    """
    if delta < 0:
        raise ValueError(f"delta must not be below zero, got {delta}")
    mirrored = shaft_deviations(letter.lower(), it=it, fundamental=shaft_fundamental)
    if letter in ("JS", "H", *(x.upper() for x in _MINUS)):
        return Deviations(upper=-mirrored.lower, lower=-mirrored.upper)
    if letter in tuple(x.upper() for x in _PLUS):
        upper = -shaft_fundamental + delta
        return Deviations(upper=upper, lower=upper - it)
    raise ValueError(f"hole {letter!r}: expected one of D E F G H JS K M N P R S")


def clearance_of_fit(hole: Deviations, shaft: Deviations) -> Clearance:
    """Least and most clearance of a hole and a shaft of the same nominal size.

    Source: ISO 286-1:2010, 3.3.
    Formula: least = EI - es, most = ES - ei; below zero is interference.
    Inputs: deviations of hole and shaft [mm]. Outputs: Clearance on diameter [mm].
    Valid for: equal nominal sizes, both at 20 °C.

    >>> c = clearance_of_fit(Deviations(0.025, 0.0), Deviations(-0.009, -0.025))
    >>> c.kind, round(c.least, 3), round(c.most, 3)
    ('clearance', 0.009, 0.05)
    """
    return Clearance(least=hole.lower - shaft.upper, most=hole.upper - shaft.lower)


def clearance_uncertainty(hole: Deviations, shaft: Deviations) -> float:
    """Standard uncertainty of the clearance when only the limits are known.

    Source: JCGM 100:2008, 4.3.7 (rectangular distribution between limits).
    Formula: u = sqrt((w_hole^2 + w_shaft^2) / 12), w the tolerance widths.
    Inputs: deviations [mm]. Outputs: u of the diametral clearance [mm].
    Valid for: parts made independently, anywhere between their limits.

    >>> round(clearance_uncertainty(Deviations(0.025, 0.0), Deviations(0.0, -0.016)), 4)
    0.0086
    """
    return math.hypot(hole.width, shaft.width) / math.sqrt(12)


def shaft_for_measured_bore(*, bore: float, bore_u: float, least: float, most: float) -> Deviations:
    """Deviations to turn a shaft to, from a bore of measured size, for a wanted clearance.

    Source: derived here: the band of clearance less the doubt of the bore at each end (k = 2).
    Formula: upper = -(least + 2 u), lower = -(most - 2 u), both from the measured bore.
    Inputs: bore [mm]; bore_u, its standard uncertainty [mm]; least and most clearance [mm].
    Outputs: Deviations from the measured bore [mm].
    Valid for: 4 u < most - least; else the bore is not known well enough for this fit.
    Raises: ValueError when it is not, or for a bore not above zero.

    >>> to_turn = shaft_for_measured_bore(bore=35.012, bore_u=0.001, least=0.002, most=0.010)
    >>> round(to_turn.upper, 4), round(to_turn.lower, 4)
    (-0.004, -0.008)
    """
    if not (bore > 0 and bore_u >= 0 and most > least):
        raise ValueError(f"bore {bore}, u {bore_u}, clearance {least} to {most}: out of order")
    if 4 * bore_u >= most - least:
        raise ValueError(
            f"bore known to u = {bore_u} mm: expected below {(most - least) / 4:.4f} mm for a "
            f"clearance of {least} to {most} mm; measure the bore better or fit by trial"
        )
    return Deviations(upper=-(least + 2 * bore_u), lower=-(most - 2 * bore_u))
