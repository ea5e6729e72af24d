"""New plain bushes for worn worm journals."""

from __future__ import annotations

from wormwright.handbook.fits import deviations
from wormwright.job.corrections import Correction
from wormwright.job.result import Doubt, Estimate
from wormwright.stages.correct.bushing import RUNNING_LEAST, RUNNING_MOST
from wormwright.stages.correct.cure import Cure, not_read
from wormwright.stages.correct.facts import PLAIN, SIDES, EndBearing, Facts
from wormwright.stages.correct.journal_parts import (
    BUSH_FIT,
    FINISHING_STOCK,
    closing_when_pressed,
    journal_parts,
)
from wormwright.stages.correct.predict import Left
from wormwright.stages.correct.wording import length

REAMED = (RUNNING_LEAST + RUNNING_MOST) / 2
REAMED_U = (RUNNING_MOST - RUNNING_LEAST) / 12**0.5

WORN = 1.3
"""A bush is renewed when its float is this many times the most that a new one runs with."""


def journal_bushes(facts: Facts) -> Cure | None:
    """New bushes, pressed in and finished in line; None when bearings roll or run well."""
    floats = [f.value for f in facts.worm_float if f]
    if facts.bearing_kind != PLAIN or not floats or max(floats) < WORN * RUNNING_MOST:
        return None
    doubts: list[Doubt] = []
    sizes: list[tuple[str, Estimate]] = []
    for side, end in zip(SIDES, facts.ends, strict=True):
        if end.seat is None:
            why = "The bore of the bush is made to the journal it carries."
            doubts.append(not_read(f"The worm journal at end {side}", "shaft_seat", why))
            continue
        middle, u = end.seat.value + REAMED, (REAMED_U**2 + end.seat.u**2) ** 0.5
        low, high = end.seat.value + RUNNING_LEAST, end.seat.value + RUNNING_MOST
        sizes.append((f"bore {side}, finished", Estimate(middle, u, low, high, "length", "made")))
    correction = Correction(
        "journal_bush",
        "New bronze bushes for the worm journals",
        "Worn bushes let the worm climb out of the mesh and turn over on its span under load.",
        tuple(sizes),
        journal_parts(facts),
        _steps(facts),
        ("worm_journals", "worm_end_play"),
        180.0,
        tuple(doubts),
    )
    return Cure(correction, {"worm_float": Left(REAMED, REAMED_U)})


def _steps(facts: Facts) -> tuple[str, ...]:
    units = facts.job.units
    return (
        "Look at the journals first: round within "
        f"{length(0.005, units)} and smooth, or grind them and make the bushes to the new size.",
        *(_pressed(facts, side, end) for side, end in zip(SIDES, facts.ends, strict=True)),
        f"Finish both bores in line, {length(RUNNING_LEAST, units)} to "
        f"{length(RUNNING_MOST, units)} over the journal, after pressing; oil hole and groove "
        "on the wheel side, where the mesh does not press, the groove short of both ends.",
        "The worm must turn by the fingertips with the thrust washers in; then set its end play.",
    )


def _pressed(facts: Facts, side: str, end: EndBearing) -> str:
    """Outside and closing of one bush when it is pressed into its housing bore."""
    units, bore = facts.job.units, end.housing_bore
    if bore is None or end.seat is None:
        return f"End {side}: turn the outside to the housing bore with a press fit ({BUSH_FIT})."
    fit = deviations(BUSH_FIT, bore.value)
    outside = (
        f"End {side}: outside {length(bore.value + fit.lower, units)} to "
        f"{length(bore.value + fit.upper, units)}"
    )
    closes = closing_when_pressed(facts, end)
    if closes is None:
        return f"{outside}; bore it after pressing."
    return (
        f"{outside}; pressed in, its bore closes by about {length(closes, units)}: bore it that "
        f"much larger before, less {length(FINISHING_STOCK, units, to=0.01)} to finish in line."
    )
