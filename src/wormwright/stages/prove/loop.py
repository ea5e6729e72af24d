"""Rock loops of the finished axis: clearance, springing, friction, lost motion at a torque."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import numpy as np

from wormwright.bench import Bench
from wormwright.bench.loops import LoopColumns, loop_columns, loops_by_place
from wormwright.core.loop_branches import SettledLoop, branches_of, settled_loop
from wormwright.core.rock_loop import RockLoop
from wormwright.core.uncertainty import coverage_factor
from wormwright.job.findings import Figured
from wormwright.job.proof_loop import LoopAt, LoopProof
from wormwright.job.reading import Reading
from wormwright.job.result import Doubt, Estimate
from wormwright.quantities import Dimension, shown

METHOD = "rock loop"
LIGHT = 0.03
"""Share of the torque to resist at which makers state lost motion (gearbox makers' pages)."""
ARCMIN = math.radians(1 / 60)
MOVED = 3.0
"""Cycles whose rest differs by this many u have moved in between."""


def loops_of(bench: Bench) -> tuple[LoopProof | None, tuple[Doubt, ...]]:
    """Every loop that can be taken apart, with the reason for each that cannot."""
    places: list[LoopAt] = []
    doubts: list[Doubt] = []
    for degrees, readings in loops_by_place(bench).items():
        stopped = tuple(_stopped(readings, degrees))
        if stopped:
            doubts += stopped
            continue
        columns = loop_columns(readings)
        doubts += _order(readings, columns, degrees)
        try:
            found = settled_loop(
                columns.torque,
                columns.angle,
                columns.branch,
                u=columns.u,
                least_torque=columns.least_torque,
            )
        except ValueError as lacking:
            doubts.append(_cannot(str(lacking), readings, degrees))
            continue
        doubts += _moved(found, readings, degrees)
        places.append(_told(bench, degrees, readings, columns, found))
    return (LoopProof(tuple(places)) if places else None), tuple(doubts)


def _rows(readings: Sequence[Reading]) -> tuple[int, ...]:
    return tuple(r.seq for r in readings)


def _stopped(readings: Sequence[Reading], degrees: int) -> Iterator[Doubt]:
    held = sorted({said for r in readings if (said := r.said("worm_held"))})
    if len(held) > 1:
        yield Doubt(
            "refuse",
            "L-1",
            f"In the loop at {degrees}° the worm was held {' and '.join(held)}.",
            "What gives between worm and motor is in the one and not in the other.",
            "Read one loop with the worm held one way.",
            _rows(readings),
        )


def _order(readings: Sequence[Reading], columns: LoopColumns, degrees: int) -> list[Doubt]:
    """Branches as written against the order of the torques."""
    walked = branches_of(columns.torque) if np.ptp(columns.torque) > 0 else columns.branch
    wrong = [r for r, a, b in zip(readings, walked, columns.branch, strict=True) if a != b]
    if not wrong:
        return []
    return [
        Doubt(
            "ask",
            "L-2",
            f"In the loop at {degrees}° {len(wrong)} rows say rising or falling against the order "
            "of their torques.",
            "A branch on the wrong side turns friction into play; the words as written were used.",
            "Correct branch or torque, or enter the rows in the order in which they were read.",
            _rows(wrong),
        )
    ]


def _cannot(why: str, readings: Sequence[Reading], degrees: int) -> Doubt:
    return Doubt(
        "refuse",
        "L-3",
        f"The loop at {degrees}° cannot be taken apart: {why}.",
        "Clearance, springing and friction are told apart only by readings of both signs, torque "
        "rising and falling, past the places where the table sticks.",
        "Read on: up to full torque, back through zero to full torque the other way, and up again.",
        _rows(readings),
    )


def _moved(found: SettledLoop, readings: Sequence[Reading], degrees: int) -> list[Doubt]:
    if found.moved <= MOVED * found.moved_u or not found.moved_u:
        return []
    by = shown(found.moved, "angle", u=found.moved_u)
    return [
        Doubt(
            "warn",
            "L-4",
            f"Between the cycles at {degrees}° the rest position moved by {by}.",
            "The pin, the stand or the held worm slipped; a slip passes for friction and scatter.",
            "Seat the pin, hold the worm faster, and read the loop again.",
            _rows(readings),
        )
    ]


def _told(
    bench: Bench,
    degrees: int,
    readings: Sequence[Reading],
    columns: LoopColumns,
    found: SettledLoop,
) -> LoopAt:
    loop = found.loop
    most = float(np.abs(columns.torque).max())
    light, full = LIGHT * bench.job.duty.torque_resist_nmm, bench.job.duty.torque_resist_nmm
    line = np.array([-most, -1e-9 * most, 1e-9 * most, most])  # the step at none is the clearance
    branches = [np.array([loop.angle_at(float(t), branch=b) for t in line]) for b in (1, -1)]
    widened = found.reading_u > columns.u and loop.dof > 0
    k = coverage_factor(0.95, dof=loop.dof) if widened else 1.96
    return LoopAt(
        place=math.radians(degrees),
        torque=columns.torque,
        angle=columns.angle - loop.rest,
        used=found.used,
        line_torque=line,
        rising=branches[0] - loop.rest,
        falling=branches[1] - loop.rest,
        figures=tuple(_figures(loop, light, full, k)),
        stiffness=_stiffness(loop, k),
        words=tuple(_words(loop, found, most, full)),
        rows=_rows(readings),
    )


def _estimate(value: float, u: float, k: float, dimension: Dimension) -> Estimate:
    low, high = max(0.0, value - k * u), max(0.0, value + k * u)
    return Estimate(max(0.0, value), u, low, high, dimension, METHOD)


def _figures(loop: RockLoop, light: float, full: float, k: float) -> Iterator[Figured]:
    yield Figured("clearance", "clearance", _estimate(loop.clearance, loop.clearance_u, k, "angle"))
    for key, label, torque in (
        ("lost_light", "lost motion at ± 3 % of the torque to resist", light),
        ("lost_full", "lost motion at ± the torque to resist", full),
    ):
        value = _estimate(loop.lost_motion_at(torque), loop.lost_motion_u(torque), k, "angle")
        yield Figured(key, label, value)
    yield Figured(
        "spring",
        "springing under the torque to resist, one way",
        _estimate(loop.compliance * full, loop.compliance_u * full, k, "angle"),
    )
    if loop.stiffness is not None and loop.friction_torque is not None:
        share = loop.compliance_u / loop.compliance
        u = loop.stiffness * math.hypot(loop.half_width_u, loop.half_width * share)
        friction = _estimate(loop.friction_torque, u, k, "torque")
        yield Figured("friction", "friction of the table", friction)


def _stiffness(loop: RockLoop, k: float) -> Estimate | None:
    if loop.stiffness is None:
        return None
    value = loop.stiffness * ARCMIN
    return _estimate(value, value * loop.compliance_u / loop.compliance, k, "torque")


def _words(loop: RockLoop, found: SettledLoop, most: float, full: float) -> Iterator[str]:
    out = int((~found.used).sum())
    if out:
        yield (
            f"{out} of {len(found.used)} readings stand inside the gap or just past a turn of the "
            "torque, where the table sticks; they are drawn hollow and not used."
        )
    if not loop.clearance_told:
        yield "No clearance stands out: what gives is springing, or the seat of the pin."
    if loop.stiffness is None:
        yield "No springing stands out of the noise: go to a higher torque."
    if loop.half_width <= 2 * loop.half_width_u:
        yield "The loop closes on itself within its noise: no friction stands out."
    if full > 1.05 * most:
        yield (
            f"The loop went to {most / full:.0%} of the torque to resist; beyond it the figures "
            "are drawn on in a straight line."
        )
