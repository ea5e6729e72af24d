"""Traps of the work: refused at the sign-off, or let pass with a warning; clean work passes."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planned_job import ARCMIN, JOB, PAIR, by_key, good_values, planned, remedy, tight, worked
from wormwright.job.operation import Operation
from wormwright.job.reading import Reading
from wormwright.traveler import Signing, SignOffError, plan_operations, sign
from wormwright.traveler.limits import limits

Plan = tuple[Operation, ...]


def signed(
    plan: Plan, key: str, rows: list[Reading], *, note: str = "", **changed: float
) -> Signing:
    values = good_values(by_key(plan, key)) | changed
    return sign(
        key,
        values,
        operations=plan,
        readings=rows,
        sign_offs=worked(plan, key),
        note=note,
    )


@pytest.mark.parametrize(
    ("correction", "key"),
    [
        ("bushings", "bushings_in"),
        ("setting", "setting_move"),
        ("centre_shim", "centre_shim"),
        ("bushings", "final_depth"),
    ],
)
def test_e14_the_mesh_is_not_closed_over_an_end_play_that_was_not_cured(
    correction: str, key: str
) -> None:
    plan = planned(correction)
    loose = [replace(tight(150), value=0.05, raw="0.05 mm")]
    with pytest.raises(SignOffError, match=r"E-14: .*read: 0\.05 mm.*operation 6"):
        signed(plan, key, loose)
    assert signed(plan, key, [tight(150)]).verdict == "passed"


def test_e15_a_preload_that_raises_the_drag_by_more_than_half_is_warned_of() -> None:
    plan = planned("worm_shim")
    warned = signed(plan, "worm_end_play", [], drag_rise=1.8)
    assert warned.verdict == "passed"
    assert warned.warnings[0].startswith("E-15")
    assert signed(plan, "worm_end_play", [], drag_rise=1.3).warnings == ()


def test_e16_half_the_swing_is_asked_about_and_a_note_answers() -> None:
    plan = planned("bushings")
    with pytest.raises(SignOffError, match=r"E-16: .*bushing A"):
        signed(plan, "bushings_made", [], swing_a=0.3)
    got = signed(plan, "bushings_made", [], swing_a=0.3, note="that is the Whole Swing")
    assert got.verdict == "failed"
    assert signed(plan, "bushings_made", [], swing_a=0.598).verdict == "passed"
    assert signed(plan, "bushings_made", [], swing_a=0.45).verdict == "failed"


def test_e19_play_that_goes_before_the_planned_depth_is_warned_of() -> None:
    plan = planned("bushings")
    depth = by_key(plan, "final_depth")
    closing = next(g for g in depth.gates if g.key == "closing_a")
    assert closing.low is not None
    short = closing.low - 0.05
    got = signed(plan, "final_depth", [tight(150)], closing_a=short, closing_b=short)
    assert any(w.startswith("E-19") for w in got.warnings)
    assert signed(plan, "final_depth", [tight(150)]).warnings == ()


def test_e44_play_left_at_the_full_closing_is_not_the_mesh() -> None:
    plan = planned("bushings")
    closing = next(g for g in by_key(plan, "final_depth").gates if g.key == "closing_a")
    assert closing.high is not None
    deep = closing.high
    got = signed(
        plan,
        "final_depth",
        [tight(150)],
        closing_a=deep,
        closing_b=deep,
        rock_locked=3 * ARCMIN,
    )
    assert any(w.startswith("E-44") for w in got.warnings)
    assert got.verdict == "failed"


def test_e22_a_mesh_that_closes_when_warm_warns_of_a_small_play_and_one_that_opens_does_not() -> (
    None
):
    iron = replace(JOB, rotary=replace(JOB.rotary, housing_material="cast iron"))
    light = replace(JOB, rotary=replace(JOB.rotary, housing_material="aluminium"))
    closes = limits(iron, remedy(["bushings"]), pair=PAIR).warm_closes
    assert closes > 0
    assert limits(light, remedy(["bushings"]), pair=PAIR).warm_closes < closes
    plan = plan_operations(iron, remedy(["bushings"]), pair=PAIR)
    rock = next(g for g in by_key(plan, "final_depth").gates if g.key == "rock_locked")
    assert rock.low is not None
    got = signed(plan, "final_depth", [tight(150)], rock_locked=rock.low)
    assert any(w.startswith("E-22") for w in got.warnings)


def test_a_motor_with_little_torque_lowers_the_drag_gate_to_half_of_what_it_holds() -> None:
    weak = replace(JOB, motor=replace(JOB.motor, torque_hold_nmm=500.0))
    strong = replace(JOB, motor=replace(JOB.motor, torque_hold_nmm=5000.0))
    for job, wanted in ((weak, 250.0), (strong, JOB.duty.drag_limit_nmm)):
        plan = plan_operations(job, remedy(["bushings"]))
        peak = next(g for g in by_key(plan, "final_depth").gates if g.key == "drag_peak")
        assert peak.high == pytest.approx(wanted)


def test_a_lock_that_moves_the_worm_fails_by_what_it_costs_of_the_duty() -> None:
    plan = plan_operations(JOB, remedy(["bushings"]), pair=PAIR)
    lock = next(g for g in by_key(plan, "final_depth").gates if g.key == "lock_shift")
    assert lock.high is not None
    assert 2 * PAIR.t * lock.high <= 0.1 * 4 * ARCMIN * PAIR.r2 * 1.0001
    got = signed(plan, "final_depth", [tight(150)], lock_shift=lock.high + 0.001)
    assert {g.key for g in got.outside} == {"lock_shift"}
    assert "split the clamp" in got.next_steps[0]
