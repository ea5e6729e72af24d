"""Surfaces against the axis of rotation, their offset and lean, and the axis itself."""

from __future__ import annotations

import math

import numpy as np

from wormwright.bench import Bench
from wormwright.bench.runout import SetUp, name_of, runouts_of, set_ups_of
from wormwright.bench.runout_parts import bar_finding, register_finding
from wormwright.job.findings import Finding
from wormwright.job.proof_axis import AxisProof, CircleTrace
from wormwright.job.result import Doubt
from wormwright.job.rotary import Units
from wormwright.stages.prove.reversal import reversal_of

FINE = 181


def axis_of(bench: Bench, *, finished: bool) -> tuple[AxisProof | None, tuple[Doubt, ...]]:
    """What turning the table showed, or None; surfaces count once the unit is finished."""
    reversal, doubts = reversal_of(bench)
    set_ups = set_ups_of(bench) if finished else ()
    if reversal is None and not set_ups:
        return None, doubts
    units = bench.job.units
    rows = {row for s in set_ups for row in s.rows} | set(reversal.rows if reversal else ())
    return AxisProof(
        runouts=runouts_of(set_ups, units),
        traces=tuple(_trace(s, units) for s in set_ups),
        findings=_findings(set_ups),
        reversal=reversal,
        rows=tuple(sorted(rows)),
    ), doubts


def _findings(set_ups: tuple[SetUp, ...]) -> tuple[Finding, ...]:
    found = [register_finding(set_ups)]
    if any(s.kind == "bar_runout" for s in set_ups):
        found.append(bar_finding(set_ups))
    return tuple(f for f in found if f is not None)


def _trace(one: SetUp, units: Units) -> CircleTrace:
    fine = np.linspace(0.0, 2 * math.pi, FINE)
    off = one.trace.eccentricity
    circle = off.x * np.cos(fine) + off.y * np.sin(fine)
    lobed = circle + sum(
        (
            lobe.cosine * np.cos(lobe.order * fine) + lobe.sine * np.sin(lobe.order * fine)
            for lobe in one.trace.lobes
            if lobe.stands_out
        ),
        start=np.zeros(FINE),
    )
    return CircleTrace(
        name=name_of(one, units),
        angles=np.array(one.angles),
        readings=np.array(one.values) - one.trace.mean,
        fit_angles=fine,
        circle=circle,
        with_lobes=lobed,
        swing=one.trace.swing,
    )
