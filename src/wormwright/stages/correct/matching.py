"""Both ends of the worm set alike: how nearly, and which way the indicators must look."""

from __future__ import annotations

import math

from wormwright.core.end_matching import EndsMatch, ends_match, skew_that_costs
from wormwright.stages.correct.facts import Facts
from wormwright.stages.correct.meshes import Meshes, cost_of_skew
from wormwright.stages.correct.wording import length

SKEW_COSTS = 0.002
"""Backlash at r2 that unequal ends may take up, mm: as much as the pitch error of the wheel."""

LEAST_SEEN = 0.002
"""A smaller difference is not asked for: no test indicator shows it for certain, mm."""

MOST_OFF = 3.0
"""Most by which the exact mesh widens or narrows what the closed form allows."""

USUAL_SPAN = 60.0
"""Bearing span of a worm of this class, mm, when it has not been read (common practice)."""


def skew_borne(meshes: Meshes, kind: str) -> float:
    """Skew of the worm that takes up the backlash it may cost, on that wheel kind, rad.

    The closed form gives a skew; the exact mesh says what that skew really costs, either way.
    """
    pair, mesh = meshes.pair, meshes.named(kind)
    tan_face = pair.sin_face / math.sqrt(1 - pair.sin_face**2)
    skew = skew_that_costs(backlash=SKEW_COSTS, r1=pair.r1, tan_face=tan_face)
    if mesh.exact is None:
        return skew
    costs = cost_of_skew(pair, mesh.kind, skew)
    return skew * min(max(SKEW_COSTS / max(costs, 1e-9), 1 / MOST_OFF), MOST_OFF)


def match_of_ends(facts: Facts, *, throw: float, angle: float, skew: float) -> EndsMatch:
    """How far the two bushings may differ on this unit."""
    return ends_match(throw=throw, angle=angle, span=facts.span or USUAL_SPAN, skew=skew)


def matching_step(facts: Facts, *, throw: float, angle: float, skew: float) -> str:
    """How the two ends are matched, in one line for the bench."""
    match, units = match_of_ends(facts, throw=throw, angle=angle, skew=skew), facts.job.units
    within = max(LEAST_SEEN, math.floor(match.reading * 1000) / 1000)
    blind = (
        " (toward the wheel they would not see a difference at this angle)"
        if match.look == "along the table axis"
        else ""
    )
    return (
        f"Match the two ends by indicators, not by the marks: on the worm shaft beside each "
        f"bushing, looking {match.look}{blind}; both must move alike within "
        f"{length(within, units)}. The marks alone are good to about a degree."
    )
