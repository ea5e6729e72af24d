"""Lean, packing, key move and heights from readings on the machine; refusals."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from simulated_mounting import Standing
from stages.mount.mounted_job import job, readings
from wormwright.job.blocks import Doubts, Paragraph, Table
from wormwright.job.mounting import Mounting
from wormwright.job.reading import Reading
from wormwright.job.result import StageRefusal
from wormwright.stages.mount import mount, report

CROOKED = Standing(own=(4e-4, -2e-4), turned=-3e-4, bar_off=0.08, bow=0.02)


def codes(found: Mounting) -> set[tuple[str, str]]:
    return {(d.code, d.action) for d in found.doubts}


def test_noiseless_readings_give_the_lean_exactly_and_the_bar_apart() -> None:
    standing = replace(CROOKED, bend=(0.006, -0.004))
    found = mount(job(), readings(standing, noisy=False))
    assert found.tram is not None
    up, side = (found.tram.of("elevation"), found.tram.of("plan"))
    assert up is not None
    assert side is not None
    assert up.lean == pytest.approx(standing.leans[0], abs=6e-6)
    assert side.lean == pytest.approx(standing.leans[1], abs=6e-6)
    assert up.travel_read
    assert up.sag == pytest.approx(standing.sag(170.0), rel=0.01)
    assert (up.stands, side.stands) == ("outside", "outside")


def test_the_sag_of_a_thin_bar_would_read_as_a_lean_if_it_were_left_in() -> None:
    thin = replace(CROOKED, bar_diameter=10.0, own=(0.0, 0.0), turned=0.0)
    rows = readings(thin, noisy=False)
    with_sag = mount(job(), rows).tram
    blind = [
        replace(r, conditions={"z": r.conditions["z"]}) if r.kind == "bar_line" else r for r in rows
    ]
    found = mount(job(), blind)
    assert with_sag is not None
    assert found.tram is not None
    told, untold = with_sag.of("elevation"), found.tram.of("elevation")
    assert told is not None
    assert untold is not None
    assert abs(told.lean) < 2e-6
    assert abs(untold.lean) > 5e-6
    assert ("MT-3", "warn") in codes(found)


def test_a_bar_without_its_half_turn_is_refused_for_alignment() -> None:
    rows = [
        r
        for r in readings(CROOKED)
        if not (r.kind == "bar_line" and r.station == "top" and (r.table_angle or 0) > 1)
    ]
    found = mount(job(), rows)
    assert ("MT-1", "refuse") in codes(found)
    assert found.tram is not None
    assert found.tram.of("elevation") is None
    assert found.tram.of("plan") is not None
    named = next(d for d in found.doubts if d.code == "MT-1")
    assert named.rows == tuple(r.seq for r in rows if r.kind == "bar_line" and r.station == "top")


def test_without_a_set_up_a_bar_without_its_half_turn_stops_the_stage() -> None:
    rows = [r for r in readings(CROOKED, heights=False) if r.kind == "bar_line"]
    rows = [r for r in rows if (r.table_angle or 0) < 1]
    with pytest.raises(StageRefusal) as refusal:
        mount(replace(job(), mount=None), rows)
    assert {d.code for d in refusal.value.doubts} == {"MT-1"}
    with pytest.raises(StageRefusal) as refusal:
        mount(replace(job(), mount=None), [])
    assert {d.code for d in refusal.value.doubts} == {"MT-0"}


def test_one_place_on_the_bar_tells_no_lean() -> None:
    rows = [r for r in readings(CROOKED) if r.kind != "bar_line" or r.number("z") == 20.0]
    found = mount(job(), rows)
    assert ("MT-2", "refuse") in codes(found)


def test_a_quarter_turn_counts_as_a_pair_of_its_own() -> None:
    rows = readings(CROOKED, noisy=False)
    quarter = [
        replace(
            r,
            seq=1000 + r.seq,
            table_angle=(r.table_angle or 0.0) + math.pi / 2,
            value=CROOKED.bar_reading(
                float(r.conditions["z"]), (r.table_angle or 0.0) + math.pi / 2, r.station
            ),
        )
        for r in rows
        if r.kind == "bar_line"
    ]
    found = mount(job(), [*rows, *quarter])
    assert found.tram is not None
    up = found.tram.of("elevation")
    assert up is not None
    assert len(up.seqs) == 12
    assert up.lean == pytest.approx(CROOKED.leans[0], abs=6e-6)


def test_a_straight_edge_that_was_not_turned_over_is_not_believed() -> None:
    rows = [r for r in readings(CROOKED) if r.kind != "travel_line" or r.said("edge") == "as laid"]
    found = mount(job(), rows)
    assert ("MT-4", "warn") in codes(found)
    assert found.tram is not None
    assert not any(lean.travel_read for lean in found.tram.leans)


def test_packing_and_move_bring_the_axis_and_the_feet_true() -> None:
    standing = replace(CROOKED, supports=(0.0, 0.09, 0.0, 0.0))
    found = mount(job(), readings(standing, noisy=False))
    assert found.tram is not None
    assert found.tram.key_move is not None
    packed = standing.packed([p.nominal for p in found.tram.packing])
    set_ = packed.turned_by(found.tram.key_move.value, found.tram.key_distance or 1.0)
    assert abs(set_.leans[0]) * 150 < 0.01
    assert abs(set_.leans[1]) * 150 < 0.002
    assert max(set_.free_gaps()) < 0.012
    assert max(standing.free_gaps()) > 0.08
    assert all(set(p.pieces) <= set(job().shim_stock_mm) for p in found.tram.packing)


def test_an_axis_that_stands_well_is_left_alone() -> None:
    found = mount(job(), readings(Standing(), noisy=False))
    assert found.tram is not None
    assert [lean.stands for lean in found.tram.leans] == ["within", "within"]
    assert not any(p.nominal for p in found.tram.packing)
    assert found.tram.key_move is None
    text = next(b.text for b in report(found, job()) if isinstance(b, Paragraph))
    assert "leave it as it is" in text


def test_a_lean_near_what_is_allowed_cannot_be_told() -> None:
    near = Standing(own=(0.03 / 150, 0.0))
    found = mount(job(), readings(near, noisy=False, travel=False))
    assert found.tram is not None
    up = found.tram.of("elevation")
    assert up is not None
    assert up.stands == "cannot tell"


def test_heights_give_the_shim_and_the_side_offset() -> None:
    standing = replace(CROOKED, tail_height=99.863, tail_side=0.09)
    found = mount(job(tail_height=99.9), readings(standing, noisy=False))
    assert found.heights is not None
    assert found.heights.high is not None
    assert found.heights.side is not None
    assert found.heights.high.value == pytest.approx(-0.137, abs=1e-6)
    assert found.heights.side.value == pytest.approx(0.09, abs=1e-6)
    words = " ".join(found.heights.words)
    assert "shim 0.137 mm" in words
    assert "to machine minus" in words


def test_a_high_tail_is_ground_and_a_level_one_left() -> None:
    high = mount(job(), readings(replace(CROOKED, tail_height=100.3), noisy=False))
    assert high.heights is not None
    assert any("grind 0.300 mm" in word for word in high.heights.words)
    level = mount(job(), readings(replace(CROOKED, tail_height=100.01), noisy=False))
    assert level.heights is not None
    assert any("leave them" in word for word in level.heights.words)


def test_heights_read_one_way_only_are_refused() -> None:
    rows: list[Reading] = [
        r
        for r in readings(CROOKED)
        if not (r.kind == "over_bar" and r.station == "head" and (r.table_angle or 0) > 1)
    ]
    found = mount(job(), rows)
    assert found.heights is not None
    assert found.heights.head is None
    assert ("MT-1", "refuse") in codes(found)


def test_a_strained_housing_is_warned_of() -> None:
    lift = Reading(900, "foot_lift", "0.05 mm", 0.05, station="rear left")
    assert ("MT-5", "warn") in codes(mount(job(), [*readings(CROOKED), lift]))
    none = replace(lift, value=0.004)
    assert ("MT-5", "warn") not in codes(mount(job(), [*readings(CROOKED), none]))


def test_the_report_says_verdict_packing_and_effects() -> None:
    found = mount(job(), readings(CROOKED))
    blocks = report(found, job())
    keys = [b.key for b in blocks if isinstance(b, Table)]
    assert {"lean", "packing", "effect", "heights", "room", "ways"} <= set(keys)
    assert not [b for b in blocks if isinstance(b, Doubts) and not b.doubts]
