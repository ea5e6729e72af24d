"""What a runout trace can carry, and how its doubt follows the scatter it shows."""

from __future__ import annotations

import math

import numpy as np
import pytest

from published import derived
from wormwright.core.runout import evenly_spaced, folds_onto, most_lobes, places_of, runout_parts


@pytest.mark.parametrize(
    ("places", "lobes"), [(2, 0), (3, 1), (4, 1), (7, 1), (8, 3), (9, 4), (12, 5), (24, 11)]
)
def test_even_places_carry_half_their_number_of_lobes(places: int, lobes: int) -> None:
    assert most_lobes(np.arange(places) * 2 * math.pi / places) == lobes


def test_uneven_places_carry_fewer_lobes_than_their_number_promises() -> None:
    half_turn = np.radians(np.arange(0, 180, 15))
    assert 0 <= most_lobes(half_turn) < 5
    wide_gap = np.radians([0, 30, 60, 90, 120, 150, 180, 210, 240, 270])
    assert 2 <= most_lobes(wide_gap) < 4


def test_three_places_give_mean_and_eccentricity_with_nothing_left_over() -> None:
    three = np.radians([10, 130, 250])
    found = runout_parts(three, 0.01 * np.cos(three - 1.0) + 0.05, reading_u=0.002)
    assert (found.eccentricity.size, found.mean) == pytest.approx((0.01, 0.05))
    assert (found.dof, found.reading_u) == (0, 0.002)
    with pytest.raises(ValueError, match="2 places round the turn: expected 3 or more"):
        runout_parts([0.0, 1.0], [0.0, 0.1], reading_u=0.001)


def test_a_turn_is_one_place_from_either_side_of_the_zero_mark() -> None:
    assert len(places_of([0.0, 2 * math.pi, -1e-12, 4 * math.pi, 1e-9])) == 1
    assert places_of([math.pi, -math.pi, 5.0, 0.5]) == pytest.approx([0.5, math.pi, 5.0])
    with pytest.raises(ValueError, match="one finite angle for each reading"):
        places_of([0.0, math.nan])
    with pytest.raises(ValueError, match="one finite angle for each reading"):
        places_of([[0.0, 1.0]])


def test_the_last_places_of_the_turn_are_kept_and_a_gap_is_seen() -> None:
    assert places_of(np.radians([0, 350, 359])) == pytest.approx(np.radians([0, 350, 359]))
    assert evenly_spaced(places_of(np.radians([5, 95, 185, 275])))
    assert not evenly_spaced(places_of(np.radians([0, 60, 120, 180, 240])))
    assert not evenly_spaced(places_of(np.radians([0, 90.5, 180, 270])))


def test_double_of_a_lobe_is_refused_outside_the_places() -> None:
    assert folds_onto(2, 9) == (7, 11)
    for order in (0, 9):
        with pytest.raises(ValueError, match=f"lobes {order} on 9 places: expected 1 to 8"):
            folds_onto(order, 9)


@derived("residual standard deviation by hand: twelve readings less three unknowns")
def test_a_rough_trace_widens_its_own_doubt() -> None:
    theta = np.radians(np.arange(0, 360, 30))
    rough = np.array([3.0, -2, 1, 0, -1, 4, -3, 2, -2, 1, 0, -3])
    found = runout_parts(theta, 20 * np.cos(theta) + rough, reading_u=0.1, lobes=())
    seen = math.sqrt(float(np.sum(found.rest**2)) / 9)
    assert found.dof == 9
    assert found.reading_u == pytest.approx(seen)
    assert found.eccentricity.u == pytest.approx(seen * math.sqrt(2 / 12))
    assert found.mean_u == pytest.approx(seen / math.sqrt(12))
    calm = runout_parts(theta, 20 * np.cos(theta) + rough, reading_u=10.0, lobes=())
    assert calm.reading_u == 10.0
    one_left = runout_parts(theta[::3], [3.0, -2, 1, 0], reading_u=0.1)
    assert one_left.dof == 1
    assert one_left.reading_u == pytest.approx(float(np.linalg.norm(one_left.rest)))


def test_lobes_out_of_order_or_readings_without_angles_are_refused() -> None:
    theta = np.radians(np.arange(0, 360, 30))
    for lobes in ((3, 2), (1, 2), (2, 2)):
        with pytest.raises(ValueError, match="rising numbers from 2"):
            runout_parts(theta, np.zeros(12), reading_u=0.1, lobes=lobes)
    with pytest.raises(ValueError, match="one angle for each reading"):
        runout_parts(theta, np.zeros(11), reading_u=0.1)
