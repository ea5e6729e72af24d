"""A pair as a machinist gives it, made into worm, hob, blank and mesh, or refused with a reason."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np

from wormwright.core.flank import FlankMesh, Place
from wormwright.core.helicoid import Helicoid, Profile, oversize_hob, worm_thread
from wormwright.core.impossible_pair import ImpossiblePairError
from wormwright.core.wheel_wall import Blank, HelicalWall, HobbedWall, Wall

WheelKind = Literal["hob-equal", "oversize-hob", "helical"]
LEAST_CONTACT_RATIO = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class PairSizes:
    """Sizes of worm and wheel [mm, rad]; what is None follows the usual proportions.

    Usual: worm tip and root one and 1.2 modules from `worm_d1`/2; wheel throat one module above
    and root 1.2 modules below its pitch circle; outside one and a half modules above; face the
    lesser of 0.67 `worm_d1` and 80 % of what the hollow allows (common practice). `shift` is the
    profile shift of the wheel, in modules. `thinned` is how much thinner than half the pitch the
    worm thread is, both flanks together. `hob_excess` is the radius by which the hob was larger.
    `run_in` is the place, from nominal centres, at which the pair has bedded in: there its flanks
    fit as if just cut, and moves are counted from nominal centres.
    """

    teeth: int
    starts: int
    axial_module: float
    axial_angle: float
    worm_d1: float
    kind: WheelKind = "hob-equal"
    profile: Profile = "ZA"
    right_hand: bool = True
    hob_excess: float = 0.0
    shift: float = 0.0
    thinned: float = 0.0
    worm_tip: float | None = None
    worm_root: float | None = None
    throat: float | None = None
    wheel_root: float | None = None
    outside: float | None = None
    face: float | None = None
    edge: float = 0.0
    run_in: Place = Place()  # noqa: RUF009  (a named tuple of numbers)

    @property
    def pitch(self) -> float:
        """Axial pitch [mm]."""
        return math.pi * self.axial_module

    @property
    def wheel_radius(self) -> float:
        """Pitch radius r2 of the wheel [mm]."""
        return self.axial_module * self.teeth / 2

    @property
    def centre(self) -> float:
        """Centre distance at which the wheel fits its worm [mm]."""
        return self.worm_d1 / 2 + self.wheel_radius + self.shift * self.axial_module

    @property
    def root(self) -> float:
        """Radius of the wheel's root in the mid-plane [mm]."""
        return _or(self.wheel_root, self.wheel_radius - (1.2 - self.shift) * self.axial_module)


def mesh_of_pair(pair: PairSizes) -> FlankMesh:
    """The exact mesh of a pair.

    Source: axial-module system (DIN 3975, from memory) and the practice of hobbing.
    Formula: worm p = mx z1/2; hob equal, larger by its excess and swivelled by the difference of
        the lead angles, or the straight rack of the mid-plane for a plain helical wheel.
    Inputs: sizes of the pair. Outputs: FlankMesh.
    Valid for: 1 to 8 starts, pressure angles from 5 to 45 degrees, flanks in contact all the time.
    Raises: ImpossiblePairError, a ValueError: which size cannot be, and what to read again.

    >>> mesh = mesh_of_pair(PairSizes(teeth=72, starts=1, axial_module=1.5,
    ...     axial_angle=math.radians(20), worm_d1=24.0, thinned=0.1))
    >>> [round(float(j), 6) for j in mesh.contact(phases=2).backlash]
    [0.1, 0.1]
    """
    _check(pair)
    blank = _blank(pair)
    worm = _thread(pair, thinned=pair.thinned)
    _check_clearances(pair, worm, blank)
    mesh = FlankMesh(
        worm, _wall(pair, blank), centre=pair.centre, pitch=pair.pitch, run_in=pair.run_in
    )
    ratio = contact_ratio(mesh)
    if ratio < LEAST_CONTACT_RATIO:
        raise _parting(pair, mesh, ratio)
    return mesh


