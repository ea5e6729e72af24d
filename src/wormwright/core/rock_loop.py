"""The rock loop, torque against angle with the worm held: clearance, stiffness, friction."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from wormwright.core.linear_fit import linear_fit

Array = NDArray[np.float64]

NAMES = ("rest position", "clearance", "stiffness", "friction")
"""What a loop is made of, in the words of a refusal."""


@dataclass(frozen=True, slots=True)
class RockLoop:
    """Clearance and half width of the loop (rad), compliance (rad per N·mm), each with its u.

    `rest` is the angle of the middle of the loop, `together` the covariance of clearance and
    compliance, `chi_square` of the fit on `dof`.
    """

    clearance: float
    clearance_u: float
    compliance: float
    compliance_u: float
    half_width: float
    half_width_u: float
    rest: float
    together: float
    chi_square: float
    dof: int

    @property
    def clearance_told(self) -> bool:
        """Whether the clearance is proven: below 2 u it cannot be told from soft start."""
        return self.clearance > 2 * self.clearance_u

    @property
    def stiffness(self) -> float | None:
        """N·mm per rad; None when the compliance is not proven above zero (k = 2)."""
        return 1 / self.compliance if self.compliance > 2 * self.compliance_u else None

    @property
    def friction_torque(self) -> float | None:
        """Half height of the loop, N·mm; None without a stiffness."""
        return None if self.stiffness is None else self.half_width * self.stiffness

    def lost_motion_at(self, torque: float) -> float:
        """Angle between the middle lines of the loop at plus and minus a torque, rad."""
        return self.clearance + 2 * abs(torque) * self.compliance

    def lost_motion_u(self, torque: float) -> float:
        """Standard uncertainty of `lost_motion_at`, rad; the two parts are not independent."""
        twice = 2 * abs(torque)
        own = self.clearance_u**2 + (twice * self.compliance_u) ** 2
        return math.sqrt(max(own + 2 * twice * self.together, 0.0))

    def angle_at(self, torque: float, *, branch: int) -> float:
        """Angle on the straight branch at a torque, rad; the middle of the gap at no torque."""
        side = (torque > 0) - (torque < 0)
        middle = self.rest + torque * self.compliance + side * self.clearance / 2
        return middle - branch * self.half_width


def loop_design(torque: Array, branch: Array) -> Array:
    """Columns of rest position, clearance, compliance and half width, (n, 4), as `NAMES`."""
    return np.column_stack([np.ones_like(torque), np.sign(torque) / 2, torque, -branch])


def rock_loop(
    torque: ArrayLike, angle: ArrayLike, branch: ArrayLike, *, u: float, least_torque: float
) -> RockLoop:
    """Clearance, stiffness and friction from a loop of torque against angle.

    Source: straight branches either side of a gap with dry friction (derived here; makers define
        lost motion between the middle lines at 3 per cent of rated torque).
    Formula: angle = angle_0 + T/k + sgn(T) c/2 - b h, b = +1 with the torque rising, -1 falling,
        for |T| >= least_torque.
    Inputs: torque [N·mm, (n,)]; angle [rad, (n,)]; branch +1 or -1 [(n,)]; u of one angle [rad];
        least_torque, above which the gap is closed [N·mm].
    Outputs: RockLoop.
    Valid for: points of both signs and both branches, away from the reversals.
    Raises: ValueError naming what cannot be told apart, or for a branch that is neither.

    >>> t = np.array([-4.0, -2.0, 2.0, 4.0] * 2) * 1000
    >>> b = np.repeat([1.0, -1.0], 4)
    >>> loop = rock_loop(t, t / 2e6 + np.sign(t) * 4e-4 - b * 1e-4, b, u=1e-5, least_torque=1000)
    >>> round(loop.clearance, 6), round(loop.compliance * 1e7, 3), round(loop.half_width, 6)
    (0.0008, 5.0, 0.0001)
    """
    t, a, b = (np.asarray(v, dtype=np.float64) for v in (torque, angle, branch))
    if not (t.shape == a.shape == b.shape and least_torque > 0):
        raise ValueError(f"loop of {t.size} torques, {a.size} angles, {b.size} branches: not alike")
    if not np.all(np.abs(b) == 1):
        raise ValueError("branch: expected +1 with the torque rising and -1 with it falling")
    kept = np.abs(t) >= least_torque
    t, a, b = t[kept], a[kept], b[kept]
    if len(t) < 5:
        raise ValueError(f"{len(t)} points above {least_torque} N·mm: expected 5 or more")
    scale = float(np.abs(t).max())
    fit = linear_fit(loop_design(t / scale, b), a, u=u, names=NAMES)
    s = fit.u
    return RockLoop(
        clearance=float(fit.values[1]),
        clearance_u=float(s[1]),
        compliance=float(fit.values[2]) / scale,
        compliance_u=float(s[2]) / scale,
        half_width=float(fit.values[3]),
        half_width_u=float(s[3]),
        rest=float(fit.values[0]),
        together=float(fit.covariance[1, 2]) / scale,
        chi_square=fit.chi_square,
        dof=fit.dof,
    )
