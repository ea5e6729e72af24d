"""What is known of the finished axis: from its proof where read, else from the diagnosis."""

from __future__ import annotations

import math
import statistics
from dataclasses import dataclass

import numpy as np

from wormwright.bench import Bench
from wormwright.bench.warm import worst_opening
from wormwright.core.positioning import fewest_targets, sigma_interval
from wormwright.core.uncertainty import coverage_factor
from wormwright.job.findings import Diagnosis, Runout
from wormwright.job.proof import Proof
from wormwright.job.proof_part import AxisFigure
from wormwright.job.proof_position import PositionTest
from wormwright.job.result import Estimate
from wormwright.quantities import Dimension

TEST = "positioning test"
CLOSURE = "closure"
DIAGNOSIS = "diagnosis"
LOOP = "rock loop"
HARMONICS = "waves of the error"
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
    runouts = _runouts(proof, diagnosis)
    reversal = _tested(test, "reversal", "reversal, largest of all targets")
    gap = _softest(proof, "clearance", "clearance of the rock loop")
    gap = gap or _diagnosed_gap(diagnosis)
    return AxisFigures(
        reversal=reversal or _diagnosed_gap(diagnosis),
        scatter=None if test is None else scatter_of(test),
        swing=_one_way_swing(test) or _closed_swing(proof),
        swing_both=_tested(test, "mean_bidirectional", "range of the mean error")
        or _closed_swing(proof),
        waves=waves_of(proof, diagnosis),
        gap=gap or reversal,
        warm_gap=_warm(bench, diagnosis),
        springing=_softest(proof, "spring", "springing under the torque to resist"),
        table_radial=_play(bench, "table_radial_play", "play of the table, radial"),
        table_axial=_play(bench, "table_axial_play", "play of the table, axial"),
        clamp_scatter=_clamp_scatter(bench),
        runout=_runout(runouts),
        face_slope=_face(runouts),
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


def waves_of(proof: Proof, diagnosis: Diagnosis | None) -> tuple[Wave, ...] | None:
    """Waves of the mean error that stand out; untested, the wheel's own runout makes one."""
    if proof.harmonics is not None:
        return tuple(
            Wave(w.order, AxisFigure(w.label, w.size, HARMONICS))
            for w in proof.harmonics.waves
            if w.size is not None and w.stands_out and not w.of_play
        )
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


def _softest(proof: Proof, key: str, label: str) -> AxisFigure | None:
    """The largest figure of that name of all places at which a loop was read."""
    places = proof.loop.places if proof.loop else ()
    found = [size for place in places if (size := place.of(key)) is not None]
    if not found:
        return None
    return AxisFigure(label, max(found, key=lambda e: e.value), LOOP)


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


Runouts = tuple[tuple[Runout, ...], str]


def _runouts(proof: Proof, diagnosis: Diagnosis | None) -> Runouts:
    """Runouts of the finished axis and where they are from."""
    if proof.axis is not None and proof.axis.runouts:
        return proof.axis.runouts, "runout of the axis"
    return (diagnosis.runouts if diagnosis else ()), DIAGNOSIS


def _runout(runouts: Runouts) -> AxisFigure | None:
    """Eccentricity of what the work sits on: the bar, else the register."""
    for key in ("bar", "register"):
        for runout in runouts[0]:
            if runout.key == key:
                label = f"eccentricity of the {runout.surface}"
                return AxisFigure(label, runout.eccentricity, runouts[1])
    return None


def _face(runouts: Runouts) -> AxisFigure | None:
    for runout in runouts[0]:
        if runout.slope is not None:
            return AxisFigure(f"slope of the {runout.surface}", runout.slope, runouts[1])
    return None
