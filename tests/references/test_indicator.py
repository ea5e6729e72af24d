"""The cosine of a lever indicator against a printed table, and its limits."""

from __future__ import annotations

import math

import pytest

from published import derived, published
from wormwright.core.indicator import LARGEST_TILT, NEGLIGIBLE_TILT, movement_from_lever

PRINTED = {10: 0.98, 20: 0.94, 30: 0.87, 40: 0.77, 50: 0.64, 60: 0.50}


@published(
    work="measuring instrument maker's catalogue",
    edition="2019",
    place="lever indicators, table of the compensation for the angle of the stylus",
    known="read",
)
@pytest.mark.parametrize("degrees", PRINTED)
def test_factor_is_the_printed_one(degrees: int) -> None:
    factor = movement_from_lever(1.0, tilt=math.radians(degrees))
    assert factor == pytest.approx(PRINTED[degrees], abs=0.005)


@derived("the movement is the side along the surface of a triangle with the arc as longest side")
def test_movement_is_the_shadow_of_the_arc() -> None:
    across = movement_from_lever(0.3, tilt=math.radians(25))
    lost = 0.3 * math.sin(math.radians(25))
    assert math.hypot(across, lost) == pytest.approx(0.3)


@derived("1/cos of the two limits by hand: 1.0353 and 1.1547")
def test_limits_of_practice_mean_three_and_fifteen_per_cent() -> None:
    assert 1 / movement_from_lever(1.0, tilt=NEGLIGIBLE_TILT) == pytest.approx(1.0353, abs=1e-4)
    assert 1 / movement_from_lever(1.0, tilt=LARGEST_TILT) == pytest.approx(1.1547, abs=1e-4)


@pytest.mark.parametrize("degrees", [-1, 61, 90])
def test_a_tilt_beyond_the_table_is_refused(degrees: int) -> None:
    with pytest.raises(ValueError, match="0 to 60 degrees"):
        movement_from_lever(0.1, tilt=math.radians(degrees))
