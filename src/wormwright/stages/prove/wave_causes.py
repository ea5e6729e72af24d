"""What a wave comes from, in the words of the trade, with how much of it."""

from __future__ import annotations

import math

from wormwright.job.findings import Diagnosis
from wormwright.job.pair import WormPair
from wormwright.job.proof_harmonics import WaveCause
from wormwright.job.result import Estimate
from wormwright.quantities import shown_estimate

AGREE = 2.0
"""Two figures agree when they lie no further apart than so many standard uncertainties."""


WORDS = {
    "table": "the wheel, or what the angle was measured with, is eccentric by",
    "worm": "a thrust face of the worm cams and shifts it along, in all by",
    "table_twice": "the wheel, or the bore that carries it, is oval; its pitch line by",
    "worm_twice": "the coupling is out of line, or a thrust face has two high places; along by",
    "tooth": "the threads of the worm are unevenly spaced; along by, in all",
    "step": "the steps of the motor are uneven; at its shaft by",
}
WORDS_OF_PLAY = {
    "table": "the mesh opens and closes with the wheel, which is eccentric by",
    "worm": "the mesh opens and closes with the worm, which is eccentric by",
}
"""Name of a wave -> what it comes from; the amount follows."""
_SWING = frozenset(("worm", "worm_twice", "tooth"))
"""Waves whose cause is told as its whole swing."""


def causes_of(
    key: str, size: Estimate, pair: WormPair, diagnosis: Diagnosis | None, *, of_play: bool
) -> tuple[WaveCause, ...]:
    """Cause of a wave of amplitude `size` (rad at the table), with its amount.

    A wheel eccentric by e turns e/r2·sin too far on the mean of both flanks and opens the mesh by
    2t·e/r2; a worm thrust face that cams by w in all moves the table by w/(2·r2) either way.
    """
    if of_play:
        amount = size.scaled(pair.r2 / (2 * pair.t), "length")
    elif key == "step":
        amount = size.scaled(pair.ratio, "angle")
    else:
        amount = size.scaled(pair.r2 * (2 if key in _SWING else 1), "length")
    words = (WORDS_OF_PLAY if of_play else WORDS)[key]
    return (WaveCause(words, amount, _compared(key, amount, diagnosis, of_play=of_play)),)


def _compared(
    key: str, eccentricity: Estimate, diagnosis: Diagnosis | None, *, of_play: bool
) -> str:
    """Beside the runout of the same part that the diagnosis found, where it found one."""
    if diagnosis is None:
        return ""
    if key == "table":
        return _beside(eccentricity, diagnosis.wheel_runout, "the rocks round the turn")
    if key == "worm" and of_play:
        return _beside(eccentricity, diagnosis.worm_runout, "the rocks at worm angles")
    return ""


def _beside(eccentricity: Estimate, runout: Estimate | None, where: str) -> str:
    """How an eccentricity stands beside half of a runout (TIR) that the diagnosis found."""
    if runout is None:
        return ""
    half = runout.scaled(0.5, "length")
    apart = abs(eccentricity.value - half.value)
    word = "agrees" if apart <= AGREE * math.hypot(eccentricity.u, half.u) else "does not agree"
    return f"{word} with {where}: {shown_estimate(half)}"
