"""Efficiency, forces, self-locking and drag of the worm mesh against printed figures."""

from __future__ import annotations

import math

import pytest

from published import derived, published
from wormwright.core.eccentric_turning import (
    four_jaw_tir,
    packing_after_trial,
    set_over_from_two_stations,
)
from wormwright.core.friction import (
    Interval,
    agma_friction,
    drag_of_preloaded_bearings,
    drag_of_tight_mesh,
    efficiency_wheel_driving,
    efficiency_worm_driving,
    friction_angle,
    holding,
    holding_friction,
    mesh_forces,
    normal_pressure_angle,
    over_friction,
    sliding_speed,
    worm_torque,
)

SHIGLEY = "Shigley, Mechanical Engineering Design"
MEDH = "Mechanical Engineer's Data Handbook"
LEAD_A = math.atan(1.5 / 24)
NORMAL_A = normal_pressure_angle(axial_angle=math.radians(20), lead_angle=LEAD_A)
LEAD_13_10 = math.atan(2 * math.pi / 6 / (math.pi * 2))  # two starts, 6 per inch, 2 inch
A14 = math.radians(14.5)


@published(work=SHIGLEY, edition="9th", place="table 13-6", known="from memory")
@pytest.mark.parametrize(
    ("lead", "percent"),
    [(1.0, 25.2), (2.5, 45.7), (5.0, 62.6), (7.5, 71.3), (10.0, 76.6), (15.0, 82.7)],
)
def test_efficiency_table_for_friction_0_05(lead: float, percent: float) -> None:
    found = efficiency_worm_driving(lead_angle=math.radians(lead), friction=0.05, normal_angle=A14)
    assert 100 * found == pytest.approx(percent, abs=0.06)


@published(
    work=SHIGLEY,
    edition="9th",
    place="example 13-10: sliding speed 637 ft/min",
    known="from memory",
)
def test_sliding_speed_of_the_textbook_pair() -> None:
    v = sliding_speed(worm_diameter=2 * 25.4, rpm=1200, lead_angle=LEAD_13_10)
    assert v * 60 / 0.3048 == pytest.approx(637, abs=0.5)


@published(
    work=SHIGLEY, edition="9th", place="example 13-10: normal force 278 lbf", known="from memory"
)
def test_normal_force_of_the_textbook_pair_from_its_power() -> None:
    """Forces are linear, so pounds serve: 33 000 ft lbf/min at 628.3 ft/min round the worm."""
    round_the_worm = 33_000 / (math.pi * 2 / 12 * 1200)
    unit = mesh_forces(wheel_tangential=1, lead_angle=LEAD_13_10, friction=0.03, normal_angle=A14)
    assert round_the_worm == pytest.approx(52.5, abs=0.05)
    assert unit.normal * round_the_worm / unit.worm_tangential == pytest.approx(278, abs=0.5)


@published(
    work=SHIGLEY,
    edition="9th",
    place="example 13-10: separating force 69.6 lbf",
    known="from memory",
)
def test_separating_force_of_the_textbook_pair() -> None:
    forces = mesh_forces(
        wheel_tangential=264, lead_angle=LEAD_13_10, friction=0.03, normal_angle=A14
    )
    assert forces.separating == pytest.approx(69.6, abs=0.1)


@published(
    work=SHIGLEY,
    edition="9th",
    place="example 13-10: output torque 660 lbf in from 52.5 lbf in at the worm",
    known="from memory",
)
def test_output_torque_of_the_textbook_pair() -> None:
    eta = efficiency_worm_driving(lead_angle=LEAD_13_10, friction=0.03, normal_angle=A14)
    torque = worm_torque(wheel_torque=660, ratio=15, efficiency=eta, drag=0)
    assert torque == pytest.approx(52.5, rel=0.002)


@published(
    work=SHIGLEY, edition="9th", place="equation 15-62: friction 0.150 at rest", known="from memory"
)
def test_friction_at_rest() -> None:
    assert agma_friction(0.0) == 0.150
    assert agma_friction(1e-9) == pytest.approx(0.124, rel=1e-3)


@published(
    work=MEDH, edition="edition not noted", place="p. 100, friction of worm gears", known="read"
)
@pytest.mark.parametrize(("speed", "printed"), [(0.5, 0.06), (1, 0.05), (2, 0.035), (5, 0.023)])
def test_friction_law_is_within_15_per_cent_of_the_data_handbook(
    speed: float, printed: float
) -> None:
    assert agma_friction(speed) == pytest.approx(printed, rel=0.15)


