"""Backlash over table and worm angle: runouts, wobble and pitch errors on top of a mesh.

Frame and signs as in `backlash`. Table angle and worm angle grow together the way the worm drives
the table. All errors are small against the module, so each only moves the worm against the wheel.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from wormwright.core.backlash import MeshModel

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Stand:
    """Where the worm stands on the average of the turn, from the generating position [mm, rad]."""

    da: float = 0.0
    dz: float = 0.0
    skew: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class TurnErrors:
    """Errors that come round with the table or the worm.

    `wheel` and `worm` are eccentricities [mm] as vectors in the plane of table and worm angle: each
    holds the centres apart most at its own angle. `wobble` is the whole face wobble of the wheel at
    r2 [mm], whose rim stands farthest toward +Z at the worm when the table is at `wobble_at` [rad].
    `plus` and `minus` are the accumulated pitch errors of the two flanks of each tooth space [mm at
    r2], above zero in the direction in which the worm's +X flank pushes, beginning with the space
    at the worm at table angle zero; None for none. `right_hand` is the hand of the worm.
    """

    wheel: tuple[float, float] = (0.0, 0.0)
    worm: tuple[float, float] = (0.0, 0.0)
    wobble: float = 0.0
    wobble_at: float = 0.0
    plus: Array | None = None
    minus: Array | None = None
    right_hand: bool = True

    def __post_init__(self) -> None:
        """Refuse pitch errors of one flank only, or of unlike number."""
        if (self.plus is None) != (self.minus is None) or (
            self.plus is not None and self.minus is not None and len(self.plus) != len(self.minus)
        ):
            raise ValueError(
                "pitch errors: expected one for each tooth space on both flanks, or none at all; "
                "backlash hangs on their difference"
            )
        if self.wobble < 0:
            raise ValueError(f"wobble {self.wobble} mm: expected the whole swing, zero or more")


@dataclass(frozen=True, slots=True)
class RoundTheWheel:
    """Backlash round the turn, mm at r2.

    `least`, `mean` and `most` are over the worm turn at each table angle; `tight` is the least of
    all, by the exact mesh, at `tight_table` and `tight_worm` [rad]; `average` is over everything.
    """

    table_angle: Array
    least: Array
    mean: Array
    most: Array
    tight: float
    tight_table: float
    tight_worm: float
    average: float

    @property
    def above_least(self) -> float:
        """What the mean play stays above the least play, however the depth is set [mm at r2].

        The smallest mean play attainable is the least play wanted and this.
        """
        return self.average - self.tight


def even_turn(count: int) -> Array:
    """So many angles evenly round a turn, beginning at zero [rad]."""
    angles: Array = np.linspace(0.0, 2 * math.pi, count, endpoint=False)
    return angles


def backlash_map(
    mesh: MeshModel,
    *,
    stand: Stand,
    errors: TurnErrors,
    table_angle: Array,
    worm_angle: Array,
    radius: float,
    backlash: float = 0.0,
) -> Array:
    """Backlash at every table and worm angle.

    Source: derived: rigid bodies; an eccentric wheel or worm moves its axis to and from the other,
        a wobbling wheel swings past the worm and leans against it.
    Formula: mesh change at da = da0 + ex cos(phi) + ey sin(phi) + vx cos(psi) + vy sin(psi),
        dz = dz0 + h (vx sin(psi) - vy cos(psi)) - (w/2) cos(phi - b), h = 1 right-hand, -1 left,
        skew = skew0 - (w/2)/r2 sin(phi - b), plus the difference of both flanks' pitch errors.
    Inputs: mesh; stand; errors; table_angle phi [rad, (n,)]; worm_angle psi [rad, (m,)]; radius r2
        [mm]; backlash where the pair fits [mm].
    Outputs: backlash at r2 [mm, (n, m)].
    Valid for: errors small against the module. Raises: ValueError for a radius not above zero.
    """
    if not radius > 0:
        raise ValueError(f"round the wheel: expected a pitch radius above zero, got {radius}")
    (ex, ey), (vx, vy) = errors.wheel, errors.worm
    phi, psi = np.meshgrid(table_angle, worm_angle, indexing="ij")
    apart = ex * np.cos(phi) + ey * np.sin(phi) + vx * np.cos(psi) + vy * np.sin(psi)
    hand = 1.0 if errors.right_hand else -1.0
    aside = hand * (vx * np.sin(psi) - vy * np.cos(psi))
    swing = errors.wobble / 2
    change = mesh.backlash_change(
        da=stand.da + apart,
        dz=stand.dz + aside - swing * np.cos(phi - errors.wobble_at),
        skew=stand.skew - swing / radius * np.sin(phi - errors.wobble_at),
    )
    result: Array = backlash + np.asarray(change) + _spaces(errors, phi)
    return result


def _spaces(errors: TurnErrors, phi: Array) -> Array | float:
    """How much wider than drawn the tooth space at the worm is."""
    if errors.plus is None or errors.minus is None:
        return 0.0
    teeth = len(errors.plus)
    space = np.round(phi / (2 * math.pi / teeth)).astype(np.intp) % teeth
    wider: Array = (errors.plus - errors.minus)[space]
    return wider


def round_the_wheel(
    quick: MeshModel,
    exact: MeshModel,
    *,
    stand: Stand,
    errors: TurnErrors,
    radius: float,
    backlash: float = 0.0,
    table: int = 72,
    worm: int = 8,
) -> RoundTheWheel:
    """Backlash round the wheel: a quick mesh everywhere, the exact one where it is tightest.

    Source: derived. Formula: as `backlash_map`; the exact mesh replaces the quick one at the
        tightest place, and the whole map is moved by what they differ there.
    Inputs: two meshes (or twice the same); stand; errors; radius r2 [mm]; backlash where the pair
        fits [mm]; numbers of table and worm angles.
    Outputs: RoundTheWheel [mm at r2]. Valid for: as `backlash_map`. Raises: as `backlash_map`.
    """
    phi, psi = even_turn(table), even_turn(worm)

    def over(mesh: MeshModel, at: Array, turned: Array) -> Array:
        return backlash_map(
            mesh,
            stand=stand,
            errors=errors,
            table_angle=at,
            worm_angle=turned,
            radius=radius,
            backlash=backlash,
        )

    seen = over(quick, phi, psi)
    i, j = np.unravel_index(np.argmin(seen), seen.shape)
    tight = float(over(exact, phi[i : i + 1], psi[j : j + 1])[0, 0])
    seen = seen + (tight - seen[i, j])
    return RoundTheWheel(
        table_angle=phi,
        least=seen.min(axis=1),
        mean=seen.mean(axis=1),
        most=seen.max(axis=1),
        tight=tight,
        tight_table=float(phi[i]),
        tight_worm=float(psi[j]),
        average=float(seen.mean()),
    )


def closing_to_least(
    quick: MeshModel,
    exact: MeshModel,
    *,
    stand: Stand,
    errors: TurnErrors,
    radius: float,
    least: float,
    backlash: float = 0.0,
) -> tuple[float, RoundTheWheel]:
    """Closing that brings the tightest place to the least play wanted, and the turn after it.

    Source: derived: the tightest place moves with depth on a throated wheel, so it is looked for
        anew each time. Formula: root of tight(closing) = least by secant, from 2t-like slopes.
    Inputs: as `round_the_wheel`; least play wanted [mm at r2].
    Outputs: closing [mm, below zero when the worm must go apart], RoundTheWheel after it.
    Valid for: a place in reach of the meshes. Raises: ValueError when no depth gives it.
    """

    def turn(closing: float) -> RoundTheWheel:
        moved = Stand(da=stand.da - closing, dz=stand.dz, skew=stand.skew)
        return round_the_wheel(
            quick, exact, stand=moved, errors=errors, radius=radius, backlash=backlash
        )

    first, before = 0.0, turn(0.0)
    step = 0.01 if before.tight > least else -0.01
    second, after = step, turn(step)
    for _ in range(12):
        if abs(after.tight - least) < 1e-6:
            return second, after
        slope = (after.tight - before.tight) / (second - first)
        if not slope < 0:
            break
        first, before = second, after
        second = second + (least - after.tight) / slope
        after = turn(second)
    raise ValueError(
        f"round the wheel: no depth gives a least play of {least:.4g} mm; "
        "look whether the worm stands sideways or skewed"
    )
