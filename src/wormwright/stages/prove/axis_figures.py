"""What is known of the finished axis: from its proof where read, else from the diagnosis."""

from __future__ import annotations

import contextlib
import math
import statistics
from dataclasses import dataclass

import numpy as np

from wormwright.bench import Bench
from wormwright.bench.loops import loop_of, loops_by_place
from wormwright.bench.warm import worst_opening
from wormwright.core.error_at_work import windup
from wormwright.core.positioning import fewest_targets, sigma_interval
from wormwright.core.rock_loop import RockLoop
from wormwright.core.uncertainty import coverage_factor
from wormwright.job.findings import Diagnosis
from wormwright.job.proof import Proof
from wormwright.job.proof_part import AxisFigure
from wormwright.job.proof_position import PositionTest
from wormwright.job.result import Estimate
from wormwright.quantities import Dimension

TEST = "positioning test"
CLOSURE = "closure"
DIAGNOSIS = "diagnosis"
RECKONED = "reckoned from the materials"
WARM_SHARE = 0.25
"""Doubt of what heat does to the mesh, a share of it (common practice)."""
FEWEST = 3
"""Repeats from which a scatter of locking means anything."""


@dataclass(frozen=True, slots=True)
class Wave:
    """A wave of the position error, `order` times a table turn; its amplitude at the table, rad."""

    order: float
    figure: AxisFigure


@dataclass(frozen=True, slots=True)
class AxisFigures:
    """Figures of the axis, angles at the table; None where nothing tells them.

    `swing` is the range of the mean error round the turn, approached from one side, `swing_both`
    that of the mean of both. `waves` is None when nothing takes the error apart. `gap` is what the
    table moves freely with the motor holding, `springing` what it gives under the torque to resist.
    The plays of the table and `runout` are lengths at the work itself.
    """

    reversal: AxisFigure | None
    scatter: AxisFigure | None
    swing: AxisFigure | None
    swing_both: AxisFigure | None
    waves: tuple[Wave, ...] | None
    gap: AxisFigure | None
    warm_gap: AxisFigure | None
    springing: AxisFigure | None
    table_radial: AxisFigure | None
    table_axial: AxisFigure | None
    clamp_scatter: AxisFigure | None
    runout: AxisFigure | None
    face_slope: AxisFigure | None


def axis_figures(bench: Bench, proof: Proof, diagnosis: Diagnosis | None) -> AxisFigures:
    """Every figure of the axis that readings or diagnosis give."""
    test = proof.positioning
    reversal = _tested(test, "reversal", "reversal, largest of all targets")
    loop = softest_loop(bench)
    gap = _gap_of(loop) or _diagnosed_gap(diagnosis)
    return AxisFigures(
        reversal=reversal or _diagnosed_gap(diagnosis),
        scatter=None if test is None else scatter_of(test),
        swing=_one_way_swing(test) or _closed_swing(proof),
        swing_both=_tested(test, "mean_bidirectional", "range of the mean error")
        or _closed_swing(proof),
        waves=waves_of(proof, diagnosis),
        gap=gap or reversal,
        warm_gap=_warm(bench, diagnosis),
        springing=_springing(bench, loop),
        table_radial=_play(bench, "table_radial_play", "play of the table, radial"),
        table_axial=_play(bench, "table_axial_play", "play of the table, axial"),
        clamp_scatter=_clamp_scatter(bench),
        runout=_runout(diagnosis),
        face_slope=_face(diagnosis),
    )


def estimate(value: float, u: float, dimension: Dimension, method: str, dof: float) -> Estimate:
    """A size that is never negative, with its 95 % interval for these degrees of freedom."""
    half = coverage_factor(0.95, dof=max(1.0, dof)) * u
    return Estimate(value, u, max(0.0, value - half), value + half, dimension, method)


def _tested(test: PositionTest | None, key: str, label: str) -> AxisFigure | None:
    return None if test is None else AxisFigure(label, test.of(key), TEST)


def _one_way_swing(test: PositionTest | None) -> AxisFigure | None:
    """The larger range of the mean error of both directions."""
    if test is None:
        return None
    both = (test.of("systematic_up"), test.of("systematic_down"))
    label = "range of the mean error, one side"
    return AxisFigure(label, max(both, key=lambda e: e.value), TEST)


def _closed_swing(proof: Proof) -> AxisFigure | None:
    """The range of a closure that has as many places as a test wants targets."""
    closed = proof.closure
    if closed is None or len(closed.angles) < fewest_targets(travel_deg=360.0):
        return None
    label = f"range of the error at {len(closed.angles)} places, one side"
    return AxisFigure(label, closed.span, CLOSURE)


