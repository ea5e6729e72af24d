"""Causes: contributors with intervals, and the rest that they do not explain."""

from __future__ import annotations

import numpy as np

from wormwright.job.findings import PLAYS, Contributor
from wormwright.job.pair import WormPair
from wormwright.job.result import Estimate
from wormwright.stages.diagnose.fit import Fit
from wormwright.stages.diagnose.ranges import KNOWN, LABELS, UsualRange
from wormwright.stages.diagnose.rows import Row
from wormwright.stages.diagnose.turn import estimate_of, parts_of

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


def contributors_of(
    fit: Fit, rows: list[Row], ranges: dict[str, UsualRange], pair: WormPair
) -> tuple[Contributor, ...]:
    """Every cause of lost motion, largest first."""
    parts = parts_of(fit.posterior, pair)
    total = sum(parts.values())
    read = {name for row in rows for name in row.sees if row.kind == DIRECT_KIND.get(name)}
    read |= {"mesh"} if any(r.is_rock for r in rows) else set()
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
    rocks = [(i, r) for i, r in enumerate(rows) if r.is_rock]
    if not rocks:
        return Estimate(0.0, 0.0, 0.0, 0.0, "angle", "no rock reading")
    weight = np.array([1 / r.u**2 for _, r in rocks])
    rest = np.array([r.value - fit.predicted_in_range[i] for i, r in rocks])
    mean = float(weight @ rest / weight.sum()) / pair.r2
    u = float(1 / np.sqrt(weight.sum())) / pair.r2
    return Estimate.normal(mean, u, "angle", "weighted mean residual")
