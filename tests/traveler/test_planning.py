"""What a plan needs of the order of work."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planned_job import (
    JOB,
    by_key,
    keys_of,
    planned,
    remedy,
)
from wormwright.job.operation import Operation
from wormwright.job.sheet import KINDS
from wormwright.traveler import (
    ALL,
    plan_operations,
)


def test_bushings_are_followed_by_end_play_centring_depth_and_coupling_in_that_order() -> None:
    assert keys_of(planned("worm_shim", "bushings")) == [
        "baseline",
        "strip_wash",
        "before_cutting",
        "wheel_joint",
        "worm_end_play",
        "bushings_made",
        "bushings_in",
        "end_play_reread",
        "axial_centring",
        "final_depth",
        "coupling",
        "seal_grease",
        "bed_in",
        "warm_recheck",
        "proof_rock",
        "proof_axis",
        "recheck",
    ]


def test_a_unit_left_as_it_is_is_not_opened() -> None:
    assert keys_of(planned()) == [
        "baseline",
        "warm_recheck",
        "proof_rock",
        "proof_axis",
        "recheck",
    ]
    assert keys_of(plan_operations(JOB, None)) == ["baseline"]


def test_a_correction_may_ask_for_more_operations() -> None:
    more = plan_operations(JOB, remedy(["table_shim"], operations=("wheel_seat",)))
    wanted = ["before_cutting", "table_bearing", "wheel_joint", "wheel_seat"]
    assert keys_of(more)[2:6] == wanted


def test_the_strategy_of_the_plan_decides_on_trial_pair_and_turning_limit() -> None:
    single = remedy(["bushings"])
    assert "trial_pair" not in keys_of(plan_operations(JOB, single))
    trial = plan_operations(JOB, replace(single, strategy="trial pair"))
    assert keys_of(trial)[4:6] == ["trial_pair", "bushings_made"]
    nested = plan_operations(JOB, replace(single, strategy="nested pair"))
    assert "turned" not in {g.key for g in by_key(nested, "final_depth").gates}


def test_unknown_corrections_and_operations_are_refused_by_name() -> None:
    with pytest.raises(ValueError, match="got 'lapping'"):
        plan_operations(JOB, remedy(["lapping"]))
    with pytest.raises(ValueError, match="got polish"):
        plan_operations(JOB, remedy(["table_shim"], operations=("polish",)))


@pytest.mark.parametrize("op", ALL.values(), ids=lambda op: op.key)
def test_every_operation_can_be_worked_from_and_names_real_readings(op: Operation) -> None:
    assert op.cautions
    assert op.tools
    assert len(op.do) >= 2
    assert op.go_back
    assert op.minutes > 0
    wants = {kind.partition(":")[0] for kind in op.wants}
    sizes = {kind for thing in op.restores for kind in thing.sizes}
    kinds = {*op.read, *wants, *sizes, *op.spot_check, *(kind for kind, _ in op.makes_stale)}
    assert kinds <= set(KINDS)
    assert op.machine_minutes < op.minutes


@pytest.mark.parametrize("key", ["strip_wash", "bushings_in", "setting_move", "final_depth"])
def test_operations_that_free_the_worm_warn_that_self_locking_is_no_brake(key: str) -> None:
    assert any("Self-locking is never a brake" in line for line in ALL[key].cautions)
    assert any("Isolate the power" in line for line in ALL[key].cautions)


def test_turning_eccentric_parts_warns_of_unbalance_and_a_bursting_chuck() -> None:
    for key in ("bushings_made", "next_bushing", "trial_pair"):
        assert any("burst" in line for line in ALL[key].cautions)
