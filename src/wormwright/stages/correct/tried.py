"""A setting tried on paper: any throw, angle, bearing and shim, and what they would give."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from wormwright.bench import Bench
from wormwright.core.eccentric import closing_and_sideways, least_wall, walls_of_bushing
from wormwright.core.flank import Place
from wormwright.core.shim import float_after_shim
from wormwright.job.findings import Diagnosis
from wormwright.job.reading import Reading
from wormwright.job.result import Estimate
from wormwright.job.rotary import Job
from wormwright.stages.correct.bushing import FIT_CLEARANCE, THROW_TOLERANCE
from wormwright.stages.correct.choice import Choice
from wormwright.stages.correct.facts import SIDES, Facts, facts_of
from wormwright.stages.correct.judge import MOST_JAM, yardstick_of
from wormwright.stages.correct.predict import Change, DepthSet, Left, outcome_of_plan
from wormwright.stages.correct.rings import SHIM_TOLERANCE
from wormwright.stages.correct.unit import Array, bedding_loss, unit_rows
from wormwright.stages.correct.warm import WORM_PHASE_U, warm_mesh

DRAWS = 16384
"""Enough for whole per cents, and quick enough to follow a finger."""

LARGEST_THROW = 3.0
SQUEEZED = 0.001
"""What a squeezed pair of bearings still gives, mm."""


@dataclass(frozen=True, slots=True)
class Trial:
    """What is tried: throw and shim thicknesses in mm, angles in rad.

    `angle` is the bushing's, from pointing at the wheel; `wheel_shift` how far the wheel is shimmed
    along the table axis; `relief` what is turned off the worm, on the radius. None leaves a shim as
    it is in place, and the walls untold.
    """

    throw: float
    angle: float
    wheel_shift: float = 0.0
    bearing_outside: float | None = None
    worm_shim: float | None = None
    table_shim: float | None = None
    relief: float = 0.0

    def __post_init__(self) -> None:
        """Refuse what no bushing can be."""
        if not 0 <= self.throw <= LARGEST_THROW:
            raise ValueError(f"throw: expected 0 to {LARGEST_THROW} mm, got {self.throw}")
        if not (math.isfinite(self.angle) and abs(self.angle) <= math.pi):
            raise ValueError(f"angle: expected -180 to 180 degrees, got {self.angle} rad")


@dataclass(frozen=True, slots=True)
class WallTried:
    """The thin and thick wall at one end, mm, and the least that is worth turning."""

    side: str
    thin: float
    thick: float
    least: float


@dataclass(frozen=True, slots=True)
class Tried:
    """What a trial would give; lost motion in rad at the table, lengths in mm.

    `backlash` is the flanks' at the tight spot; below zero the mesh is shut. `says` are the reasons
    not to do it.
    """

    closing: float
    sideways: float
    off_centre: float
    walls: tuple[WallTried, ...]
    backlash: Estimate
    tight: Estimate
    mean: Estimate
    loose: Estimate
    tip_clearance: Estimate | None
    p_meets_duty: float
    p_jam: float
    says: tuple[str, ...]


class TrialBench:
    """One unit laid out for trials: everything that no trial changes is reckoned once."""

    def __init__(self, job: Job, readings: Sequence[Reading], diagnosis: Diagnosis) -> None:
        bench = Bench(job, tuple(readings))
        self.facts = facts_of(job, bench, diagnosis)
        self.unit = unit_rows(
            diagnosis.pair, diagnosis.posterior, centre_distance=self.facts.centre_distance
        )
        self.warm = warm_mesh(self.facts, bench)
        self.tight = self.unit.mesh - self.unit.swing
        self.before = np.asarray(self.unit.model.backlash_change(da=self.unit.opened))

    def tried(self, trial: Trial) -> Tried:
        """What the trial would give.

        Raises:
            ValueError: a shim is given whose arrangement or play has not been read.
        """
        closing, sideways = _moved(trial)
        off = sideways - trial.wheel_shift
        as_found = trial.throw == 0 and trial.wheel_shift == 0
        mesh = self._backlash(closing, off)
        plays = _plays_left(self.facts, trial)
        depth = None if as_found else self._set(mesh, closing, off)
        change = Change(plays, depth, trial.relief)
        outcome = outcome_of_plan(
            self.unit,
            change,
            yardstick_of(self.facts, self.unit, self.warm, Choice()),
            draws=DRAWS,
            seed=self.facts.job.seed,
        )
        walls = _walls(self.facts, trial)
        return Tried(
            closing=closing,
            sideways=sideways,
            off_centre=off,
            walls=walls,
            backlash=_spread(mesh),
            tight=outcome.tight,
            mean=outcome.mean,
            loose=outcome.loose,
            tip_clearance=outcome.tip_clearance,
            p_meets_duty=outcome.p_meets_duty,
            p_jam=outcome.p_jam,
            says=_says(walls, outcome.p_jam, outcome.tip_clearance, plays),
        )

    def stands(self, trial: Trial) -> Place:
        """Where the worm would stand, from where its wheel was cut."""
        closing, sideways = _moved(trial)
        apart = float(self.unit.opened.mean()) - closing
        return Place(da=apart, dz=sideways - trial.wheel_shift)

    def _backlash(self, closing: float, off: float) -> Array:
        """Backlash at the tight spot, mm at r2, one value a row; below zero is shut."""
        dz = np.full(self.unit.count, off)
        after = np.asarray(self.unit.model.backlash_change(da=self.unit.opened - closing, dz=dz))
        result: Array = self.tight + after - self.before
        return result

    def _set(self, mesh: Array, closing: float, off: float) -> DepthSet:
        """The mesh as it stands after the trial: no reading sets it, the throw's error does."""
        n = self.unit.count
        by = np.full(n, closing)
        t2 = 2 * self.unit.pair.t
        return DepthSet(
            target=0.0,
            u_set=t2 * THROW_TOLERANCE / math.sqrt(3),
            u_lock=t2 * FIT_CLEARANCE / 2 / math.sqrt(3),
            u_phase=WORM_PHASE_U,
            u_pitch=0.0,
            short=mesh,
            bedding=bedding_loss(self.unit, by, np.full(n, off)),
            hidden=np.zeros(n),
            closing=by,
        )


