"""Where the stiffness goes: unit, riser, work and cutter under the side force of the cut."""

from __future__ import annotations

import math

from wormwright.bench import Bench
from wormwright.core.beam import (
    give_held_at_both_ends,
    give_of_cantilever,
    give_of_column,
    give_of_tilt,
    moment_of_round,
    shares_of_give,
)
from wormwright.handbook.materials import material
from wormwright.job.findings import Figured, Finding
from wormwright.job.result import Estimate
from wormwright.stages.mount.base import USUAL_FORCE, reach_of

CARBIDE = 600_000.0
FLUTED = 0.8
"""A fluted cutter bends like a bar of this share of its diameter (common practice)."""
JOINT_GIVE = 3e-6
"""Give of one dry bolted joint, mm/N: 1 to 5 µm for 1000 N (from memory)."""
SOFTEST = 0.586
"""Where work between chuck and centre is softest, as a share of its length from the chuck."""
ROUGHLY = 0.3
"""Such figures are good to about a third."""


def springing(bench: Bench) -> tuple[Finding | None, tuple[str, ...]]:
    """Deflection at the tool and its shares; what was left out."""
    links, missing = _links(bench)
    if not links:
        return None, missing
    job = bench.job
    force = (job.mount.side_force if job.mount else None) or USUAL_FORCE
    total = math.fsum(give for _, give in links) * force
    shares = shares_of_give(links)
    figures = [Figured("all", "gives at the tool under the side force", _rough(total))]
    figures += [
        Figured(s.name, f"of it {s.name}, {_part(s.share)}", _rough(s.give * force)) for s in shares
    ]
    words = [f"Softest: {shares[0].name}. {_cure(shares[0].name)}"]
    if total > job.duty.error_mm / 2:
        words.append(
            "That is more than half of what the duty allows: cure the softest link, or cut lighter "
            f"than {length_of_force(job.duty.error_mm / 2 / total * force)}."
        )
    words.append("The machine itself is not in it: read it by pulling at the spindle.")
    return Finding("springing", "Where the stiffness goes", tuple(figures), tuple(words)), missing


def _part(share: float) -> str:
    return "under 1 %" if share < 0.01 else f"{share:.0%}"


def length_of_force(force: float) -> str:
    """A force in newtons to two figures."""
    step = 10.0 ** (math.floor(math.log10(force)) - 1)
    return f"{round(force / step) * step:g} N"


def _rough(value: float) -> Estimate:
    return Estimate(
        value,
        ROUGHLY * value,
        max(value * (1 - 1.96 * ROUGHLY), 0.0),
        value * (1 + 1.96 * ROUGHLY),
        "length",
        "beams and joints",
    )


def _links(bench: Bench) -> tuple[list[tuple[str, float]], tuple[str, ...]]:
    m, links, missing = bench.job.mount, [], []
    if m is None:
        return [], ()
    if m.work_length and m.work_diameter:
        links.append(("the work, as alloy", _work(m.work_length, m.work_diameter, m.has_tail)))
    if m.cutter_out and m.cutter_diameter:
        round_ = moment_of_round(FLUTED * m.cutter_diameter)
        links.append(
            (
                "the cutter",
                give_of_cantilever(length=m.cutter_out, modulus=CARBIDE, moment=round_),
            )
        )
    if m.riser > 0 and m.body_length and m.body_width and m.centre_height:
        links.append(
            (
                "the riser",
                give_of_column(
                    height=m.riser,
                    along=m.body_width,
                    across=m.body_length,
                    modulus=material(m.plate_material).modulus,
                    over=m.centre_height,
                ),
            )
        )
    if m.joints:
        links.append(("the bolted joints", m.joints * JOINT_GIVE))
    tilt = _table_tilt(bench)
    if tilt is None:
        missing.append("tilt of the table under a moment at two moments (`tilt_under_moment`)")
    else:
        links.append(
            ("the table bearing", give_of_tilt(arm=reach_of(bench.job), tilt_per_moment=tilt))
        )
    return ([] if len(links) < 2 else links), tuple(missing)


def _work(long: float, diameter: float, tail: bool) -> float:
    modulus, inertia = material("aluminium").modulus, moment_of_round(diameter)
    if not tail:
        return give_of_cantilever(length=long, modulus=modulus, moment=inertia)
    return give_held_at_both_ends(length=long, at=SOFTEST * long, modulus=modulus, moment=inertia)


def _table_tilt(bench: Bench) -> float | None:
    """Tilt for each N mm, from two moments so that the play drops out; rad/(N mm)."""
    rows = [
        (moment, (r.value or 0.0) / arm)
        for r in bench.of("tilt_under_moment")
        if (moment := r.number("moment")) and (arm := r.number("arm"))
    ]
    low, high = (min(rows), max(rows)) if rows else ((0.0, 0.0), (0.0, 0.0))
    if high[0] - low[0] < 0.3 * high[0] or high[0] == 0:
        return None
    mean = {
        m: math.fsum(t for moment, t in rows if moment == m) / sum(1 for r in rows if r[0] == m)
        for m in (low[0], high[0])
    }
    return max((mean[high[0]] - mean[low[0]]) / (2 * (high[0] - low[0])), 0.0)


def _cure(link: str) -> str:
    return {
        "the work, as alloy": "A tail centre, or less of it out of the jaws; stiffness goes with "
        "d⁴/L³.",
        "the cutter": "A thicker or shorter cutter; stiffness goes with d⁴/L³.",
        "the riser": "One wide solid block, full contact, bolts near the feet.",
        "the bolted joints": "Fewer joints: one block in place of a stack.",
        "the table bearing": "Lock the table for the cut, work nearer to the face.",
    }.get(link, "")
