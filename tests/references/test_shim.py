"""Shim thickness, its sign, and stacks from stock."""

from __future__ import annotations

from itertools import product

import pytest

from published import derived, published, regression
from wormwright.core.bearing import BallSet
from wormwright.core.bearing_preload import (
    axial_spring,
    preload_from_squeeze,
    squeeze_for_preload,
    thrust_at,
)
from wormwright.core.shim import (
    TIGHTENS,
    Piece,
    best_stack,
    float_after_shim,
    shim_thickness_from_gap,
    stack_of,
)
from wormwright.handbook.shim_stock import ring_sizes, shims

RINGS = [Piece(s.thickness, s.upper, s.lower) for s in shims("DIN 988 ring")]


@published(
    work="DIN 988",
    edition="1990",
    place="limit deviations 0/-0.03 to 0.15 mm, 0/-0.05 from 0.3 mm",
    known="from memory",
)
def test_stack_of_three_rings_has_the_band_of_its_limits() -> None:
    by_size = {p.thickness: p for p in RINGS}
    stack = stack_of([by_size[0.3], by_size[0.1], by_size[0.1]], target=0.5, tolerance=0.01)
    assert (stack.low, stack.high) == pytest.approx((0.39, 0.50))


@published(
    work="DIN 988",
    edition="1990",
    place="designation example, shim ring 40 x 50 x 0,5",
    known="read",
)
def test_ring_of_the_designation_example_is_in_the_handbook() -> None:
    assert any((r.inside, r.outside) == (40, 50) for r in ring_sizes())
    assert any(p.thickness == 0.5 for p in RINGS)


@published(
    work="vehicle repair manual, selection of a transaxle shim",
    edition="1992",
    place="a gap 0.002 to 0.006 in too small takes a shim 0.004 in thinner",
    known="read",
)
@pytest.mark.parametrize("short", [0.0021, 0.004, 0.0059])
def test_manual_takes_the_next_thinner_shim_for_a_gap_that_is_too_small(short: float) -> None:
    """The manual's stock steps by 0.004 in; its choice is the nearest size."""
    old = 0.016
    stock = [Piece(0.004 * n * 25.4) for n in range(1, 7)]
    wanted = (old - short) * 25.4
    chosen = best_stack(wanted, stock, tolerance=0.002 * 25.4, most_pieces=1)
    assert chosen.nominal == pytest.approx((old - 0.004) * 25.4)
    assert chosen.hits


@derived("every stack of up to three rings tried here by a plain product")
@pytest.mark.parametrize("target", [0.23, 0.37, 0.41, 0.98, 1.73])
def test_best_stack_is_the_nearest_of_all_stacks(target: float) -> None:
    sizes = [0.0, *(p.thickness for p in RINGS)]
    nearest = min(abs(sum(three) - target) for three in product(sizes, repeat=3) if sum(three))
    stack = best_stack(target, RINGS, tolerance=0.0)
    assert abs(stack.error) == pytest.approx(nearest, abs=1e-9)


@derived("counting by hand: 0.15 + 0.20 is 0.35, nothing of the list comes nearer to 0.37")
def test_no_din_stack_makes_0_37_and_the_tool_says_so() -> None:
    stack = best_stack(0.37, RINGS, tolerance=0.010)
    assert [p.thickness for p in stack.pieces] == [0.15, 0.2]
    assert stack.error == pytest.approx(-0.02)
    assert not stack.hits


@derived("within tolerance fewer pieces win over a smaller error")
def test_one_piece_near_enough_beats_two_that_are_exact() -> None:
    stock = [Piece(0.10), Piece(0.25), Piece(0.34)]
    assert [p.thickness for p in best_stack(0.35, stock, tolerance=0.02).pieces] == [0.34]
    assert len(best_stack(0.35, stock, tolerance=0.001).pieces) == 2


@derived("faces followed one by one: cover, nut and retainer tighten thinner, a ring thicker")
def test_sign_of_every_arrangement() -> None:
    now = {"in_place": 0.50, "gap": 0.060, "squeeze": 0.030}
    for arrangement in ("cover on outer ring", "nut with inner spacer", "retainer on shim"):
        assert shim_thickness_from_gap(**now, arrangement=arrangement) == pytest.approx(0.41)
    behind = shim_thickness_from_gap(**now, arrangement="ring behind outer ring")
    assert behind == pytest.approx(0.59)


@derived("stack of faces: housing depth, ring widths, shaft step and cover spigot summed up")
@pytest.mark.parametrize("cut", [0.0, 0.02, 0.05])
def test_shim_under_a_cover_by_adding_up_the_faces(cut: float) -> None:
    """Two bearings, both outer rings held by covers; float = housing + shims - all else."""
    housing, spigots, rings, shaft = 60.00, 2 * 5.00, 2 * 14.00, 22.45
    shims_now = 0.50

    def play(shim: float) -> float:
        return (housing + shim) - spigots - rings - shaft

    gap = play(shims_now)
    new = shim_thickness_from_gap(
        in_place=shims_now, gap=gap, squeeze=-cut, arrangement="cover on outer ring"
    )
    assert play(new) == pytest.approx(cut, abs=1e-9)


@regression("pair of 6204 with 0.06 mm end float for 100 N; moves with the Hertz constants")
def test_shim_change_for_100_newton_on_a_pair_of_6204() -> None:
    one = axial_spring(BallSet(8, 7.938, 33.5, 0.5177, 0.5177), radial_clearance=0.010)
    squeeze = squeeze_for_preload(one, one, preload=100)
    new = shim_thickness_from_gap(
        in_place=0.5, gap=0.060, squeeze=squeeze, arrangement="cover on outer ring"
    )
    assert 0.5 - new == pytest.approx(0.0892, abs=2e-4)


@derived("an equal rigid pair halves the squeeze, so each half is put through one bearing")
@pytest.mark.parametrize("error", [-0.010, 0.0, 0.010])
def test_shim_error_of_ten_micrometres_moves_the_preload_by_more_than_half(error: float) -> None:
    one = axial_spring(BallSet(8, 7.938, 33.5, 0.5177, 0.5177), radial_clearance=0.010)
    squeeze = squeeze_for_preload(one, one, preload=100)
    found = float(preload_from_squeeze(one, one, squeeze + error))
    assert found == pytest.approx(float(thrust_at(one, (squeeze + error) / 2)), rel=1e-3)
    assert abs(found - 100) == pytest.approx(6.5e3 * abs(error), rel=0.2, abs=0.2)


def test_no_thickness_without_a_known_arrangement() -> None:
    with pytest.raises(ValueError, match="no thickness is given without it"):
        shim_thickness_from_gap(in_place=0.4, gap=0.05, squeeze=0.0, arrangement="shim somewhere")


def test_more_shim_out_than_in_is_refused_with_the_way_out() -> None:
    with pytest.raises(ValueError, match=r"0\.040 mm more must come out"):
        shim_thickness_from_gap(
            in_place=0.05, gap=0.06, squeeze=0.03, arrangement="retainer on shim"
        )


@pytest.mark.parametrize("arrangement", TIGHTENS)
def test_float_after_the_shim_is_what_was_asked_for(arrangement: str) -> None:
    new = shim_thickness_from_gap(in_place=0.5, gap=0.06, squeeze=-0.004, arrangement=arrangement)
    left = float_after_shim(gap=0.06, change=new - 0.5, arrangement=arrangement)
    assert left == pytest.approx(0.004)
