"""Geometry of a worm and wheel with crossed axes at 90°, in the axial-module system.

Symbols as in the worm-gear standards: mx axial module, px axial pitch, z1 starts, z2 teeth, d1
worm reference diameter, γ lead angle at d1, αx and αn axial and normal pressure angle, a centre
distance, x2 profile shift of the wheel, ha* and c* addendum and clearance factors.
"""

from __future__ import annotations

import math
from dataclasses import dataclass


def _above_zero(what: str, **numbers: float) -> None:
    for name, number in numbers.items():
        if not (math.isfinite(number) and number > 0):
            raise ValueError(f"{what}: {name} must be above zero, got {number}; check the reading")


def _pressure_angle_ok(what: str, angle: float) -> None:
    if not math.radians(5) < angle < math.radians(40):
        raise ValueError(
            f"{what}: expected a pressure angle of 5° to 40° in rad, got {angle} rad; "
            "worms are cut at 14.5°, 20°, 25° or 30°"
        )


@dataclass(frozen=True, slots=True)
class PairGeometry:
    """Nominal sizes of a pair: lengths mm, angles rad. Diameters of the wheel are in mid-plane."""

    axial_pitch: float
    lead: float
    lead_angle: float
    worm_tip: float
    worm_root: float
    wheel_pitch_diameter: float
    wheel_throat: float
    wheel_root: float
    centre_distance: float
    throat_form_radius: float


def pair_geometry(
    *,
    axial_module: float,
    starts: int,
    teeth: int,
    worm_d1: float,
    profile_shift: float = 0.0,
    addendum: float = 1.0,
    clearance: float = 0.2,
) -> PairGeometry:
    """Nominal sizes of a worm and wheel.

    Source: axial-module worm table of gear-maker technical references; DIN 3975.
    Formula: px = π mx; tan γ = mx z1/d1; da1 = d1 + 2 ha* mx; df1 = d1 - 2(ha* + c*) mx;
        d2 = mx z2; da2 = d2 + 2(ha* + x2) mx; df2 = d2 - 2(ha* + c* - x2) mx;
        a = (d1 + d2)/2 + x2 mx; rg = a - da2/2.
    Inputs: axial_module, worm_d1 [mm]; starts, teeth, profile_shift, addendum, clearance [1].
    Outputs: PairGeometry [mm, rad].
    Valid for: shafts at 90°, no profile shift on the worm.
    Raises: ValueError for sizes that are not above zero or a worm without a core.
    Example:
        >>> pair = pair_geometry(axial_module=1.5, starts=1, teeth=72, worm_d1=24.0)
        >>> pair.centre_distance, pair.wheel_throat, round(math.degrees(pair.lead_angle), 4)
        (66.0, 111.0, 3.5763)
    """
    what = "pair geometry"
    _above_zero(what, axial_module=axial_module, starts=starts, teeth=teeth, worm_d1=worm_d1)
    mx = axial_module
    root = worm_d1 - 2 * (addendum + clearance) * mx
    if root <= 0:
        raise ValueError(f"{what}: a worm of d1 {worm_d1} with module {mx} has no core left")
    d2 = mx * teeth
    throat = d2 + 2 * (addendum + profile_shift) * mx
    a = (worm_d1 + d2) / 2 + profile_shift * mx
    return PairGeometry(
        axial_pitch=math.pi * mx,
        lead=math.pi * mx * starts,
        lead_angle=math.atan(mx * starts / worm_d1),
        worm_tip=worm_d1 + 2 * addendum * mx,
        worm_root=root,
        wheel_pitch_diameter=d2,
        wheel_throat=throat,
        wheel_root=d2 - 2 * (addendum + clearance - profile_shift) * mx,
        centre_distance=a,
        throat_form_radius=a - throat / 2,
    )


def axial_module_of_diametral_pitch(pitch: float) -> float:
    """Axial module of a diametral pitch.

    Source: definition, teeth per inch of diameter. Formula: mx = 25.4/P.
    Inputs: pitch [1/in]. Outputs: module [mm]. Valid for: pitch > 0. Raises: ValueError.
    Example:
        >>> axial_module_of_diametral_pitch(16)
        1.5875
    """
    _above_zero("diametral pitch", pitch=pitch)
    return 25.4 / pitch