@published(work=MEDH, edition="edition not noted", place="2.10.6, separating force", known="read")
@pytest.mark.parametrize("friction", [0.0, 0.05, 0.12])
def test_separating_force_by_the_data_handbook(friction: float) -> None:
    forces = mesh_forces(
        wheel_tangential=370, lead_angle=LEAD_A, friction=friction, normal_angle=NORMAL_A
    )
    by_handbook = (
        forces.worm_tangential
        * math.sin(NORMAL_A)
        / (math.cos(NORMAL_A) * math.sin(LEAD_A) + friction * math.cos(LEAD_A))
    )
    assert forces.separating == pytest.approx(by_handbook)


@published(
    work="SDP/SI Elements of Metric Gear Technology, D785",
    edition="edition not noted",
    place="equation 16-21, worm driving",
    known="read",
)
@pytest.mark.parametrize("friction", [0.02, 0.08])
def test_efficiency_with_the_worm_driving_by_the_gear_handbook(friction: float) -> None:
    s, c, n = math.sin(LEAD_A), math.cos(LEAD_A), math.cos(NORMAL_A)
    printed = (n * c - friction * s) / (n * s + friction * c) * math.tan(LEAD_A)
    ours = efficiency_worm_driving(lead_angle=LEAD_A, friction=friction, normal_angle=NORMAL_A)
    assert ours == pytest.approx(printed)


@published(
    work="SDP/SI Elements of Metric Gear Technology, D785",
    edition="edition not noted",
    place="equation 16-23, wheel driving",
    known="read",
)
@pytest.mark.parametrize("friction", [0.02, 0.08])
def test_efficiency_with_the_wheel_driving_by_the_gear_handbook(friction: float) -> None:
    s, c, n = math.sin(LEAD_A), math.cos(LEAD_A), math.cos(NORMAL_A)
    printed = (n * s - friction * c) / (n * c + friction * s) / math.tan(LEAD_A)
    ours = efficiency_wheel_driving(lead_angle=LEAD_A, friction=friction, normal_angle=NORMAL_A)
    assert ours == pytest.approx(printed)


@published(
    work="gearmotor maker's answers on self-locking",
    edition="edition not noted",
    place="below 0.45 locks, above 0.55 does not",
    known="read",
)
@pytest.mark.parametrize("lead", [2.0, 4.0, 8.0, 15.0])
def test_a_set_that_just_holds_has_the_makers_uncertain_efficiency(lead: float) -> None:
    angle = math.radians(lead)
    mu = holding_friction(lead_angle=angle, normal_angle=A14)
    eta = efficiency_worm_driving(lead_angle=angle, friction=mu, normal_angle=A14)
    assert 0.45 <= eta <= 0.55


@published(
    work="Mott, Machine Elements in Mechanical Design",
    edition="4th",
    place="p. 343: self-locking for lead angles below about 5 degrees",
    known="read",
)
def test_rule_of_five_degrees_is_a_friction_of_0_08() -> None:
    """Static friction of 0.10 to 0.15 holds 5 degrees and not 10."""
    static = Interval(0.10, 0.15)
    held = holding(lead_angle=math.radians(5), friction=static, normal_angle=A14)
    free = holding(lead_angle=math.radians(10), friction=static, normal_angle=A14)
    assert held == "holds"
    assert free == "drives back"


@derived("thread unrolled to a wedge: eta = tan g / tan(g + rho)")
@pytest.mark.parametrize("friction", [0.0, 0.03, 0.08, 0.15])
def test_efficiencies_of_the_unrolled_thread(friction: float) -> None:
    rho = friction_angle(friction=friction, normal_angle=NORMAL_A)
    driving = efficiency_worm_driving(lead_angle=LEAD_A, friction=friction, normal_angle=NORMAL_A)
    driven = efficiency_wheel_driving(lead_angle=LEAD_A, friction=friction, normal_angle=NORMAL_A)
    assert driving == pytest.approx(math.tan(LEAD_A) / math.tan(LEAD_A + rho))
    assert driven == pytest.approx(math.tan(LEAD_A - rho) / math.tan(LEAD_A))


