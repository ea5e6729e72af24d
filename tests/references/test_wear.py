"""Wear from two sectors: a printed two-sample comparison, and draws of worn wheels."""

from __future__ import annotations

import math

import numpy as np
import pytest

from published import derived, published
from wormwright.core.backlash import backlash_change_of_moved_worm
from wormwright.core.wear import (
    SectorMean,
    runout_between_sectors,
    sector_difference,
    wear_depth,
)


@published(
    work="NIST/SEMATECH e-Handbook of Statistical Methods",
    edition="web edition, not dated",
    place="1.3.5.3 two-sample t test, AUTO83B, variances not pooled: T = -12.94627, nu = 136.8750",
    known="from memory",
)
def test_two_means_with_different_spread() -> None:
    first = SectorMean(20.14458, 6.414700 / math.sqrt(249), 248)
    second = SectorMean(30.48101, 6.107710 / math.sqrt(79), 78)
    found = sector_difference(used=first, unused=second)
    assert found.value / found.u == pytest.approx(-12.94627, abs=2e-5)
    assert found.dof == pytest.approx(136.8750, abs=2e-3)
    assert found.verdict == "unused sector differs"


@derived("brute force: 4000 unworn wheels; the verdict may be wrong in one out of twenty")
def test_unworn_wheels_are_seldom_called_worn() -> None:
    rng = np.random.default_rng(9)
    wrong = 0
    for _ in range(4000):
        a, b = rng.normal(0.1, 0.004, (2, 5))
        means = [
            SectorMean(float(v.mean()), float(v.std(ddof=1)) / math.sqrt(5), 4) for v in (a, b)
        ]
        wrong += sector_difference(used=means[0], unused=means[1]).verdict != "not proven"
    assert 0.02 < wrong / 4000 < 0.06


@derived("brute force: mean of the cosine over both arcs on a fine grid")
def test_runout_of_the_wheel_is_taken_off_first() -> None:
    def mean(start: float, end: float) -> float:
        phi = np.linspace(start, end, 20_001)
        return float((0.02 * np.cos(phi - 0.9)).mean())

    found = runout_between_sectors(
        amplitude=0.02, loosest=0.9, used_from=0.2, used_to=1.4, unused_from=2.0, unused_to=4.5
    )
    assert found == pytest.approx(mean(0.2, 1.4) - mean(2.0, 4.5), rel=1e-3)
    used, unused = SectorMean(0.14, 0.002), SectorMean(0.14 - found, 0.002)
    assert sector_difference(used=used, unused=unused).verdict == "used sector differs"
    assert sector_difference(used=used, unused=unused, runout=found).verdict == "not proven"


@derived(
    "the closed form of the mesh with a plain helical wheel (endless hob), closed by the depth"
)
def test_closing_by_the_wear_depth_takes_up_the_worn_play() -> None:
    t = math.tan(math.radians(20))
    worn = sector_difference(used=SectorMean(0.13, 0.001), unused=SectorMean(0.09, 0.001))
    depth = wear_depth(worn, tan_pressure=t, tan_lead=0.05)
    change = backlash_change_of_moved_worm(
        t=t, g=0.05, r1=12.0, sin_face=0.5, da=-depth.closing, hob_excess=1e6
    )
    assert change == pytest.approx(-worn.value, rel=1e-6)
    assert depth.closing_u / depth.closing == pytest.approx(worn.u / worn.value)
    assert depth.flank < worn.value


def test_a_sector_without_doubt_or_width_is_refused() -> None:
    with pytest.raises(ValueError, match="above zero for both"):
        sector_difference(used=SectorMean(0.1, 0.0), unused=SectorMean(0.1, 0.001))
    with pytest.raises(ValueError, match="an end past its start"):
        runout_between_sectors(
            amplitude=0.01, loosest=0, used_from=1, used_to=0.5, unused_from=2, unused_to=3
        )
