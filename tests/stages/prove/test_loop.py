"""Rock loops on the finished axis: parts found within their doubt, bad loops refused with why."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

import parts_read as parts
from simulated_rotary import Taker, Truth, job_of
from stages.prove.turned_axis import reversal
from wormwright.job.blocks import Plot
from wormwright.job.proof import Proof
from wormwright.job.proof_loop import LoopAt
from wormwright.job.reading import Reading
from wormwright.job.rotary import Job
from wormwright.stages.prove import prove, report

ARCMIN = math.radians(1 / 60)
TRUE = {"clearance": 3.0 * ARCMIN, "compliance": 4e-7, "friction": 300.0}


def job() -> Job:
    return job_of(Truth())


def readings(seed: int = 1, *, noisy: bool = True, phi: float = 0.0) -> list[Reading]:
    """A loop, and a still axis so that the unit counts as finished."""
    t = Taker(Truth(), np.random.default_rng([61, seed]), noisy=noisy)
    parts.loop(t, phi=phi, **TRUE)
    reversal(t, lambda phi: 0.0 * phi, lambda phi: 0.0 * phi)
    return t.readings


def proved(rows: list[Reading]) -> Proof:
    return prove(job(), tuple(rows))


def loop_of(rows: list[Reading]) -> LoopAt:
    proof = proved(rows)
    assert proof.loop is not None
    (place,) = proof.loop.places
    return place


def changed(change: Callable[[Reading], Reading]) -> list[Reading]:
    return [change(r) if r.kind == "rock_loop" else r for r in readings(noisy=False)]


def test_the_parts_of_a_loop_come_back() -> None:
    found = loop_of(readings(noisy=False))
    torque = job().duty.torque_resist_nmm
    values = {f.key: f.estimate.value for f in found.figures}
    assert values["clearance"] == pytest.approx(TRUE["clearance"])
    assert values["friction"] == pytest.approx(TRUE["friction"])
    assert values["spring"] == pytest.approx(TRUE["compliance"] * torque)
    light = TRUE["clearance"] + 0.06 * torque * TRUE["compliance"]
    assert values["lost_light"] == pytest.approx(light)
    assert values["lost_full"] == pytest.approx(TRUE["clearance"] + 2 * values["spring"])
    assert found.stiffness is not None
    assert found.stiffness.value == pytest.approx(ARCMIN / TRUE["compliance"])


def test_every_figure_of_a_loop_is_covered_as_often_as_it_says() -> None:
    torque = job().duty.torque_resist_nmm
    truth = {
        "clearance": TRUE["clearance"],
        "lost_full": TRUE["clearance"] + 2 * torque * TRUE["compliance"],
        "spring": torque * TRUE["compliance"],
        "friction": TRUE["friction"],
    }
    inside: dict[str, list[bool]] = {key: [] for key in truth}
    for seed in range(200):
        found = loop_of(readings(seed))
        for key, real in truth.items():
            got = found.of(key)
            assert got is not None
            inside[key].append(got.low <= real <= got.high)
    for key, hits in inside.items():
        assert 0.90 <= np.mean(hits) <= 0.995, key


def test_two_places_are_told_apart_and_drawn() -> None:
    rows = readings(noisy=False)
    more = [
        replace(r, seq=r.seq + 500, table_angle=math.radians(90))
        for r in rows
        if r.kind == "rock_loop"
    ]
    proof = proved(rows + more)
    assert proof.loop is not None
    assert [p.place for p in proof.loop.places] == pytest.approx([0.0, math.pi / 2])
    plots = [b for b in report(proof, job()) if isinstance(b, Plot) and "Rock loop" in b.caption]
    assert [p.caption for p in plots] == ["Rock loop at 0°", "Rock loop at 90°"]


def test_a_loop_pushed_one_way_or_only_up_is_refused_by_name() -> None:
    one_sided = [r for r in readings() if r.kind != "rock_loop" or (r.number("torque") or 0.0) > 0]
    proof = proved(one_sided)
    assert proof.loop is None
    assert proof.doubts[0].code == "L-3"
    assert "clearance" in proof.doubts[0].seen
    rising = [r for r in readings() if r.kind != "rock_loop" or r.said("branch") == "up"]
    assert "friction" in next(d for d in proved(rising).doubts if d.code == "L-3").seen


def test_signs_and_branches_the_wrong_way_round_are_told() -> None:
    against = changed(lambda r: replace(r, value=-(r.value or 0)))
    assert "against the torque" in proved(against).doubts[0].seen
    swap = {"up": "down", "down": "up"}
    swapped = changed(
        lambda r: replace(r, conditions={**r.conditions, "branch": swap[str(r.said("branch"))]})
    )
    codes = [d.code for d in proved(swapped).doubts]
    assert codes == ["L-2", "L-3"]


def test_a_worm_held_in_two_ways_and_a_pin_that_slipped_are_told() -> None:
    mixed = changed(
        lambda r: (
            replace(r, conditions={**r.conditions, "worm_held": "at the motor"}) if r.seq % 2 else r
        )
    )
    assert proved(mixed).doubts[0].code == "L-1"
    slipped = changed(
        lambda r: replace(r, value=(r.value or 0) + 0.05) if r.number("cycle") == 3.0 else r
    )
    assert "L-4" in [d.code for d in proved(slipped).doubts]


def test_no_loop_of_the_unit_as_found_counts_as_proof() -> None:
    rows = [r for r in readings() if r.kind == "rock_loop"]
    with pytest.raises(ValueError, match="No reading of the finished axis"):
        proved(rows)
