"""Backlash of a worm moved from where its wheel was cut: closed forms, and the seam for others.

Frame: X along the worm axis, Y along the common perpendicular from wheel to worm, Z along the
table axis. A move is `da` along Y (above zero apart; closing is -da), `dz` along Z (sideways),
`skew` about +Y and `tilt` about +Z, all from the worm's place in the generating position.
Results are circumferential backlash at the wheel pitch radius r2, in mm; divide by r2 for rad.
The derivation stands in docs/explanation/mesh-closed-forms.md.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

Floats = float | NDArray[np.float64]


class MeshModel(Protocol):
    """A mesh that can say what a move of the worm does to the backlash.

    The closed forms below fill it; an exact contact model can stand in the same place.
    """

    def backlash_change(
        self, *, da: Floats, dz: Floats = 0.0, skew: Floats = 0.0, tilt: Floats = 0.0
    ) -> Floats:
        """Change of backlash at r2 [mm] from the generating position, below zero when it closes."""
        ...


def backlash_change_of_moved_worm(
    *,
    t: Floats,
    g: float,
    r1: float,
    sin_face: Floats,
    da: Floats,
    dz: Floats = 0.0,
    skew: Floats = 0.0,
    hob_excess: Floats = 0.0,
) -> Floats:
    """Change of backlash of a throated wheel when its worm is moved.

    Source: derived, docs/explanation/mesh-closed-forms.md (first order in t and g, the circle of
        the hob kept exact).
    Formula: sum over s = +1, -1 of the minimum over |theta| <= th of
        t D + A cos(theta) + B sin(theta), A = t (da - D) + s g dz,
        B = -t dz + s (g da + skew r1 / cos(th)).
    Inputs: t = tan(axial pressure angle) [1], g = tan(lead angle), above zero for a right-hand
        worm [1], worm reference radius r1 [mm], sin(th) = face / (2 (r1 + D)) [1], da and dz [mm],
        skew [rad], radius excess D of the hob [mm]. Numbers or arrays of one shape.
    Outputs: backlash change at r2 [mm], shape of the inputs together.
    Valid for: 0 <= sin_face < 1, D >= 0, r1 and t > 0, moves small against r1. A plain helical
        wheel touches in one point: sin_face = 0, D = 0 give exactly 2 t da.
    Raises: ValueError for a face wider than the worm, a negative D, or t or r1 not above zero.

    >>> moved = backlash_change_of_moved_worm(t=0.36397, g=0.0625, r1=12.0, sin_face=7 / 12, da=0.1)
    >>> round(moved, 4)
    0.0518
    """
    _check_mesh(t=t, r1=r1, sin_face=sin_face, hob_excess=hob_excess)
    cos_face = np.sqrt(1.0 - np.multiply(sin_face, sin_face))
    a_both = t * (da - hob_excess)
    b_both = -t * np.asarray(dz)
    a_flank = g * np.asarray(dz)
    b_flank = g * np.asarray(da) + skew * r1 / cos_face
    total = _least_on_arc(a_both + a_flank, b_both + b_flank, sin_face, cos_face)
    total = total + _least_on_arc(a_both - a_flank, b_both - b_flank, sin_face, cos_face)
    total = total + 2.0 * t * np.asarray(hob_excess)
    return float(total) if np.ndim(total) == 0 else total


def _least_on_arc(
    a: NDArray[np.float64], b: NDArray[np.float64], sin_end: Floats, cos_end: Floats
) -> NDArray[np.float64]:
    """Minimum of a·cos(theta) + b·sin(theta) over |theta| <= th, th below a quarter turn."""
    b = np.abs(b)
    at_end = a * cos_end - b * sin_end
    within = b * cos_end <= -a * sin_end
    result: NDArray[np.float64] = np.where(within, -np.sqrt(a * a + b * b), at_end)
    return result


def _check_mesh(*, t: Floats, r1: float, sin_face: Floats, hob_excess: Floats) -> None:
    if not (r1 > 0 and np.all(np.greater(t, 0))):
        raise ValueError(
            f"mesh: expected tan(pressure angle) and worm radius above zero, got {t} and {r1}"
        )
    if not np.all((np.asarray(sin_face) >= 0) & (np.asarray(sin_face) < 1)):
        raise ValueError(
            f"mesh: expected 0 <= face / worm diameter < 1, got {sin_face}; "
            "take the effective face, less its chamfers"
        )
    if not np.all(np.asarray(hob_excess) >= 0):
        raise ValueError(f"mesh: expected a hob radius excess of zero or more, got {hob_excess}")


def sine_of_half_face(*, face: float, r1: float, hob_excess: Floats = 0.0) -> Floats:
    """Sine of half the angle that the wheel face spans about the axis of its hob.

    Source: geometry. Formula: face / (2 (r1 + D)).
    Inputs: effective face width [mm], worm reference radius r1 [mm], radius excess D [mm].
    Outputs: sin(th) [1]. Valid for: face < 2 (r1 + D), all above zero (D >= 0).
    Raises: ValueError outside.

    >>> sine_of_half_face(face=12.0, r1=12.0)
    0.5
    """
    if not (face > 0 and r1 > 0 and np.all(np.asarray(hob_excess) >= 0)):
        raise ValueError(
            f"half face: expected face and worm radius above zero and a hob excess of zero or "
            f"more, got {face}, {r1}, {hob_excess}"
        )
    sine = face / (2.0 * (r1 + hob_excess))
    if not np.all(np.asarray(sine) < 1):
        raise ValueError(
            f"half face: expected a face narrower than the worm, got {face} on diameter {2 * r1}; "
            "read the face again"
        )
    return sine


@dataclass(frozen=True, slots=True)
class ClosedFormMesh:
    """The closed forms as a `MeshModel`.

    `centre_distance` only serves the second-order term of a tilt. `sin_face` and `hob_excess`
    may be arrays, one value for each draw.
    """

    t: float
    g: float
    r1: float
    centre_distance: float
    sin_face: Floats
    hob_excess: Floats

    @classmethod
    def hob_equal(
        cls, *, t: float, g: float, r1: float, centre_distance: float, face: float
    ) -> ClosedFormMesh:
        """A hollow wheel cut by a hob of the worm's own size."""
        sine = sine_of_half_face(face=face, r1=r1)
        return cls(t, g, r1, centre_distance, sine, 0.0)

    @classmethod
    def oversize_hob(
        cls,
        *,
        t: float,
        g: float,
        r1: float,
        centre_distance: float,
        face: float,
        hob_excess: Floats,
    ) -> ClosedFormMesh:
        """A hollow wheel cut by a hob whose radius exceeds the worm's by `hob_excess`."""
        sine = sine_of_half_face(face=face, r1=r1, hob_excess=hob_excess)
        return cls(t, g, r1, centre_distance, sine, hob_excess)

    @classmethod
    def plain_helical(
        cls, *, t: float, g: float, r1: float, centre_distance: float
    ) -> ClosedFormMesh:
        """A straight-faced helical wheel: it touches in one point, so sideways costs nothing."""
        return cls(t, g, r1, centre_distance, 0.0, 0.0)

    def backlash_change(
        self, *, da: Floats, dz: Floats = 0.0, skew: Floats = 0.0, tilt: Floats = 0.0
    ) -> Floats:
        """Change of backlash at r2 [mm]; see `backlash_change_of_moved_worm`.

        A tilt draws the worm nearer by a (1 - cos(tilt)) only.
        """
        nearer = self.centre_distance * (1.0 - np.cos(tilt)) if np.any(tilt) else 0.0
        return backlash_change_of_moved_worm(
            t=self.t,
            g=self.g,
            r1=self.r1,
            sin_face=self.sin_face,
            da=da - nearer,
            dz=dz,
            skew=skew,
            hob_excess=self.hob_excess,
        )


