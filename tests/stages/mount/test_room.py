"""Room on the machine: collisions, riser, options, impossible set-ups; plate, chuck, stiffness."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest

from simulated_mounting import Standing
from stages.mount.mounted_job import job, readings
from wormwright.job.mounting import Mounting, Room
from wormwright.job.parts import MountPlate, SetUp
from wormwright.job.reading import Reading
from wormwright.stages.mount import mount, report


def mounted(**changed: Any) -> Mounting:
    return mount(job(**changed), [])


def room(**changed: Any) -> Room:
    found = mounted(**changed).room
    assert found is not None
    return found


def test_the_usual_set_up_goes_if_the_cut_keeps_off_the_jaws() -> None:
    found = room()
    assert found.possible is True
    assert found.least == 0.0
    assert found.most == pytest.approx(min(230 - 60 - 5 - 60 - 100, 190 - 2 - 170))
    (body, away), *rest = found.keep_off
    assert (body, rest) == ("jaws", [])
    assert away == pytest.approx(20 + 2 - 3)


def test_keeping_off_as_stated_clears_the_jaws_and_no_less_does() -> None:
    away = room().keep_off[0][1]
    jaws_end, nut = 95.0, 20.0
    assert jaws_end + away + 3.0 - nut == pytest.approx(jaws_end + 2.0)


def test_a_cutter_that_reaches_past_the_jaws_needs_to_keep_off_nothing() -> None:
    assert room(cutter_out=45.0).keep_off == ()


def test_work_larger_than_the_centre_height_asks_for_a_riser() -> None:
    big = room(
        work_diameter=230.0,
        cut_diameter=200.0,
        machine={"daylight": 420.0, "bridge": None, "z_travel": None},
    )
    assert big.least == pytest.approx(115 + 2 - 100)
    assert any("Stand the unit on" in line for line in big.changes)
    meets = {(m.first, m.second) for m in big.meetings if m.state == "meet"}
    assert ("machine table", "work") in meets
    riser = next(o for o in big.options if o.key == "riser")
    assert riser.does
    assert not next(o for o in big.options if o.key == "as it stands").does
    inside = room(
        riser=20.0,
        work_diameter=230.0,
        cut_diameter=200.0,
        machine={"daylight": 420.0, "bridge": None, "z_travel": None},
    )
    assert not any("Stand the unit on" in line for line in inside.changes)


def test_an_impossible_set_up_says_what_would_have_to_change() -> None:
    found = room(
        work_diameter=190.0,
        cut_diameter=150.0,
        machine={"can_raise": "bridge up", "post": 250.0},
    )
    assert found.possible is False
    said = " ".join(found.changes)
    assert "No riser does" in said
    assert "tool 30.0 mm" in said
    assert "Bridge up by 30.0 mm" in said
    assert "At most Ø130.0 mm" in said
    raised = next(o for o in found.options if o.key == "raise")
    assert raised.does
    assert raised.kept == pytest.approx((250 / 280) ** 3)


def test_what_the_impossible_set_up_asks_for_makes_it_possible() -> None:
    """Each stated change by itself, carried out, gives a set-up that goes."""
    wrong: dict[str, Any] = {"work_diameter": 190.0, "cut_diameter": 150.0}
    shorter = room(**wrong, nut_length=5.0, machine={"bridge": 197.0})
    assert shorter.possible is True
    not_quite = room(**wrong, nut_length=6.0, machine={"bridge": 197.0})
    assert not_quite.possible is False
    smaller = room(work_diameter=130.0, cut_diameter=120.0)
    assert smaller.possible is True
    assert room(work_diameter=131.0, cut_diameter=120.0, machine={"bridge": None}).possible is False


def test_a_head_that_comes_no_lower_lifts_the_unit() -> None:
    found = room(machine={"z_travel": 40.0})
    assert found.least == pytest.approx(230 - 60 - 40 - 20 - 100)


def test_a_tail_higher_than_the_axis_and_a_short_table_are_named() -> None:
    found = room(
        tail_height=110.0, tail_out=30.0, tail_length=60.0, machine={"table_length": 400.0}
    )
    said = " ".join(found.changes)
    assert "tail stands 10.0 mm" in said
    assert "longer than the table" in said
    assert found.least == pytest.approx(10.0)


def test_a_stack_of_joints_is_warned_of() -> None:
    assert any("one solid block" in line for line in room(joints=3).changes)
    assert not any("one solid block" in line for line in room(joints=2).changes)


def test_missing_sizes_are_named_and_nothing_is_guessed() -> None:
    found = mounted(work_diameter=None, cut_diameter=None)
    assert found.room is None
    assert any("work_diameter" in line for line in found.not_measured)
    without = mounted(machine={"daylight": None})
    assert without.room is not None
    assert without.room.possible is None
    assert any("daylight" in line for line in without.not_measured)


def test_the_base_plate_follows_feet_slots_and_duty() -> None:
    found = mounted()
    plate = next(p for p in found.parts if isinstance(p, MountPlate))
    assert plate.name == "base plate"
    xs = sorted({x for x, _ in plate.foot_holes})
    ys = sorted({y for _, y in plate.foot_holes})
    assert (xs[1] - xs[0], ys[1] - ys[0]) == (130.0, 110.0)
    rows = sorted({y for _, y in plate.bolt_holes})
    assert (rows[1] - rows[0]) % 50.0 == pytest.approx(0.0)
    assert plate.parallel == pytest.approx(found_lean() * 130 / 3)
    assert "M10" in plate.bolts
    base = next(f for f in found.findings if f.key == "base")
    slip = base.of("slip")
    assert slip is not None
    assert slip.value > 1.5


def found_lean() -> float:
    from wormwright.bench.tram import allowed_lean  # noqa: PLC0415  (beside its only use)

    return allowed_lean(job()).lean


def test_a_riser_and_the_plate_are_one_block() -> None:
    found = mounted(
        work_diameter=270.0,
        cut_diameter=200.0,
        machine={"daylight": 500.0, "bridge": None, "z_travel": None},
    )
    plate = next(p for p in found.parts if isinstance(p, MountPlate))
    assert plate.name == "riser and base plate in one"
    assert plate.thickness.size == pytest.approx(37.0)


def test_a_heavy_cut_on_a_narrow_plate_is_warned_of() -> None:
    found = mounted(side_force=6000.0)
    assert "MT-6" in {d.code for d in found.doubts}
    assert "MT-7" in {d.code for d in mounted(side_force=None).doubts}


def test_an_unknown_plate_material_is_asked_about() -> None:
    assert "MT-9" in {d.code for d in mounted(plate_material="unobtainium").doubts}


def test_the_tail_riser_comes_up_to_the_heights_as_read() -> None:
    standing = Standing(tail_height=99.7)
    rows = readings(standing, noisy=False)
    found = mount(job(tail_height=99.9, tail_out=30.0, tail_length=60.0), rows)
    plates = {p.name: p for p in found.parts if isinstance(p, MountPlate)}
    thick = plates["base plate"].thickness.size
    assert plates["tail riser"].thickness.size == pytest.approx(thick + 0.3, abs=1e-6)


def test_the_drawn_set_up_holds_every_body_and_what_meets() -> None:
    drawn = next(p for p in mounted().parts if isinstance(p, SetUp))
    assert {b.name for b in drawn.blocks} == {"machine table", "body of the unit", "bridge"}
    assert {t.name for t in drawn.turning} == {"chuck", "jaws", "work"}
    assert len(drawn.sweeps) == 6
    assert next(m.state for m in drawn.meetings) == "meet"


def test_a_chuck_above_its_marked_speed_is_refused_and_a_weak_grip_warned_of() -> None:
    fast = mounted(speed=900.0, chuck_speed=800.0)
    assert ("E-2", "refuse") in {(d.code, d.action) for d in fast.doubts}
    weak = mounted(grip=200.0)
    assert "MT-8" in {d.code for d in weak.doubts}
    assert "MT-8" not in {d.code for d in mounted(grip=20_000.0).doubts}


def test_a_collet_has_its_class_limits_and_one_too_large_has_none() -> None:
    chuck = next(f for f in mounted(hold="collet").findings if f.key == "chuck")
    assert chuck.of("class 2") is not None
    assert chuck.of("class 2").high == pytest.approx(0.020)  # type: ignore[union-attr]
    none = next(f for f in mounted(hold="collet", grip_diameter=40.0).findings if f.key == "chuck")
    assert none.of("class 2") is None


def dialled(taker_angles: tuple[int, ...], moved: float = 0.11) -> list[Reading]:
    return [
        Reading(
            seq=n,
            kind="four_jaw",
            raw="simulated",
            value=moved * math.cos(math.radians(a) - 1.2),
            table_angle=math.radians(a),
            conditions={"jaw_1": math.radians(20)},
        )
        for n, a in enumerate(taker_angles, start=1)
    ]


def test_four_jaw_readings_at_any_angle_say_which_jaw_to_ease() -> None:
    found = mount(job(hold="four-jaw"), dialled((20, 110, 200, 290)))
    moves = {(j.back, j.follow): j.move.value for j in found.jaws}
    along = 1.2 - math.radians(20)
    assert moves == {
        (3, 1): pytest.approx(0.11 * math.cos(along)),
        (4, 2): pytest.approx(0.11 * math.sin(along)),
    }


def test_only_the_last_turn_of_the_dial_counts() -> None:
    before = dialled((20, 110, 200, 290))
    after = [replace(r, seq=10 + r.seq) for r in dialled((20, 110, 200, 290), moved=0.01)]
    found = mount(job(hold="four-jaw"), [*before, *after])
    assert math.hypot(*(j.move.value for j in found.jaws)) == pytest.approx(0.01)


def test_two_angles_in_the_four_jaw_are_refused() -> None:
    found = mount(job(), dialled((20, 200)))
    assert found.jaws == ()
    assert ("E-31", "refuse") in {(d.code, d.action) for d in found.doubts}


def test_the_softest_link_is_named_and_a_heavy_cut_is_called_too_much() -> None:
    chain = next(f for f in mounted().findings if f.key == "springing")
    assert "cutter" in chain.words[0]
    heavy = next(f for f in mounted(side_force=2000.0).findings if f.key == "springing")
    assert any("more than half of what the duty allows" in word for word in heavy.words)


def test_the_table_bearing_is_in_the_chain_once_its_tilt_was_read() -> None:
    rows = [
        Reading(
            seq=n,
            kind="tilt_under_moment",
            raw="simulated",
            value=(1e-4 + 2 * 3e-9 * moment) * 80.0,
            conditions={"moment": moment, "arm": 80.0},
        )
        for n, moment in enumerate((6000.0, 20000.0), start=1)
    ]
    chain = next(f for f in mount(job(), rows).findings if f.key == "springing")
    bearing = chain.of("the table bearing")
    assert bearing is not None
    assert bearing.value == pytest.approx(3e-9 * 245.0**2 * 60.0)


def test_every_report_of_a_set_up_can_be_made() -> None:
    for changed in ({}, {"work_diameter": 190.0, "cut_diameter": 150.0}, {"hold": "collet"}):
        assert len(report(mounted(**changed), job())) > 5
