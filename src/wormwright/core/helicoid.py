"""Helicoidal flanks of worms and hobs: ZA, ZN and ZI, as height over the plane through the axis.

A helicoid stands along its own axis e1; e2 points from the axis to the wheel, e3 along the wheel's
own axis: X, -Y and Z of the model frame. `side` +1 is the thread flank facing +e1, -1 the one
facing -e1. Toward the wheel a right-hand thread gains along e1 as it falls along e3, so its reduced
lead is below zero. Lengths mm, angles rad.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from wormwright.core.impossible_pair import ImpossiblePairError

Array = NDArray[np.float64]
Profile = Literal["ZA", "ZN", "ZI"]


@dataclass(frozen=True, slots=True)
class Helicoid:
    """A worm or hob thread.

    `lead` is the reduced lead p = (lead)/2 pi [mm/rad], below zero right-hand; `radius` the
    reference radius r1; `thickness` the axial thread thickness there; `axial_angle` the axial
    pressure angle; `tip` and `root` radii [mm].
    """

    profile: Profile
    lead: float
    radius: float
    thickness: float
    axial_angle: float
    tip: float
    root: float

    def __post_init__(self) -> None:
        """Refuse a thread that cannot exist."""
        if self.lead == 0 or not 0 < self.root < self.radius < self.tip:
            raise ImpossiblePairError(
                got=f"the thread has root, reference and tip radius {self.root:.4g}, "
                f"{self.radius:.4g}, {self.tip:.4g} mm",
                expected="root < reference radius < tip",
                do="check outside diameter and module",
            )
        if not 0 < self.axial_angle < math.radians(45):
            raise ImpossiblePairError(
                got=f"the thread has an axial pressure angle of {self.axial_angle} rad",
                expected="an angle above 0 and below 45 degrees, given in radians",
                do="read the pressure angle again",
            )
        if self.profile == "ZI" and self.base_radius >= self.radius:
            raise ImpossiblePairError(
                got=f"an involute thread has no flank below the base radius "
                f"{self.base_radius:.4g} mm, here above the reference radius {self.radius:.4g} mm",
                expected="a larger worm, fewer starts or another profile",
                do="check profile (ZA or ZN), starts and worm diameter",
            )

    @property
    def lead_angle(self) -> float:
        """Lead angle at the reference radius, below zero right-hand [rad]."""
        return math.atan(self.lead / self.radius)

    @property
    def normal_angle(self) -> float:
        """Normal pressure angle at the reference radius [rad]."""
        return math.atan(math.tan(self.axial_angle) * math.cos(self.lead_angle))

    @property
    def base_radius(self) -> float:
        """Base radius of the involute helicoid [mm]: p / tan(base lead angle)."""
        base = math.acos(math.cos(self.lead_angle) * math.cos(self.normal_angle))
        return abs(self.lead) / math.tan(base)

    def height(self, x: Array, z: Array, side: int) -> Array:
        """Axial place of the flank over the point (x, z) of the cross plane [mm]."""
        r = np.hypot(x, z)
        height: Array = self.lead * np.arctan2(z, x) + side * (self.thickness / 2 - self._drop(r))
        return height

    def height_and_slopes(self, x: Array, z: Array, side: int) -> tuple[Array, Array, Array]:
        """Height and its slopes along x and z."""
        r2 = x * x + z * z
        r = np.sqrt(r2)
        drop, steep = self._drop_and_slope(r)
        height = self.lead * np.arctan(z / x) + side * (self.thickness / 2 - drop)
        fall = side * steep / r
        turn = self.lead / r2
        return height, -turn * z - fall * x, turn * x - fall * z

    def _drop(self, r: Array) -> Array:
        """How far the flank has drawn in from the thread's side at radius r, per flank [mm]."""
        if self.profile == "ZA":
            drop: Array = (r - self.radius) * math.tan(self.axial_angle)
            return drop
        return self._drop_and_slope(r)[0]

    def _drop_and_slope(self, r: Array) -> tuple[Array, Array]:
        if self.profile == "ZA":
            t = math.tan(self.axial_angle)
            return (r - self.radius) * t, np.full_like(r, t)
        if self.profile == "ZI":
            return self._involute(r)
        return self._straight_in_the_normal_section(r)

    def _involute(self, r: Array) -> tuple[Array, Array]:
        base, p = self.base_radius, abs(self.lead)

        def u(s: Array | float) -> Array:
            ratio = np.maximum(np.asarray(s) / base, 1.0)
            turned: Array = np.sqrt(ratio**2 - 1) - np.arccos(1 / ratio)
            return turned

        slope = p * np.sqrt(np.maximum(r**2 - base**2, 0.0)) / (base * r)
        drop: Array = p * (u(r) - u(self.radius))
        return drop, slope

    def _straight_in_the_normal_section(self, r: Array) -> tuple[Array, Array]:
        angle, lead_angle = self.normal_angle, abs(self.lead_angle)
        along, across = math.cos(angle), math.sin(lead_angle) * math.sin(angle)
        axial = math.cos(lead_angle) * math.sin(angle)
        q = along**2 + across**2
        start = self.radius * along
        root = np.sqrt(np.maximum(start**2 - q * (self.radius**2 - r**2), 1e-30))
        step = (root - start) / q
        px, py = self.radius + step * along, step * across
        drop = axial * step + abs(self.lead) * np.arctan2(py, px)
        turn_rate = (across * px - along * py) / r**2
        slope = (axial + abs(self.lead) * turn_rate) * r / root
        return drop, slope


