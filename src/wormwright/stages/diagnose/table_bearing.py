"""The table bearing: radial and axial play, tilt, and how much of the rock they make."""

from __future__ import annotations

import numpy as np

from wormwright.bench import Bench, noise
from wormwright.core.linear_fit import linear_fit
from wormwright.core.table_bearing import tilt_share_in_rock
from wormwright.job.findings import Figured, Finding
from wormwright.job.pair import WormPair
from wormwright.job.reading import Reading
from wormwright.stages.diagnose.fit import Fit
from wormwright.stages.diagnose.rows import Row, axial_share
from wormwright.stages.diagnose.turn import estimate_of
from wormwright.stages.diagnose.wording import (
    estimate_from,
    estimate_of_figure,
    never_negative,
)

GOOD_WORK = 0.013
"""Axial or radial play that good work takes, mm (common practice: 2 to 5 tenths of a thou)."""


def table_bearing_finding(fit: Fit, rows: list[Row], bench: Bench, pair: WormPair) -> Finding:
    """What was read of the table bearing and its share in the rock."""
    figures: list[Figured] = []
    words: list[str] = []
    for kind, label in (("table_radial_play", "radial play"), ("table_axial_play", "axial play")):
        read = bench.figure(kind)
        if read is None:
            words.append(f"The {label} was not read.")
            continue
        figures.append(Figured(kind, label, estimate_of_figure(read, "length")))
        if read.value - 2 * read.u > GOOD_WORK:
            words.append(
                f"The {label} is more than good work takes: set the table bearing before the mesh, "
                "every later reading moves with it."
            )
    tilt = bench.of("tilt_under_moment")
    figures += _tilt_figures(tilt, words)
    figures += _shares(fit, rows)
    figures += _tilt_in_rock(bench, tilt, pair)
    if axial_share(pair) == 0 and bench.of("table_axial_play"):
        words.append(
            "While friction holds the worm, axial play does not show in the rock; it does in "
            "driven reversal and in what the cutter lifts."
        )
    return Finding("table_bearing", "Table bearing", tuple(figures), tuple(words))


def _shares(fit: Fit, rows: list[Row]) -> list[Figured]:
    """Share of the radial play in the rock on one pin and on two pins."""
    taken = fit.of("table_radial") * fit.k[:, 0]
    out = []
    for kind, label in (("rock", "one pin"), ("rock_pins", "two opposite pins")):
        like = [r for r in rows if r.kind == kind and r.value > 0]
        if like:
            row = like[0]
            share = np.clip(taken * row.table_share / row.value, -1.0, 1.0)
            name = f"share of the radial play in the rock on {label}"
            out.append(Figured(f"share {kind}", name, estimate_of(share, "ratio", "fit")))
    return out


def _tilt_figures(readings: tuple[Reading, ...], words: list[str]) -> list[Figured]:
    """Free tilt and stiffness from movements under two moments, or the tilt under one."""
    points = _tilts(readings)
    if not points:
        return []
    moment, tilt, u = (np.array(column) for column in zip(*points, strict=True))
    scale = float(moment.max())
    if moment.min() > 0.8 * scale:
        words.append("Tilt under one moment only: play and springing of the bearing stay together.")
        mean, mean_u = float(tilt.mean()), float(np.sqrt(np.mean(u**2) / len(u)))
        return [
            Figured(
                "tilt",
                "tilt to and fro under the moment",
                never_negative(mean, mean_u, "angle", "mean"),
            )
        ]
    design = np.column_stack([np.ones_like(moment), 2 * moment / scale])
    fit = linear_fit(design, tilt, u=u, names=("tilt play", "tilt stiffness"))
    play, spring = (
        never_negative(float(v), float(s), "angle", "two moments")
        for v, s in zip(fit.values, fit.u, strict=True)
    )
    if play.low <= 0:
        words.append("No free tilt stands out: what tips is springing, not play.")
    return [
        Figured("tilt_play", "free tilt, to and fro", play),
        Figured("tilt_spring", "springing under the larger moment, one way", spring),
    ]


def _tilts(readings: tuple[Reading, ...]) -> list[tuple[float, float, float]]:
    """Moment [N·mm], tilt to and fro [rad] and its u of every usable reading."""
    out = []
    for r in readings:
        moment, arm = r.number("moment"), r.number("arm")
        if r.value is not None and moment and arm:
            out.append((abs(moment), r.value / arm, noise(r) / arm))
    return out


def _tilt_in_rock(bench: Bench, tilt: tuple[Reading, ...], pair: WormPair) -> list[Figured]:
    """What one pin reads of the tilt, where its height and that of the push were written."""
    points = _tilts(tilt)
    for r in bench.of("rock"):
        height, push = r.number("pin_height"), r.number("push_height")
        radius, torque = r.number("pin_radius"), r.number("torque")
        if not (points and height and push and radius and torque):
            continue
        pin_angle = r.number("pin_angle") or 0.0
        push_angle = r.number("push_angle")
        tipping = abs(torque / (r.number("push_radius") or radius) * push)
        moment, seen, u = min(points, key=lambda p: abs(p[0] - tipping))
        share = tilt_share_in_rock(
            pin_height=height,
            push_angle=pin_angle if push_angle is None else push_angle,
            pin_angle=pin_angle,
            pitch_radius=pair.r2,
            pin_radius=radius,
        ) * min(1.0, tipping / moment)
        label = f"tilt in the rock on one pin (reading {r.seq}); two opposite pins are free of it"
        estimate = estimate_from(share * seen / pair.r2, abs(share) * u / pair.r2, "angle", "tilt")
        return [Figured("tilt_in_rock", label, estimate)]
    return []