def scatter_of(test: PositionTest) -> AxisFigure:
    """Scatter of one positioning, pooled over all targets and both directions."""
    variances = np.concatenate([test.spread.s_up**2, test.spread.s_down**2])
    s, dof = math.sqrt(float(variances.mean())), len(variances) * (test.runs - 1)
    size = _scatter(s, dof, "pooled over the targets")
    return AxisFigure("scatter of one positioning", size, TEST)


def _scatter(s: float, dof: int, method: str) -> Estimate:
    """A standard deviation with its chi-square interval."""
    low, high = sigma_interval(runs=dof + 1)
    return Estimate(s, s / math.sqrt(2 * dof), s * low, s * high, "angle", method)


def waves_of(proof: Proof, diagnosis: Diagnosis | None) -> tuple[Wave, ...] | None:  # noqa: ARG001
    """Waves of the position error; without a test of them, the wheel's own runout makes one."""
    if diagnosis is None or diagnosis.wheel_runout is None:
        return None
    once = diagnosis.wheel_runout.scaled(0.5 / diagnosis.pair.r2, "angle")
    return (Wave(1.0, AxisFigure("wheel runout, once per turn", once, DIAGNOSIS)),)


def _diagnosed_gap(diagnosis: Diagnosis | None) -> AxisFigure | None:
    if diagnosis is None:
        return None
    return AxisFigure(
        "lost motion at the loosest place, motor holding", diagnosis.lost_motion_loose, DIAGNOSIS
    )


def softest_loop(bench: Bench) -> RockLoop | None:
    """The loop of the place that springs most, of those that can be taken apart."""
    loops = []
    for readings in loops_by_place(bench).values():
        with contextlib.suppress(ValueError):  # the topic of the loop says what it lacks
            loops.append(loop_of(readings))
    return max(loops, key=lambda loop: loop.compliance, default=None)


def _gap_of(loop: RockLoop | None) -> AxisFigure | None:
    if loop is None:
        return None
    size = estimate(max(0.0, loop.clearance), loop.clearance_u, "angle", "rock loop", loop.dof)
    return AxisFigure("clearance of the rock loop", size, "rock loop")


def _springing(bench: Bench, loop: RockLoop | None) -> AxisFigure | None:
    """How far the table springs under the torque to resist, one way."""
    if loop is None:
        return None
    torque = bench.job.duty.torque_resist_nmm
    value, u = windup(torque=torque, compliance=max(0.0, loop.compliance)), loop.compliance_u
    size = estimate(value, torque * u, "angle", "rock loop", loop.dof)
    return AxisFigure("springing under the torque to resist", size, "rock loop")


def _warm(bench: Bench, diagnosis: Diagnosis | None) -> AxisFigure | None:
    if diagnosis is None:
        return None
    opening = worst_opening(bench, diagnosis.pair) / diagnosis.pair.r2
    if opening <= 0:
        return None
    size = estimate(opening, WARM_SHARE * opening, "angle", RECKONED, math.inf)
    return AxisFigure("opening of the mesh when warm", size, RECKONED)


def _play(bench: Bench, kind: str, label: str) -> AxisFigure | None:
    read = bench.figure(kind)
    if read is None:
        return None
    size = estimate(max(0.0, read.value), read.u, "length", "mean of readings", read.dof)
    return AxisFigure(label, size, "reading")


def _clamp_scatter(bench: Bench) -> AxisFigure | None:
    """How unevenly the table turns on locking: scatter of the repeats, as an angle."""
    shifts = [
        r.value / radius
        for r in bench.of("clamp_shift", "turning")
        if r.value is not None and (radius := r.number("radius"))
    ]
    if len(shifts) < FEWEST:
        return None
    size = _scatter(statistics.stdev(shifts), len(shifts) - 1, "scatter of the repeats")
    return AxisFigure("scatter of the shift on locking", size, "reading")


def _runout(diagnosis: Diagnosis | None) -> AxisFigure | None:
    """Eccentricity of what the work sits on: the bar, else the register."""
    for key in ("bar", "register"):
        for runout in diagnosis.runouts if diagnosis else ():
            if runout.key == key:
                label = f"eccentricity of the {runout.surface}"
                return AxisFigure(label, runout.eccentricity, DIAGNOSIS)
    return None


def _face(diagnosis: Diagnosis | None) -> AxisFigure | None:
    for runout in diagnosis.runouts if diagnosis else ():
        if runout.slope is not None:
            return AxisFigure(f"slope of the {runout.surface}", runout.slope, DIAGNOSIS)
    return None
