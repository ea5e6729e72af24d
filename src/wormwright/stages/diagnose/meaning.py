"""What the rock and an opening really mean on each kind of wheel, and what cannot be told."""

from __future__ import annotations

import math

import numpy as np

from wormwright.core.backlash import ClosedFormMesh, slope_of_opening
from wormwright.job.findings import Figured, Finding, Posterior
from wormwright.job.pair import KindTold, WheelKind, WormPair
from wormwright.job.result import Estimate
from wormwright.stages.diagnose.turn import estimate_of

NAMES: dict[WheelKind, str] = {
    "helical": "plain helical wheel",
    "oversize-hob": "oversize hob",
    "hob-equal": "hob of the worm's size",
}
ASIDE = 0.1
"""Sideways shift whose cost is shown, mm."""
LEAST_EXCESS = 0.01
"""Least radius excess of an oversize hob, as a share of the worm radius."""
SURE = 0.9
METHOD = "closed form of the mesh"
MODEL = 0.004
"""Most that the closed form is off the exact mesh at that shift, mm."""


def meaning_of_rock(pair: WormPair, posterior: Posterior) -> Finding:
    """Opening that the backlash would mean, and backlash hidden sideways, by wheel kind.

    The closed forms serve here: the plans hold them against the exact mesh.
    """
    backlash = posterior.of("mesh")
    figures: list[Figured] = []
    for kind, belief in pair.kinds:
        if belief <= 0:
            continue
        name, low, high = NAMES[kind], *_slopes(pair, kind)
        opened = estimate_of(backlash / ((low + high) / 2), "length", METHOD)
        figures.append(Figured(f"opened {kind}", f"centres apart, if all opening: {name}", opened))
        hidden = _hidden(pair, kind)
        figures.append(
            Figured(f"hidden {kind}", f"hidden by 0.1 mm sideways: {name}", hidden),
        )
    if pair.told is not None:
        figures.append(Figured("slope", "rock lost for each mm of closing, read", pair.told.slope))
    return Finding("mesh", "What opening and rock mean on this wheel", tuple(figures), _words(pair))


def _excess(pair: WormPair, kind: WheelKind) -> tuple[float, float]:
    if kind != "oversize-hob":
        return 0.0, 0.0
    least = LEAST_EXCESS * pair.r1
    return least, max(pair.hob_excess_max, least)


def _slopes(pair: WormPair, kind: WheelKind) -> tuple[float, float]:
    """Backlash at r2 for each mm of opening, least and most of what the kind may show."""
    sine = 0.0 if kind == "helical" else pair.sin_face
    edge = slope_of_opening(t=pair.t, g=pair.g, sin_face=sine, hob_excess=0.0)
    return edge, 2 * pair.t if kind == "oversize-hob" else edge


def _hidden(pair: WormPair, kind: WheelKind) -> Estimate:
    """Backlash that 0.1 mm sideways takes up at the depth where the wheel was cut."""
    lost = []
    for excess in _excess(pair, kind):
        sine = 0.0 if kind == "helical" else pair.sin_face * pair.r1 / (pair.r1 + excess)
        mesh = ClosedFormMesh(pair.t, pair.g, pair.r1, 0.0, sine, excess)
        lost.append(-float(np.asarray(mesh.backlash_change(da=0.0, dz=ASIDE))))
    low, high = min(lost) - MODEL, max(lost) + MODEL
    u = math.hypot((max(lost) - min(lost)) / math.sqrt(12), MODEL / 2)
    return Estimate((low + high) / 2, u, max(low, 0.0), high, "length", METHOD)


def _words(pair: WormPair) -> tuple[str, ...]:
    possible = [kind for kind, belief in pair.kinds if belief > 0]
    words = [
        "A rock sees backlash, not centres apart: the same rock means more opening on a wheel cut "
        "by a hob of the worm's size than on the others, and a worm that stands off the middle of "
        "a hollow wheel hides play until the edges wear."
    ]
    if pair.told is not None:
        words.append(_told(pair, pair.told))
    if max(belief for _, belief in pair.kinds) < SURE:
        names = ", ".join(NAMES[kind] for kind in possible)
        words.append(
            f"Which of these it is ({names}) cannot be told from a rock at one setting, nor can "
            "the part of the backlash that is opening from the part that is a thin thread or wear. "
            "Rocks at three known settings tell a hob of the worm's size from the rest "
            "(`setting_rock`); a trial pair tells the depth and the middle whatever the kind."
        )
    else:
        words.append(
            "The part of the backlash that is opening cannot be told from the part that is a thin "
            "thread or wear; a trial pair tells the depth all the same."
        )
    if "hob-equal" in possible and max(abs(pair.mark_off), pair.edge) == 0:
        words.append(
            "The whole face is taken to bear: broken edges (`wheel_edge_break`) and a worn band "
            "off the middle (`wheel_mark`) change what sideways costs."
        )
    return tuple(words)


def _told(pair: WormPair, told: KindTold) -> str:
    slope = told.slope
    each = "; ".join(f"{NAMES[kind]} {expected:.2f}" for kind, expected in told.expected)
    beliefs = ", ".join(f"{NAMES[kind]} {belief:.0%}" for kind, belief in pair.kinds)
    return (
        f"{told.rocks} rocks at known settings lose {slope.value:.2f} ({slope.low:.2f} to "
        f"{slope.high:.2f}) of backlash for each of closing, where an open mesh would show {each}. "
        f"Belief after that: {beliefs}."
    )
