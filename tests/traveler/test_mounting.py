"""Operations on the machine: when planned, their order, gates, what they make stale."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planned_job import JOB
from wormwright.job.corrections import Plan, Remedy
from wormwright.job.mount import Mount
from wormwright.job.operation import Operation, SignOff
from wormwright.job.reading import Reading
from wormwright.job.result import Estimate
from wormwright.job.rotary import Machine
from wormwright.traveler import plan_operations, stale_readings
from wormwright.traveler.staleness import SPOT_VALUES

ON_MACHINE = ["mount_base", "chuck_dial", "tail_set"]
_PLAY = Estimate(1e-3, 1e-5, 0.98e-3, 1.02e-3, "angle", "made up")
LEFT_AS_IT_IS = Remedy(
    plans=(),
    chosen=Plan("none", "leave it", (), _PLAY, _PLAY, _PLAY, None, 1.0, 0.0, 0.0, True, ""),
    strategy="",
    strategy_reason="",
    rejected_strategies=(),
    closing=None,
    setting_chart=(),
    picture=None,
    allowed_lost_motion=2e-3,
    limits_it=(),
    not_measured=(),
    doubts=(),
    draws=1,
)


def planned(mount: Mount | None, *, remedy: Remedy | None = LEFT_AS_IT_IS) -> list[Operation]:
    job = replace(JOB, mount=mount, machine=Machine(kind="router"))
    return list(plan_operations(job, remedy))


def test_the_machine_comes_in_only_when_the_job_says_how_the_unit_stands() -> None:
    keys = [op.key for op in planned(None)]
    assert not set(keys) & set(ON_MACHINE)
    without_tail = [op.key for op in planned(Mount(centre_height=100.0))]
    assert set(without_tail) - set(keys) == {"mount_base", "chuck_dial"}
    with_tail = [op.key for op in planned(Mount(tail_height=99.9))]
    assert [key for key in with_tail if key in ON_MACHINE] == ON_MACHINE
    assert [op.key for op in planned(Mount(), remedy=None)] == ["baseline"]


def test_the_unit_is_proved_by_hand_first_and_under_power_last() -> None:
    keys = [op.key for op in planned(Mount(tail_height=99.9))]
    order = [keys.index(key) for key in ("proof_rock", *ON_MACHINE, "proof_axis")]
    assert order == sorted(order)


def test_the_gates_follow_work_length_machine_and_chuck() -> None:
    ops = {op.key: op for op in planned(Mount(work_length=60.0, hold="four-jaw", tail_height=99.0))}
    lean = next(g for g in ops["mount_base"].gates if g.key == "lean_up")
    assert lean.high == pytest.approx(0.02)
    assert (lean.low or 0.0) + (lean.high or 0.0) == 0.0
    assert "60 mm" in lean.label
    near = next(g for g in ops["chuck_dial"].gates if g.key == "bar_swing_near")
    assert near.high == pytest.approx(0.02)
    assert [g.high for g in ops["tail_set"].gates] == pytest.approx([0.05, 0.05])
    stated = {op.key: op for op in planned(Mount(work_length=60.0, tolerance=0.005))}
    lean = next(g for g in stated["mount_base"].gates if g.key == "lean_up")
    assert lean.high == pytest.approx(0.005)


def test_the_bar_must_be_read_before_the_tram_is_signed() -> None:
    base = next(op for op in planned(Mount()) if op.key == "mount_base")
    assert base.wants == ("bar_line:top", "bar_line:side")


def rows() -> list[Reading]:
    kinds = (
        ("bar_line", "top"),
        ("foot_gap", "front left"),
        ("over_bar", "head"),
        ("over_bar", "tail"),
        ("rock", ""),
        ("bar_runout", ""),
        ("travel_line", "top"),
        ("worm_end_play", ""),
    )
    return [
        Reading(n, kind, "0.1 mm", 0.1, station=station)
        for n, (kind, station) in enumerate(kinds, start=1)
    ]


def stale_after(operation: str, *, spot: bool = False) -> set[str]:
    values = tuple((key, 0.05, "0.05 mm") for key in SPOT_VALUES) if spot else ()
    done = SignOff(50, operation, "2026-02-01T10:00:00", "AB", values, "passed")
    stale = stale_readings(rows(), [done])
    return {f"{r.kind} {r.station}".strip() for r in rows() if r.seq in stale}


def test_bolting_down_makes_readings_on_the_machine_stale_and_a_spot_check_spares_the_rock() -> (
    None
):
    on_machine = {"bar_line top", "foot_gap front left", "over_bar head", "over_bar tail"}
    assert stale_after("mount_base", spot=True) == on_machine
    assert stale_after("mount_base") == {*on_machine, "rock"}


def test_each_operation_kills_what_it_moves_and_no_more() -> None:
    assert stale_after("chuck_dial") == {"bar_runout"}
    assert stale_after("tail_set") == {"over_bar tail"}
    assert {"bar_line top", "over_bar head"} <= stale_after("table_bearing")
    assert {"bar_line top", "foot_gap front left"} <= stale_after("strip_wash")
    assert "travel_line top" not in stale_after("mount_base")
