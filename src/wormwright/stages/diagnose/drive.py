"""Coupling and key against the mesh: what the drive loses, and how it was read."""

from __future__ import annotations

import math

from wormwright.bench import Bench
from wormwright.job.findings import Figured, Finding
from wormwright.job.pair import WormPair
from wormwright.stages.diagnose.fit import Fit
from wormwright.stages.diagnose.paired import paired_difference
from wormwright.stages.diagnose.rows import Row, field_spring
from wormwright.stages.diagnose.turn import estimate_of
from wormwright.stages.diagnose.wording import arc, estimate_from

WORTH_DOING = 0.25
"""A drive that loses this share of what the mesh loses is worth a cure of its own."""


def drive_finding(fit: Fit, rows: list[Row], bench: Bench, pair: WormPair) -> Finding | None:
    """What coupling, key and grub screws lose; None when nothing was read of the drive."""
    rocks = [r for r in rows if r.is_rock]
    at_motor = [r for r in rocks if r.held == "at the motor"]
    powered = [r for r in rocks if r.held == "powered motor"]
    if not (at_motor or powered or bench.of("drive_play")):
        return None
    drive = fit.posterior.of("drive") / pair.r2
    at_table = estimate_of(drive, "angle", "fit of all readings")
    figures = [
        Figured("at_table", "drive between motor and worm, at the table", at_table),
        Figured("at_motor", "the same at the motor shaft", at_table.scaled(pair.ratio, "angle")),
    ]
    words = [_weighed(fit, at_table.value, pair)]
    by_worm = [r for r in rocks if r.held == "at the worm"]
    for label, held in (("at the motor", at_motor), ("by the powered motor", powered)):
        found = paired_difference(held, by_worm)
        if found:
            value, u = found.value / pair.r2, found.u / pair.r2
            name = f"rock with the worm held {label} less held at the worm"
            estimate = estimate_from(value, u, "angle", f"{found.places} like places")
            figures.append(Figured(f"held {label}", name, estimate))
        elif held:
            words.append(
                f"No place was rocked both with the worm held at the worm and {label}: do both at "
                "one place, the difference is the drive."
            )
    words += _spring_words(powered, bench, pair)
    return Finding("drive", "Coupling and key against the mesh", tuple(figures), tuple(words))


def _weighed(fit: Fit, drive: float, pair: WormPair) -> str:
    mesh = float(fit.posterior.of("mesh").mean()) / pair.r2
    if mesh > 0 and drive < WORTH_DOING * mesh:
        return (
            f"The drive loses {arc(drive)} against {arc(mesh)} of the mesh: a new coupling alone "
            "will not be noticed; the ratio divides what you feel at the motor."
        )
    return (
        f"The drive loses {arc(drive)} against {arc(mesh)} of the mesh: seat key and grub screws "
        "on their flats and try the coupling before the mesh is touched."
    )


def _spring_words(powered: list[Row], bench: Bench, pair: WormPair) -> list[str]:
    """How far the field of a motor that is merely powered can give."""
    if not powered:
        return []
    spring = field_spring(bench, pair, max(r.torque for r in powered))
    if not math.isfinite(spring) or spring == 0:
        return [
            "A powered motor is a spring: enter its holding torque in job.toml to see how far it "
            "can give, or hold the worm itself."
        ]
    return [
        f"The field of the powered motor gives at most {arc(spring)} at the table under that "
        "torque (none while friction holds the worm); the fit allows for it."
    ]
