"""What the duty's temperatures do to the mesh of this unit."""

from __future__ import annotations

from typing import NamedTuple

from wormwright.bench.figures import Bench
from wormwright.core.thermal import Rises, backlash_change, centre_distance_change, warm_states
from wormwright.handbook.materials import Material, material
from wormwright.job.pair import WormPair
from wormwright.job.rotary import Job

HOUSING_SHARE, WHEEL_SHARE = 0.3, 0.8
"""Share of the worm's rise that housing and wheel have reached while warming (common practice)."""


class Expansions(NamedTuple):
    """Growth of the three parts that set the centres, 1/K."""

    housing: float
    worm: float
    wheel: float


def materials_of(job: Job) -> tuple[Material, Material, Material]:
    """Materials of housing, worm and wheel; ValueError names one that is not in the handbook."""
    r = job.rotary
    return material(r.housing_material), material(r.worm_material), material(r.wheel_material)


def expansions_of(job: Job) -> Expansions:
    """Their usual expansions; ValueError for a material that is not in the handbook."""
    return Expansions(*(m.expansion for m in materials_of(job)))


def mesh_change(pair: WormPair, rises: Rises, grows: Expansions) -> float:
    """Change of backlash at r2 in one state of warming, mm."""
    read = pair.centre_distance
    opening = centre_distance_change(
        centre_distance=read.value if read else pair.r1 + pair.r2,
        worm_radius=pair.r1,
        wheel_radius=pair.r2,
        housing_expansion=grows.housing,
        worm_expansion=grows.worm,
        wheel_expansion=grows.wheel,
        rises=rises,
    )
    return float(backlash_change(opening=opening, tan_pressure=pair.t))


def duty_states(bench: Bench) -> tuple[Rises, ...]:
    """Start, gradient and soaked states from the coldest and the warmest shop of the duty."""
    duty, read = bench.job.duty, bench.figure("temperature", "housing")
    set_at = read.value if read else (duty.shop_low_c + duty.shop_high_c) / 2
    return tuple(
        state
        for shop in (duty.shop_low_c, duty.shop_high_c)
        for state in warm_states(
            start=shop - set_at,
            rise=duty.rise_k,
            housing_share=HOUSING_SHARE,
            wheel_share=WHEEL_SHARE,
        )
    )


def worst_opening(bench: Bench, pair: WormPair) -> float:
    """Most that heat opens the mesh over the duty's temperatures, mm at r2; 0 if not known."""
    try:
        grows = expansions_of(bench.job)
        return max(0.0, *(mesh_change(pair, state, grows) for state in duty_states(bench)))
    except ValueError:
        return 0.0