def slope_of_opening(*, t: float, g: float, sin_face: float, hob_excess: float) -> float:
    """Backlash gained for each mm the worm is drawn away, sideways zero.

    Source: derived, docs/explanation/mesh-closed-forms.md.
    Formula: 2 t for an oversize hob (sideways 0, da well below D) or a plain helical wheel
        (sin_face 0); 2 (t cos(th) - g sin(th)) for a hob equal to the worm.
    Inputs: t, |g| [1], sin(th) [1], D [mm]. Outputs: slope [mm/mm].
    Valid for: 0 <= sin_face < 1. Raises: ValueError outside.

    >>> round(slope_of_opening(t=0.36397, g=0.0625, sin_face=7 / 12, hob_excess=0.0), 4)
    0.5183
    """
    _check_mesh(t=t, r1=1.0, sin_face=sin_face, hob_excess=hob_excess)
    if hob_excess > 0:
        return 2.0 * t
    return 2.0 * (t * math.sqrt(1.0 - sin_face**2) - abs(g) * sin_face)


def sideways_for_false_depth(*, false_depth: Floats, sin_face: float, hob_excess: float) -> Floats:
    """Sideways shift at which the flanks shut with the worm still `false_depth` too far out.

    Source: derived, docs/explanation/mesh-closed-forms.md (lead angle neglected).
    Formula: sqrt(2 D delta - delta²) while the contact lies inside the face, that is
        delta <= D (1 - cos(th)); beyond it (delta cos(th) + D (1 - cos(th))) / sin(th); so
        delta / tan(th) for a hob equal to the worm; infinite for a plain helical wheel.
    Inputs: false depth delta >= 0 [mm], sin(th) [1], radius excess D of the hob [mm].
    Outputs: sideways shift [mm], shape of delta.
    Valid for: 0 <= sin_face < 1, D >= 0. Raises: ValueError outside.

    >>> round(sideways_for_false_depth(false_depth=0.02, sin_face=0.5, hob_excess=0.0), 4)
    0.0346
    """
    _check_mesh(t=1.0, r1=1.0, sin_face=sin_face, hob_excess=hob_excess)
    delta = np.asarray(false_depth, dtype=np.float64)
    if not np.all(delta >= 0):
        raise ValueError(f"false depth: expected zero or more, got {false_depth}")
    if sin_face == 0:
        result = np.full(delta.shape, math.inf)
    else:
        cos_face = math.sqrt(1.0 - sin_face**2)
        edge = (delta * cos_face + hob_excess * (1.0 - cos_face)) / sin_face
        inside = np.sqrt(np.maximum(2.0 * hob_excess * delta - delta**2, 0.0))
        result = np.where(delta <= hob_excess * (1.0 - cos_face), inside, edge)
    return float(result) if result.ndim == 0 else result