@derived("work in equals work out and work of friction, summed over one worm turn")
def test_work_of_one_turn_balances() -> None:
    mu, d1, p = 0.08, 24.0, 1.5 * math.pi
    forces = mesh_forces(
        wheel_tangential=370, lead_angle=LEAD_A, friction=mu, normal_angle=NORMAL_A
    )
    put_in = forces.worm_tangential * math.pi * d1
    taken_out = forces.wheel_tangential * p
    rubbed = mu * forces.normal * math.pi * d1 / math.cos(LEAD_A)
    assert put_in == pytest.approx(taken_out + rubbed)
    assert taken_out / put_in == pytest.approx(
        efficiency_worm_driving(lead_angle=LEAD_A, friction=mu, normal_angle=NORMAL_A)
    )


@derived("friction where the driven efficiency passes through zero")
def test_holding_friction_stops_the_wheel_from_driving() -> None:
    mu = holding_friction(lead_angle=LEAD_A, normal_angle=NORMAL_A)
    at = efficiency_wheel_driving(lead_angle=LEAD_A, friction=mu, normal_angle=NORMAL_A)
    assert mu == pytest.approx(0.05874, abs=1e-5)
    assert at == pytest.approx(0, abs=1e-12)


@derived("the two laws put to the speed where they meet: 10 ft/min")
def test_friction_laws_step_by_2_per_cent_where_they_meet() -> None:
    speed = 10 * 0.3048 / 60
    assert agma_friction(speed * 0.999999) == pytest.approx(0.0894, abs=1e-4)
    assert agma_friction(speed * 1.000001) == pytest.approx(0.0875, abs=1e-4)


@derived("both flanks loaded alike: friction adds, the wedge parts cancel")
def test_drag_of_a_tight_mesh_from_the_forces_of_both_flanks() -> None:
    mu, load = 0.1, 50.0
    one = mu * math.cos(LEAD_A) + math.cos(NORMAL_A) * math.sin(LEAD_A)
    other = mu * math.cos(LEAD_A) - math.cos(NORMAL_A) * math.sin(LEAD_A)
    exact = load * (one + other) * 12
    assert drag_of_tight_mesh(flank_load=load, friction=mu, worm_diameter=24) == pytest.approx(
        exact, rel=0.003
    )


@derived("two bearings of a pair, each mu F d/2")
def test_drag_of_a_bearing_pair_counts_both() -> None:
    assert drag_of_preloaded_bearings(preload=200, friction=0.002, bore=20) == pytest.approx(
        2 * 0.002 * 200 * 10
    )


def test_wide_friction_leaves_holding_open() -> None:
    wide = Interval(0.03, 0.12)
    assert holding(lead_angle=LEAD_A, friction=wide, normal_angle=NORMAL_A) == "uncertain"
    span = over_friction(
        efficiency_worm_driving, lead_angle=LEAD_A, friction=wide, normal_angle=NORMAL_A
    )
    assert span.low == pytest.approx(0.33, abs=0.01)
    assert span.high == pytest.approx(0.66, abs=0.01)


def test_angles_in_degrees_are_refused() -> None:
    with pytest.raises(ValueError, match="in rad"):
        efficiency_worm_driving(lead_angle=3.6, friction=0.05, normal_angle=A14)
    with pytest.raises(ValueError, match="in rad"):
        efficiency_worm_driving(lead_angle=LEAD_A, friction=0.05, normal_angle=20)


@derived("the outside of the work swept round the spindle point by point")
def test_four_jaw_reading_is_twice_the_throw() -> None:
    e, radius = 0.3, 21.0
    angles = [i * math.pi / 3600 for i in range(7200)]
    reach = [e * math.cos(a) + math.sqrt(radius**2 - (e * math.sin(a)) ** 2) for a in angles]
    assert four_jaw_tir(e) == pytest.approx(max(reach) - min(reach), abs=1e-9)


@derived("a straight axis laid through two stations")
def test_two_stations_give_throw_and_lean() -> None:
    over = set_over_from_two_stations(tir_near=0.596, tir_far=0.612, near=3, far=23)
    for distance, tir in ((3, 0.596), (23, 0.612)):
        assert 2 * (over.throw_at_face + over.lean * distance) == pytest.approx(tir)


@derived("line contact law: from a first packing the second lands on the throw")
def test_second_packing_lands_on_the_wanted_throw() -> None:
    radius, wanted = 15.0, 0.3

    def packing_of(e: float) -> float:
        return 1.5 * e + math.sqrt(radius**2 - 0.75 * e**2) - radius

    bias = 0.012  # a worn jaw that eats some of the packing
    first = packing_of(0.29) + bias
    second = packing_after_trial(packing=first, tir_seen=2 * 0.29, throw=wanted, work_radius=radius)
    assert second == pytest.approx(packing_of(wanted) + bias)