def _moved(trial: Trial) -> tuple[float, float]:
    """Closing and sideways shift of the worm; none without a throw."""
    if trial.throw == 0:
        return 0.0, 0.0
    closing, sideways = closing_and_sideways(throw=trial.throw, angle=trial.angle)
    return float(closing), float(sideways)


def _plays_left(facts: Facts, trial: Trial) -> dict[str, Left]:
    """What the shims on hand leave of the plays that they act on."""
    left: dict[str, Left] = {}
    for name, play, shim, now, gap, how in (
        (
            "worm",
            "end_play",
            trial.worm_shim,
            facts.worm_shim,
            facts.end_play,
            facts.worm_arrangement,
        ),
        (
            "table",
            "table_axial",
            trial.table_shim,
            facts.table_shim,
            facts.table_axial,
            facts.table_arrangement,
        ),
    ):
        if shim is None:
            continue
        if now is None or gap is None or how is None:
            raise ValueError(
                f"{name} shim: expected the shim in place, its arrangement and the play to be "
                "read, not all of them are; read them first"
            )
        rest = float_after_shim(gap=gap.value, change=shim - now.value, arrangement=how)
        u = math.hypot(gap.u, now.u, SHIM_TOLERANCE / math.sqrt(3))
        left[play] = Left(rest, u) if rest > 0 else Left(0.0, SQUEEZED)
        if play == "end_play" and rest <= 0:
            left["worm_float"] = Left(0.0, SQUEEZED)
    return left


def _walls(facts: Facts, trial: Trial) -> tuple[WallTried, ...]:
    walls = []
    for side, end in zip(SIDES, facts.ends, strict=True):
        housing = end.housing
        seat = trial.bearing_outside
        if housing is None or seat is None or not 0 < seat < housing:
            continue
        both = walls_of_bushing(outside=housing, bore=seat, throw=trial.throw)
        walls.append(WallTried(side, both.thin, both.thick, least_wall(outside=housing)))
    return tuple(walls)


def _spread(rows: Array) -> Estimate:
    low, high = (float(x) for x in np.quantile(rows, (0.025, 0.975)))
    return Estimate(float(rows.mean()), float(rows.std()), low, high, "length", "rows of the unit")


def _says(
    walls: tuple[WallTried, ...],
    p_jam: float,
    tips: Estimate | None,
    plays: dict[str, Left],
) -> tuple[str, ...]:
    says = [
        f"End {w.side}: the thin wall is below what is worth turning."
        for w in walls
        if w.thin < w.least
    ]
    if p_jam > MOST_JAM:
        says.append("The mesh would bind too often: such a setting is not offered.")
    if tips is not None and tips.low < 0:
        says.append("The worm crest may meet the wheel root.")
    if "end_play" not in plays:
        says.append("Worm end play is left as found; it comes first, before the mesh is closed.")
    return tuple(says)