def _parting(pair: PairSizes, mesh: FlankMesh, ratio: float) -> ImpossiblePairError:
    """Why the flanks part between one tooth and the next: undercut, or too little overlap."""
    expected = f"a contact ratio of {LEAST_CONTACT_RATIO:g} or more"
    if any(table.undercut for table in mesh.sides.values()):
        return ImpossiblePairError(
            got=f"undercut beyond use: {pair.teeth} teeth at "
            f"{math.degrees(pair.axial_angle):.3g} degrees keep a contact ratio of {ratio:.2f}, so "
            "the flanks part between teeth",
            expected=expected,
            do="check tooth count, pressure angle and profile shift",
        )
    return ImpossiblePairError(
        got=f"the worm's crest (radius {mesh.worm.tip:.4g} mm) does not reach the wheel's flanks "
        f"(throat radius {mesh.wall.blank.throat:.4g} mm) far enough at a centre distance of "
        f"{mesh.centre:.4g} mm: a contact ratio of {ratio:.2f}",
        expected=expected,
        do="read worm outside diameter, throat and centre distance again",
    )


def _check(pair: PairSizes) -> None:
    if not 6 <= pair.teeth <= 1000:
        raise ImpossiblePairError(
            got=f"the wheel has {pair.teeth} teeth",
            expected="6 to 1000 teeth",
            do="count them again",
        )
    if not math.radians(5) <= pair.axial_angle < math.radians(45):
        raise ImpossiblePairError(
            got=f"the axial pressure angle is {math.degrees(pair.axial_angle):.4g} degrees",
            expected="5 to 45 degrees",
            do="give it in radians, and check the wires it was read with",
        )
    if pair.hob_excess < 0:
        raise ImpossiblePairError(
            got=f"a hob {-pair.hob_excess:.4g} mm smaller in radius than its worm",
            expected="a hob as large as the worm, or larger",
            do="give the excess of radius as zero or more",
        )
    if pair.kind == "oversize-hob" and not pair.hob_excess > 0:
        raise ImpossiblePairError(
            got="an oversize hob needs its excess of radius",
            expected="an excess above zero",
            do="give it, or take the wheel as hob-equal",
        )
    if pair.kind != "oversize-hob" and pair.hob_excess > 0:
        raise ImpossiblePairError(
            got=f"a hob excess of {pair.hob_excess} mm goes with an oversize hob",
            expected="no excess for this kind of wheel",
            do="take the wheel as cut by an oversize hob",
        )
    if not -0.2 * pair.axial_module <= pair.thinned < 0.8 * pair.pitch / 2:
        raise ImpossiblePairError(
            got=f"a thread thinned by {pair.thinned:.4g} mm leaves no tooth of module "
            f"{pair.axial_module:.4g}",
            expected=f"less than {0.8 * pair.pitch / 2:.4g} mm of backlash by a thin thread",
            do="check the backlash given",
        )


def _or(value: float | None, usual: float) -> float:
    return usual if value is None else value


def _thread(pair: PairSizes, *, thinned: float) -> Helicoid:
    m = pair.axial_module
    return worm_thread(
        profile=pair.profile,
        axial_module=m,
        starts=pair.starts,
        worm_d1=pair.worm_d1,
        axial_angle=pair.axial_angle,
        tip_radius=_or(pair.worm_tip, pair.worm_d1 / 2 + m),
        root_radius=_or(pair.worm_root, pair.worm_d1 / 2 - 1.2 * m),
        thinned=thinned,
        right_hand=pair.right_hand,
    )


def _blank(pair: PairSizes) -> Blank:
    m = pair.axial_module
    throat = _or(pair.throat, pair.wheel_radius + (1 + pair.shift) * m)
    hollow = pair.centre - throat
    if hollow <= 0:
        raise ImpossiblePairError(
            got=f"a throat radius of {throat:.4g} mm reaches the worm axis at {pair.centre:.4g} mm",
            expected="a throat short of the worm axis",
            do="read throat and centre distance again",
        )
    if pair.kind == "helical":
        face = _or(pair.face, 0.6 * pair.worm_d1)
        return Blank(pair.centre, throat, _or(pair.outside, throat), face, pair.edge)
    face = _or(pair.face, min(0.67 * pair.worm_d1, 0.8 * 2 * hollow))
    outside = max(_or(pair.outside, throat + 1.5 * m / math.sqrt(pair.starts)), throat)
    return Blank(pair.centre, throat, outside, face, pair.edge, throat_form=hollow)


