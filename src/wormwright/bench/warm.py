"""What the duty's temperatures do to the mesh of this unit."""

from __future__ import annotations

from wormwright.bench.figures import Bench
from wormwright.core.thermal import Rises, backlash_change, centre_distance_change, warm_states
from wormwright.handbook.materials import material
from wormwright.job.pair import WormPair
from wormwright.job.rotary import Job

HOUSING_SHARE, WHEEL_SHARE = 0.3, 0.8
"""Share of the worm's rise that housing and wheel have reached while warming (common practice)."""


def mesh_change(job: Job, pair: WormPair, rises: Rises) -> float:
    """Change of backlash at r2 in one state of warming, mm; ValueError for unknown materials."""
    read = pair.centre_distance
    housing, worm, wheel = (
        material(name).expansion
        for name in (
            job.rotary.housing_material,
            job.rotary.worm_material,
            job.rotary.wheel_material,
        )
    )
    opening = centre_distance_change(
        centre_distance=read.value if read else pair.r1 + pair.r2,
        worm_radius=pair.r1,
        wheel_radius=pair.r2,
        housing_expansion=housing,
        worm_expansion=worm,
        wheel_expansion=wheel,
        rises=rises,
    )
    return float(backlash_change(opening=opening, tan_pressure=pair.t))


def worst_opening(bench: Bench, pair: WormPair) -> float:
    """Most that heat opens the mesh over the duty's temperatures, mm at r2; 0 if not known."""
    job = bench.job
    read = bench.figure("temperature", "housing")
    set_at = read.value if read else (job.duty.shop_low_c + job.duty.shop_high_c) / 2
    states = (
        state
        for shop in (job.duty.shop_low_c, job.duty.shop_high_c)
        for state in warm_states(
            start=shop - set_at,
            rise=job.duty.rise_k,
            housing_share=HOUSING_SHARE,
            wheel_share=WHEEL_SHARE,
        )
    )
    try:
        return max(0.0, *(mesh_change(job, pair, state) for state in states))
    except ValueError:
        return 0.0
