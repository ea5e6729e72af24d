"""Runout and reversal on the finished axis: known parts come back, bad rows are named."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

import parts_read as parts
from simulated_rotary import Taker, Truth, job_of
from stages.prove.turned_axis import reversal
from wormwright.job.blocks import Plot
from wormwright.job.proof import Proof
from wormwright.job.proof_axis import AxisProof
from wormwright.job.reading import Reading
from wormwright.job.result import Doubt, StageRefusal
from wormwright.stages.prove import prove, report


def taker(seed: int = 1, *, noisy: bool = True) -> Taker:
    return Taker(Truth(), np.random.default_rng([71, seed]), noisy=noisy)


def proved(readings: list[Reading]) -> Proof:
    return prove(job_of(Truth()), tuple(readings))


def axis_of(readings: list[Reading]) -> AxisProof:
    found = proved(readings).axis
    assert found is not None
    return found


def refused(readings: list[Reading]) -> Doubt:
    with pytest.raises(StageRefusal) as refusal:
        proved(readings)
    return next(d for d in refusal.value.doubts if d.action == "refuse")


def oval(phi: float) -> float:
    return 0.004 * math.cos(2 * phi - 0.3)


def three_lobed(phi: float) -> float:
    return 0.002 * math.cos(3 * phi)


def still(phi: float) -> float:
    return 0.0 * phi


def test_axis_and_ball_come_apart_whatever_the_ball_is_and_however_it_stands() -> None:
    t = taker(noisy=False)
    reversal(t, oval, three_lobed)
    found = axis_of(t.readings).reversal
    assert found is not None
    assert found.axis == pytest.approx([oval(a) for a in found.angles], abs=1e-9)
    assert found.part == pytest.approx([three_lobed(a) for a in found.angles], abs=1e-9)
    assert found.proven
    assert found.lobes == (2,)
    assert found.turns == 2
    assert "It comes 2 times a turn" in repr(report(proved(t.readings), job_of(t.truth)))


def test_a_still_axis_is_said_to_be_still_nineteen_times_in_twenty() -> None:
    proven = []
    for seed in range(120):
        t = taker(seed)
        reversal(t, still, three_lobed)
        found = axis_of(t.readings).reversal
        assert found is not None
        proven.append(found.proven)
        assert found.synchronous.low == 0.0 or found.proven
    assert np.mean(proven) < 0.12


def test_one_run_alone_is_refused_with_what_to_do() -> None:
    t = taker()
    reversal(t, oval, three_lobed, runs=("first",))
    doubt = refused(t.readings)
    assert doubt.code == "A-3"
    assert "run=turned" in doubt.do


def test_too_few_common_angles_are_refused_and_odd_ones_left_out_by_name() -> None:
    t = taker()
    reversal(t, oval, three_lobed, places=parts.EIGHT[:6])
    assert refused(t.readings).code == "A-4"
    more = taker(noisy=False)
    reversal(more, oval, three_lobed, places=parts.TWELVE)
    rows = [r for r in more.readings if r.seq != 3]
    proof = proved(rows)
    assert proof.axis is not None
    assert proof.axis.reversal is not None
    assert len(proof.axis.reversal.angles) == 11
    (doubt,) = proof.doubts
    assert doubt.code == "A-5"
    assert "60°" in doubt.seen


def test_a_turn_that_does_not_close_a_place_twice_and_a_wild_row_are_named() -> None:
    t = taker(noisy=False)
    reversal(t, oval, three_lobed, turns=3, places=parts.TWELVE)

    def codes(seq: int, **change: object) -> list[str]:
        rows = [replace(r, **change) if r.seq == seq else r for r in t.readings]  # type: ignore[arg-type]
        return [d.code for d in proved(rows).doubts]

    assert codes(13, value=0.5) == ["A-1"]
    assert codes(4, value=-(t.readings[3].value or 0) * 25.4) == ["A-6"]
    assert codes(2, table_angle=math.radians(90)) == ["A-2", "A-5"]
    assert codes(1) == []


def test_surfaces_are_told_with_amount_and_angle_once_the_unit_is_finished() -> None:
    t = taker(noisy=False)
    parts.series(t, "face_runout", parts.once((0.010, 1.0)), radius=50.0, surface="table face")
    parts.series(t, "register_runout", parts.once((0.015, 2.0)), surface="spigot")
    before = list(t.readings)
    with pytest.raises(StageRefusal):
        proved(before)
    reversal(t, still, still)
    found = axis_of(t.readings)
    face, register = sorted(found.runouts, key=lambda r: r.key)
    assert face.slope is not None
    assert face.slope.value == pytest.approx(0.010 / 50)
    assert "at 57°" in face.do
    assert register.eccentricity.value == pytest.approx(0.015)
    assert len(found.traces) == 2
    plots = [b for b in report(proved(t.readings), job_of(t.truth)) if isinstance(b, Plot)]
    assert all(p.polar for p in plots)


def test_a_register_read_at_two_heights_leans_though_its_swings_are_alike() -> None:
    t = taker(noisy=False)
    for z, at in ((0.0, 0.0), (100.0, math.pi / 2)):
        parts.series(t, "register_runout", parts.once((0.010, at)), surface="spigot", z=z)
    reversal(t, still, still)
    (finding,) = axis_of(t.readings).findings
    tilt, toward = finding.of("tilt"), finding.of("tilt_at")
    assert tilt is not None
    assert toward is not None
    assert math.degrees(tilt.value) * 3600 == pytest.approx(29.170, abs=0.01)
    assert math.degrees(toward.value) == pytest.approx(135, abs=0.01)
    assert "true the face" in finding.words[0]


def test_offset_and_lean_of_a_bar_stand_beside_the_runouts() -> None:
    t = taker(noisy=False)
    for z in (20.0, 120.0):
        parts.series(t, "bar_runout", parts.once((0.01 + 1e-4 * z, 0.5)), z=z)
    reversal(t, still, still)
    found = axis_of(t.readings)
    (finding,) = found.findings
    offset = finding.of("offset")
    assert offset is not None
    assert offset.value == pytest.approx(0.010)
