"""Corrections, the plans made of them, and what each plan is expected to give."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from wormwright.job.pair import WheelKind
from wormwright.job.result import Doubt, Estimate

if TYPE_CHECKING:  # the parts are many, and a job file that names corrections needs none
    from wormwright.job.pair import WormPair
    from wormwright.job.parts import Part

CORRECTIONS: Mapping[str, str] = MappingProxyType(
    {
        "table_shim": "table shim",
        "wheel_joint": "wheel joint",
        "wheel_truing": "wheel truing",
        "journal_bush": "journal bushes",
        "worm_shim": "worm shim",
        "relief": "relief",
        "bushings": "bushings",
        "setting": "setting",
        "centre_shim": "centre shim",
        "wheel_centring": "wheel centring",
        "coupling": "coupling",
        "clamp": "clamp",
        "bias_weight": "bias weight",
        "friction_brake": "friction brake",
        "adapter": "adapter",
        "approach": "approach",
    }
)
"""Every correction by its key, in the order of work, with its short name."""

CHANGE_OF_USE = frozenset(("clamp", "bias_weight", "friction_brake", "approach"))
"""Corrections that alter how the axis is used: never taken unless the machinist asks for them."""


@dataclass(frozen=True, slots=True)
class Correction:
    """One thing to do. `key` is one of `CORRECTIONS`; the order of work says what each needs.

    `sizes` are labelled figures with tolerance; `steps` the set-up in the words of the bench. The
    steps belong to the first of `operations`, unless `step_operations` names one for each step.
    `checked` are figures that were looked at on the way and need no making: loads, fits, floats.
    """

    key: str
    label: str
    why: str
    sizes: tuple[tuple[str, Estimate], ...]
    parts: tuple[Part, ...]
    steps: tuple[str, ...]
    operations: tuple[str, ...]
    minutes: float
    doubts: tuple[Doubt, ...] = ()
    step_operations: tuple[str, ...] = ()
    checked: tuple[tuple[str, Estimate], ...] = ()


@dataclass(frozen=True, slots=True)
class CauseLeft:
    """One cause of lost motion as found and as a plan should leave it, rad at the table."""

    key: str
    label: str
    found: Estimate
    left: Estimate


@dataclass(frozen=True, slots=True)
class Plan:
    """A set of corrections with the lost motion it should leave, in rad at the table.

    `parts_left` is what is left of each cause, on the average round the turn. `cost` is in the
    machinist's own currency, None when no costs were typed.
    """

    key: str
    label: str
    corrections: tuple[Correction, ...]
    tight: Estimate
    mean: Estimate
    loose: Estimate
    tip_clearance: Estimate | None
    p_meets_duty: float
    p_jam: float
    minutes: float
    offered: bool
    reason: str
    doubts: tuple[Doubt, ...] = ()
    parts_left: tuple[CauseLeft, ...] = ()
    cost: float | None = None


@dataclass(frozen=True, slots=True)
class Bought:
    """What one step of the taken plan takes off of what the duty feels, rad at the table.

    `causes` are the causes it lessens with the rad it takes off each, mean round the turn.
    """

    keys: tuple[str, ...]
    label: str
    minutes: float
    cost: float | None
    taken_off: float
    causes: tuple[tuple[str, float], ...]


@dataclass(frozen=True, slots=True)
class ErrorShare:
    """One doubt behind the taken plan and its share (0..1) of the variance of the result."""

    key: str
    label: str
    share: float


@dataclass(frozen=True, slots=True)
class SettingRow:
    """One row of the setting chart: bushing angle (rad, from pointing at the wheel), lengths mm."""

    angle: float
    closing: float
    sideways: float
    backlash_hob_equal: float
    backlash_oversize: float
    backlash_helical: float
    tip_clearance: float | None
    indicator_a: float
    indicator_b: float
    false_tight: bool


@dataclass(frozen=True, slots=True)
class FalseTight:
    """Where on the circle the mesh shuts by standing sideways, though it is not deep enough.

    `toward` is the end of the table axis the throw leans to; `first` and `last` [rad from pointing
    at the wheel] bound the place, `short` [mm] is the closing still missing at `first`. `model`
    says which mesh model gave it; `frees` whether the mesh opens again nearer to the wheel.
    """

    kind: WheelKind
    toward: str
    first: float
    last: float
    short: float
    model: str
    frees: bool


@dataclass(frozen=True, slots=True)
class MeshCompared:
    """Backlash that the planned move takes away for one wheel kind, by three models [mm at r2].

    `exact` is None where the pair of that kind cannot be. `off` is the most that the closed form
    was found off the exact mesh wherever this unit may stand; `used` says which of them counts.
    """

    kind: WheelKind
    belief: float
    textbook: float
    closed_form: float
    exact: float | None
    off: float | None
    used: str


@dataclass(frozen=True, slots=True)
class ClosingPicture:
    """The plane (sideways, closing) in mm: the circle of throw e, contours, box and blob."""

    throw: float
    closing: Estimate
    sideways_to_throat: Estimate
    sideways_tolerance: tuple[tuple[str, float], ...]
    tip_limit_closing: float | None
    fit_clearance: float
    grid_sideways: NDArray[np.float64]
    grid_closing: NDArray[np.float64]
    contours: tuple[tuple[str, NDArray[np.float64]], ...]
    chosen_angle: float


@dataclass(frozen=True, slots=True)
class WormPlace:
    """Where the worm stands, from where its wheel was cut: as found, and as the plan leaves it, mm.

    `found` and `left` count apart above zero; `sideways` is how far off the wheel's middle it is
    left. `backlash` is the mean of the mesh as found, `to_set` what the plan sets at the tight
    spot, at r2; None where it sets nothing. `wheel` and `worm` are eccentricities as vectors
    against table and worm angle, each holding the mesh open most at its own angle; `wheel_left`
    the wheel's after the plan. `tight` is the tight spot as found, None where it is not known.
    """

    pair: WormPair
    found: float
    left: float
    sideways: float
    backlash: float
    to_set: float | None = None
    wheel: tuple[float, float] = (0.0, 0.0)
    wheel_left: tuple[float, float] = (0.0, 0.0)
    worm: tuple[float, float] = (0.0, 0.0)
    tight: Estimate | None = None


@dataclass(frozen=True, slots=True)
class Remedy:
    """What `correct` hands back: all plans by effort, the chosen one, charts for the bench.

    `advice` are answers that need no metal: approach from one side, clamp, bias weight. `meshes`
    holds the mesh models against each other at the planned move.
    """

    plans: tuple[Plan, ...]
    chosen: Plan | None
    strategy: str
    strategy_reason: str
    rejected_strategies: tuple[tuple[str, str], ...]
    closing: Estimate | None
    setting_chart: tuple[SettingRow, ...]
    picture: ClosingPicture | None
    allowed_lost_motion: float
    limits_it: tuple[str, ...]
    not_measured: tuple[str, ...]
    doubts: tuple[Doubt, ...]
    draws: int
    advice: tuple[str, ...] = ()
    worm_outside: float | None = None
    lost_motion_found: Estimate | None = None
    buys: tuple[Bought, ...] = ()
    error_shares: tuple[ErrorShare, ...] = ()
    stands: WormPlace | None = None
    meshes: tuple[MeshCompared, ...] = ()
    false_tight: tuple[FalseTight, ...] = ()
