"""Backlash round the wheel: the closed cosine form, wobble, pitch errors, what closing attains."""

from __future__ import annotations

import math
from functools import cache

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from published import derived
from wormwright.core.backlash import (
    ClosedFormMesh,
    Floats,
    backlash_at_angle,
    backlash_round_the_turn,
)
from wormwright.core.flank import FlankMesh
from wormwright.core.flank_first_order import FirstOrderMesh
from wormwright.core.mesh_pair import PairSizes, WheelKind, mesh_of_pair
from wormwright.core.mesh_results import ExactMesh
from wormwright.core.round_the_wheel import (
    Stand,
    TurnErrors,
    backlash_map,
    closing_to_least,
    even_turn,
    round_the_wheel,
)

Array = NDArray[np.float64]
T, LEAD, R1, R2 = math.tan(math.radians(20)), 0.0625, 12.0, 54.0
NO_FACE = ClosedFormMesh(T, LEAD, R1, 66.0, 0.0, 0.0)
THROATED = ClosedFormMesh(T, LEAD, R1, 66.0, 7 / 12, 0.0)
small = st.floats(-0.02, 0.02)


@cache
def flanks(kind: WheelKind) -> FlankMesh:
    return mesh_of_pair(
        PairSizes(
            teeth=72,
            starts=1,
            axial_module=1.5,
            axial_angle=math.radians(20),
            worm_d1=24.0,
            kind=kind,
            face=14.0,
        )
    )


@derived("closed form of two eccentricities on the textbook slope, which holds without face width")
@given(wheel=st.tuples(small, small), worm=st.tuples(small, small))
def test_without_face_width_the_map_is_the_sum_of_two_cosines(
    wheel: tuple[float, float], worm: tuple[float, float]
) -> None:
    phi, psi = even_turn(36), even_turn(8)
    got = backlash_map(
        NO_FACE,
        stand=Stand(da=0.1),
        errors=TurnErrors(wheel=wheel, worm=worm),
        table_angle=phi,
        worm_angle=psi,
        radius=R2,
    )
    # the worm at psi = 0: its own vector along the table angle's start
    row = backlash_at_angle(
        table_angle=phi, mean=2 * T * 0.1, t=T, ratio=72.0, wheel=wheel, worm=(0.0, 0.0)
    )
    aside = worm[0] * np.cos(psi) + worm[1] * np.sin(psi)
    expected = np.asarray(row)[:, None] + 2 * T * aside[None, :]
    assert got == pytest.approx(expected, abs=1e-12)


@derived("closed form: mean - least = 2t (e_wheel + e_worm), 0.02184 mm for TIR 0.04 and 0.02")
def test_mean_stays_above_least_by_both_runouts() -> None:
    errors = TurnErrors(wheel=(0.0, 0.02), worm=(0.01, 0.0))
    turn = round_the_wheel(NO_FACE, NO_FACE, stand=Stand(da=0.1), errors=errors, radius=R2)
    law = backlash_round_the_turn(
        mean=2 * T * 0.1, t=T, wheel_eccentricity=0.02, worm_eccentricity=0.01
    )
    assert turn.tight == pytest.approx(law.tight, abs=1e-9)
    assert turn.above_least == pytest.approx(0.02184, abs=1e-5)
    assert turn.tight_table == pytest.approx(math.radians(270))
    assert turn.tight_worm == pytest.approx(math.pi)
    assert turn.most.max() == pytest.approx(law.loose, abs=1e-9)


@derived("exact mesh at every angle of the map")
@pytest.mark.parametrize("kind", ["hob-equal", "helical"])
def test_first_order_map_with_the_exact_tight_spot_follows_the_exact_map(kind: WheelKind) -> None:
    mesh = flanks(kind)
    quick, exact = FirstOrderMesh(mesh, phases=4), ExactMesh(mesh, phases=4)
    errors = TurnErrors(wheel=(0.02, 0.0), worm=(0.0, 0.008), wobble=0.03, wobble_at=1.0)
    stand = Stand(da=0.06, dz=0.02)
    turn = round_the_wheel(quick, exact, stand=stand, errors=errors, radius=R2, table=12, worm=4)
    whole = backlash_map(
        exact,
        stand=stand,
        errors=errors,
        table_angle=even_turn(12),
        worm_angle=even_turn(4),
        radius=R2,
    )
    assert turn.tight == pytest.approx(whole.min(), abs=1e-9)
    assert turn.least == pytest.approx(whole.min(axis=1), abs=1.5e-3)
    assert turn.average == pytest.approx(whole.mean(), abs=1.5e-3)


@derived("sideways either way costs a centred throated wheel alike: wobble takes twice a turn")
def test_wobble_takes_backlash_twice_a_turn_from_a_centred_throated_wheel() -> None:
    phi = even_turn(48)
    turns = TurnErrors(wobble=0.2)
    lost = backlash_map(
        THROATED, stand=Stand(), errors=turns, table_angle=phi, worm_angle=np.zeros(1), radius=R2
    )[:, 0]
    waves = np.abs(np.fft.rfft(lost)) / len(phi)
    assert lost.max() < 0
    assert waves[2] > 10 * waves[1]
    one_sided = backlash_map(
        THROATED,
        stand=Stand(dz=0.3),
        errors=turns,
        table_angle=phi,
        worm_angle=np.zeros(1),
        radius=R2,
    )[:, 0]
    waves = np.abs(np.fft.rfft(one_sided)) / len(phi)
    assert waves[1] > 10 * waves[2]


