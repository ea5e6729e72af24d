"""Every gate of every operation can fail; it then says what next and where to go back to."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planned_job import (
    ALL_CORRECTIONS,
    JOB,
    PAIR,
    by_key,
    good_values,
    keys_of,
    planned,
    reading,
    remedy,
    sign_off,
    states,
    tight,
    worked,
)
from wormwright.job.operation import Gate, Operation, SignOff
from wormwright.job.reading import Reading
from wormwright.traveler import ALL, SignOffError, plan_operations, progress, sign, what_next
from wormwright.traveler.branches import DERIVED, branch_of
from wormwright.traveler.order import UNDONE_BY
from wormwright.traveler.planning import REMAKES

CENTRES = {"setting", "centre_shim"}
FULL = tuple(key for key in ALL_CORRECTIONS if key not in CENTRES)
SPOILED = sign_off(90, "bushings_made", "failed", {"bore_round": 0.05, "slack_a": 0.05})


def whole_plan() -> tuple[Operation, ...]:
    """The longest plan, with a trial pair and both remakes asked for."""
    long = replace(remedy(FULL), strategy="trial pair")
    return plan_operations(JOB, long, pair=PAIR, span=60.0, sign_offs=[SPOILED])


PLAN = whole_plan()
GATES = [(op, gate) for op in PLAN for gate in op.gates if (gate.low, gate.high) != (None, None)]


def outside_of(gate: Gate) -> list[float]:
    """Values just outside each limit of a gate."""
    step = {"length": 0.001, "angle": 1e-4, "ratio": 0.01, "torque": 1.0}.get(gate.dimension, 1.0)
    low = [] if gate.low is None else [gate.low - step]
    high = [] if gate.high is None or gate.dimension == "none" else [gate.high + step]
    return [*low, *high]


def values_with(op: Operation, gate: Gate, value: float) -> dict[str, float]:
    """Good values but for one gate; a gate that is worked out is moved through what it is from."""
    values = good_values(op)
    if gate.key not in DERIVED:
        return values | {gate.key: value}
    _, first, second = DERIVED[gate.key]
    if gate.dimension == "ratio":
        return values | {first: 100.0, second: 100.0 * value}
    return values | {first: values[first], second: values[first] + value}


def ready(op: Operation) -> tuple[list[Reading], list[SignOff]]:
    """Readings and sign-offs with which the operation may be signed."""
    kinds = [kind.partition(":")[::2] for kind in op.wants]
    rows = [
        tight(500) if kind == "worm_end_play" else reading(500 + i, kind, station=station)
        for i, (kind, station) in enumerate(kinds)
    ]
    return rows, worked(PLAN, op.key)


def test_the_longest_plan_has_every_operation_but_the_other_ways_of_moving_the_worm() -> None:
    on_machine = {"mount_base", "chuck_dial", "tail_set"}  # only where job.toml has [mount]
    drive = {"motor_fitted", "settings"}  # only where it has [control]
    other_ways = {"setting_move", "centre_shim"}
    assert set(ALL) - set(keys_of(PLAN)) == other_ways | on_machine | drive
    assert len(GATES) > 60


@pytest.mark.parametrize(("op", "gate"), GATES, ids=lambda x: x.key)
def test_every_gate_can_fail_and_says_what_next_and_where_to_go_back(
    op: Operation, gate: Gate
) -> None:
    rows, signed = ready(op)
    for value in outside_of(gate):
        values = values_with(op, gate, value)
        got = sign(
            op.key,
            values,
            operations=PLAN,
            readings=rows,
            sign_offs=signed,
            note="whole swing",
        )
        assert got.verdict == "failed"
        assert gate.key in {g.key for g in got.outside}
        branch = next(b for b in got.branches if b.gate.key == gate.key)
        assert branch.gate.if_failed in branch.words(ALL)
        assert branch.words(ALL) in got.next_steps
        assert branch.back_to in {o.key for o in PLAN} | REMAKES
        if gate.back_to:
            assert f"({gate.back_to})" in branch.words(ALL)
            assert set(branch.again) == {
                o.key for o in PLAN if gate.back_to in UNDONE_BY.get(o.key, ())
            }


@pytest.mark.parametrize(("op", "gate"), GATES, ids=lambda x: x.key)
def test_going_back_from_a_failed_gate_leads_on_to_the_operation_again(
    op: Operation, gate: Gate
) -> None:
    """Do what the branch says, then what it undoes, in order: the operation is free once more."""
    branch = branch_of(gate, op, PLAN)
    if branch.back_to == op.key:
        assert not gate.back_to or gate.back_to == op.key
        return
    values = values_with(op, gate, outside_of(gate)[-1])
    signed = [*worked(PLAN, op.key), sign_off(300, op.key, "failed", values)]
    assert states(PLAN, [], signed)[op.key] == "blocked"
    order = keys_of(PLAN)
    redo = [branch.back_to, *(k for k in branch.again if order.index(k) < order.index(op.key))]
    for seq, key in enumerate(redo, start=301):
        assert states(PLAN, [], signed)[key] == "next", f"{key} after {redo}"
        signed.append(sign_off(seq, key, values=good_values(by_key(PLAN, key))))
    assert states(PLAN, [], signed)[op.key] in ("next", "blocked")
    signed.append(sign_off(400, op.key, values=good_values(op)))
    assert states(PLAN, [], signed)[op.key] == "done"


def spoiled(gate: str, value: float) -> tuple[tuple[Operation, ...], list[SignOff]]:
    """A plan of bushings whose pair failed one gate, and its sign-offs."""
    plan = planned("bushings")
    made = by_key(plan, "bushings_made")
    signed = worked(plan, "bushings_made")
    signed.append(sign_off(150, made.key, "failed", good_values(made) | {gate: value}))
    return plan_operations(JOB, remedy(["bushings"]), sign_offs=signed), signed


def test_a_bushing_that_is_loose_brings_its_remake_into_the_plan_and_out_again() -> None:
    assert not REMAKES & set(keys_of(planned("bushings")))
    plan, signed = spoiled("slack_a", 0.02)
    assert "next_bushing" in keys_of(plan)
    assert "sleeve_bore" not in keys_of(plan)
    steps = progress(plan, [], signed)
    said = what_next(steps)
    assert said.startswith("Stopped at 6c")
    assert "Next: 6s Remake" in said
    signed.append(sign_off(151, "next_bushing", values=good_values(by_key(plan, "next_bushing"))))
    found = states(plan, [], signed)
    assert (found["next_bushing"], found["bushings_made"]) == ("done", "next")
    signed.append(sign_off(152, "bushings_made", values=good_values(by_key(plan, "bushings_made"))))
    assert states(plan, [], signed)["bushings_made"] == "done"
    assert states(plan, [], signed)["bushings_in"] == "next"


def test_an_oval_bore_is_bored_and_sleeved_and_its_cut_agreed_to() -> None:
    plan, signed = spoiled("bore_round", 0.03)
    assert "sleeve_bore" in keys_of(plan)
    bore = by_key(plan, "sleeve_bore")
    assert bore.cautions[-1].startswith("Cannot be undone:")
    assert bore.gates[0].key == "agreed"
    assert states(plan, [], signed)["sleeve_bore"] == "next"


def test_a_bushing_that_is_lapped_instead_of_made_again_may_be_signed_again_at_once() -> None:
    plan, signed = spoiled("slack_a", -0.001)
    made = by_key(plan, "bushings_made")
    got = sign(made.key, good_values(made), operations=plan, readings=[], sign_offs=signed)
    assert got.verdict == "passed"
    signed.append(sign_off(151, made.key, values=good_values(made)))
    again = plan_operations(JOB, remedy(["bushings"]), sign_offs=signed)
    assert "next_bushing" not in keys_of(again)


def test_a_jam_when_warm_goes_back_to_the_depth_and_undoes_what_follows() -> None:
    plan = planned("bushings")
    warm = by_key(plan, "warm_recheck")
    signed = worked(plan, "warm_recheck")
    signed.append(sign_off(150, warm.key, "failed", good_values(warm) | {"rock_warm": 0.0}))
    found = states(plan, [], signed)
    assert (found["warm_recheck"], found["final_depth"]) == ("blocked", "next")
    assert found["coupling"] == "done", "what was signed stands until the depth is set again"
    signed.append(sign_off(151, "final_depth", values=good_values(by_key(plan, "final_depth"))))
    found = states(plan, [], signed)
    assert found["coupling"] == "next"
    assert {found[key] for key in ("seal_grease", "bed_in", "warm_recheck")} == {"waiting"}


def test_askew_marks_go_back_to_whatever_moved_the_worm() -> None:
    for key, move in (
        ("bushings", "bushings_in"),
        ("setting", "setting_move"),
        ("centre_shim", "centre_shim"),
    ):
        centring = by_key(planned(key), "axial_centring")
        alike = next(g for g in centring.gates if g.key == "patch_alike")
        assert alike.back_to == move


def test_a_cut_that_is_not_agreed_to_stops_the_work_before_it() -> None:
    plan = planned("relief")
    cut = by_key(plan, "before_cutting")
    assert {"own_sizes", "agreed_worm_relief"} <= {g.key for g in cut.gates}
    got = sign(
        cut.key,
        {"own_sizes": 1.0, "agreed_worm_relief": 0.0},
        operations=plan,
        readings=[reading(150, "worm_od")],
        sign_offs=worked(plan, cut.key),
    )
    assert got.verdict == "failed"
    assert "choose another plan" in got.next_steps[0]
    with pytest.raises(SignOffError, match="missing or stale: worm outside diameter"):
        sign(
            cut.key,
            {"own_sizes": 1.0, "agreed_worm_relief": 1.0},
            operations=plan,
            readings=[],
            sign_offs=worked(plan, cut.key),
        )


@pytest.mark.parametrize("correction", ALL_CORRECTIONS)
def test_from_any_failed_gate_of_any_plan_the_work_can_be_finished(correction: str) -> None:
    """Fail a gate, then sign whatever the traveler says is next, until nothing is left to do."""
    plan = planned(correction)
    for op in plan:
        for gate in op.gates:
            if (gate.low, gate.high) == (None, None):
                continue
            values = values_with(op, gate, outside_of(gate)[-1])
            signed = [*worked(plan, op.key), sign_off(300, op.key, "failed", values)]
            for seq in range(301, 340):
                now = plan_operations(JOB, remedy([correction]), sign_offs=signed)
                found = states(now, [], signed)
                ready = [o for o in now if found[o.key] in ("next", "blocked")]
                if not ready:
                    break
                free = [o for o in ready if found[o.key] == "next"] or ready
                signed.append(sign_off(seq, free[0].key, values=good_values(free[0])))
            assert set(found.values()) <= {"done", "not needed"}, f"{op.key} {gate.key}: {found}"