def axial_pressure_angle(normal_angle: float, *, lead_angle: float) -> float:
    """Axial pressure angle from the normal one.

    Source: DIN 3975. Formula: tan αx = tan αn / cos γ.
    Inputs: angles [rad]. Outputs: angle [rad]. Valid for: 5° to 40°, lead angle 0 to 45°.
    Raises: ValueError outside.
    Example:
        >>> round(math.degrees(axial_pressure_angle(math.radians(20), lead_angle=0.0624)), 3)
        20.036
    """
    _pressure_angle_ok("axial pressure angle", normal_angle)
    if not 0 <= lead_angle <= math.pi / 4:
        raise ValueError(f"lead angle: expected 0 to 45° in rad, got {lead_angle} rad")
    return math.atan(math.tan(normal_angle) / math.cos(lead_angle))


def working_depth(*, worm_tip: float, wheel_throat: float, centre_distance: float) -> float:
    """Depth to which worm and wheel reach into each other.

    Source: geometry; the profile shift of the wheel cancels.
    Formula: hw = (da1 + da2)/2 - a = 2 ha* mx at nominal depth.
    Inputs: diameters and centre distance [mm]. Outputs: depth [mm].
    Valid for: the throat diameter, not the outside of a hollow wheel. Raises: ValueError.
    Example:
        >>> working_depth(worm_tip=27.0, wheel_throat=111.0, centre_distance=66.0) / 2
        1.5
    """
    _above_zero("working depth", worm=worm_tip, throat=wheel_throat, centres=centre_distance)
    return (worm_tip + wheel_throat) / 2 - centre_distance


def two_wire_factor(normal_angle: float) -> float:
    """What the size over wires gains per mm of wire.

    Source: thread metrology, small lead angle. Formula: dM/dW = 1 + 1/sin αn.
    Inputs: normal pressure angle [rad]. Outputs: factor [1]. Valid for: 5° to 40°.
    Raises: ValueError outside.
    Example:
        >>> round(two_wire_factor(math.radians(20)), 4)
        3.9238
    """
    _pressure_angle_ok("two-wire factor", normal_angle)
    return 1 + 1 / math.sin(normal_angle)


def pressure_angle_from_two_wires(
    *, over_large: float, over_small: float, wire_large: float, wire_small: float
) -> float:
    """Normal pressure angle from the sizes over two sets of wires in the same thread.

    Source: inverse of the two-wire factor. Formula: sin αn = 1/((M1 - M2)/(W1 - W2) - 1).
    Inputs: sizes over wires and wire diameters [mm]. Outputs: angle [rad].
    Valid for: lead angles below about 6°, wires that seat on the flanks.
    Raises: ValueError for wires of one size or readings that no flank can give.
    Example:
        >>> alpha = pressure_angle_from_two_wires(over_large=27.0, over_small=23.0762,
        ...                                       wire_large=3.0, wire_small=2.0)
        >>> round(math.degrees(alpha), 2)
        20.0
    """
    step = wire_large - wire_small
    if not step > 0:
        raise ValueError("two wires: the wires must differ in size; read with a second set")
    factor = (over_large - over_small) / step
    if not factor > 2:
        raise ValueError(
            f"two wires: (M1 - M2)/(W1 - W2) is {factor:.3g}, no flank gives 2 or less; "
            "check that both wires sit on the flanks"
        )
    return math.asin(1 / (factor - 1))


def size_over_wires(
    *, worm_d1: float, wire: float, axial_pitch: float, pressure_angle: float
) -> float:
    """Size over three wires of a worm with equal thread and space at d1.

    Source: thread metrology, small lead angle.
    Formula: M = d1 + W (1 + 1/sin α) - (px/2) cot α.
    Inputs: worm_d1, wire, axial_pitch [mm]; pressure_angle [rad]. Outputs: size [mm].
    Valid for: lead angles below about 6°. Raises: ValueError for impossible sizes.
    Example:
        >>> round(size_over_wires(worm_d1=24.0, wire=2.5, axial_pitch=4.71239,
        ...                       pressure_angle=math.radians(20)), 3)
        27.336
    """
    _above_zero("size over wires", worm_d1=worm_d1, wire=wire, axial_pitch=axial_pitch)
    return (
        worm_d1
        + wire * two_wire_factor(pressure_angle)
        - axial_pitch / 2 / math.tan(pressure_angle)
    )


