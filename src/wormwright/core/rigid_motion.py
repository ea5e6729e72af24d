"""How a table moved, from indicators set against it: turning, sideways, lift and tilt.

Frame: Z along the table axis, Y from the wheel to the worm, a place at angle beta from the worm
direction stands at R(-sin beta, cos beta). An indicator reads plus when the table comes toward it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from wormwright.core.linear_fit import linear_fit, unseparated

Array = NDArray[np.float64]
Sense = Literal["round", "outward", "up"]

MOTIONS = ("sideways x", "sideways y", "lift", "tilt about x", "tilt about y", "turning")


@dataclass(frozen=True, slots=True)
class Indicator:
    """Where an indicator touches the table and which way counts plus.

    `round`: along the rim, plus with the table angle; `outward`: on the rim; `up`: on the face.
    """

    sense: Sense
    angle: float
    radius: float
    height: float = 0.0

    def __post_init__(self) -> None:
        """Refuse a place that cannot be."""
        if not (self.radius > 0 and math.isfinite(self.angle) and math.isfinite(self.height)):
            raise ValueError(
                f"indicator at radius {self.radius}, angle {self.angle}, height {self.height}: "
                "expected a radius above zero and numbers"
            )

    @property
    def row(self) -> Array:
        """Reading per mm sideways x, y, lift and per rad tilt about x, about y, turning."""
        place = np.array(
            [
                -self.radius * math.sin(self.angle),
                self.radius * math.cos(self.angle),
                self.height,
            ]
        )
        along = {
            "round": np.array([-math.cos(self.angle), -math.sin(self.angle), 0.0]),
            "outward": np.array([-math.sin(self.angle), math.cos(self.angle), 0.0]),
            "up": np.array([0.0, 0.0, 1.0]),
        }[self.sense]
        return np.concatenate([along, np.cross(place, along)])


@dataclass(frozen=True, slots=True)
class Motion:
    """One way of moving: value and standard uncertainty, mm or rad."""

    name: str
    value: float
    u: float

    @property
    def stands_out(self) -> bool:
        """Whether it is proven not to be zero (k = 2)."""
        return abs(self.value) > 2 * self.u


def table_motion(
    indicators: Sequence[Indicator],
    readings: ArrayLike,
    *,
    u: float,
    still: Sequence[str] = (),
) -> tuple[Motion, ...]:
    """Motion of the table from indicator readings.

    Source: small motion of a rigid body, d = n·(s + w x r); least squares.
    Formula: reading_i = n_i·s + (r_i x n_i)·w, solved for (s, w).
    Inputs: indicators (n,); readings, change of each [mm, (n,)]; u of one change [mm];
        still, names out of MOTIONS that are taken as zero.
    Outputs: Motion of every way not still [mm or rad].
    Valid for: motions small against the radii, the table rigid.
    Raises: ValueError naming the motions that these indicators cannot tell apart.

    >>> rim = [Indicator("round", a, 90.0) for a in (0.0, math.pi)]
    >>> x, turn = table_motion(rim, [0.030, 0.010], u=0.001,
    ...     still=("sideways y", "lift", "tilt about x", "tilt about y"))
    >>> round(x.value, 4), round(turn.value * 90, 4)
    (-0.01, 0.02)
    """
    unknown = [name for name in still if name not in MOTIONS]
    if unknown:
        raise ValueError(f"{', '.join(unknown)}: expected names out of {', '.join(MOTIONS)}")
    kept = [i for i, name in enumerate(MOTIONS) if name not in still]
    design = np.array([indicator.row for indicator in indicators])[:, kept]
    names = [MOTIONS[i] for i in kept]
    fit = linear_fit(design, readings, u=u, names=names)
    return tuple(
        Motion(name, float(v), float(s))
        for name, v, s in zip(names, fit.values, fit.u, strict=True)
    )


def motions_not_told(indicators: Sequence[Indicator]) -> tuple[str, ...]:
    """Ways of moving that these indicators cannot see or cannot tell apart.

    Source: null space of the rows. Inputs: indicators (n,). Outputs: names out of MOTIONS.
    Valid for: one indicator or more. Raises: ValueError for none.

    >>> motions_not_told([Indicator("up", 0.0, 80.0)])[0]
    'sideways x'
    """
    if not indicators:
        raise ValueError("no indicator: expected one or more")
    return unseparated(np.array([i.row for i in indicators]), MOTIONS)
