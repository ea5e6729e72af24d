"""Eccentric bushings that carry a worm: where a turn puts it, and what must be cut to get there.

The throw e is the offset of the bore from the outside (the TIR in the lathe is 2 e). The angle
phi is measured about the worm axis from "the throw points at the wheel", positive toward +Z (the
table side). Positions are from the factory worm line: closing toward the wheel, sideways along Z.
End A (motor side) stands at +X, end B at -X.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

Floats = float | NDArray[np.float64]
Side = Literal["A", "B"]


def closing_and_sideways(*, throw: float, angle: Floats) -> tuple[Floats, Floats]:
    """Where the worm stands with the throw at an angle.

    Source: geometry. Formula: (e cos(phi), e sin(phi)), whatever the starting angle.
    Inputs: throw e [mm], angle phi [rad]. Outputs: closing, sideways [mm], shape of phi.
    Valid for: e > 0. Raises: ValueError outside.

    >>> [round(x, 4) for x in closing_and_sideways(throw=0.3, angle=math.radians(60))]
    [0.15, 0.2598]
    """
    _check_throw(throw)
    if isinstance(angle, np.ndarray):
        return throw * np.cos(angle), throw * np.sin(angle)
    return throw * math.cos(angle), throw * math.sin(angle)


def sideways_from_closing(*, throw: Floats, closing: Floats) -> Floats:
    """Sideways shift that a wanted closing brings with it.

    Source: geometry. Formula: sqrt(e² - closing²), whatever the starting angle.
    Inputs: throw e, closing [mm]. Outputs: sideways, without sign [mm].
    Valid for: |closing| <= e. Raises: ValueError outside.

    >>> round(sideways_from_closing(throw=0.3, closing=0.13737), 4)
    0.2667
    """
    if not (np.all(np.greater(throw, 0)) and np.all(np.abs(closing) <= throw)):
        raise ValueError(
            f"bushing: a throw of {throw} cannot close by {closing}; the throw must be at least "
            "the closing"
        )
    result = np.sqrt((throw - closing) * (throw + closing))
    return float(result) if np.ndim(result) == 0 else result


def throw_and_angle(*, closing: Floats, sideways: Floats) -> tuple[Floats, Floats]:
    """The one throw vector that reaches a wanted point.

    Source: geometry. Formula: e = sqrt(closing² + sideways²), phi = atan2(sideways, closing).
    Inputs: wanted closing, sideways [mm]. Outputs: throw [mm], angle [rad].
    Valid for: a point away from the factory line. Raises: ValueError for no move at all.

    >>> [round(x, 4) for x in throw_and_angle(closing=0.4, sideways=0.3)]
    [0.5, 0.6435]
    """
    throw = np.hypot(closing, sideways)
    if not np.all(throw > 0):
        raise ValueError("bushing: the wanted point is the factory line itself; no throw is needed")
    angle = np.arctan2(sideways, closing)
    return (float(throw), float(angle)) if np.ndim(throw) == 0 else (throw, angle)


def pointing_throw(*, closing: float, half_width: float) -> float:
    """Throw of a pair that points at the wheel and still reaches a depth known only within limits.

    Source: derived: pointing at the wheel the pair can only open, so it must reach the deepest.
    Formula: e = dC + u. Inputs: depth dC, its 95 % half-width u [mm]. Outputs: throw [mm].
    Valid for: dC > 0, u >= 0. Raises: ValueError outside.

    >>> pointing_throw(closing=0.25, half_width=0.25)
    0.5
    """
    if not (closing > 0 and half_width >= 0):
        raise ValueError(
            f"bushing: expected a closing above zero and a half-width of zero or more, "
            f"got {closing} and {half_width}"
        )
    return closing + half_width


def worst_sideways_of_pointing_pair(*, closing: float, half_width: float) -> float:
    """Largest sideways shift of the pair of `pointing_throw` over the depths it must serve.

    Source: derived: the least depth dC - u needs the largest turn.
    Formula: sqrt((dC + u)² - (dC - u)²) = 2 sqrt(dC u); with u > dC the whole throw, dC + u.
    Inputs, valid for, raises: as `pointing_throw`. Outputs: sideways shift [mm].

    >>> round(worst_sideways_of_pointing_pair(closing=0.25, half_width=0.01), 4)
    0.1
    """
    throw = pointing_throw(closing=closing, half_width=half_width)
    return 2.0 * math.sqrt(closing * half_width) if half_width <= closing else throw


def refuse_blind_throw(*, throw: float, closing: float, tolerance: float) -> float:
    """Sideways shift of a throw at a closing, refused when the wheel cannot bear it.

    Source: derived. Formula: sqrt(e² - closing²) <= tolerance.
    Inputs: throw, closing, sideways tolerance (infinite for a plain helical wheel) [mm].
    Outputs: sideways shift [mm]. Valid for: 0 <= closing <= throw.
    Raises: ValueError when the shift exceeds the tolerance: the flanks shut at their edges before
        the depth is reached, read well today, and loosen as the edges bed in.

    >>> round(refuse_blind_throw(throw=0.2, closing=0.199, tolerance=0.05), 3)
    0.02
    """
    sideways = sideways_from_closing(throw=throw, closing=closing)
    if sideways > tolerance:
        raise ValueError(
            f"bushing: a throw of {throw:.3f} mm closed by {closing:.3f} mm stands "
            f"{sideways:.3f} mm sideways; this wheel bears {tolerance:.3f} mm. "
            "Choose a throw nearer the closing, or centre the wheel on the new worm line"
        )
    return float(sideways)


@dataclass(frozen=True, slots=True)
class DepthAndCentre:
    """Depth the mesh shuts at when centred, and how far sideways the throat centre lies, mm."""

    closing: float
    sideways: float


def depth_and_centre_from_trial(
    *, throw: float, angle_plus: float, angle_minus: float, tan_face: float
) -> DepthAndCentre:
    """Depth and throat centre from a trial pair turned both ways until it just drags.

    Source: derived: on a wheel cut by a hob of the worm's size the flanks shut on the two straight
        lines closing = dC - |sideways - z_c| tan(th).
    Formula: c± = e cos(phi±), s± = e sin(phi±);
        z_c = [(c+ - c-) / tan(th) + s+ + s-] / 2;  dC = [c+ + c- + (s+ - s-) tan(th)] / 2.
    Inputs: throw e [mm]; angles of first drag, phi+ > 0 > phi- [rad]; tan(th) of half the face.
    Outputs: DepthAndCentre from the factory line [mm].
    Valid for: dC < e < dC / tan(th), so that it jams pointing at the wheel and runs free at right
        angles to it; z_c between the two contacts. Raises: ValueError outside.

    >>> found = depth_and_centre_from_trial(
    ...     throw=0.3, angle_plus=1.2, angle_minus=-1.2, tan_face=0.5)
    >>> round(found.sideways, 6), found.closing > 0.3 * math.cos(1.2)
    (0.0, True)
    """
    _check_throw(throw)
    if not (angle_plus > 0 > angle_minus and tan_face > 0):
        raise ValueError(
            "trial pair: expected one angle on each side of pointing at the wheel and a face of "
            f"some width, got {angle_plus}, {angle_minus}, {tan_face}"
        )
    c_plus, c_minus = throw * math.cos(angle_plus), throw * math.cos(angle_minus)
    s_plus, s_minus = throw * math.sin(angle_plus), throw * math.sin(angle_minus)
    centre = ((c_plus - c_minus) / tan_face + s_plus + s_minus) / 2
    if not s_minus <= centre <= s_plus:
        raise ValueError(
            "trial pair: the two drags do not straddle the throat centre; read both angles again, "
            "or move the wheel along its axis first"
        )
    return DepthAndCentre((c_plus + c_minus + (s_plus - s_minus) * tan_face) / 2, centre)


@dataclass(frozen=True, slots=True)
class Misalignment:
    """Worm line out of true, rad: `tilt` about Z is nearly harmless, `skew` about Y costs play."""

    tilt: float
    skew: float


def misalignment_of_unequal_angles(
    *, throw: float, angle_a: float, angle_b: float, span: float
) -> Misalignment:
    """Tilt and skew of the worm when the two bushings stand at different angles.

    Source: geometry.
    Formula: tilt = e (cos(phi_b) - cos(phi_a)) / L; skew = e (sin(phi_b) - sin(phi_a)) / L.
    Inputs: throw e [mm], angles [rad], bearing span L [mm]. Outputs: tilt, skew [rad].
    Valid for: e, L > 0. Raises: ValueError outside.

    >>> m = misalignment_of_unequal_angles(throw=0.3, angle_a=math.radians(60),
    ...     angle_b=math.radians(58), span=60.0)
    >>> round(abs(m.tilt) * 206264.8, 2), round(abs(m.skew) * 206264.8, 2)
    (30.86, 18.54)
    """
    _check_throw(throw)
    if not span > 0:
        raise ValueError(f"bushing: expected a bearing span above zero, got {span}")
    closer = throw * (math.cos(angle_b) - math.cos(angle_a))
    aside = throw * (math.sin(angle_b) - math.sin(angle_a))
    return Misalignment(closer / span, aside / span)


@dataclass(frozen=True, slots=True)
class Walls:
    """Thin and thick wall of an eccentric bushing, mm."""

    thin: float
    thick: float


def walls_of_bushing(*, outside: float, bore: float, throw: float) -> Walls:
    """Thin and thick wall of an eccentric bushing.

    Source: geometry. Formula: (D - d)/2 ∓ e.
    Inputs: outside D, bore d, throw e [mm]. Outputs: walls [mm]; the thin one may be below zero.
    Valid for: D > d > 0, e >= 0. Raises: ValueError outside.

    >>> walls_of_bushing(outside=55.0, bore=47.0, throw=0.5)
    Walls(thin=3.5, thick=4.5)
    """
    if not (outside > bore > 0 and throw >= 0):
        raise ValueError(
            f"bushing: expected outside > bore > 0 and throw >= 0, got {outside}, {bore}, {throw}"
        )
    mean = (outside - bore) / 2.0
    return Walls(mean - throw, mean + throw)


def least_wall(*, outside: float) -> float:
    """Thinnest wall worth turning.

    Source: common practice. Formula: the larger of 1.5 mm and 0.06 D.
    Inputs: outside D [mm]. Outputs: wall [mm]. Valid for: D > 0. Raises: ValueError outside.

    >>> least_wall(outside=20.0), least_wall(outside=50.0)
    (1.5, 3.0)
    """
    if not outside > 0:
        raise ValueError(f"bushing: expected an outside diameter above zero, got {outside}")
    return max(1.5, 0.06 * outside)


def indicator_change(*, throw: float, start: Floats, end: Floats) -> Floats:
    """What an indicator on the worm shaft, reading toward the wheel, shows of a turn.

    Source: geometry. Formula: e (cos(phi_end) - cos(phi_start)), above zero when it closes.
    Inputs: throw [mm], angles [rad]. Outputs: reading [mm]. Valid for: e > 0, the indicator in the
        plane of the bushing. Raises: ValueError outside.

    >>> round(indicator_change(throw=0.3, start=math.pi / 2, end=math.pi / 3), 4)
    0.15
    """
    _check_throw(throw)
    result = throw * (np.cos(end) - np.cos(start))
    return float(result) if np.ndim(result) == 0 else result


def indicator_at(*, reading_a: Floats, reading_b: Floats, span: float, from_a: float) -> Floats:
    """Indicator reading at another place along the shaft than the two bushings.

    Source: geometry, the shaft straight. Formula: a + (b - a) x / L.
    Inputs: change at bushings A and B [mm], span L [mm], place x from A toward B [mm] (may lie
        outside the span). Outputs: reading [mm]. Valid for: L > 0. Raises: ValueError outside.

    >>> round(indicator_at(reading_a=0.10, reading_b=0.12, span=60.0, from_a=-15.0), 4)
    0.095
    """
    if not span > 0:
        raise ValueError(f"bushing: expected a bearing span above zero, got {span}")
    return reading_a + (reading_b - reading_a) * from_a / span


def slot_sweep(
    *, work_range: tuple[float, float], screw: float, slot_circle: float, slots: int = 3
) -> float:
    """Angle that a flange slot spans between the centres of its end radii.

    Source: geometry. Formula: (hi - lo) + 2·(screw/4)/(circle/2): the work range and a quarter of
        the screw's diameter spare at each end.
    Inputs: rotations lo, hi of the work range [rad], screw diameter, slot circle diameter [mm],
        number of slots evenly round the flange.
    Outputs: sweep [rad]. Valid for: hi > lo, circle > screw > 0, two slots or more, sweep below the
        turn shared among them (so that they leave metal). Raises: ValueError outside.

    >>> round(math.degrees(slot_sweep(work_range=(-0.5, 0.5), screw=4.0, slot_circle=60.0)), 1)
    61.1
    """
    low, high = work_range
    if not (high > low and slot_circle > screw > 0):
        raise ValueError(
            f"slot: expected a rising work range and circle > screw > 0, "
            f"got {work_range}, {slot_circle}, {screw}"
        )
    if slots < 2:
        raise ValueError(f"slot: expected two slots or more, got {slots}")
    sweep = high - low + screw / slot_circle
    if sweep >= 2.0 * math.pi / slots:
        raise ValueError(
            f"slot: a sweep of {math.degrees(sweep):.0f} degrees leaves no metal between {slots} "
            "slots; take fewer, shift the start angle or use a clamp ring"
        )
    return sweep


def seen_from_own_face(*, angle: float, side: Side) -> float:
    """The same turn as seen looking at the bushing's own flange face.

    Source: geometry: the two flanges are looked at from opposite directions.
    Formula: -phi at end A, +phi at end B, counter-clockwise above zero, the table side up.
    Inputs: angle in space [rad], end. Outputs: angle [rad].
    Valid for: ends "A" and "B". Raises: ValueError for another word.

    >>> seen_from_own_face(angle=0.4, side="A")
    -0.4
    """
    if side not in ("A", "B"):
        raise ValueError(f"bushing: expected end A or B, got {side!r}")
    return -angle if side == "A" else angle


@dataclass(frozen=True, slots=True)
class JawPacking:
    """Packing under one jaw of a three-jaw chuck, mm, for jaws that touch in a line or flat."""

    line_jaws: float
    flat_jaws: float


def three_jaw_packing(*, offset: float, work_radius: float) -> JawPacking:
    """Packing that sets work over in a three-jaw chuck; indicate the TIR of 2 e all the same.

    Source: geometry: three lines of contact at 120 degrees; a wide flat jaw is the other limit.
    Formula: 1.5 e + sqrt(R² - 0.75 e²) - R; flat 1.5 e.
    Inputs: offset e, work radius R [mm]. Outputs: both packings [mm].
    Valid for: 0 < e < R. Raises: ValueError outside.

    >>> p = three_jaw_packing(offset=0.3, work_radius=15.0)
    >>> round(p.line_jaws, 5), round(p.flat_jaws, 3)
    (0.44775, 0.45)
    """
    if not 0 < offset < work_radius:
        raise ValueError(
            f"packing: expected an offset between 0 and the work radius {work_radius}, got {offset}"
        )
    line = 1.5 * offset + math.sqrt(work_radius**2 - 0.75 * offset**2) - work_radius
    return JawPacking(line, 1.5 * offset)


def _check_throw(throw: float) -> None:
    if not throw > 0:
        raise ValueError(f"bushing: expected a throw above zero, got {throw}")
