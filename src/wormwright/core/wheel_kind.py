"""Which kind of wheel it is, told by how the rock falls as the worm is set to known closings."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from wormwright.core.backlash import (
    ClosedFormMesh,
    Floats,
    sine_of_half_face,
    slope_of_opening,
)

Array = NDArray[np.float64]

DEVIATIONS = np.linspace(-2.5, 2.5, 61)
"""Places of the pressure angle within its doubt [standard deviations]."""
SHARES, EXCESSES = np.linspace(0.02, 1.0, 25), 5
FEWEST_SETTINGS = 3


@dataclass(frozen=True, slots=True)
class KindBelief:
    """Probability of each kind after the settings; slope of rock against closing, both at r2.

    `expected` is the slope [mm/mm] that each kind would show where the worm stands open.
    """

    kinds: Mapping[str, float]
    slope: float
    slope_u: float
    expected: Mapping[str, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """Rocks at known closings: lengths at r2 [mm], counted closer from the first place."""

    closing: Array
    rock: Array
    rock_u: Array
    closing_u: float

    def __post_init__(self) -> None:
        """Refuse too few settings, and settings that lie all together."""
        if len(self.closing) < FEWEST_SETTINGS or np.ptp(self.closing) <= 0:
            raise ValueError(
                f"settings: expected a rock at {FEWEST_SETTINGS} closings or more, got "
                f"{len(self.closing)}; read one more between the two ends"
            )
        if not (np.all(self.rock_u > 0) and self.closing_u >= 0):
            raise ValueError("settings: expected uncertainties above zero")


@dataclass(frozen=True, slots=True, kw_only=True)
class KnownPair:
    """What is known of the pair: axial pressure angle [rad] with its u, tan(lead), r1, face [mm].

    `excess` is the least and the most believable radius excess of an oversize hob [mm].
    """

    angle: float
    angle_u: float
    g: float
    r1: float
    face: float
    excess: tuple[float, float]


def belief_after_settings(
    settings: Settings, pair: KnownPair, *, before: Mapping[str, float]
) -> KindBelief:
    """Probability of each wheel kind from the slope of rock against known closings.

    Source: Bayes' rule over the closed forms of the mesh (docs/explanation/mesh-closed-forms.md).
    Formula: P(kind) ~ before * mean over pressure angle, hob excess and opening of
        exp(-chi²/2), chi² = sum w (rock + lost(closing) - level)², level free,
        w = 1 / (u_rock² + (2 t u_closing)²); lost from the closed form of the kind.
    Inputs: settings, pair, belief before by kind (hob-equal, oversize-hob, helical; sums to 1).
    Outputs: KindBelief.
    Valid for: a worm moved without going sideways, at one place of wheel and worm, same pin and
        push; the opening at the first place is taken as anything up to all of the rock.
    Raises: ValueError for too few settings.

    >>> c = np.array([0.0, 0.05, 0.10])
    >>> told = belief_after_settings(
    ...     Settings(closing=c, rock=0.2 - 0.52 * c, rock_u=np.full(3, 0.001), closing_u=0.0),
    ...     KnownPair(angle=0.349, angle_u=0.002, g=0.06, r1=12.0, face=14.0, excess=(0.12, 0.6)),
    ...     before={"hob-equal": 0.3, "oversize-hob": 0.4, "helical": 0.3})
    >>> max(told.kinds, key=lambda kind: told.kinds[kind])
    'hob-equal'
    """
    t = math.tan(pair.angle)
    weight = 1.0 / (settings.rock_u**2 + (2 * t * settings.closing_u) ** 2)
    spread = settings.closing - np.average(settings.closing, weights=weight)
    size = float(np.sum(weight * spread**2))
    slope = -float(np.sum(weight * spread * settings.rock)) / size
    likely = {
        kind: p * _likelihood(kind, settings, pair, weight) for kind, p in before.items() if p > 0
    }
    whole = sum(likely.values())
    kinds = {kind: p / whole for kind, p in likely.items()} if whole > 0 else dict(before)
    sine = float(np.asarray(sine_of_half_face(face=pair.face, r1=pair.r1)))
    edge = slope_of_opening(t=t, g=pair.g, sin_face=sine, hob_excess=0.0)
    expected = {kind: edge if kind == "hob-equal" else 2 * t for kind in before}
    return KindBelief(kinds, slope, 1 / math.sqrt(size), expected)


def _likelihood(kind: str, settings: Settings, pair: KnownPair, weight: Array) -> float:
    """Mean likelihood of the rocks over what is not known of a wheel of that kind."""
    excess = np.linspace(*pair.excess, EXCESSES) if kind == "oversize-hob" else np.zeros(1)
    angles = np.clip(pair.angle + pair.angle_u * DEVIATIONS, math.radians(5), math.radians(45))
    total = [
        np.mean(
            [
                np.exp(-_misfit(kind, settings, pair, weight, t=math.tan(a), excess=float(d)) / 2)
                for d in excess
            ]
        )
        for a in angles
    ]
    return float(np.average(total, weights=np.exp(-(DEVIATIONS**2) / 2)))


def _misfit(
    kind: str, settings: Settings, pair: KnownPair, weight: Array, *, t: float, excess: float
) -> Array:
    """Chi-square for each opening at the first place, the level of the rocks left free."""
    sine: Floats = 0.0
    if kind != "helical":
        sine = sine_of_half_face(face=pair.face, r1=pair.r1, hob_excess=excess)
    mesh = ClosedFormMesh(t, pair.g, pair.r1, 0.0, sine, excess)
    slope = slope_of_opening(t=t, g=pair.g, sin_face=float(np.asarray(sine)), hob_excess=excess)
    opened = SHARES * float(settings.rock.max()) / max(slope, t)
    at = opened[:, None] - settings.closing[None, :]
    rest = settings.rock - np.asarray(mesh.backlash_change(da=at))
    level = np.average(rest, axis=1, weights=weight)
    chi: Array = np.sum(weight * (rest - level[:, None]) ** 2, axis=1)
    return chi
