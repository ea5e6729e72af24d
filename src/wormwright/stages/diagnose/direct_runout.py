"""Runout of wheel and worm read by an indicator, brought to bear on the draws of the fit.

The rock sees the components of the runout, the indicator its size |e|, which is no straight row of
the fit. So each draw is weighed by how well it agrees with the indicator.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from wormwright.bench import Bench
from wormwright.job.result import Doubt, Estimate
from wormwright.stages.diagnose.fit import Fit
from wormwright.stages.diagnose.turn import estimate_of
from wormwright.stages.diagnose.wording import words_of

Array = NDArray[np.float64]

AS_CUT = {"wheel_runout": 0.005, "worm_runout": 0.003}
"""How far the swing of a rim or a journal may differ from that of the teeth, one sd, mm TIR."""

VECTOR = {"wheel_runout": ("wheel_x", "wheel_y"), "worm_runout": ("worm_x", "worm_y")}

APART = 3.0
"""Standard deviations from which indicator and rock are said to disagree."""

FEWEST_DRAWS = 200
"""With fewer draws left of weight the two do not belong together."""


def weighed_by_runout(fit: Fit, bench: Bench) -> tuple[Fit, tuple[Doubt, ...]]:
    """The fit with its draws weighed by direct runout readings, and where the two disagree."""
    weight = np.ones(len(fit.x))
    doubts: list[Doubt] = []
    for kind, names in VECTOR.items():
        read = bench.figure(kind)
        if read is None:
            continue
        swing = 2 * np.hypot(fit.of(names[0]), fit.of(names[1]))
        u = math.hypot(read.u, AS_CUT[kind])
        off = abs(float(swing.mean()) - read.value) / math.hypot(float(swing.std()), u)
        likely = weight * np.exp(-0.5 * ((swing - read.value) / u) ** 2)
        if off > APART or _effective(likely) < FEWEST_DRAWS:
            doubts.append(_disagree(kind, read.value, u, swing, read.seqs))
            continue
        weight = likely
    if np.ptp(weight) == 0:
        return fit, tuple(doubts)
    return fit.kept(_resampled(weight, fit.posterior.seed)), tuple(doubts)


def _effective(weight: Array) -> float:
    """Number of equal draws that the weighed ones are worth."""
    total = float(weight.sum())
    return total**2 / float(weight @ weight) if total > 0 else 0.0


def _resampled(weight: Array, seed: int) -> NDArray[np.intp]:
    """Rows drawn in proportion to their weight, evenly spread (systematic resampling)."""
    n = len(weight)
    start = np.random.default_rng([seed, 2]).random()
    ladder = np.cumsum(weight) / weight.sum()
    return np.minimum(np.searchsorted(ladder, (np.arange(n) + start) / n), n - 1)


def _disagree(kind: str, read: float, u: float, swing: Array, seqs: tuple[int, ...]) -> Doubt:
    part = "wheel" if kind == "wheel_runout" else "worm"
    by_hand = Estimate.normal(read, u, "length", "indicator")
    by_rock = estimate_of(swing, "length", "rock")
    return Doubt(
        "warn",
        "D-5",
        f"The indicator finds {words_of(by_hand)} of {part} runout, the rock {words_of(by_rock)}.",
        "The rim or journal then does not run like the teeth, or one of the two is a slip.",
        f"Read the {part} runout again on the teeth themselves (ball or pin in the tooth space); "
        "until then the rock is believed.",
        seqs,
    )
