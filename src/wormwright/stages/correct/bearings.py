"""What the worm bearings bear: static safety and life at the duty's torque, their own end float."""

from __future__ import annotations

import math
from dataclasses import dataclass

from wormwright.core.bearing import axial_play, float_of_cross_located_pair
from wormwright.core.bearing import groove_distance_from_factor as groove_distance
from wormwright.core.bearing_life import (
    equivalent_load,
    life_million_turns,
    static_safety,
    thrust_factors_at,
    thrust_limit,
    worm_bearing_radials,
)
from wormwright.handbook.bearings import (
    Bearing,
    clearance,
    play_factor,
    ratings,
    thrust_factors,
)
from wormwright.job.result import Doubt, Estimate
from wormwright.job.rotary import BearingRow
from wormwright.quantities import Dimension
from wormwright.stages.correct.facts import Facts, bore_of

STATIC_SAFETY = 1.5
"""Least static safety s0 of a ball bearing with shocks (bearing catalogues)."""

LIGHT_SERIES = ("617", "618", "619", "160", "60", "67", "68", "69")
"""Designations of diameter series 7, 8, 9, 0 and 1, which bear half the thrust of the others."""

MESH_FRICTION = 0.06
"""Friction of the flanks for the load round the worm (common practice, greased bronze)."""

USUAL_F0 = 13.0
"""Factor f0 where no maker's is known; life hardly depends on it."""

ONE_MAKER = 0.1
"""Share by which a rating may differ when only one maker's is known."""

ROUNDED = 0.02
"""Share by which catalogues round their ratings."""

Row = Bearing | BearingRow


@dataclass(frozen=True, slots=True)
class Borne:
    """What a bearing bears at the duty's torque, over the makers' ratings: least, middle, most."""

    safety: tuple[float, float, float]
    life: tuple[float, float, float] | None


def borne_by(facts: Facts, row: Row) -> Borne | None:
    """Static safety (ISO 76) and life in million worm turns (ISO 281); None if not rated."""
    rated = _rated(row)
    if not rated or facts.thrust <= 0:
        return None
    radial = _radial(facts)
    safeties = [safety_under(facts.thrust, radial, row, static) for _, static, _ in rated]
    lives = [_life(facts.thrust, radial, *each) for each in rated]
    known = [life for life in lives if life is not None]
    return Borne(_spread(safeties), _spread(known) if len(known) == len(lives) else None)


def _rated(row: Row) -> list[tuple[float | None, float, float]]:
    """Dynamic and static rating [N] and f0 of every maker in the book, or of the user's row."""
    if isinstance(row, BearingRow):
        return [(row.dynamic_n, row.static_n, USUAL_F0)] if row.static_n else []
    return [(r.dynamic, r.static, r.f0 or USUAL_F0) for r in ratings(row.designation)]


def _radial(facts: Facts) -> float:
    """Radial load of the more loaded worm bearing; without a span half of the separating force."""
    pair = facts.pair
    more, _ = worm_bearing_radials(
        thrust=facts.thrust,
        tan_pressure=pair.t,
        tan_lead=pair.g,
        friction=MESH_FRICTION,
        worm_radius=pair.r1,
        span=facts.span or math.inf,
    )
    return more


def safety_under(thrust: float, radial: float, row: Row, static: float) -> float:
    """Static safety, and never more than the axial limit of the bearing allows.

    The limit counts as the least safety wanted, so that one figure says both.
    """
    limit = thrust_limit(
        static_rating=static,
        bore=bore_of(row),
        light_series=row.designation.startswith(LIGHT_SERIES),
    )
    by_load = static_safety(static_rating=static, radial=radial, axial=thrust)
    return min(by_load, STATIC_SAFETY * limit / thrust)


def _life(
    thrust: float, radial: float, dynamic: float | None, static: float, f0: float
) -> float | None:
    if dynamic is None:
        return None
    try:
        e, y = thrust_factors_at(f0 * thrust / static, thrust_factors())
        load = equivalent_load(radial=radial, axial=thrust, e=e, y=y)
        return life_million_turns(dynamic_rating=dynamic, load=load)
    except ValueError:  # more than the tables allow: the static safety says so
        return None


def _spread(values: list[float]) -> tuple[float, float, float]:
    share = ONE_MAKER if len(values) == 1 else ROUNDED
    middle = sorted(values)[len(values) // 2]
    return min(values) * (1 - share), middle, max(values) * (1 + share)


def _estimate(band: tuple[float, float, float], dimension: Dimension, method: str) -> Estimate:
    low, value, high = band
    return Estimate(value, (high - low) / 4, low, high, dimension, method)


def bearing_sizes(facts: Facts, rows: tuple[Row, ...]) -> tuple[tuple[str, Estimate], ...]:
    """Static safety and life of the bearing that bears least, as labelled figures."""
    found = [(row, b) for row in dict.fromkeys(rows) if (b := borne_by(facts, row)) is not None]
    if not found:
        return ()
    row, borne = min(found, key=lambda pair: pair[1].safety[0])
    name = row.designation
    lines = [
        (
            f"static safety of {name} at full torque",
            _estimate(borne.safety, "ratio", "ISO 76, axial limit"),
        )
    ]
    if borne.life is not None:
        life = _estimate(borne.life, "ratio", "ISO 281, L10")
        lines.append((f"rating life of {name} at full torque, million worm turns", life))
    return tuple(lines)


def bearing_doubts(facts: Facts, rows: tuple[Row, ...]) -> tuple[Doubt, ...]:
    """Warn of a bearing that stays in and is too weak for the worm thrust of the duty."""
    weak = [
        (row.designation, b.safety[0])
        for row in dict.fromkeys(rows)
        if (b := borne_by(facts, row)) is not None and b.safety[0] < STATIC_SAFETY
    ]
    return tuple(
        Doubt(
            "warn",
            "bearing too weak",
            f"{name} bears the worm thrust of {facts.thrust:.0f} N with a static safety of "
            f"{safety:.1f}; {STATIC_SAFETY} is wanted.",
            "Balls that dent their grooves give back the play that the shim takes out.",
            "Lower the torque to resist, or take a bearing of a heavier series.",
        )
        for name, safety in weak
    )


def own_float(facts: Facts) -> tuple[str, Estimate] | None:
    """End float of both worm bearings by their own clearance (ISO 5753), spacing leaving none."""
    bands = [_play_band(facts, side) for side in (0, 1)]
    if bands[0] is None or bands[1] is None:
        return None
    (group, low, high), (_, other_low, other_high) = bands[0], bands[1]
    least = float_of_cross_located_pair(first_play=low, second_play=other_low, gap=0.0)
    most = float_of_cross_located_pair(first_play=high, second_play=other_high, gap=0.0)
    middle = (least + most) / 2
    label = f"own end float of both bearings, {group}"
    u = (most - least) / math.sqrt(12)
    return label, Estimate(middle, u, least, most, "length", "ISO 5753, K sqrt(G)")


def _play_band(facts: Facts, side: int) -> tuple[str, float, float] | None:
    """Clearance group and least and most end play of one bearing, mm."""
    end = facts.ends[side]
    if not isinstance(end.row, Bearing):
        return None
    factor = play_factor(end.row.designation)
    if factor is None:
        return None
    band = clearance(end.row.bore, end.group)
    distance = groove_distance(factor.factor)
    low, high = (
        axial_play(radial_clearance=g, groove_distance=distance) for g in (band.low, band.high)
    )
    return end.group, low, high
