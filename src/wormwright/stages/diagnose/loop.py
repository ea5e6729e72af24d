"""The rock loop: clearance, springing and friction of the table against the held worm."""

from __future__ import annotations

import math

from wormwright.bench import Bench
from wormwright.bench.loops import loop_of, loops_by_place
from wormwright.core.rock_loop import RockLoop
from wormwright.job.findings import Figured, Finding
from wormwright.job.pair import WormPair
from wormwright.stages.diagnose.fit import Fit
from wormwright.stages.diagnose.ranges import COMPLIANCE
from wormwright.stages.diagnose.turn import estimate_of
from wormwright.stages.diagnose.wording import never_negative


def loop_finding(bench: Bench, fit: Fit, pair: WormPair) -> Finding:
    """Every place at which a loop was read, taken apart; what a loop lacks when it cannot be."""
    figures: list[Figured] = []
    words: list[str] = []
    most = 0.0
    several = len(loops_by_place(bench)) > 1
    for place, readings in loops_by_place(bench).items():
        at = f" at {place}°" if several else ""
        try:
            loop = loop_of(readings)
        except ValueError as lacking:
            words.append(f"The loop{at} cannot be taken apart: {lacking}.")
            continue
        full = max(abs(r.number("torque") or 0.0) for r in readings)
        figures += _figures(loop, f" {place}" if several else "", at, full)
        words += _words(loop, at)
        most = max(most, full)
    figures += _beside_the_fit(fit, pair, most)
    return Finding("loop", "Rock loop", tuple(figures), tuple(words))


def _figures(loop: RockLoop, key: str, at: str, full: float) -> list[Figured]:
    clearance = never_negative(loop.clearance, loop.clearance_u, "angle", "rock loop")
    spring = never_negative(loop.compliance * full, loop.compliance_u * full, "angle", "rock loop")
    out = [
        Figured(f"clearance{key}", f"clearance, no torque{at}", clearance),
        Figured(f"spring{key}", f"springing under the full torque, one way{at}", spring),
    ]
    torque, stiffness = loop.friction_torque, loop.stiffness
    if torque is not None and stiffness is not None:
        u = abs(torque) * math.hypot(
            loop.half_width_u / max(abs(loop.half_width), 1e-12),
            loop.compliance_u / loop.compliance,
        )
        friction = never_negative(torque, u, "torque", "half height of the loop")
        out.append(Figured(f"friction{key}", f"friction of the table{at}", friction))
    return out


def _words(loop: RockLoop, at: str) -> list[str]:
    out = []
    if not loop.clearance_told:
        out.append(f"No clearance{at} stands out: what gives is springing, or the seat of the pin.")
    if loop.stiffness is None:
        out.append(f"No springing{at} stands out of the noise: go to a higher torque.")
    if loop.half_width <= 2 * loop.half_width_u:
        out.append(f"The loop{at} closes on itself within its noise: no friction stands out.")
    else:
        out.append(
            f"The loop{at} does not close on itself: that width is friction, no play, and neither "
            "shims nor closing cure it."
        )
    return out


def _beside_the_fit(fit: Fit, pair: WormPair, torque: float) -> list[Figured]:
    """The springing that rocks and loop give together."""
    if not torque:
        return []
    spring = estimate_of(fit.of(COMPLIANCE) * torque / pair.r2**2, "angle", "fit of all readings")
    return [Figured("spring_of_all", "springing under it, by rocks and loop together", spring)]
