"""What a plan should leave: draws over the unit's unseen state and the errors of making."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from wormwright.core.monte_carlo import BLOCK, monte_carlo
from wormwright.job.result import Estimate
from wormwright.quantities import Dimension
from wormwright.stages.correct.unit import Array, UnitRows

NORMALS = 13
OUTPUTS = 6
_END, _FLOAT, _AXIAL, _RADIAL, _SET, _LOCK, _PHASE, _WARM, _PITCH, _TIP = range(10)
_RELIEF, _JOINT, _DRIVE = range(10, NORMALS)
"""Which standard normal stands for which error: the same in every plan, so that plans compare."""

_TIGHT, _MEAN, _LOOSE, _TIPS, DUTY, _MARGIN = range(OUTPUTS)


@dataclass(frozen=True, slots=True)
class Left:
    """A play that a correction leaves: mean and standard deviation, mm; folded at zero."""

    mean: float
    sd: float


@dataclass(frozen=True, slots=True)
class DepthSet:
    """A mesh set anew at the tight spot by reading the rock.

    Rows (one a state of the unit): `short` the backlash above target where the stroke ends,
    `bedding` what comes back as edges bed in, `hidden` the plays in the rock that are not known,
    `closing` the closing it takes. The rest are errors of setting, mm at r2 (phase: rad).
    """

    target: float
    u_set: float
    u_lock: float
    u_phase: float
    u_pitch: float
    short: Array
    bedding: Array
    hidden: Array
    closing: Array


@dataclass(frozen=True, slots=True)
class Change:
    """All that a plan changes. `plays` by name, each replaced by what the correction leaves."""

    plays: dict[str, Left] = field(default_factory=dict)
    depth: DepthSet | None = None
    relief: float = 0.0


@dataclass(frozen=True, slots=True)
class Yardstick:
    """How a plan is judged: weights of the parts by the duty, allowed rad, warm play, tip reading.

    `counts` names the parts that the duty feels; `table_only` is what it feels when the worm chain
    does not matter, rad, one value a row.
    """

    allowed: float
    counts: frozenset[str]
    apart: Array | None
    warm_closes: float
    warm_opens: float
    warm_u: float
    tip: float | None
    tip_u: float


@dataclass(frozen=True, slots=True)
class Outcome:
    """Predicted lost motion, rad at the table, tip clearance, mm, and the two probabilities.

    `felt` is the mean of what the duty feels at the loosest place, rad.
    """

    tight: Estimate
    mean: Estimate
    loose: Estimate
    tip_clearance: Estimate | None
    p_meets_duty: float
    p_jam: float
    draws: int
    felt: float


_ON = {
    "end_play": _END,
    "worm_float": _FLOAT,
    "table_axial": _AXIAL,
    "table_radial": _RADIAL,
    "wheel_joint": _JOINT,
    "drive": _DRIVE,
}


def normals_of(change: Change) -> dict[str, int]:
    """Which normal stands for each error that the change can make, by the name of the error."""
    found = {name: _ON[name] for name, left in change.plays.items() if left.sd > 0}
    if change.depth is not None:
        found |= {"setting": _SET, "locking": _LOCK, "worm angle": _PHASE, "pitch": _PITCH}
    return found | {"warm": _WARM}


class PlanModel:
    """The model of one plan: rows prepared once, then a few operations a draw."""

    def __init__(self, unit: UnitRows, change: Change, yardstick: Yardstick) -> None:
        self.unit, self.change, self.by = unit, change, yardstick
        kept = [p for p in unit.parts if p not in change.plays]
        felt = [p for p in kept if p in yardstick.counts]
        nothing = np.zeros(unit.count)
        self.rest = rolled(sum((unit.parts[p] for p in kept), nothing))
        self.rest_felt = rolled(sum((unit.parts[p] for p in felt), nothing))
        self.swing = rolled(unit.swing)
        self.apart = None if yardstick.apart is None else rolled(yardstick.apart)
        self.share = {
            "worm_float": rolled(unit.worm_share),
            "table_radial": rolled(unit.table_share),
        }
        depth = change.depth
        if depth is None:
            self.mesh = rolled(unit.mesh_tight)
            self.bedding = rolled(unit.mesh - unit.swing - unit.mesh_tight + unit.hidden_at_edge)
            closing = nothing
        else:
            self.mesh = rolled(depth.target + depth.short - depth.hidden)
            self.bedding = rolled(depth.bedding)
            self.phase = rolled(-unit.worm_swing * (depth.u_phase**2 / 2))
            closing = depth.closing
        self.tips = rolled((yardstick.tip or 0.0) - unit.runout - closing + change.relief)

    def rows(self, start: int, z: Array) -> slice:
        """The rows that a block of draws stands on: draw i on row i modulo the number of rows."""
        at = start % self.unit.count
        return slice(at, at + z.shape[1])

    def __call__(self, start: int, z: Array) -> Array:
        """Outputs of one block of draws."""
        rows = self.rows(start, z)
        out: Array = np.empty((OUTPUTS, z.shape[1]))
        mesh, moved = self.mesh_set(rows, z, out)
        rest, felt = self._plays(rows, z)
        swing, r2 = self.swing[rows], self.unit.pair.r2
        tight, mean, loose, tips, duty, margin = out
        warm = z[_WARM]
        warm *= self.by.warm_u
        np.minimum(warm + self.by.warm_closes, 0.0, out=margin)
        margin += mesh
        np.maximum(mesh, 0.0, out=mesh)
        np.add(mesh, rest, out=tight)
        np.add(tight, swing, out=mean)
        mean += self.bedding[rows]
        np.add(mean, swing, out=loose)
        out[:3] /= r2
        warm += self.by.warm_opens
        np.maximum(warm, 0.0, out=warm)
        mesh += warm
        self._felt(rows, duty, felt, mesh)
        np.multiply(z[_TIP], self.by.tip_u, out=tips)
        tips += self.tips[rows]
        if moved is not None:
            moved /= 2 * self.unit.pair.t
            tips += moved
        return out

    def mesh_set(self, rows: slice, z: Array, out: Array) -> tuple[Array, Array | None]:
        """Backlash at the tight spot, and how far it is from what was aimed at.

        `out` is room to work in: one row is enough.
        """
        depth = self.change.depth
        if depth is None:
            return self.mesh[rows].copy(), None
        error = z[_SET]
        error *= depth.u_set
        for normal, u in ((_LOCK, depth.u_lock), (_PITCH, depth.u_pitch)):
            np.multiply(z[normal], u, out=out[0])
            error += out[0]
        np.multiply(z[_PHASE], z[_PHASE], out=out[0])
        out[0] *= self.phase[rows]
        error += out[0]
        return error + self.mesh[rows], error

    def _plays(self, rows: slice, z: Array) -> tuple[Array, Array]:
        """All plays but the mesh, and those that the duty feels, mm at r2."""
        rest, felt = self.rest[rows], self.rest_felt[rows]
        for name in self.change.plays:
            play = self.play_left(name, rows, z)
            rest = rest + play
            felt = felt + play if name in self.by.counts else felt
        return rest, felt

    def play_left(self, name: str, rows: slice, z: Array) -> Array:
        """What a correction leaves of one play, mm at r2."""
        left = self.change.plays[name]
        play: Array = z[_ON[name]]
        play *= left.sd
        play += left.mean
        np.abs(play, out=play)
        if name in self.share:
            play *= self.share[name][rows]
        elif name == "table_axial":
            play *= axial_of(self.unit)
        return play

    def _felt(self, rows: slice, duty: Array, felt: Array, mesh: Array) -> None:
        """What the duty feels at the loosest place, rad; `mesh` is the tight spot's, warm."""
        if self.apart is not None:
            duty[:] = self.apart[rows]
            return
        duty[:] = felt
        if "mesh" in self.by.counts:
            swing = self.swing[rows]
            duty += mesh
            duty += swing
            duty += swing
            duty += self.bedding[rows]
        duty /= self.unit.pair.r2


