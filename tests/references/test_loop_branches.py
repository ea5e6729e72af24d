"""Rock loops with sticking at the turns, drawn by a small model of friction and a gap."""

from __future__ import annotations

import math

import numpy as np
import pytest

from published import derived
from wormwright.core.loop_branches import branches_of, cycles_of, settled, settled_loop
from wormwright.core.rock_loop import rock_loop

ARCMIN = math.radians(1 / 60)
STEPS = [2.0, 4, 6, 8, 6, 4, 2, 0, -2, -4, -6, -8, -6, -4, -2, 0]
"""One cycle in N·m."""


def stuck_loop(torque: np.ndarray, *, friction: float, k: float, gap: float) -> np.ndarray:
    """Angles of a table with dry friction: only what is left of the torque loads spring and gap."""
    carried, angles = 0.0, []
    for t in torque:
        carried = min(max(carried, t - friction), t + friction)
        angles.append(carried / k + np.sign(carried) * gap / 2)
    return np.array(angles)


@derived("a table with dry friction stepped through its torques: the parts it was made of")
@pytest.mark.parametrize("friction", [0.1, 0.32, 0.9])
def test_a_loop_that_sticks_at_its_turns_gives_its_parts_back(friction: float) -> None:
    torque = np.array(STEPS * 3)
    angle = stuck_loop(torque, friction=friction, k=0.8, gap=3.0) * ARCMIN
    found = settled_loop(
        torque * 1000, angle, branches_of(torque), u=0.01 * ARCMIN, least_torque=2000
    )
    loop = found.loop
    assert loop.clearance / ARCMIN == pytest.approx(3.0, abs=1e-6)
    assert loop.compliance * 1000 / ARCMIN == pytest.approx(1 / 0.8)
    assert loop.friction_torque == pytest.approx(friction * 1000)
    assert loop.lost_motion_at(600) / ARCMIN == pytest.approx(3.0 + 2 * 0.6 / 0.8)


@derived("the same loop with the readings at the turns kept: the friction comes out too small")
def test_readings_at_the_turns_would_spoil_the_friction() -> None:
    torque = np.array(STEPS * 3)
    angle = stuck_loop(torque, friction=1.2, k=0.8, gap=3.0) * ARCMIN
    branch = branches_of(torque)
    plain = rock_loop(torque * 1000, angle, branch, u=0.01 * ARCMIN, least_torque=2000)
    found = settled_loop(torque * 1000, angle, branch, u=0.01 * ARCMIN, least_torque=2000)
    assert plain.friction_torque is not None
    assert plain.friction_torque < 1160
    assert found.loop.friction_torque == pytest.approx(1200)
    assert not found.used[4]
    assert found.used[3]


@derived("brute force: 2,000 noisy loops, how often the stated interval holds the truth")
def test_lost_motion_at_a_torque_is_covered_at_its_stated_rate() -> None:
    pick = np.random.default_rng(12)
    torque = np.array(STEPS * 2)
    clean = stuck_loop(torque, friction=0.2, k=0.8, gap=3.0)
    branch = branches_of(torque)
    inside, found = 0, []
    for _ in range(2000):
        noisy = (clean + pick.normal(0, 0.1, len(torque))) * ARCMIN
        loop = rock_loop(torque * 1000, noisy, branch, u=0.1 * ARCMIN, least_torque=2500)
        got = loop.lost_motion_at(600) / ARCMIN
        u = loop.lost_motion_u(600) / ARCMIN
        found.append(got)
        inside += abs(got - 4.5) < 1.96 * u
    assert inside / 2000 == pytest.approx(0.95, abs=0.015)
    assert float(np.std(found)) == pytest.approx(u, rel=0.05)


@derived("torques stepped up and down by hand")
def test_branches_and_cycles_follow_the_order_of_the_torques() -> None:
    torque = np.array([8.0, 8, 6, 0, -8, -8, 0, 8, 6, -8, 0])
    assert branches_of(torque[1:]).tolist() == [-1, -1, -1, -1, 1, 1, 1, -1, -1, 1]
    assert branches_of([0, 2, 4, 4, 2, 2, 0]).tolist() == [1, 1, 1, -1, -1, -1, -1]
    assert cycles_of(branches_of(np.array(STEPS * 3))).tolist()[:3] == [1, 1, 1]
    assert int(cycles_of(branches_of(np.array(STEPS * 3))).max()) == 3
    assert settled([0, 5, 8, 7, 4], [1, 1, 1, -1, -1], friction=2).tolist() == [
        False, True, True, False, True,
    ]  # fmt: skip


@derived("one cycle shifted as a whole by a slipping pin")
def test_a_cycle_that_moved_is_seen() -> None:
    torque = np.array(STEPS * 2)
    angle = stuck_loop(torque, friction=0.2, k=0.8, gap=3.0)
    angle[len(STEPS) + 4 :] += 1.0
    found = settled_loop(
        torque * 1000, angle * ARCMIN, branches_of(torque), u=0.05 * ARCMIN, least_torque=2000
    )
    assert found.moved / ARCMIN == pytest.approx(1.0, abs=1e-6)
    assert found.reading_u > 0.3 * ARCMIN
    assert found.moved_u / ARCMIN == pytest.approx(0.03, abs=0.02)
    whole = stuck_loop(torque, friction=0.2, k=0.8, gap=3.0) * ARCMIN
    still = settled_loop(torque * 1000, whole, branches_of(torque), u=1e-6, least_torque=2000)
    assert still.moved == pytest.approx(0.0, abs=1e-9)


def test_signs_the_wrong_way_round_are_refused_each_with_its_reason() -> None:
    torque = np.array(STEPS * 2)
    angle = stuck_loop(torque, friction=0.3, k=0.8, gap=3.0) * ARCMIN
    branch = branches_of(torque)
    with pytest.raises(ValueError, match="against the torque"):
        settled_loop(-torque * 1000, angle, branch, u=1e-6, least_torque=2000)
    with pytest.raises(ValueError, match="runs backwards"):
        settled_loop(torque * 1000, angle, -branch, u=1e-6, least_torque=2000)
    with pytest.raises(ValueError, match="rise and fall"):
        branches_of([3.0, 3.0])
    with pytest.raises(ValueError, match="zero or more"):
        settled([1, 2], [1, 1], friction=-1.0)


def test_a_loop_that_sticks_all_the_way_asks_for_more_torque() -> None:
    torque = np.array([0.0, 4, 8, 4, -4, -8, -4, 4, 8])
    angle = stuck_loop(torque, friction=5.0, k=0.8, gap=3.0) * ARCMIN
    with pytest.raises(ValueError, match="higher torque"):
        settled_loop(torque * 1000, angle, branches_of(torque), u=1e-6, least_torque=2000)