@derived("a plain helical wheel does not mind sideways, so wobble costs it nothing to first order")
def test_wobble_costs_a_plain_helical_wheel_nothing() -> None:
    lost = backlash_map(
        NO_FACE,
        stand=Stand(da=0.05),
        errors=TurnErrors(wobble=0.2),
        table_angle=even_turn(12),
        worm_angle=even_turn(4),
        radius=R2,
    )
    assert np.ptp(lost) < 1e-12


@derived("rigid wheel: an error alike on both flanks turns it and leaves the backlash")
@given(errors=st.lists(st.floats(-0.03, 0.03), min_size=36, max_size=36), wide=small)
def test_only_unlike_pitch_errors_change_the_backlash(errors: list[float], wide: float) -> None:
    pitch = np.array(errors)
    space = np.zeros(36)
    space[9] = wide

    def over(plus: Array, minus: Array) -> Array:
        return backlash_map(
            NO_FACE,
            stand=Stand(da=0.1),
            errors=TurnErrors(plus=plus, minus=minus),
            table_angle=even_turn(36),
            worm_angle=np.zeros(1),
            radius=R2,
        )[:, 0]

    assert over(pitch, pitch) == pytest.approx(2 * T * 0.1, abs=1e-12)
    changed = over(pitch + space, pitch) - 2 * T * 0.1
    assert changed == pytest.approx(space, abs=1e-12)


@derived("symmetry: errors turned by an angle turn the map by it")
@given(wheel=st.tuples(small, small), steps=st.integers(0, 35), wobble=st.floats(0.0, 0.05))
@settings(max_examples=30)
def test_turning_the_errors_turns_the_map(
    wheel: tuple[float, float], steps: int, wobble: float
) -> None:
    phi = even_turn(36)
    by = float(phi[steps])
    c, s = math.cos(by), math.sin(by)
    turned = (wheel[0] * c - wheel[1] * s, wheel[0] * s + wheel[1] * c)

    def over(vector: tuple[float, float], at: float) -> Array:
        return backlash_map(
            THROATED,
            stand=Stand(da=0.05, dz=0.02),
            errors=TurnErrors(wheel=vector, wobble=wobble, wobble_at=at),
            table_angle=phi,
            worm_angle=even_turn(4),
            radius=R2,
        )

    assert over(turned, by) == pytest.approx(np.roll(over(wheel, 0.0), steps, axis=0), abs=1e-12)


@derived("inverse: the turn after the closing has the least play that was asked for")
@given(
    opened=st.floats(0.05, 0.3),
    aside=st.floats(-0.05, 0.05),
    wheel=st.tuples(small, small),
    least=st.floats(0.004, 0.03),
)
@settings(max_examples=40)
def test_closing_to_the_least_play_attains_it_and_no_less(
    opened: float, aside: float, wheel: tuple[float, float], least: float
) -> None:
    errors = TurnErrors(wheel=wheel)
    closing, after = closing_to_least(
        THROATED,
        THROATED,
        stand=Stand(da=opened, dz=aside),
        errors=errors,
        radius=R2,
        least=least,
    )
    assert after.tight == pytest.approx(least, abs=1e-6)
    assert after.least.min() == pytest.approx(least, abs=1e-6)
    assert after.average == pytest.approx(least + after.above_least)
    deeper = round_the_wheel(
        THROATED,
        THROATED,
        stand=Stand(da=opened - closing - 0.002, dz=aside),
        errors=errors,
        radius=R2,
    )
    assert deeper.tight < least


@derived("definition: pitch errors come in pairs, a wobble is a whole swing")
def test_half_given_errors_are_refused() -> None:
    with pytest.raises(ValueError, match="both flanks"):
        TurnErrors(plus=np.zeros(3))
    with pytest.raises(ValueError, match="both flanks"):
        TurnErrors(plus=np.zeros(3), minus=np.zeros(4))
    with pytest.raises(ValueError, match="whole swing"):
        TurnErrors(wobble=-0.01)
    with pytest.raises(ValueError, match="pitch radius"):
        backlash_map(
            NO_FACE,
            stand=Stand(),
            errors=TurnErrors(),
            table_angle=np.zeros(1),
            worm_angle=np.zeros(1),
            radius=0.0,
        )


@derived("a throated wheel far off its middle is shut by its edges: at no near depth is there play")
def test_a_play_that_no_depth_gives_is_refused() -> None:
    class Stuck:
        def backlash_change(
            self, *, da: Floats, dz: Floats = 0.0, skew: Floats = 0.0, tilt: Floats = 0.0
        ) -> Floats:
            return np.zeros(np.shape(da)) - 0.02 + 0.0 * (np.asarray(dz) + skew + tilt)

    with pytest.raises(ValueError, match="no depth gives"):
        closing_to_least(
            Stuck(),
            Stuck(),
            stand=Stand(),
            errors=TurnErrors(),
            radius=R2,
            least=0.01,
        )
