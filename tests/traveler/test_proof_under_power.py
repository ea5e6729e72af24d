"""Operation 17: the axis is proved under power last, on readings that still stand."""

from __future__ import annotations

import math

import pytest

from planned_job import ARCMIN, JOB, by_key, gate, planned, sign_off, states, worked
from wormwright.job.reading import Reading
from wormwright.traveler import SignOffError, live_readings, progress, sign, stale_readings

POSITION = "position_error"


def position(seq: int) -> Reading:
    return Reading(
        seq=seq,
        kind=POSITION,
        raw="4 arcsec",
        value=2e-5,
        table_angle=0.0,
        conditions={"approach": "forward", "run": 1.0},
    )


GOOD = {"error_part": 0.04, "first_again": 0.2 * ARCMIN, "verdict_met": 1.0}


def test_it_comes_last_after_the_rock_and_the_adapter() -> None:
    operations = planned("adapter", "bushings")
    assert [(op.key, op.number) for op in operations[-2:]] == [
        ("proof_axis", "17"),
        ("recheck", "18"),
    ]
    assert by_key(operations, "proof_axis").after == ("adapter_true",)
    assert by_key(planned("bushings"), "proof_axis").after == ("proof_rock",)


def test_its_gates_come_from_the_duty() -> None:
    operations = planned()
    assert gate(operations, "proof_axis", "error_part").high == JOB.duty.error_mm
    drift = gate(operations, "proof_axis", "first_again").high
    assert drift is not None
    assert drift <= JOB.duty.error_mm / JOB.duty.radius_mm / 5
    assert drift == pytest.approx(JOB.duty.error_mm / JOB.duty.radius_mm / 5, rel=0.1)


def test_it_is_not_signed_without_a_live_position_reading() -> None:
    operations = planned()
    done = worked(operations, "proof_axis")
    with pytest.raises(SignOffError, match="missing or stale"):
        sign("proof_axis", GOOD, operations=operations, readings=[], sign_offs=done)
    found = sign(
        "proof_axis", GOOD, operations=operations, readings=[position(900)], sign_offs=done
    )
    assert found.verdict == "passed"


def test_work_that_changes_the_rock_makes_the_test_stale_and_asks_for_it_again() -> None:
    operations = planned("bushings")
    done = [*worked(operations), sign_off(950, "final_depth")]
    rows = [position(900)]
    assert stale_readings(rows, done) == {900: "final_depth"}
    assert live_readings(rows, done) == ()
    assert states(operations, rows, done)["proof_axis"] == "waiting"


@pytest.mark.parametrize(
    ("key", "value"), [("error_part", 0.2), ("first_again", math.radians(0.5)), ("verdict_met", 0)]
)
def test_a_gate_that_fails_says_what_comes_next(key: str, value: float) -> None:
    operations = planned()
    found = sign(
        "proof_axis",
        {**GOOD, key: value},
        operations=operations,
        readings=[position(900)],
        sign_offs=worked(operations, "proof_axis"),
    )
    assert found.verdict == "failed"
    assert [g.key for g in found.outside] == [key]
    assert found.next_steps


def test_the_next_step_after_the_rock_says_what_to_read() -> None:
    operations = planned()
    steps = progress(operations, [], worked(operations, "proof_axis"))
    last = next(s for s in steps if s.operation.key == "proof_axis")
    assert last.state == "next"
    assert "position error" in last.why