def best_wire(*, axial_pitch: float, pressure_angle: float) -> float:
    """Wire that touches the flanks at d1.

    Source: thread metrology. Formula: W = px/(2 cos α).
    Inputs: axial_pitch [mm], pressure_angle [rad]. Outputs: diameter [mm].
    Valid for: equal thread and space at d1. Raises: ValueError.
    Example:
        >>> round(best_wire(axial_pitch=4.71239, pressure_angle=math.radians(20)), 3)
        2.507
    """
    _above_zero("best wire", axial_pitch=axial_pitch)
    _pressure_angle_ok("best wire", pressure_angle)
    return axial_pitch / (2 * math.cos(pressure_angle))


def worm_tip_clearance(*, centre_distance: float, worm_tip: float, wheel_root: float) -> float:
    """Clearance c1 between worm crest and wheel root; negative means the worm bottoms.

    Source: geometry. Formula: c1 = a - da1/2 - df2/2.
    Inputs: centre distance and diameters [mm]. Outputs: clearance [mm].
    Valid for: mid-plane, no runout. Raises: ValueError for sizes that are not above zero.
    Example:
        >>> round(worm_tip_clearance(centre_distance=66.0, worm_tip=27.0, wheel_root=104.4), 3)
        0.3
    """
    _above_zero("tip clearance", centres=centre_distance, worm=worm_tip, root=wheel_root)
    return centre_distance - worm_tip / 2 - wheel_root / 2


def throat_clearance(*, centre_distance: float, wheel_throat: float, worm_root: float) -> float:
    """Clearance c2 between wheel throat and worm root.

    Source: geometry. Formula: c2 = a - da2/2 - df1/2.
    Inputs: centre distance and diameters [mm]. Outputs: clearance [mm].
    Valid for: mid-plane, no runout. Raises: ValueError for sizes that are not above zero.
    Example:
        >>> round(throat_clearance(centre_distance=66.0, wheel_throat=111.0, worm_root=20.4), 3)
        0.3
    """
    _above_zero("throat clearance", centres=centre_distance, throat=wheel_throat, root=worm_root)
    return centre_distance - wheel_throat / 2 - worm_root / 2


def contact_ratio(
    *,
    axial_module: float,
    teeth: int,
    wheel_throat: float,
    working_addendum: float,
    pressure_angle: float,
) -> float:
    """Contact ratio in the mid-plane, worm as rack.

    Source: rack-and-pinion form in gear references, rederived.
    Formula: ε = [√(ra2² - rb²) - r2 sin α + h/sin α]/(π mx cos α), h = da1/2 - (a - r2).
    Inputs: axial_module, wheel_throat, working_addendum h [mm]; teeth [1];
        pressure_angle (axial) [rad].
    Outputs: ratio [1].
    Valid for: h/sin α <= r2 sin α (no undercut). Raises: ValueError beyond it.
    Example:
        >>> round(contact_ratio(axial_module=1.5, teeth=72, wheel_throat=111.0,
        ...     working_addendum=1.5, pressure_angle=math.radians(20)), 4)
        1.8962
    """
    _above_zero("contact ratio", module=axial_module, teeth=teeth, addendum=working_addendum)
    _pressure_angle_ok("contact ratio", pressure_angle)
    r2, alpha = axial_module * teeth / 2, pressure_angle
    approach = working_addendum / math.sin(alpha)
    if approach > r2 * math.sin(alpha):
        raise ValueError(
            f"contact ratio: {teeth} teeth at {math.degrees(alpha):.1f}° are undercut, "
            "the rack form does not hold; count the teeth again"
        )
    recess = math.sqrt((wheel_throat / 2) ** 2 - (r2 * math.cos(alpha)) ** 2)
    return (recess - r2 * math.sin(alpha) + approach) / (math.pi * axial_module * math.cos(alpha))