def worm_thread(
    *,
    profile: Profile,
    axial_module: float,
    starts: int,
    worm_d1: float,
    axial_angle: float,
    tip_radius: float,
    root_radius: float,
    thinned: float = 0.0,
    right_hand: bool = True,
) -> Helicoid:
    """The thread of a worm, `thinned` mm (axially, both flanks together) from half the pitch.

    Source: geometry of the axial-module system (DIN 3975; from memory).
    Formula: |p| = mx z1/2; thickness = pi mx/2 - thinned.
    Inputs: lengths [mm], axial_angle [rad], counts [1].
    Outputs: Helicoid.
    Valid for: worms of 1 to 8 starts. Raises: ValueError for what cannot be a worm.
    Example:
        >>> import math
        >>> worm = worm_thread(profile="ZA", axial_module=1.5, starts=1, worm_d1=24.0,
        ...     axial_angle=math.radians(20), tip_radius=13.5, root_radius=10.2)
        >>> round(math.degrees(worm.lead_angle), 4)
        -3.5763
    """
    if not 1 <= starts <= 8:
        raise ImpossiblePairError(
            got=f"the worm has {starts} starts", expected="1 to 8 starts", do="count them again"
        )
    if not axial_module > 0:
        raise ImpossiblePairError(
            got=f"the axial module is {axial_module}",
            expected="a module above zero",
            do="measure over more threads",
        )
    hand = -1 if right_hand else 1
    return Helicoid(
        profile,
        hand * axial_module * starts / 2,
        worm_d1 / 2,
        math.pi * axial_module / 2 - thinned,
        axial_angle,
        tip_radius,
        root_radius,
    )


def oversize_hob(worm: Helicoid, *, excess: float, tip_clearance: float, starts: int) -> Helicoid:
    """The hob that is `excess` mm larger in radius than the worm, with the same normal pitch.

    Source: practice of hobbing wheels with a hob of regrindable size (common practice); the normal
        pitch and normal angle are those of the worm, so the hob is swivelled by the difference of
        the lead angles.
    Formula: sin(gamma_h) = z1 mn/(2 (r1 + D)); p_h = (r1 + D) tan(gamma_h).
    Inputs: excess D and tip_clearance (hob tip above worm tip) [mm]; starts [1].
    Outputs: Helicoid of the hob.
    Valid for: D >= 0. Raises: ValueError for a negative excess.
    Example:
        >>> import math
        >>> worm = worm_thread(profile="ZA", axial_module=1.5, starts=1, worm_d1=24.0,
        ...     axial_angle=math.radians(20), tip_radius=13.5, root_radius=10.2)
        >>> hob = oversize_hob(worm, excess=0.6, tip_clearance=0.3, starts=1)
        >>> bool(abs(hob.lead_angle) < abs(worm.lead_angle))
        True
    """
    if excess < 0:
        raise ValueError(f"a hob cannot be smaller than the worm: excess {excess} mm")
    hand = 1 if worm.lead > 0 else -1
    normal_module = 2 * abs(worm.lead) / starts * math.cos(worm.lead_angle)
    radius = worm.radius + excess
    sine = starts * normal_module / (2 * radius)
    lead_angle = math.asin(sine)
    full = math.pi * abs(worm.lead) / starts
    thickness = full * math.cos(worm.lead_angle) / math.cos(lead_angle)
    axial = math.atan(math.tan(worm.normal_angle) / math.cos(lead_angle))
    return Helicoid(
        worm.profile,
        hand * radius * math.tan(lead_angle),
        radius,
        thickness,
        axial,
        worm.tip + excess + tip_clearance,
        worm.root + excess,
    )
