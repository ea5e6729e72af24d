"""Approach from one side, written into the control: lost motion that no longer shows."""

from __future__ import annotations

import math

from wormwright.job.corrections import Correction
from wormwright.job.result import Estimate
from wormwright.stages.correct.cure import CHAIN, Cure
from wormwright.stages.correct.facts import Facts
from wormwright.stages.correct.wording import arc

SPARE = 2.0
"""Overshoot as a multiple of the largest lost motion (common practice)."""


def approach_rule(facts: Facts) -> Cure | None:
    """Every target reached from the same side; None where the duty says so already or reverses."""
    duty = facts.job.duty
    if duty.approach == "one way" or duty.work == "reversing" or duty.direction != "tangential":
        return None
    most = facts.diagnosis.lost_motion_loose.high
    half_turn = math.pi / facts.pair.ratio
    overshoot = max(SPARE * most, half_turn)
    spread = 0.05 * overshoot
    low, high = overshoot - spread, overshoot + spread
    size = Estimate(overshoot, spread / 2, low, high, "angle", "the larger of two rules")
    steps = (
        f"Overshoot by at least {arc(overshoot)}: half a worm turn, or twice the most lost motion "
        "of the turn, whichever is more; then come back to the target.",
        "Pick the side that the cut pushes toward, and keep it for the whole part: first touch, "
        "homing and zeroing as well.",
        "In the control: one macro or post line that every index goes through. Where the table "
        "turns while cutting, turn it one way only.",
        "Backlash compensation of this axis off: the control does not know which way the cut "
        "pushes, and the jump it makes shows.",
        "The cut must not reverse the load; if it does, clamp, or hold the flanks by weight or "
        "brake.",
    )
    correction = Correction(
        "approach",
        "Approach from one side, in the control",
        "With the flanks always on the same side neither mesh nor worm, joint or coupling shows; "
        "only the play of the table itself is left, because a cut can push it.",
        (("overshoot, about", size),),
        (),
        steps,
        ("proof_rock",),
        20.0,
    )
    return Cure(correction, takes_up=CHAIN, agreed=True)
