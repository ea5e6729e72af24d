"""Causes: contributors with intervals, what cannot be told apart, what to read next, drag."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from wormwright.bench import Bench
from wormwright.job.findings import PLAYS, Contributor
from wormwright.job.pair import WormPair
from wormwright.job.result import Estimate
from wormwright.job.sheet import KINDS
from wormwright.stages.diagnose.fit import Fit
from wormwright.stages.diagnose.ranges import LABELS, UsualRange
from wormwright.stages.diagnose.rows import Row
from wormwright.stages.diagnose.turn import estimate_of, lost_motion_of, parts_of

Array = NDArray[np.float64]

DIRECT_KIND = {
    "mesh": "rock_pins",
    "end_play": "worm_end_play",
    "worm_float": "worm_float",
    "table_radial": "table_radial_play",
    "table_axial": "table_axial_play",
    "wheel_joint": "wheel_joint_play",
    "drive": "drive_play",
}
"""The reading that sees each play most directly."""

KNOWN = 1 / 3
"""A play is identified when its sd is below this share of the sd of its usual range."""


def contributors_of(
    fit: Fit, rows: list[Row], ranges: dict[str, UsualRange], pair: WormPair
) -> tuple[Contributor, ...]:
    """Every cause of lost motion, largest first."""
    parts = parts_of(fit.posterior, pair)
    total = sum(parts.values())
    read = {name for row in rows for name in row.sees if row.kind == DIRECT_KIND.get(name)}
    read |= {"mesh"} if any(r.kind.startswith("rock") for r in rows) else set()
    out = []
    for key in PLAYS:
        identified = float(fit.posterior.of(key).std()) < KNOWN * ranges[key].sd
        method = "least squares with bounds" if key in read else "usual range, not read"
        at_r2 = estimate_of(parts[key], "length", method)
        share = estimate_of(parts[key] / np.maximum(total, 1e-9), "ratio", method)
        note = "beyond the usual range" if key in fit.outside else ""
        out.append(
            Contributor(
                key,
                LABELS[key],
                at_r2,
                at_r2.scaled(1 / pair.r2, "angle"),
                share,
                identified,
                key in read,
                note,
            )
        )
    return tuple(sorted(out, key=lambda c: -c.at_r2.value))


def unexplained_of(fit: Fit, rows: list[Row], pair: WormPair) -> Estimate:
    """Mean of the rock readings less what the usual ranges can explain, rad at the table."""
    rocks = [(i, r) for i, r in enumerate(rows) if r.kind.startswith("rock")]
    if not rocks:
        return Estimate(0.0, 0.0, 0.0, 0.0, "angle", "no rock reading")
    weight = np.array([1 / r.u**2 for _, r in rocks])
    rest = np.array([r.value - fit.predicted_in_range[i] for i, r in rocks])
    mean = float(weight @ rest / weight.sum()) / pair.r2
    u = float(1 / np.sqrt(weight.sum())) / pair.r2
    return Estimate(mean, u, mean - 1.96 * u, mean + 1.96 * u, "angle", "weighted mean residual")


def inseparable_of(fit: Fit, ranges: dict[str, UsualRange]) -> tuple[str, ...]:
    """Plays that the readings fix only together, each group in words."""
    keys = [k for k in PLAYS if float(fit.posterior.of(k).std()) > 0.1 * ranges[k].sd]
    if len(keys) < 2:
        return ()
    scaled = np.column_stack([fit.posterior.of(k) / ranges[k].sd for k in keys])
    correlation: Array = np.atleast_2d(np.corrcoef(scaled, rowvar=False))
    groups: list[str] = []
    for i, key in enumerate(keys):
        partners = [
            LABELS[other] for j, other in enumerate(keys) if j != i and correlation[i, j] < -0.35
        ]
        if (partners and key == "mesh") or (partners and LABELS["mesh"] not in partners):
            groups.append(f"{LABELS[key]} against {', '.join(partners)}")
    return tuple(dict.fromkeys(groups))


def next_reading_of(fit: Fit, rows: list[Row], pair: WormPair) -> str:
    """The reading that would narrow the mesh backlash most, with its minutes (rank-one update)."""
    taken = {row.kind for row in rows}
    mesh = fit.posterior.of("mesh")
    best: tuple[float, str] = (0.0, "")
    parts = parts_of(fit.posterior, pair)
    for play, kind in DIRECT_KIND.items():
        if kind in taken or play == "mesh":
            continue
        seen = fit.posterior.of(play)
        u = KINDS[kind].noise or 0.0
        to_r2 = pair.r2 / pair.ratio if kind == "drive_play" else 1.0
        covariance: Array = np.atleast_2d(np.cov(mesh, seen))
        gain = covariance[0, 1] ** 2 / (covariance[1, 1] + (u * to_r2) ** 2)
        own = float(parts[play].var()) if play == "drive" else 0.0
        if gain + own > best[0]:
            best = (float(gain + own), kind)
    variance = float(lost_motion_of(fit.posterior, pair, drive=True).var()) * pair.r2**2
    floor = 0.02 * max(float(mesh.var()), variance)
    if "rock" not in taken and "rock_pins" not in taken:
        return _worded("rock", "nothing else says how much the table moves")
    if best[0] < floor or not best[1]:
        return ""
    narrowed = np.sqrt(max(0.0, 1 - best[0] / max(float(mesh.var()), best[0])))
    return _worded(best[1], f"it would narrow the doubt of the mesh to {narrowed:.0%} of now")


def _worded(kind: str, why: str) -> str:
    entry = KINDS[kind]
    return f"{entry.label} ({entry.minutes:.0f} min): {why}"


def drag_of(bench: Bench) -> tuple[tuple[str, Estimate], ...]:
    """Drag at the worm: in mesh, out of mesh, the mesh's own part, and peak over median."""
    out: list[tuple[str, Estimate]] = []
    inside = [r.value for r in bench.of("drag_in_mesh") if r.value is not None]
    free = bench.figure("drag_out_of_mesh")
    together = bench.figure("drag_in_mesh")
    method = "mean of readings"
    if together:
        out.append(("drag at the worm, in mesh", _plain(together.value, together.u, method)))
    if free:
        out.append(("drag at the worm, out of mesh", _plain(free.value, free.u, method)))
    if together and free:
        u = float(np.hypot(together.u, free.u))
        rest = together.value - free.value
        out.append(("drag of the mesh itself", _plain(rest, u, "in mesh less out of mesh")))
    if len(inside) >= 4:
        median = float(np.median(inside))
        ratio = max(inside) / median
        spread = 0.1 * ratio
        out.append(
            (
                "drag round the turn, peak over median",
                Estimate(ratio, spread, ratio - 2 * spread, ratio + 2 * spread, "ratio", method),
            )
        )
    return tuple(out)


def _plain(value: float, u: float, method: str) -> Estimate:
    return Estimate(value, u, value - 1.96 * u, value + 1.96 * u, "torque", method)
