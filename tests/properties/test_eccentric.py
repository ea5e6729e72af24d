"""Symmetries of eccentric bushings that must hold for any throw and angle."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from wormwright.core.backlash import sideways_for_false_depth, sine_of_half_face
from wormwright.core.eccentric import (
    closing_and_sideways,
    depth_and_centre_from_trial,
    indicator_at,
    indicator_change,
    least_wall,
    misalignment_of_unequal_angles,
    pointing_throw,
    refuse_blind_throw,
    seen_from_own_face,
    sideways_from_closing,
    slot_sweep,
    three_jaw_packing,
    throw_and_angle,
    walls_of_bushing,
    worst_sideways_of_pointing_pair,
)

throws = st.floats(0.01, 3.0)
angles = st.floats(-math.pi, math.pi)


@given(throws, angles)
def test_sideways_is_the_root_of_throw_and_closing_whatever_the_start(
    throw: float, angle: float
) -> None:
    closing, sideways = closing_and_sideways(throw=throw, angle=angle)
    closing = min(max(float(closing), -throw), throw)
    assert sideways_from_closing(throw=throw, closing=closing) == pytest.approx(
        abs(sideways), abs=2e-7 * throw
    )


@given(throws, angles, angles)
def test_the_way_there_does_not_matter(throw: float, start: float, turn: float) -> None:
    direct = closing_and_sideways(throw=throw, angle=start + turn)
    there = closing_and_sideways(throw=throw, angle=start)[0] + indicator_change(
        throw=throw, start=start, end=start + turn
    )
    assert there == pytest.approx(direct[0], abs=1e-9)


@given(throws, angles)
def test_plus_and_minus_phi_close_alike_and_stand_opposite(throw: float, angle: float) -> None:
    plus = closing_and_sideways(throw=throw, angle=angle)
    minus = closing_and_sideways(throw=throw, angle=-angle)
    assert plus[0] == pytest.approx(minus[0])
    assert plus[1] == pytest.approx(-minus[1])


@given(throws, angles)
def test_a_point_and_its_throw_vector_are_one(throw: float, angle: float) -> None:
    closing, sideways = closing_and_sideways(throw=throw, angle=angle)
    back_throw, back_angle = throw_and_angle(closing=closing, sideways=sideways)
    assert back_throw == pytest.approx(throw)
    assert math.cos(float(back_angle) - angle) == pytest.approx(1.0, abs=1e-12)


@given(angles)
def test_turning_alike_in_space_looks_opposite_from_the_two_faces(angle: float) -> None:
    assert seen_from_own_face(angle=angle, side="A") == -seen_from_own_face(angle=angle, side="B")


@given(throws, angles, st.floats(20, 200))
def test_equal_angles_leave_no_misalignment_and_swapped_ends_change_its_sign(
    throw: float, angle: float, span: float
) -> None:
    true = misalignment_of_unequal_angles(throw=throw, angle_a=angle, angle_b=angle, span=span)
    assert (true.tilt, true.skew) == (0.0, 0.0)
    one = misalignment_of_unequal_angles(throw=throw, angle_a=angle, angle_b=0.3, span=span)
    other = misalignment_of_unequal_angles(throw=throw, angle_a=0.3, angle_b=angle, span=span)
    assert one.tilt == pytest.approx(-other.tilt)
    assert one.skew == pytest.approx(-other.skew)


@given(st.floats(0.02, 1.5), st.floats(0.0, 1.0))
def test_pointing_pair_reaches_the_whole_interval_and_never_stands_further_aside(
    closing: float, share: float
) -> None:
    half_width = share * closing
    throw = pointing_throw(closing=closing, half_width=half_width)
    worst = worst_sideways_of_pointing_pair(closing=closing, half_width=half_width)
    least = max(closing - half_width, 0.0)
    assert worst == pytest.approx(
        sideways_from_closing(throw=throw, closing=min(least, throw)), rel=1e-6, abs=1e-6
    )
    for part in (0.0, 0.3, 1.0):
        wanted = closing - half_width + 2 * half_width * part
        wanted = min(max(wanted, 0.0), throw)
        assert sideways_from_closing(throw=throw, closing=wanted) <= worst + 1e-6


@given(st.floats(0.05, 0.29))
def test_a_blind_throw_of_three_tenths_is_refused_on_a_hob_equal_wheel(closing: float) -> None:
    sine = float(sine_of_half_face(face=14.0, r1=12.0))
    tolerance = float(sideways_for_false_depth(false_depth=0.02, sin_face=sine, hob_excess=0.0))
    with pytest.raises(ValueError, match="sideways"):
        refuse_blind_throw(throw=0.3, closing=closing, tolerance=tolerance)
    assert refuse_blind_throw(throw=0.3, closing=closing, tolerance=math.inf) > tolerance


@given(throws, st.floats(5, 60), st.floats(1, 40))
def test_walls_differ_by_twice_the_throw(throw: float, bore: float, more: float) -> None:
    walls = walls_of_bushing(outside=bore + more, bore=bore, throw=throw)
    assert walls.thick - walls.thin == pytest.approx(2 * throw)
    assert walls.thick + walls.thin == pytest.approx(more)
    assert least_wall(outside=bore + more) >= 1.5


@given(st.floats(0.02, 2.0), st.floats(6, 50))
def test_line_jaws_need_a_little_less_packing_than_flat_ones(offset: float, radius: float) -> None:
    packing = three_jaw_packing(offset=offset, work_radius=radius)
    assert packing.line_jaws < packing.flat_jaws == pytest.approx(1.5 * offset)
    assert packing.line_jaws == pytest.approx(
        1.5 * offset - 3 * offset**2 / (8 * radius), abs=0.1 * offset**2 / radius
    )


def test_three_jaw_packing_against_the_three_contact_circle() -> None:
    # Each jaw touches where its own radial line leaves the work; the packed jaw stands at 0.
    offset, radius = 0.25, 0.375
    centre = complex(-offset, 0.0)

    def reach(angle: float) -> float:
        step = complex(math.cos(angle), math.sin(angle))
        along = (centre * step.conjugate()).real
        return along + math.sqrt(radius**2 - abs(centre) ** 2 + along**2)

    packing = reach(2 * math.pi / 3) - reach(0.0)
    assert three_jaw_packing(offset=offset, work_radius=radius).line_jaws == pytest.approx(packing)


def test_indicator_beside_the_bushing_reads_on_the_straight_shaft() -> None:
    assert indicator_at(reading_a=0.1, reading_b=0.2, span=50.0, from_a=25.0) == pytest.approx(0.15)
    assert indicator_at(reading_a=0.1, reading_b=0.2, span=50.0, from_a=0.0) == pytest.approx(0.1)


@pytest.mark.parametrize("half", [0.3, 0.5])
def test_slots_span_the_work_range_with_room_to_spare(half: float) -> None:
    assert slot_sweep(work_range=(-half, half), screw=4.0, slot_circle=50.0) > 2 * half


def test_slots_that_would_cut_the_flange_apart_are_refused() -> None:
    with pytest.raises(ValueError, match="leaves no metal"):
        slot_sweep(work_range=(-1.2, 1.2), screw=4.0, slot_circle=50.0)


@pytest.mark.parametrize("bad", [(0.3, 0.31), (0.3, -0.4), (0.0, 0.0)])
def test_a_closing_beyond_the_throw_is_refused(bad: tuple[float, float]) -> None:
    with pytest.raises(ValueError, match="bushing"):
        sideways_from_closing(throw=bad[0], closing=bad[1])


@given(st.floats(0.05, 0.25), st.floats(-0.05, 0.05), st.floats(0.3, 0.9))
def test_a_trial_pair_finds_the_depth_and_the_throat_centre_it_was_given(
    depth: float, centre: float, tan_face: float
) -> None:
    # Long enough to jam pointing at the wheel, short enough to run free at right angles to it.
    throw = 0.5 * (depth + 0.06 * tan_face) + 0.5 * (depth / tan_face - 0.06)
    assume(depth + 0.06 * tan_face < throw < depth / tan_face - 0.06)

    def drag(way: float) -> float:
        low, high = 0.0, math.pi / 2
        for _ in range(80):
            middle = (low + high) / 2
            closing, sideways = map(float, closing_and_sideways(throw=throw, angle=way * middle))
            shut = closing >= depth - abs(sideways - centre) * tan_face
            low, high = (middle, high) if shut else (low, middle)
        return way * low

    found = depth_and_centre_from_trial(
        throw=throw, angle_plus=drag(1.0), angle_minus=drag(-1.0), tan_face=tan_face
    )
    assert found.closing == pytest.approx(depth, abs=1e-9)
    assert found.sideways == pytest.approx(centre, abs=1e-9)
