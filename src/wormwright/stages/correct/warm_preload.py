"""What the duty's temperatures do to the end float or preload of the worm bearings."""

from __future__ import annotations

import math
from dataclasses import dataclass

from wormwright.core.bearing_preload import (
    AxialSpring,
    preload_from_squeeze,
    preload_to_stay_loaded,
    spring_force_to_hold,
)
from wormwright.core.thermal import PairArrangement, Rises, end_float_change
from wormwright.handbook.materials import material
from wormwright.job.result import Doubt, Estimate
from wormwright.stages.correct.facts import BALLS, Facts
from wormwright.stages.correct.preload import SMALL_PAIR_STIFFNESS
from wormwright.stages.correct.wording import length

PAIRS: dict[str, PairArrangement] = {
    "cover on outer ring": "face to face",
    "ring behind outer ring": "face to face",
    "nut with inner spacer": "back to back",
}
"""How the two bearings stand to each other; a retainer holds both at one end."""

WORTH_SAYING = 0.003
"""A change of end float below this is lost in the reading of it, mm."""

MOST_PRELOAD = 0.1
"""Share of the static rating above which a preload wears a small ball bearing (common practice)."""


@dataclass(frozen=True, slots=True)
class WarmPreload:
    """The loosest and the tightest state of warming: how much float grows in it [mm], preload [N].

    The growth is above zero where the pair gets looser.
    """

    loosest: Rises
    grown: float
    least: float
    tightest: Rises
    taken: float
    most: float


def warm_preload(
    facts: Facts, pair: tuple[AxialSpring, AxialSpring] | None, squeeze: float
) -> WarmPreload | None:
    """Preload over the duty's temperatures; None where span, side or material is not known."""
    arrangement = PAIRS.get(facts.worm_arrangement or "")
    if arrangement is None or facts.span is None or not facts.warm_states:
        return None
    try:
        housing = material(facts.job.rotary.housing_material).expansion
        worm = material(facts.job.rotary.worm_material).expansion
    except ValueError:  # the warm mesh asks for the material
        return None
    span = facts.span

    def grown(state: Rises) -> float:
        return float(
            end_float_change(
                arrangement,
                span=span,
                housing_expansion=housing,
                housing_rise=state.housing,
                shaft_expansion=worm,
                shaft_rise=state.worm,
            )
        )

    loose, tight = max(facts.warm_states, key=grown), min(facts.warm_states, key=grown)
    least, most = (_preload(pair, squeeze - grown(state)) for state in (loose, tight))
    return WarmPreload(loose, grown(loose), least, tight, grown(tight), most)


def _preload(pair: tuple[AxialSpring, AxialSpring] | None, squeeze: float) -> float:
    if pair is None:
        return SMALL_PAIR_STIFFNESS * max(squeeze, 0.0)
    return float(preload_from_squeeze(pair[0], pair[1], squeeze))


def warm_size(warm: WarmPreload | None, preload: float) -> list[tuple[str, Estimate]]:
    """The preload over the duty's temperatures as one labelled figure."""
    if warm is None:
        return []
    low, high = min(warm.least, preload), max(warm.most, preload)
    band = Estimate(preload, (high - low) / 4, low, high, "force", "growth of the span, Hertz")
    return [("preload over the duty's temperatures, shim to size", band)]


def warm_doubts(facts: Facts, warm: WarmPreload | None) -> tuple[Doubt, ...]:
    """Warn when warmth lets go of the preload, or makes it more than the bearings bear."""
    if warm is None:
        return ()
    doubts = []
    needed = preload_to_stay_loaded(facts.thrust) if facts.bearing_kind in BALLS else math.inf
    if warm.grown >= WORTH_SAYING and warm.least < needed:
        doubts.append(_lets_go(facts, warm, needed))
    limits = [MOST_PRELOAD * end.static for end in facts.ends if end.static]
    if facts.bearing_kind in BALLS and limits and warm.most > min(limits):
        doubts.append(_too_tight(facts, warm, min(limits)))
    return tuple(doubts)


def _lets_go(facts: Facts, warm: WarmPreload, needed: float) -> Doubt:
    units = facts.job.units
    force = spring_force_to_hold(facts.thrust)
    left = (
        f" and {warm.least:.0f} N of preload are left; {needed:.0f} N keep both bearings loaded at "
        "full torque"
        if math.isfinite(needed)
        else ""
    )
    return Doubt(
        "warn",
        "E-15",
        f"{_state(warm.loosest)}, the end float grows {length(warm.grown, units)}{left}.",
        "End float that comes back counts one to one at the wheel.",
        f"Preload with a spring of at least {force:.0f} N, 1.3 times the worm thrust, the other "
        "way against a solid shoulder; or locate both bearings at one end.",
    )


def _too_tight(facts: Facts, warm: WarmPreload, limit: float) -> Doubt:
    units = facts.job.units
    return Doubt(
        "warn",
        "E-15",
        f"{_state(warm.tightest)}, the span takes up {length(-warm.taken, units)} and the preload "
        f"rises to about {warm.most:.0f} N; {limit:.0f} N is the most for long life.",
        "The worm gets hard to turn and its bearings run hot, which tightens them further.",
        "Leave less squeeze and take a spring, or locate both bearings at one end.",
    )


_STATES = {
    "start": "Before any work, at the shop's temperature",
    "gradient": "While warming up, worm ahead of the housing",
    "soaked": "Warm right through",
}


def _state(rises: Rises) -> str:
    return f"{_STATES[rises.state]} (housing {rises.housing:+.0f} K, worm {rises.worm:+.0f} K)"
