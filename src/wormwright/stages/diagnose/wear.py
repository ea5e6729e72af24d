"""Wear: the used sector of the wheel against the rest, from the same fit as everything else."""

from __future__ import annotations

from wormwright.core.wear import SectorDifference, Verdict, wear_depth
from wormwright.job.findings import Figured, Finding
from wormwright.job.pair import WormPair
from wormwright.job.result import Estimate
from wormwright.stages.diagnose.ranges import WEAR
from wormwright.stages.diagnose.rows import Row
from wormwright.stages.diagnose.wording import estimate_from

FAR = 30.0
"""Degrees of freedom from which a normal interval is as good."""


def wear_finding(wear: Estimate, rows: list[Row], pair: WormPair) -> Finding:
    """What the used sector says against the rest, with its significance."""
    used = sum(WEAR in r.sees for r in rows)
    verdict: Verdict = "not proven"
    if wear.low > 0:
        verdict = "used sector differs"
    elif wear.high < 0:
        verdict = "unused sector differs"
    depth = wear_depth(
        SectorDifference(wear.value, wear.u, FAR, verdict), tan_pressure=pair.t, tan_lead=pair.g
    )
    figures = (
        Figured("wear", "play of the used sector above the rest", wear),
        Figured("wear_at_table", "the same at the table", wear.scaled(1 / pair.r2, "angle")),
        Figured(
            "flank",
            "metal gone from the flanks, both together",
            estimate_from(depth.flank, depth.flank_u, "length", "normal part of the play"),
        ),
        Figured(
            "closing",
            "closing that would take it up",
            estimate_from(depth.closing, depth.closing_u, "length", "rack law"),
        ),
    )
    words = (_WORDS[verdict], f"{used} of {_rocks(rows)} rocks were taken in the used sector.")
    return Finding("wear", "Wear of the wheel", figures, words)


def _rocks(rows: list[Row]) -> int:
    return sum(r.is_rock for r in rows)


_WORDS = {
    "used sector differs": (
        "The used sector is worn: its 95 % interval stays above zero. Set the mesh where the wheel "
        "is least worn, or it binds there; a wheel re-seated half a turn on its hub brings unworn "
        "teeth to the work."
    ),
    "not proven": (
        "Wear is not proven: the interval holds zero. Read more places in both sectors, same pin, "
        "torque and whole worm turns, to narrow it."
    ),
    "unused sector differs": (
        "The sector called used has less play than the rest, so this is no wear of that sector: "
        "look whether the marks are the right way round, and for wheel runout."
    ),
}