def contact_ratio_lost_by_relief(
    relief: float, *, axial_module: float, pressure_angle: float
) -> float:
    """Contact ratio lost when the worm radius is reduced.

    Source: derivative of the contact ratio. Formula: 2 δ/(π mx sin 2α).
    Inputs: relief δ on the radius, axial_module [mm]; pressure_angle [rad]. Outputs: loss [1].
    Valid for: as contact_ratio. Raises: ValueError for a negative relief.
    Example:
        >>> round(contact_ratio_lost_by_relief(0.2, axial_module=1.5,
        ...                                    pressure_angle=math.radians(20)), 5)
        0.13205
    """
    if relief < 0:
        raise ValueError(f"relief: must not be negative, got {relief} mm")
    _above_zero("relief", axial_module=axial_module)
    _pressure_angle_ok("relief", pressure_angle)
    return 2 * relief / (math.pi * axial_module * math.sin(2 * pressure_angle))


def backlash_swing(*, wheel_tir: float, worm_tir: float, pressure_angle: float) -> float:
    """Largest less smallest backlash round the turn from the runouts.

    Source: wedge of the flanks. Formula: j_max - j_min = 2 tan αx (TIR_wheel + TIR_worm).
    Inputs: TIRs [mm], axial pressure angle [rad]. Outputs: swing [mm].
    Valid for: small runouts. Raises: ValueError for a negative TIR.
    Example:
        >>> round(backlash_swing(wheel_tir=0.04, worm_tir=0.02,
        ...                      pressure_angle=math.radians(20)), 5)
        0.04368
    """
    if wheel_tir < 0 or worm_tir < 0:
        raise ValueError(f"runout: a TIR is never negative, got {wheel_tir}, {worm_tir} mm")
    _pressure_angle_ok("runout", pressure_angle)
    return 2 * math.tan(pressure_angle) * (wheel_tir + worm_tir)


def opening_for_backlash(backlash: float, *, pressure_angle: float) -> float:
    """Opening of the centres that makes a backlash, mid-plane.

    Source: rack sliding along its axis. Formula: Δa = j/(2 tan αx).
    Inputs: backlash at r2 [mm], axial pressure angle [rad]. Outputs: opening [mm].
    Valid for: mid-plane; a full hollow face opens a fifth to a third less.
    Raises: ValueError for an angle outside 5° to 40°.
    Example:
        >>> round(opening_for_backlash(0.1, pressure_angle=math.radians(20)), 5)
        0.13737
    """
    _pressure_angle_ok("opening", pressure_angle)
    return backlash / (2 * math.tan(pressure_angle))


def worm_diameter_guide(centre_distance: float) -> tuple[float, float]:
    """Smallest and largest usual worm reference diameter for a centre distance.

    Source: AGMA 6034 as given in machine-design texts.
    Formula: C^0.875/3.0 <= d1 <= C^0.875/1.7, in inches.
    Inputs: centre_distance [mm]. Outputs: (low, high) [mm]. Valid for: C > 0. Raises: ValueError.
    Example:
        >>> low, high = worm_diameter_guide(88.9)
        >>> round(low / 25.4, 3), round(high / 25.4, 3)
        (0.998, 1.76)
    """
    _above_zero("worm diameter guide", centre_distance=centre_distance)
    power = (centre_distance / 25.4) ** 0.875 * 25.4
    return power / 3.0, power / 1.7


def usual_face_width(*, axial_module: float, worm_d1: float) -> float:
    """Usual effective face width of a wheel.

    Source: worm-gear practice (DIN-type guide). Formula: b2 = 2 mx √(q + 1), q = d1/mx, at most
        0.67 d1. Inputs: sizes [mm]. Outputs: width [mm]. Valid for: a guide when none was read.
    Raises: ValueError for sizes that are not above zero.
    Example:
        >>> round(usual_face_width(axial_module=1.5, worm_d1=24.0), 1)
        12.4
    """
    _above_zero("face width", axial_module=axial_module, worm_d1=worm_d1)
    width = 2 * axial_module * math.sqrt(worm_d1 / axial_module + 1)
    return min(width, 0.67 * worm_d1)
