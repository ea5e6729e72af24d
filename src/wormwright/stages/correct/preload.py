"""Preload of the worm bearings: how much, what squeeze gives it, and its band."""

from __future__ import annotations

from wormwright.core.bearing import (
    BallSet,
    ball_set_from_rating,
    groove_distance_from_factor,
    mounted_clearance,
)
from wormwright.core.bearing_preload import (
    AxialSpring,
    axial_spring,
    deflection_under,
    preload_from_squeeze,
    preload_to_stay_loaded,
    squeeze_for_preload,
)
from wormwright.handbook.bearings import Bearing, clearance, play_factor, ring_limits
from wormwright.job.result import Estimate
from wormwright.stages.correct.facts import EndBearing, Facts, bore_of, rating_of

SMALL_PAIR_STIFFNESS = 6000.0
"""Preload per mm of squeeze of a small pair whose balls are not known, N/mm (common practice)."""

LIGHT_PRELOAD = 40.0
"""Light preload of a small angular contact pair, N (common practice, 20 to 80 N)."""

USUAL_INTERFERENCE = 0.004
"""Interference of an inner ring on a seat that has not been measured, mm (j5 to k5)."""

FITTED_SHARE = 0.8
"""Share of its interference that a ring passes on to the radial clearance (maker's 0.7 to 0.9)."""


def worm_preload(facts: Facts) -> float:
    """Preload that keeps both bearings loaded at the duty's torque, within what they bear, N."""
    wanted = preload_to_stay_loaded(facts.thrust)
    bores = [end.bore for end in facts.ends if end.bore]
    usual = 5.0 * min(bores) if bores else LIGHT_PRELOAD
    limits = [0.1 * end.static for end in facts.ends if end.static]
    return min(max(wanted, usual), 4 * usual, *limits) if limits else min(wanted, usual)


def springs_of(ends: tuple[EndBearing, EndBearing]) -> tuple[AxialSpring, AxialSpring] | None:
    """Springs of both worm bearings, when both are handbook bearings."""
    found = [s for end in ends if (s := spring_of(end))]
    return (found[0], found[1]) if len(found) == 2 else None


def spring_of(end: EndBearing) -> AxialSpring | None:
    """Axial spring of a handbook bearing as it is fitted; None for an own row."""
    row = end.row
    if row is None:
        return None
    rating = rating_of(row)
    if rating is None or rating.f0 is None or not isinstance(row, Bearing):
        return None
    factor = play_factor(row.designation)
    try:
        balls: BallSet = ball_set_from_rating(
            static_rating=rating.static,
            f0=rating.f0,
            bore=row.bore,
            outside=row.outside,
            groove_distance=groove_distance_from_factor(factor.factor) if factor else None,
        )
        free = clearance(bore_of(row), end.group)
        fitted = mounted_clearance(
            unmounted=(free.low + free.high) / 2,
            inner_interference=inner_interference(end),
            outer_interference=0.0,
            share=FITTED_SHARE,
        )
        return axial_spring(balls, radial_clearance=max(fitted, 0.001))
    except ValueError:
        return None


def inner_interference(end: EndBearing) -> float:
    """Interference of the inner ring on its seat, below zero when loose, mm.

    The seat as measured, on a ring in the middle of its limits (ISO 492, normal class).
    """
    if end.seat is None or end.bore is None:
        return USUAL_INTERFERENCE
    upper, lower = ring_limits("bore", end.bore)
    return end.seat.value - (end.bore + (upper + lower) / 2)


def unloaded_gap(
    play: float, force: float | None, pair: tuple[AxialSpring, AxialSpring] | None
) -> float:
    """End play less the give of both bearings under the reading force, mm."""
    if force is None or pair is None:
        return play
    give = sum(deflection_under(s, force) for s in pair)
    return max(0.0, play - give)


def squeeze_of(pair: tuple[AxialSpring, AxialSpring] | None, preload: float) -> float:
    """How far the pair must be drawn together past zero float for a preload, mm."""
    if pair is None:
        return preload / SMALL_PAIR_STIFFNESS
    return squeeze_for_preload(pair[0], pair[1], preload=preload)


def preload_band(
    pair: tuple[AxialSpring, AxialSpring] | None, squeeze: float, preload: float, u: float
) -> Estimate:
    """Preload with the band that the shim's own error gives: preload is a band, not a figure."""
    ends = [max(0.0, squeeze - 2 * u), squeeze + 2 * u]
    if pair is None:
        low, high = (SMALL_PAIR_STIFFNESS * s for s in ends)
        low, high = 0.5 * low, 1.5 * high
    else:
        low, high = (float(preload_from_squeeze(pair[0], pair[1], s)) for s in ends)
    return Estimate(preload, (high - low) / 4, low, high, "force", "squeeze ± shim error")
