"""Springing, bolts, base plate, dialling and grip: the formulas of the set-up on the machine."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest
from numpy.typing import NDArray

from published import derived, published
from wormwright.core.base_plate import (
    next_stock,
    parallelism,
    plate_bend,
    plate_thickness,
    slots_used,
)
from wormwright.core.beam import (
    give_held_at_both_ends,
    give_of_cantilever,
    give_of_column,
    give_of_tilt,
    moment_of_block,
    moment_of_round,
    sag_of_bar,
    shares_of_give,
    stiffness_kept,
)
from wormwright.core.bolt import lift_margin, preload_of_torque, slip_margin
from wormwright.core.dialling import (
    collet_limit,
    jaw_moves,
    offset_at,
    offset_of_readings,
    wedge_of_tilt,
)
from wormwright.core.grip import grip_lost, grip_needed, speed_at_limit
from wormwright.core.turn_vector import TurnVector
from wormwright.handbook.bolts import bolt_for_slot, bolts
from wormwright.handbook.collets import collet_limits

STEEL = 206_000.0
Array = NDArray[np.float64]


def bend_by_integration(
    load: Callable[[Array], Array], length: float, stiffness: float, n: int = 20_000
) -> float:
    """End deflection of a cantilever by virtual work: integral of M m/(E I)."""
    x = (np.arange(n) + 0.5) * length / n
    return float(np.sum(load(x) * (length - x)) * length / n / stiffness)


@derived(method="virtual work, integrated numerically along the bar")
def test_a_bar_held_at_one_end_bends_and_sags_as_its_moments_say() -> None:
    inertia = moment_of_round(12.0)
    by_force = bend_by_integration(lambda x: 250.0 - x, 250.0, STEEL * inertia)
    assert give_of_cantilever(length=250.0, modulus=STEEL, moment=inertia) == pytest.approx(
        by_force, rel=1e-6
    )
    weight = 7860e-9 * 9.80665 * math.pi * 36.0
    by_weight = bend_by_integration(lambda x: weight * (250.0 - x) ** 2 / 2, 250.0, STEEL * inertia)
    sag = sag_of_bar(at=250.0, length=250.0, diameter=12.0, modulus=STEEL, density=7860.0)
    assert sag == pytest.approx(by_weight, rel=1e-6)


@derived(method="force method: the centre's reaction takes the deflection at the end back to zero")
@pytest.mark.parametrize("at", [30.0, 100.0, 170.0])
def test_a_bar_carried_by_a_centre_bends_as_the_force_method_says(at: float) -> None:
    length, inertia = 200.0, moment_of_round(20.0)
    stiff = STEEL * inertia
    end_by_load = at**2 * (3 * length - at) / (6 * stiff)
    reaction = end_by_load / (length**3 / (3 * stiff))
    own = at**3 / (3 * stiff)
    back = reaction * at**2 * (3 * length - at) / (6 * stiff)
    found = give_held_at_both_ends(length=length, at=at, modulus=STEEL, moment=inertia)
    assert found == pytest.approx(own - back, rel=1e-9)


@derived(method="beam theory: stiffness of a plate grows with the cube of its thickness")
def test_a_plate_of_thirty_is_three_and_three_eighths_as_stiff_as_one_of_twenty() -> None:
    ratio = moment_of_block(width=100, height=30) / moment_of_block(width=100, height=20)
    assert ratio == pytest.approx(3.375)
    thin = plate_bend(force=300, arm=45, width=160, thickness=20, modulus=70e3)
    assert thin / plate_bend(force=300, arm=45, width=160, thickness=30, modulus=70e3) == (
        pytest.approx(3.375)
    )
    strip = give_of_cantilever(
        length=45, modulus=70e3, moment=moment_of_block(width=160, height=20)
    )
    assert thin == pytest.approx(300 * strip)
    t = plate_thickness(force=300, arm=45, width=160, lift=thin, modulus=70e3)
    assert t == pytest.approx(20.0)


@derived(method="bending part alone for a tall column, shear part alone for a flat block")
def test_a_riser_bends_when_tall_and_shears_when_flat() -> None:
    tall = give_of_column(height=1000.0, along=50.0, across=50.0, modulus=STEEL)
    bending = 1000.0**3 / (3 * STEEL * 50.0**4 / 12)
    assert tall == pytest.approx(bending, rel=0.01)
    over = give_of_column(height=1000.0, along=50.0, across=50.0, modulus=STEEL, over=80.0)
    z = (np.arange(20_000) + 0.5) / 20
    summed = float(np.sum((1080.0 - z) ** 2) / 20 / (STEEL * 50.0**4 / 12))
    assert over - (tall - bending) == pytest.approx(summed, rel=1e-6)
    flat = give_of_column(height=5.0, along=200.0, across=200.0, modulus=STEEL)
    shear = 5.0 / (STEEL / 2.6 * 200.0**2 * 5 / 6)
    assert flat == pytest.approx(shear, rel=0.01)


@published(
    work="short torque formula, engineers' pocket tables",
    edition="any",
    place="M8 at 25 N m, K 0.2",
    known="from memory",
)
def test_the_preload_of_an_m8_bolt_by_the_short_formula() -> None:
    assert preload_of_torque(torque=25_000.0, diameter=8.0) == pytest.approx(15_600, abs=50)


@published(
    work="VDI 2230 part 1, table of assembly preloads and torques",
    edition="2003",
    place="class 8.8, friction 0.12, M5 to M12",
    known="from memory",
)
@pytest.mark.parametrize(
    ("thread", "torque", "preload"),
    [("M5", 5.9, 6.6), ("M6", 10, 9.0), ("M8", 25, 16.5), ("M10", 49, 26), ("M12", 85, 38)],
)
def test_the_bolt_table_and_the_short_formula_agree(
    thread: str, torque: float, preload: float
) -> None:
    bolt = next(b for b in bolts() if b.thread == thread)
    assert (bolt.torque, bolt.preload) == pytest.approx((torque * 1e3, preload * 1e3))
    short = preload_of_torque(torque=bolt.torque, diameter=bolt.diameter, nut_factor=0.19)
    assert short == pytest.approx(bolt.preload, rel=0.08)


def test_the_bolt_follows_the_slot_and_a_narrow_slot_is_refused() -> None:
    assert [bolt_for_slot(w).thread for w in (8.0, 10.0, 11.0, 14.0, 18.0)] == [
        "M6",
        "M8",
        "M8",
        "M12",
        "M12",
    ]
    with pytest.raises(ValueError, match="slot of 4"):
        bolt_for_slot(4.0)


@derived(method="shares of a load off the middle balanced against force and moment")
def test_shares_of_the_bolts_balance_the_load_and_its_moment() -> None:
    places = [(60.0, 40.0), (-60.0, 40.0), (-60.0, -40.0), (60.0, -40.0)]
    load, at = (30.0, -200.0), (210.0, 15.0)
    polar = sum(x * x + y * y for x, y in places)
    moment = at[0] * load[1] - at[1] * load[0]
    shares = [
        (load[0] / 4 - moment * y / polar, load[1] / 4 + moment * x / polar) for x, y in places
    ]
    assert sum(s[0] for s in shares) == pytest.approx(load[0])
    assert sum(s[1] for s in shares) == pytest.approx(load[1])
    turned = sum(x * qy - y * qx for (x, y), (qx, qy) in zip(places, shares, strict=True))
    assert turned == pytest.approx(moment)
    worst = max(math.hypot(*s) for s in shares)
    found = slip_margin(places=places, clamp=9000.0, friction=0.15, load=load, at=at)
    assert found == pytest.approx(0.15 * 9000.0 / worst)


@derived(method="moments about the far row")
def test_the_joint_opens_when_the_pulled_row_has_lost_its_clamp() -> None:
    margin = lift_margin(clamp=8000.0, bolts=4, moment=100_000.0, spacing=100.0)
    assert margin * 100_000.0 == pytest.approx(2 * 8000.0 * 100.0)


@derived(method="links added up by hand")
def test_the_softest_link_comes_first_and_all_shares_make_one() -> None:
    found = shares_of_give([("bar", 2e-5), ("joint", 3e-6), ("tool", 7e-5)])
    assert [s.name for s in found] == ["tool", "bar", "joint"]
    assert sum(s.share for s in found) == pytest.approx(1.0)
    assert stiffness_kept(before=100.0, after=200.0) == pytest.approx(1 / 8)
    assert give_of_tilt(arm=50.0, tilt_per_moment=2e-9) == pytest.approx(5e-6)


@derived(method="work moved in the plane by the stated jaw moves, its offset then looked at")
@pytest.mark.parametrize("seed", range(12))
def test_jaw_moves_from_readings_at_any_angles_bring_the_work_true(seed: int) -> None:
    rng = np.random.default_rng(seed)
    e, direction, jaw = rng.uniform(0.02, 0.5), rng.uniform(0, 6.28), rng.uniform(0, 6.28)
    angles = np.sort(rng.uniform(0, 2 * np.pi, 5)) + np.linspace(0, 1, 5)
    readings = 1.3 + e * np.cos(angles - direction)
    moves = jaw_moves(offset_of_readings(angles, readings, reading_u=0.002), first_jaw=jaw)
    x, y = e * math.cos(direction), e * math.sin(direction)
    for move in moves:
        way = jaw + (move.back - 1) * math.pi / 2
        x += move.move * math.cos(way)
        y += move.move * math.sin(way)
    assert math.hypot(x, y) == pytest.approx(0.0, abs=1e-9)
    assert all({m.back, m.in_} in ({1, 3}, {2, 4}) for m in moves)


@derived(method="vectors by hand: equal swings in two planes with a quarter turn between them")
def test_equal_runout_in_two_planes_grows_further_out() -> None:
    near, far = TurnVector(0.01, 0.0, 0.001), TurnVector(0.0, 0.01, 0.001)
    out = offset_at(near=near, far=far, near_at=0.0, far_at=100.0, at=200.0)
    assert out.swing == pytest.approx(2 * math.hypot(0.01, 0.02))
    assert out.u == pytest.approx(0.001 * math.sqrt(5))
    wedge = wedge_of_tilt(tilt=TurnVector(1e-4, 0.0, 1e-6), radius=60.0)
    assert wedge.x == pytest.approx(-0.006)


@published(
    work="ISO 15488 (DIN 6499), runout of collets with a test arbor",
    edition="2003",
    place="table of runout by bore and distance",
    known="read",
)
@pytest.mark.parametrize(
    ("diameter", "row"),
    [
        (1.0, (6, 0.010, 0.015)),
        (3.0, (10, 0.010, 0.015)),
        (6.0, (16, 0.010, 0.015)),
        (10.0, (25, 0.010, 0.015)),
        (12.0, (40, 0.015, 0.020)),
        (25.0, (50, 0.015, 0.020)),
    ],
)
def test_collet_classes(diameter: float, row: tuple[float, float, float]) -> None:
    found = collet_limit(diameter, collet_limits())
    assert (found.distance, found.class_1, found.class_2) == row
    with pytest.raises(ValueError, match="take a chuck"):
        collet_limit(diameter + 30, collet_limits())


@derived(method="m r w^2 by hand")
def test_the_jaws_lose_grip_with_the_square_of_the_speed() -> None:
    lost = grip_lost(jaws=3, jaw_mass=0.12, radius=35.0, speed=1000.0)
    assert lost == pytest.approx(138.2, abs=0.3)
    limit = speed_at_limit(jaws=3, jaw_mass=0.12, radius=35.0, grip=3000.0)
    at_limit = grip_lost(jaws=3, jaw_mass=0.12, radius=35.0, speed=limit)
    assert at_limit == pytest.approx(2000.0)
    need = grip_needed(force=50, cut_radius=40, grip_radius=20, friction=0.2, safety=2.5)
    assert need * 0.2 * 20 == pytest.approx(2.5 * 50 * 40)


@derived(method="counting by hand")
def test_slots_stock_and_parallelism() -> None:
    assert slots_used(pitch=50.0, spacing=150.0) == 3
    assert slots_used(pitch=50.0, spacing=151.0) == 4
    assert next_stock(16.0, [12, 16, 20]) == 16
    assert parallelism(lean=3e-4, spacing=130.0) == pytest.approx(0.013)
    with pytest.raises(ValueError, match="no stock"):
        next_stock(41.0, [12, 16, 40])
    with pytest.raises(ValueError, match="check the pitch"):
        slots_used(pitch=1.0, spacing=900.0)


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: moment_of_round(0.0),
        lambda: sag_of_bar(at=30, length=20, diameter=10, modulus=STEEL, density=7860),
        lambda: give_held_at_both_ends(length=10, at=10, modulus=STEEL, moment=1.0),
        lambda: shares_of_give([("bar", 0.0)]),
        lambda: preload_of_torque(torque=0.0, diameter=8.0),
        lambda: slip_margin(places=[(0, 0)], clamp=1, friction=0.1, load=(1, 0), at=(0, 0)),
        lambda: slip_margin(places=[(0, 0)] * 2, clamp=1, friction=0.1, load=(1, 0), at=(0, 0)),
        lambda: lift_margin(clamp=1, bolts=1, moment=1, spacing=1),
        lambda: plate_bend(force=1, arm=1, width=1, thickness=0, modulus=1),
        lambda: offset_of_readings([0, 1], [0, 1], reading_u=0.1),
        lambda: jaw_moves(TurnVector(1, 0, 0.1), first_jaw=0.0, jaws=3),
        lambda: offset_at(
            near=TurnVector(0, 0, 0), far=TurnVector(0, 0, 0), near_at=1, far_at=1, at=2
        ),
        lambda: wedge_of_tilt(tilt=TurnVector(0, 0, 0), radius=0.0),
        lambda: grip_lost(jaws=1, jaw_mass=0.1, radius=1, speed=1),
        lambda: speed_at_limit(jaws=3, jaw_mass=0, radius=1, grip=1),
        lambda: grip_needed(force=0, cut_radius=1, grip_radius=1, friction=1, safety=1),
    ],
)
def test_figures_that_cannot_be_are_refused(wrong: Callable[[], object]) -> None:
    with pytest.raises(ValueError, match=r"expected|above zero|only four"):
        wrong()