def _wall(pair: PairSizes, blank: Blank) -> Wall:
    full = _thread(pair, thinned=0.0)
    if pair.kind == "helical":
        helix = full.lead / full.radius
        # with a shift the pitch line lies off the worm's own, where its thread is thinner
        thickness = full.thickness - 2 * pair.shift * pair.axial_module * math.tan(pair.axial_angle)
        reach = pair.wheel_radius - pair.root
        return HelicalWall(pair.axial_angle, thickness, reach, blank, pair.wheel_radius, helix)
    clearance = pair.centre - pair.root - full.tip
    hob = oversize_hob(full, excess=pair.hob_excess, tip_clearance=clearance, starts=pair.starts)
    if blank.half_face >= hob.tip:
        raise ImpossiblePairError(
            got=f"a face of {blank.face:.4g} mm is wider than its hob of radius {hob.tip:.4g} mm",
            expected=f"a face below {2 * hob.tip:.4g} mm",
            do="read the face again",
        )
    swivel = hob.lead_angle - full.lead_angle
    return HobbedWall(hob, blank, pair.teeth, pair.starts, pair.centre + pair.hob_excess, swivel)


def _check_clearances(pair: PairSizes, worm: Helicoid, blank: Blank) -> None:
    if pair.profile == "ZI" and pair.centre - blank.throat < worm.base_radius:
        raise ImpossiblePairError(
            got=f"the wheel's throat reaches to radius {pair.centre - blank.throat:.4g} mm of the "
            f"worm, below the base radius {worm.base_radius:.4g} mm where an involute thread has "
            "no flank",
            expected="a throat that stays above the base circle of the worm",
            do="check profile (ZA or ZN), worm diameter and throat",
        )
    below = pair.centre - pair.root - worm.tip
    if below <= 0:
        raise ImpossiblePairError(
            got=f"the worm cannot pass: its crest (radius {worm.tip:.4g} mm) stands {-below:.3g} "
            f"mm into the wheel's root (radius {pair.root:.4g} mm) at a centre distance of "
            f"{pair.centre:.4g} mm",
            expected="room between worm crest and wheel root",
            do="read worm outside diameter, wheel root and centre distance",
        )
    z = np.linspace(0.0, blank.half_face, 41)
    above = float((np.hypot(pair.centre - blank.top(z), z) - worm.root).min())
    if above <= 0:
        raise ImpossiblePairError(
            got=f"the worm cannot pass: the wheel's crest stands {-above:.3g} mm into the worm's "
            f"root (radius {worm.root:.4g} mm)",
            expected="room between wheel crest and worm root",
            do="read throat, outside diameter and face width",
        )
    if pair.root >= blank.throat:
        raise ImpossiblePairError(
            got=f"the wheel's root radius {pair.root:.4g} mm is not below its throat radius "
            f"{blank.throat:.4g} mm",
            expected="a root below the throat",
            do="read both again",
        )


def contact_ratio(mesh: FlankMesh) -> float:
    """Pitches of worm advance over which one tooth stays in contact in the mid-plane.

    Source: path of contact as cut, so fillet and undercut are left out (derived).
    Formula: (span of the advance at which the flank in reach of the worm tip was cut) / pitch.
    Inputs: mesh. Outputs: contact ratio [1]. Valid for: any pair.
    Raises: nothing.

    >>> mesh = mesh_of_pair(PairSizes(teeth=72, starts=1, axial_module=1.5,
    ...     axial_angle=math.radians(20), worm_d1=24.0))
    >>> round(contact_ratio(mesh), 2)
    1.9
    """
    rho, angle, cut_at, flank = mesh.sides[1].line(0.0)  # the other side is its mirror
    used = flank & (mesh.centre - rho * np.cos(cut_at) <= mesh.worm.tip)
    if not used.any():
        return 0.0
    return float(np.ptp((cut_at - angle)[used])) * mesh.radius / mesh.pitch