def rolled(rows: Array) -> Array:
    """Rows followed by their own beginning, so that any block is one slice."""
    return np.concatenate([rows, np.resize(rows, BLOCK)])


def axial_of(unit: UnitRows) -> float:
    """Lost motion at r2 per mm of table axial play of this unit."""
    total = float(unit.table_axial.sum())
    return float(unit.parts["table_axial"].sum()) / total if total > 0 else 0.0


def outcome_of_plan(
    unit: UnitRows,
    change: Change,
    yardstick: Yardstick,
    *,
    draws: int,
    seed: int,
    threads: int = 1,
    chunk: int = 16 * BLOCK,
) -> Outcome:
    """Draws of one plan, boiled down to estimates and probabilities."""
    out = monte_carlo(
        PlanModel(unit, change, yardstick),
        draws=draws,
        normals=NORMALS,
        outputs=OUTPUTS,
        seed=seed,
        threads=threads,
        chunk=chunk,
    )
    p_meets = float(np.count_nonzero(out[DUTY] <= yardstick.allowed)) / draws
    jammed = np.count_nonzero(out[_MARGIN] < 0.0) if change.depth is not None else 0
    tips = None
    if yardstick.tip is not None:
        tips = estimate_of_draws(out[_TIPS], "length")
    return Outcome(
        estimate_of_draws(out[_TIGHT], "angle"),
        estimate_of_draws(out[_MEAN], "angle"),
        estimate_of_draws(out[_LOOSE], "angle"),
        tips,
        p_meets,
        float(jammed) / draws,
        draws,
        float(out[DUTY].mean()),
    )


def estimate_of_draws(values: NDArray[np.float64], dimension: Dimension) -> Estimate:
    """Mean, standard deviation and 95 % interval; sorts the draws where they lie."""
    mean, sd = float(values.mean()), float(values.std())
    values.sort()
    n = len(values)
    covered = round(0.95 * n)
    first = (n - covered + 1) // 2 - 1
    low, high = float(values[first]), float(values[first + covered])
    return Estimate(mean, sd, low, high, dimension, f"Monte Carlo, {n} draws")