@dataclass(frozen=True, slots=True)
class RoundTheTurn:
    """Least, mean and most backlash round the turn, mm at r2, and the swing between them."""

    tight: Floats
    mean: Floats
    loose: Floats
    swing: Floats


def backlash_round_the_turn(
    *, mean: Floats, t: Floats, wheel_eccentricity: Floats, worm_eccentricity: Floats
) -> RoundTheTurn:
    """Tightest and loosest backlash over all table and worm angles.

    Source: derived: each eccentricity moves the centres apart once per turn, and together at worst.
    Formula: mean ± 2 t (e_wheel + e_worm); eccentricity is half the TIR.
    Inputs: mean backlash [mm], t [1], lengths of the eccentricity vectors [mm].
    Outputs: backlash at the tight and the loose place, and loose - tight [mm].
    Valid for: eccentricities >= 0, small against the module. Raises: ValueError below zero.

    >>> round(backlash_round_the_turn(mean=0.05, t=0.36397, wheel_eccentricity=0.02,
    ...     worm_eccentricity=0.01).swing, 5)
    0.04368
    """
    if np.any(np.less(wheel_eccentricity, 0)) or np.any(np.less(worm_eccentricity, 0)):
        raise ValueError(
            "round the turn: an eccentricity is a length of zero or more; give half the TIR"
        )
    half = 2.0 * t * (wheel_eccentricity + worm_eccentricity)
    return RoundTheTurn(mean - half, mean, mean + half, 2.0 * half)


def backlash_at_angle(
    *,
    table_angle: Floats,
    mean: Floats,
    t: Floats,
    ratio: float,
    wheel: tuple[float, float],
    worm: tuple[float, float],
) -> Floats:
    """Backlash at one table angle, the worm turning with it.

    Source: derived, first order.
    Formula: mean + 2 t [wx cos(phi) + wy sin(phi) + vx cos(i phi) + vy sin(i phi)].
    Inputs: table angle phi [rad], mean backlash [mm], t [1], ratio i [1], eccentricity vectors of
        wheel and worm against their own zero [mm].
    Outputs: backlash [mm], shape of phi. Valid for: eccentricities small against the module.
    Raises: ValueError for a ratio not above zero.

    >>> round(backlash_at_angle(table_angle=0.0, mean=0.05, t=0.25, ratio=72.0,
    ...     wheel=(0.02, 0.0), worm=(0.0, 0.01)), 4)
    0.06
    """
    if not ratio > 0:
        raise ValueError(f"round the turn: expected a ratio above zero, got {ratio}")
    turn = np.multiply(ratio, table_angle)
    result = mean + 2.0 * t * (
        wheel[0] * np.cos(table_angle)
        + wheel[1] * np.sin(table_angle)
        + worm[0] * np.cos(turn)
        + worm[1] * np.sin(turn)
    )
    return float(result) if np.ndim(result) == 0 else result
