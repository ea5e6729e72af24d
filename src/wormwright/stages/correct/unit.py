"""The unit as it may really be: one row for each equally likely state of what cannot be seen."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from wormwright.core.backlash import MeshModel
from wormwright.core.lost_motion import held_worm_locks
from wormwright.job.findings import Posterior
from wormwright.job.pair import WormPair
from wormwright.stages.correct.meshes import (
    LEAST_EXCESS,
    Meshes,
    meshes_of,
    most_excess,
    reach_for,
)

Array = NDArray[np.float64]

FEWEST_ROWS = 8192
"""Rows made from the posterior, so that wheel kind and opening share are well mixed over it."""

GOLDEN = (math.sqrt(5) - 1) / 2
HALVINGS = 34
"""Steps that bring a reach of some mm down to less than a millionth of one."""
MOST_SEEN = 0.999
"""Share of the rows for whose backlash the exact mesh is worked out."""


@dataclass(frozen=True, slots=True)
class UnitRows:
    """Plays as they add up at r2, runouts and mesh, one value a row, mm.

    `parts` holds end_play, worm_float, table_radial, table_axial, wheel_joint, drive as
    circumferential motion at r2. `opened` is how far the worm stands from where the wheel was cut,
    `hidden_at_edge` the backlash that a wheel off the worm's middle hides until its edges wear.
    """

    pair: WormPair
    mesh: Array
    parts: dict[str, Array]
    worm_share: Array
    table_share: Array
    table_radial: Array
    table_axial: Array
    wheel_swing: Array
    worm_swing: Array
    runout: Array
    model: MeshModel
    meshes: Meshes
    opened: Array
    hidden_at_edge: Array | float = 0.0

    @property
    def count(self) -> int:
        """Number of rows."""
        return len(self.mesh)

    @property
    def swing(self) -> Array:
        """From the tightest place of the turn to the mean, mm at r2."""
        return self.wheel_swing + self.worm_swing

    @property
    def mesh_tight(self) -> Array:
        """Backlash at the tight spot as found, mm at r2."""
        return np.maximum(self.mesh - self.swing, 0.0)


def axial_coefficient(pair: WormPair) -> float:
    """Lost motion at r2 per mm of table axial play: none while friction locks the held worm."""
    locked = held_worm_locks(tan_lead=pair.g, pressure_angle=pair.pressure_angle)
    return 0.0 if locked else 0.5 * pair.g


def unit_rows(pair: WormPair, posterior: Posterior, *, centre_distance: float) -> UnitRows:
    """Rows of the posterior, each with a wheel kind and a share of the play that is opening.

    Kinds follow their beliefs, hob excess and share are spread evenly; all by fixed irrational
    steps, so that the same posterior always gives the same rows.
    """
    n = len(posterior.draws)
    repeat = -(-FEWEST_ROWS // n)
    draws = np.tile(posterior.draws, (repeat, 1))
    named = Posterior(draws, posterior.seed)
    count = len(draws)
    index = np.arange(count)
    mesh = named.of("mesh")
    reach = reach_for(pair, float(np.quantile(posterior.of("mesh"), MOST_SEEN)))
    meshes = meshes_of(pair, centre_distance, reach)
    model = meshes.of_rows(*_wheel_kinds(pair, index))
    share = (index * math.sqrt(2) + 0.5 / count) % 1.0
    opened = opening_that_gives(model, share * mesh, np.zeros(count))
    wheel = np.hypot(named.of("wheel_x"), named.of("wheel_y"))
    worm = np.hypot(named.of("worm_x"), named.of("worm_y"))
    worm_share, table_share = named.of("worm_share"), named.of("table_share")
    axial = named.of("table_axial")
    parts = {
        "end_play": named.of("end_play"),
        "worm_float": named.of("worm_float") * worm_share,
        "table_radial": named.of("table_radial") * table_share,
        "table_axial": axial * axial_coefficient(pair),
        "wheel_joint": named.of("wheel_joint"),
        "drive": named.of("drive"),
    }
    return UnitRows(
        pair=pair,
        mesh=mesh,
        parts=parts,
        worm_share=worm_share,
        table_share=table_share,
        table_radial=named.of("table_radial"),
        table_axial=axial,
        wheel_swing=2 * pair.t * wheel,
        worm_swing=2 * pair.t * worm,
        runout=wheel + worm,
        model=model,
        meshes=meshes,
        opened=opened,
    )


def _wheel_kinds(pair: WormPair, index: NDArray[np.intp]) -> tuple[Array, Array]:
    """Sine of the half face and hob excess of each row, kinds mixed by their beliefs."""
    belief = dict(pair.kinds)
    place = ((index + 0.5) * GOLDEN) % 1.0
    equal = belief.get("hob-equal", 0.0)
    oversize = belief.get("oversize-hob", 0.0)
    is_equal = place < equal
    is_oversize = ~is_equal & (place < equal + oversize)
    low = LEAST_EXCESS * pair.r1
    high = most_excess(pair)
    spread = ((index + 0.5) * math.sqrt(3)) % 1.0
    excess = np.where(is_oversize, low + (high - low) * spread, 0.0)
    sine = np.minimum(pair.sin_face, pair.sin_face * pair.r1 / (pair.r1 + excess))
    return np.where(is_equal | is_oversize, sine, 0.0), excess


def opening_that_gives(model: MeshModel, change: Array, sideways: Array) -> Array:
    """How far apart the worm must stand for a wanted backlash change, by halving, mm."""

    def backlash(da: Array) -> Array:
        return np.asarray(model.backlash_change(da=da, dz=sideways))

    return root_of(backlash, change, reach=3.0)


def half_opened(unit: UnitRows, kind: str) -> float:
    """Opening of that wheel kind when half of the mean play is opening, mm."""
    half = np.array([float(np.mean(unit.mesh)) / 2])
    return float(opening_that_gives(unit.meshes.of(kind), half, np.zeros(1))[0])


def closing_that_gives(unit: UnitRows, backlash: Array | float) -> Array:
    """Closing from the found place that brings the tight spot to a wanted backlash, mm."""
    zero = np.zeros(unit.count)
    found = np.asarray(unit.model.backlash_change(da=unit.opened, dz=zero))
    wanted = found - (unit.mesh - unit.swing - backlash)
    result: Array = unit.opened - opening_that_gives(unit.model, wanted, zero)
    return result


def root_of(rising: Callable[[Array], Array], wanted: Array, *, reach: float) -> Array:
    """Where a rising function takes the wanted value in each row, by halving within ± reach."""
    low, high = np.full(wanted.shape, -reach), np.full(wanted.shape, reach)
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        below = rising(middle) < wanted
        low = np.where(below, middle, low)
        high = np.where(below, high, middle)
    result: Array = (low + high) / 2
    return result


def bedding_loss(unit: UnitRows, closing: Array, sideways: Array) -> Array:
    """Backlash that comes back when flanks that shut at their edges have bedded in, mm at r2."""
    at = unit.opened - closing
    centred = np.asarray(unit.model.backlash_change(da=at))
    aside = np.asarray(unit.model.backlash_change(da=at, dz=sideways))
    result: Array = np.maximum(centred - aside, 0.0)
    return result
