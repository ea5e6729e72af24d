"""What warming does to the mesh, and the backlash that must be left at the tight spot."""

from __future__ import annotations

import math
from dataclasses import dataclass

from wormwright.bench import PITCH_NOISE, Bench
from wormwright.bench.warm import Expansions, duty_states, materials_of, mesh_change
from wormwright.core.thermal import Rises
from wormwright.job.result import Doubt
from wormwright.stages.correct.facts import Facts

FILM = 0.002
"""Oil film between the flanks at r2, mm (common practice)."""

WORM_PHASE_U = 0.5
"""Doubt of the tightest worm angle when the worm is turned once at the tight spot, rad."""

SURE = 2.9
"""Standard deviations kept between the setting and a jam: about 0.2 % one-sided."""


@dataclass(frozen=True, slots=True)
class WarmMesh:
    """Change of backlash at r2 in the worst warm state: closing (<= 0), opening (>= 0), u, mm."""

    closes: float
    opens: float
    u: float
    closing_state: str
    doubts: tuple[Doubt, ...] = ()


def warm_mesh(facts: Facts, bench: Bench) -> WarmMesh:
    """Worst closing and opening of the mesh over the duty's temperatures, from the materials."""
    try:
        kinds = materials_of(facts.job)
    except ValueError as why:
        return WarmMesh(0.0, 0.0, 0.005, "", (_unknown_material(str(why)),))
    states = duty_states(bench)

    def change(rises: Rises, shift: int | None = None) -> float:
        grows = (m.expansion_high if shift == i else m.expansion for i, m in enumerate(kinds))
        return mesh_change(facts.pair, rises, Expansions(*grows))

    least = min(states, key=change)
    spread = [change(least, i) - change(least) for i in range(3)]
    return WarmMesh(
        closes=min(0.0, change(least)),
        opens=max(0.0, *(change(s) for s in states)),
        u=math.hypot(*spread) / math.sqrt(3),
        closing_state=least.state,
    )


def _unknown_material(why: str) -> Doubt:
    return Doubt(
        "ask",
        "E-22",
        f"The warm mesh cannot be worked out: {why}.",
        "A bronze wheel in an iron housing closes when it gets warm and can jam.",
        "Name the materials of worm, wheel and housing in job.toml; until then 10 µm either way "
        "at the pitch radius is allowed for.",
    )


def backlash_to_set(
    facts: Facts, warm: WarmMesh, *, u_set: float, lock: float, others_u: float, worm_swing: float
) -> float:
    """Backlash at r2 to set at the tight spot, cold, mm, rounded up to whole micrometres.

    Film, warm closing and the worm angle not met are added straight; reading, locking shift, pitch
    error, expansions and the plays hidden in the rock as standard deviations, `SURE` times.
    Never less than the duty's own least play.
    """
    spread = math.hypot(
        u_set, 2 * facts.pair.t * lock / math.sqrt(3), PITCH_NOISE, warm.u, others_u
    )
    phase = worm_swing * WORM_PHASE_U**2 / 2
    needed = FILM + max(0.0, -warm.closes) + phase + SURE * spread
    wanted = max(facts.job.duty.play_min_cold_mm, needed)
    return math.ceil(round(wanted * 1000, 6)) / 1000
