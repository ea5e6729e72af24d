"""Motor and settings stand in the order of work once the control is described."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planned_job import JOB, by_key, keys_of, remedy
from wormwright.job.control import Control
from wormwright.job.operation import SignOff
from wormwright.job.reading import Reading
from wormwright.traveler import live_readings, plan_operations
from wormwright.traveler.branches import inside
from wormwright.traveler.limits import COUPLING_OFFSET, MOTOR_MARGIN
from wormwright.traveler.order import UNDONE_BY

DRIVEN = replace(JOB, control=Control(pulse_limit=30_000))


def test_they_come_before_the_proof_under_power_and_only_with_a_control() -> None:
    plain = keys_of(plan_operations(JOB, remedy(["bushings"])))
    driven = keys_of(plan_operations(DRIVEN, remedy(["bushings"])))
    assert [key for key in driven if key not in ("motor_fitted", "settings")] == plain
    at = driven.index("motor_fitted")
    assert driven[at - 1 : at + 3] == ["proof_rock", "motor_fitted", "settings", "proof_axis"]
    assert keys_of(plan_operations(DRIVEN, None)) == ["baseline"]


def test_moving_the_worm_afterwards_undoes_both() -> None:
    assert "final_depth" in UNDONE_BY["motor_fitted"]
    assert {"final_depth", "coupling", "motor_fitted"} <= UNDONE_BY["settings"]


@pytest.mark.parametrize(
    ("key", "gate", "good", "bad"),
    [
        ("motor_fitted", "motor_offset", COUPLING_OFFSET, COUPLING_OFFSET * 1.01),
        ("motor_fitted", "motor_margin", MOTOR_MARGIN, MOTOR_MARGIN * 0.99),
        ("motor_fitted", "free_by_hand", 1.0, 0.0),
        ("settings", "return_100", 0.01, 0.011),
        ("settings", "direction_right", 1.0, 0.0),
        ("settings", "no_stall", 1.0, 0.0),
    ],
)
def test_each_gate_passes_at_its_limit_and_not_beyond(
    key: str, gate: str, good: float, bad: float
) -> None:
    op = by_key(plan_operations(DRIVEN, remedy(["bushings"])), key)
    judged = next(g for g in op.gates if g.key == gate)
    assert inside(judged, good)
    assert not inside(judged, bad)


def test_new_settings_make_the_powered_readings_stale_and_spare_the_rock() -> None:
    rows = (
        Reading(1, "position_error", "5 arcsec", value=2.4e-5, table_angle=0.0),
        Reading(2, "rock", "0.1 mm", value=0.1, table_angle=0.0),
    )
    signed = (SignOff(3, "settings", "", "MK", (), "passed"),)
    assert [r.kind for r in live_readings(rows, signed)] == ["rock"]


def test_cautions_stand_on_both() -> None:
    operations = plan_operations(DRIVEN, remedy(["bushings"]))
    for key in ("motor_fitted", "settings"):
        text = " ".join(by_key(operations, key).cautions)
        assert "never a brake" in text
        assert "Isolate the power" in text
