"""The limits of the gates come from the duty and the plan."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from planned_job import (
    ARCMIN,
    JOB,
    PAIR,
    by_key,
    gate,
    planned,
    remedy,
)
from wormwright.traveler import (
    plan_operations,
)
from wormwright.traveler.limits import down, up
from wormwright.traveler.pages import limit_text


def test_gates_of_depth_come_from_the_duty_and_the_plan() -> None:
    operations = planned("bushings")
    rock = gate(operations, "final_depth", "rock_locked")
    least = JOB.duty.play_min_cold_mm / JOB.duty.radius_mm
    assert rock.low == pytest.approx(least, rel=0.02)
    assert rock.low is not None
    assert rock.low >= least
    assert rock.high == pytest.approx(1.6 * ARCMIN)
    proof = gate(operations, "proof_rock", "rock_loosest")
    assert proof.high == pytest.approx(4 * ARCMIN)
    assert gate(operations, "final_depth", "drag_peak").high == JOB.duty.drag_limit_nmm


def test_provisional_depth_stops_short_of_the_planned_closing() -> None:
    assert gate(planned("bushings"), "bushings_in", "closing_a").high == pytest.approx(0.21)
    final = gate(planned("bushings"), "final_depth", "closing_a")
    assert (final.low, final.high) == pytest.approx((0.17, 0.25))


def test_the_turn_since_centring_is_limited_by_the_least_forgiving_wheel_kind() -> None:
    turned = gate(planned("bushings"), "final_depth", "turned")
    assert turned.high == pytest.approx(math.radians(8.1))
    assert 0.3 * math.cos(math.radians(45)) * (turned.high or 0) == pytest.approx(0.03, rel=0.02)


def test_a_known_pair_and_span_tighten_the_limits_of_end_play_and_skew() -> None:
    job = replace(JOB, duty=replace(JOB.duty, error_mm=0.02))
    tight = replace(remedy(["bushings"]), allowed_lost_motion=1.1 * ARCMIN)
    known = plan_operations(job, tight, pair=PAIR, span=60.0)
    loose = plan_operations(job, tight)
    end_play = gate(known, "end_play_reread", "worm_end_play").high
    assert end_play == pytest.approx(1.1 * ARCMIN * PAIR.r2 / 3, rel=0.05)
    apart = gate(known, "bushings_in", "ends_apart").high
    assert apart is not None
    skew = apart / 60.0
    tan_face = math.tan(math.asin(0.5))
    assert 2 * skew * PAIR.r1 * tan_face <= 0.1 * 1.1 * ARCMIN * PAIR.r2
    assert apart < (gate(loose, "bushings_in", "ends_apart").high or 0)
    assert any(g.key == "drive_play" for g in by_key(known, "coupling").gates)
    least = gate(known, "proof_rock", "rock_tightest").low
    assert least == pytest.approx(JOB.duty.play_min_cold_mm / PAIR.r2, rel=0.02)


def test_relief_is_gated_by_the_size_on_its_drawing() -> None:
    worm_od = gate(planned("relief"), "worm_relief", "worm_od")
    assert (worm_od.low, worm_od.high) == pytest.approx((29.95, 30.0))


@pytest.mark.parametrize("value", [0.0127, 0.21, 1.609, 312.5, 9.94e-4])
def test_limits_are_rounded_to_the_safe_side_and_printed_as_judged(value: float) -> None:
    assert down(value) <= value <= up(value)
    assert down(value) == pytest.approx(value, rel=0.1)
    assert down(down(value)) == pytest.approx(down(value), rel=1e-12)


def test_limits_are_printed_in_the_units_of_the_job() -> None:
    operations = planned("bushings")
    rock = gate(operations, "final_depth", "rock_locked")
    assert limit_text(rock) == "0.58 arcmin to 1.6 arcmin"
    closing = gate(operations, "bushings_in", "closing_a")
    assert limit_text(closing) == "0 to 0.21 mm"
    assert "thou" in limit_text(closing, "in")
    assert limit_text(gate(operations, "final_depth", "turned")) == "within ± 8.1°"
