"""Play and stiffness of the table bearing: radial, axial, tilt, and their share in a rock."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from wormwright.core.linear_fit import linear_fit


@dataclass(frozen=True, slots=True)
class Play:
    """A full to-and-fro play and its standard uncertainty, mm or rad."""

    value: float
    u: float


def radial_play_from_two_sides(*, near: float, opposite: float, u: float) -> tuple[Play, Play]:
    """Radial play from indicators on both sides of the rim, and what is not sideways motion.

    Source: geometry; sideways motion reads plus on one side and minus on the other.
    Formula: play = (near - opposite)/2; rest = (near + opposite)/2, a flexing stand or a rim that
        is not round under a turning table.
    Inputs: near, opposite, change of each from one push to the other, plus when the table comes
        nearer [mm]; u of one change [mm].
    Outputs: (play, rest) [mm].
    Valid for: both in line with the push. Raises: ValueError for u not above zero.

    >>> play, rest = radial_play_from_two_sides(near=0.021, opposite=-0.019, u=0.001)
    >>> round(play.value, 4), round(rest.value, 4)
    (0.02, 0.001)
    """
    if not u > 0:
        raise ValueError(f"uncertainty of a reading must be above zero, got {u}")
    half = u / math.sqrt(2)
    return Play(abs(near - opposite) / 2, half), Play((near + opposite) / 2, half)


def lift_and_tilt_from_two_sides(
    *, near: float, opposite: float, radius: float, u: float
) -> tuple[Play, Play]:
    """Lift of the middle and tilt of the face when the rim is pushed and pulled along the axis.

    Source: geometry. Formula: lift = (near + opposite)/2; tilt = (near - opposite)/(2 rho).
    Inputs: near, opposite, change on the face at the push and straight across, plus upward [mm];
        radius rho of both [mm]; u of one change [mm].
    Outputs: (lift [mm], tilt [rad]).
    Valid for: radius above zero. Raises: ValueError outside.

    >>> lift, tilt = lift_and_tilt_from_two_sides(near=0.03, opposite=-0.01, radius=80, u=0.001)
    >>> round(lift.value, 4), round(tilt.value, 6)
    (0.01, 0.00025)
    """
    if not (radius > 0 and u > 0):
        raise ValueError(f"radius {radius}, u {u}: expected above zero")
    half = u / math.sqrt(2)
    return Play((near + opposite) / 2, half), Play((near - opposite) / (2 * radius), half / radius)


@dataclass(frozen=True, slots=True)
class TiltUnderMoment:
    """Free tilt (full, rad) and stiffness (N·mm/rad) of the table bearing."""

    play: Play
    compliance: Play

    @property
    def stiffness(self) -> float | None:
        """N·mm per rad; None when the compliance is not proven above zero (k = 2)."""
        if not self.compliance.value > 2 * self.compliance.u:
            return None
        return 1 / self.compliance.value


def tilt_under_moment(moment: ArrayLike, tilt: ArrayLike, *, u: float) -> TiltUnderMoment:
    """Play and stiffness from tilts under moments of both signs.

    Source: straight line on each side of a gap, as in the rock loop; least squares.
    Formula: tilt = tilt_0 + sgn(M) play/2 + M/k.
    Inputs: moment M [N·mm, (n,)] of both signs, none zero; tilt [rad, (n,)]; u of one tilt [rad].
    Outputs: TiltUnderMoment.
    Valid for: moments that take the play up; two sizes or more.
    Raises: ValueError for one sign or one size only: play and stiffness cannot be told apart.

    >>> m = np.array([-4000.0, -2000.0, 2000.0, 4000.0])
    >>> fit = tilt_under_moment(m, np.sign(m) * 5e-5 + m / 4e7, u=1e-6)
    >>> round(fit.play.value, 6), round(fit.compliance.value * 1e8, 3)
    (0.0001, 2.5)
    """
    m = np.asarray(moment, dtype=np.float64)
    if np.any(m == 0):
        raise ValueError("a moment of zero: expected pushes that take the play up, up and down")
    scale = float(np.abs(m).max())
    design = np.column_stack([np.ones_like(m), np.sign(m) / 2, m / scale])
    fit = linear_fit(design, tilt, u=u, names=("rest position", "tilt play", "tilt stiffness"))
    s = fit.u
    return TiltUnderMoment(
        play=Play(float(fit.values[1]), float(s[1])),
        compliance=Play(float(fit.values[2]) / scale, float(s[2]) / scale),
    )


def tilt_play_of_axial_play(*, axial_play: float, support_diameter: float) -> float:
    """Full tilt that an axial play alone allows on a flat ring.

    Source: geometry: one side of the ring up by the play, the other on its seat, and reversed.
    Formula: 2 s / D.
    Inputs: axial_play s, full [mm]; support_diameter D of the ring [mm]. Outputs: [rad].
    Valid for: D above zero, flat ways or one row of balls. Raises: ValueError outside.

    >>> tilt_play_of_axial_play(axial_play=0.01, support_diameter=100)
    0.0002
    """
    if not (support_diameter > 0 and axial_play >= 0):
        raise ValueError(f"play {axial_play}, diameter {support_diameter} mm: out of range")
    return 2 * axial_play / support_diameter


def push_tips_table(
    *, push: float, push_height: float, weight: float, support_diameter: float
) -> bool:
    """Whether a sideways push above the bearing tips a table that only its weight holds down.

    Source: moments about the edge of the ring. Formula: F h > W D/2.
    Inputs: push F [N]; push_height h above the ring [mm]; weight W [N]; support_diameter D [mm].
    Outputs: True when it tips into its axial play. Valid for: axis upright, no retainer preload.
    Raises: ValueError for a figure below zero.

    >>> push_tips_table(push=60, push_height=80, weight=80, support_diameter=100)
    True
    """
    if min(push, push_height, weight, support_diameter) < 0:
        raise ValueError("push, height, weight and diameter must not be below zero")
    return push * push_height > weight * support_diameter / 2


def tilt_share_in_rock(
    *,
    pin_height: float,
    push_angle: float,
    pin_angle: float,
    pitch_radius: float,
    pin_radius: float,
) -> float:
    """What one pin reads of the tilt, as lost motion at the wheel pitch radius, per rad.

    Source: derived here: the table tips about the axis across the push; a pin at height h moves by
        h along the push. Opposite pins read it with opposite sign, so their mean is free of it.
    Formula: (r2/R) h cos(beta_push - beta_pin).
    Inputs: pin_height h above the plane of the table bearing [mm]; angles from the worm direction
        [rad]; pitch_radius r2, pin_radius R [mm].
    Outputs: mm at r2 per rad of tilt play.
    Valid for: a push along the rim at its own angle. Raises: ValueError for radii not above zero.

    >>> tilt_share_in_rock(pin_height=40, push_angle=0, pin_angle=0, pitch_radius=50, pin_radius=80)
    25.0
    """
    if not (pitch_radius > 0 and pin_radius > 0):
        raise ValueError(f"radii {pitch_radius} and {pin_radius} mm: expected above zero")
    return pitch_radius / pin_radius * pin_height * math.cos(push_angle - pin_angle)


def axial_share_in_rock(*, tan_lead: float, locked: bool) -> float:
    """Lost motion at the wheel pitch radius per mm of axial play of the table.

    Source: helix of the worm: the wheel rides along the thread by g per mm of lift; a worm held at
        rest with a lead below the friction angle locks it, and driven reversal shows it.
    Formula: g, or 0 when locked.
    Inputs: tan_lead g [1]; locked, from `lost_motion.held_worm_locks`. Outputs: mm per mm [1].
    Valid for: 0 <= g < 1. Raises: ValueError outside.

    >>> axial_share_in_rock(tan_lead=0.06, locked=False)
    0.06
    """
    if not 0 <= tan_lead < 1:
        raise ValueError(f"tangent of the lead angle: expected 0 to 1, got {tan_lead}")
    return 0.0 if locked else tan_lead
