"""Each correction is offered for the fault it cures, cures it, and is not offered without it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import pytest

import correct_fixture as made
from wormwright.bench import Bench
from wormwright.job.corrections import Plan, Remedy
from wormwright.job.findings import Runout
from wormwright.job.pair import WheelKind
from wormwright.job.parts import JournalBush
from wormwright.job.reading import Reading
from wormwright.job.result import Estimate
from wormwright.job.rotary import Job, Motor
from wormwright.stages.correct import correct
from wormwright.stages.correct.approach import approach_rule
from wormwright.stages.correct.centring import centred, off_centre, wheel_centring
from wormwright.stages.correct.facts import facts_of
from wormwright.stages.correct.holding import bias_weight_and_cord, clamp, friction_brake
from wormwright.stages.correct.joint import coupling, wheel_joint
from wormwright.stages.correct.journal import journal_bushes
from wormwright.stages.correct.truing import spacing_line, trued, wheel_truing
from wormwright.stages.correct.unit import unit_rows

DRAWS = 8192
HOB_EQUAL: tuple[tuple[WheelKind, float], ...] = (("hob-equal", 1.0),)
PLAIN = "plain bush with thrust washer"


def also(readings: Sequence[Reading], *more: Reading) -> tuple[Reading, ...]:
    """The readings with more, renumbered."""
    return tuple(replace(r, seq=k) for k, r in enumerate((*readings, *more), start=1))


def read(kind: str, value: float, **rest: Any) -> Reading:
    return Reading(1, kind, "typed", value=value, **rest)


def blue(sketch: str, *, other: str | None = None) -> tuple[Reading, ...]:
    """One mark on both flanks at three places of the wheel."""
    return tuple(
        Reading(1, "blue_mark", word, word=word, station=station, table_angle=angle)
        for angle in (0.5, 2.5, 4.5)
        for station, word in (("flank plus", sketch), ("flank minus", other or sketch))
    )


def plan_of(remedy: Remedy, key: str) -> Plan:
    return next(p for p in remedy.plans if p.key == key)


def remedied(
    readings: Sequence[Reading], plan: str, *, job: Job | None = None, **found: Any
) -> tuple[Plan, Plan]:
    """The wanted plan beside leaving the unit as it is."""
    diagnosis = made.diagnosis(**found)
    got = correct(job or made.job(), readings, diagnosis, draws=DRAWS, plan=plan)
    return plan_of(got, plan), plan_of(got, "leave")


def left(plan: Plan, cause: str) -> float:
    return next(c.left.value for c in plan.parts_left if c.key == cause)


def bench_of(readings: Sequence[Reading], job: Job | None = None) -> Bench:
    return Bench(job or made.job(), tuple(readings))


# ------------------------------------------------------------------ joint and coupling


def test_a_loose_wheel_joint_is_screwed_tight_and_its_play_gone() -> None:
    rows = also(made.readings(), read("wheel_joint_play", 0.03, conditions={"radius": 50.0}))
    done, leave = remedied(rows, "wheel_joint", plays={"wheel_joint": (0.03, 0.003)})
    assert leave.mean.value - done.mean.value == pytest.approx(0.03 / 50, rel=0.05)


def test_a_tight_joint_gets_no_work() -> None:
    facts = facts_of(made.job(), bench_of(made.readings()), made.diagnosis())
    tight = also(made.readings(), read("wheel_joint_play", 0.001, conditions={"radius": 50.0}))
    assert wheel_joint(facts, bench_of(made.readings())) is None
    assert wheel_joint(facts, bench_of(tight)) is None


def test_a_loose_coupling_is_cured_at_the_coupling() -> None:
    play = math.radians(4)
    rows = also(made.readings(), read("drive_play", play))
    at_r2 = play / 80 * 50
    done, leave = remedied(rows, "coupling", plays={"drive": (at_r2, 0.002)})
    assert leave.mean.value - done.mean.value == pytest.approx(at_r2 / 50, rel=0.05)
    facts = facts_of(made.job(), bench_of(rows), made.diagnosis())
    assert coupling(facts, bench_of(made.readings())) is None


# ------------------------------------------------------------------ worm journals

WORN = {("worm_float", "A"): 0.06, ("worm_float", "B"): 0.05}
BUSHED = {("bearing_kind", "A"): PLAIN, ("bearing_kind", "B"): PLAIN}


def test_worn_journal_bushes_are_renewed_to_their_running_clearance() -> None:
    worn = made.readings(words=BUSHED, numbers=WORN)
    done, leave = remedied(worn, "journal_bush", plays={"worm_float": (0.055, 0.003)})
    taken = (left(leave, "worm_float") - left(done, "worm_float")) * 50
    assert taken == pytest.approx((0.055 - 0.021) * 0.55, rel=0.05)


def test_bushes_that_run_well_and_balls_are_left() -> None:
    for words, numbers in ((BUSHED, {}), ({}, WORN)):
        rows = made.readings(words=words, numbers=numbers)
        assert journal_bushes(facts_of(made.job(), bench_of(rows), made.diagnosis())) is None


def test_what_pressing_takes_off_the_bore_is_told_where_the_metals_are_known() -> None:
    worn = made.readings(words=BUSHED, numbers=WORN)
    cure = journal_bushes(facts_of(made.job(), bench_of(worn), made.diagnosis()))
    assert cure is not None
    assert sum("its bore closes by about" in s for s in cure.correction.steps) == 2
    unknown = replace(made.job(), rotary=replace(made.job().rotary, housing_material="adamant"))
    cure = journal_bushes(facts_of(unknown, bench_of(worn, unknown), made.diagnosis()))
    assert cure is not None
    assert sum("bore it after pressing" in s for s in cure.correction.steps) == 2


def test_each_bush_is_drawn_to_its_own_bore_and_journal() -> None:
    plain = BUSHED | {("bearing_marking", "A"): "", ("bearing_marking", "B"): ""}
    sizes = {("bearing_width", "A"): 20.0, ("bearing_width", "B"): 18.0}
    worn = made.readings(words=plain, numbers=WORN | sizes)
    cure = journal_bushes(facts_of(made.job(), bench_of(worn), made.diagnosis()))
    assert cure is not None
    parts = [p for p in cure.correction.parts if isinstance(p, JournalBush)]
    assert [(p.side, p.length, p.outside.size) for p in parts] == [
        ("A", 20.0, 35.006),
        ("B", 18.0, 35.004),
    ]
    for part in parts:
        assert part.outside.lower > 0
        assert 0 < part.closes < part.outside.upper
        assert part.bore.size + part.bore.lower > part.bore_turned


def test_a_journal_that_was_not_measured_is_asked_for() -> None:
    worn = made.readings(words=BUSHED, numbers=WORN, without=("shaft_seat",))
    cure = journal_bushes(facts_of(made.job(), bench_of(worn), made.diagnosis()))
    assert cure is not None
    assert [d.action for d in cure.correction.doubts] == ["ask", "ask"]
    assert cure.correction.sizes == ()


# ------------------------------------------------------------------ wheel


ECCENTRIC: made.Plays = {"wheel_x": (-0.05, 0.001), "wheel_y": (-0.03, 0.001)}


def test_truing_takes_the_swing_out_of_the_loose_place_and_leaves_the_mean() -> None:
    out = replace(made.diagnosis(plays=ECCENTRIC), wheel_runout=_swing(0.117))
    got = correct(made.job(), made.readings(), out, draws=DRAWS, plan="wheel_truing")
    done, leave = plan_of(got, "wheel_truing"), plan_of(got, "leave")
    assert done.mean.value == pytest.approx(leave.mean.value, rel=0.01)
    swing = 2 * made.pair().t * math.hypot(0.05, 0.03)
    left_over = 2 * made.pair().t * 0.010 / math.sqrt(-2 * math.log(0.05)) * math.sqrt(math.pi / 2)
    gained = (leave.loose.value - done.loose.value) * 50
    assert gained == pytest.approx(swing - left_over, rel=0.05)


def _swing(value: float) -> Estimate:
    return Estimate(value, 0.002, value - 0.004, value + 0.004, "length", "made up")


def test_a_wheel_that_runs_true_is_not_trued() -> None:
    rows = made.readings()
    for runout in (None, _swing(0.025)):
        found = replace(made.diagnosis(), wheel_runout=runout)
        bench = bench_of(rows)
        assert wheel_truing(facts_of(made.job(), bench, found), bench) is None


def test_truing_leaves_no_more_than_it_says_in_all_but_one_of_twenty_rows() -> None:
    unit = unit_rows(made.pair(), made.posterior(ECCENTRIC), centre_distance=61.12)
    after = trued(unit, 0.020)
    tir = 2 * after.wheel_swing / (2 * unit.pair.t)
    assert float((tir > 0.020).mean()) == pytest.approx(0.05, abs=0.002)
    assert (after.mesh == unit.mesh).all()


def test_a_trued_wheel_lets_the_mesh_come_nearer() -> None:
    """Truing and bushings are one job: the depth is worked out for the wheel as it will be."""
    out = replace(made.diagnosis(plays=ECCENTRIC), wheel_runout=_swing(0.117))
    keys = ("worm_shim+bushings", "wheel_truing+worm_shim+bushings")
    plans = []
    for key in keys:
        got = correct(made.job(), made.readings(), out, draws=DRAWS, plan=key)
        plans.append(plan_of(got, key))
    untrue, true = (dict(p.corrections[-1].sizes)["closing wanted"].value for p in plans)
    assert true > untrue + 0.02
    assert plans[1].loose.value < plans[0].loose.value
    assert plans[1].p_jam <= 0.005


def test_spacing_of_divided_work_is_told_for_indexed_duties_only() -> None:
    rows = made.readings()
    indexed = facts_of(made.job(work="indexed"), bench_of(rows), made.diagnosis())
    assert "neighbours of 96" in str(spacing_line(indexed))
    assert spacing_line(facts_of(made.job(), bench_of(rows), made.diagnosis())) is None


# ------------------------------------------------------------------ centring


def test_blue_at_one_edge_on_both_flanks_asks_for_shims_under_the_wheel() -> None:
    rows = also(made.readings(), *blue("plus edge"))
    done, leave = remedied(rows, "wheel_centring", kinds=HOB_EQUAL)
    assert "table top" in " ".join(done.corrections[0].steps)
    # What the edge hides comes out at once instead of later: nothing is gained, nothing hidden.
    assert done.tight.value > leave.tight.value
    assert done.loose.value == pytest.approx(leave.loose.value, rel=0.01)


def test_an_edge_that_hides_backlash_makes_the_unit_worse_than_it_reads() -> None:
    found = made.diagnosis(kinds=HOB_EQUAL)
    clean = correct(made.job(), made.readings(), found, draws=DRAWS)
    edge = correct(made.job(), also(made.readings(), *blue("minus edge")), found, draws=DRAWS)
    assert plan_of(edge, "leave").tight.value == plan_of(clean, "leave").tight.value
    assert plan_of(edge, "leave").loose.value > plan_of(clean, "leave").loose.value


@pytest.mark.parametrize("sketch", ["centred patch", "root line", "both edges"])
def test_other_marks_ask_for_no_wheel_shims(sketch: str) -> None:
    rows = also(made.readings(), *blue(sketch))
    facts = facts_of(made.job(), bench_of(rows), made.diagnosis())
    assert wheel_centring(facts, bench_of(rows)) is None


def test_opposite_edges_are_skew_and_no_case_for_wheel_shims() -> None:
    rows = also(made.readings(), *blue("minus edge", other="plus edge"))
    facts = facts_of(made.job(), bench_of(rows), made.diagnosis())
    assert wheel_centring(facts, bench_of(rows)) is None


def test_centring_goes_with_setting_a_unit_whose_blue_marks_one_edge() -> None:
    words = {("adjusting", ""): "bolted block"}
    rows = also(made.readings(words=words), *blue("plus edge"))
    got = correct(made.job(), rows, made.diagnosis(kinds=HOB_EQUAL), draws=DRAWS)
    deep = [p for p in got.plans if "setting" in p.key]
    assert deep
    assert all("wheel_centring" in p.key for p in deep)


def test_centring_moves_hidden_backlash_into_the_open_and_adds_none() -> None:
    unit = off_centre(unit_rows(made.pair(HOB_EQUAL), made.posterior(), centre_distance=61.12))
    middle = centred(unit)
    hidden = unit.hidden_at_edge
    assert (middle.mesh == unit.mesh + hidden).all()
    assert middle.hidden_at_edge == 0.0


# ------------------------------------------------------------------ other ways of using it


def test_approach_from_one_side_leaves_only_the_play_of_the_table() -> None:
    got = correct(made.job(), made.readings(), made.diagnosis(), draws=DRAWS)
    approach = plan_of(got, "approach")
    assert approach.p_meets_duty > 0.99
    assert approach.mean.value == plan_of(got, "leave").mean.value
    assert got.chosen is not None
    assert "approach" not in got.chosen.key
    assert any("--plan approach" in line for line in got.advice)


def test_a_way_of_use_is_taken_when_it_is_asked_for() -> None:
    got = correct(made.job(), made.readings(), made.diagnosis(), draws=DRAWS, plan="approach")
    assert got.chosen is not None
    assert got.chosen.key == "approach"


@pytest.mark.parametrize("duty", [{"work": "reversing"}, {"approach": "one way"}])
def test_no_approach_rule_where_the_load_reverses_or_the_duty_has_it_already(
    duty: dict[str, Any],
) -> None:
    job = made.job(**duty)
    assert approach_rule(facts_of(job, bench_of(made.readings(), job), made.diagnosis())) is None


def test_overshoot_is_half_a_worm_turn_or_twice_the_lost_motion() -> None:
    cure = approach_rule(facts_of(made.job(), bench_of(made.readings()), made.diagnosis()))
    assert cure is not None
    assert dict(cure.correction.sizes)["overshoot, about"].value == pytest.approx(math.pi / 80)
    worn = replace(made.diagnosis(), lost_motion_loose=made.estimate(0.03, 0.001))
    cure = approach_rule(facts_of(made.job(), bench_of(made.readings()), worn))
    assert cure is not None
    assert dict(cure.correction.sizes)["overshoot, about"].value == pytest.approx(0.064)


def test_a_bias_weight_outdoes_cut_and_drag_and_says_its_drop() -> None:
    job = made.job(work="reversing", torque_resist_nmm=3000.0)
    rows = also(made.readings(), read("drag_table", 400.0))
    cure = bias_weight_and_cord(
        facts_of(job, bench_of(rows, job), made.diagnosis()), bench_of(rows)
    )
    assert cure is not None
    sizes = dict(cure.correction.sizes)
    # 1.5 x (3 + 0.4) N·m on a cord at the pin's 80 mm with a twentieth lost in the pulley.
    least = 1.5 * 3400 / (9.80665 * 80 * 0.95)
    assert least <= sizes["weight"].value < least + 0.5
    assert "503 mm" in cure.correction.steps[1]


def test_no_weight_for_endless_turning_or_one_too_heavy_to_hang() -> None:
    cases: tuple[dict[str, Any], ...] = (
        {"work": "continuous"},
        {"work": "reversing", "torque_resist_nmm": 40_000.0},
    )
    for duty in cases:
        job = made.job(**duty)
        bench = bench_of(made.readings(), job)
        assert bias_weight_and_cord(facts_of(job, bench, made.diagnosis()), bench) is None


def test_a_brake_is_only_of_use_with_approach_from_one_side() -> None:
    job = made.job()
    bench = bench_of(made.readings(), job)
    cure = friction_brake(facts_of(job, bench, made.diagnosis()), bench)
    assert cure is not None
    assert cure.needs == ("approach",)
    got = correct(job, made.readings(), made.diagnosis(), draws=DRAWS)
    assert "friction_brake" not in {p.key for p in got.plans}
    assert "friction_brake+approach" in {p.key for p in got.plans}


def test_a_brake_that_would_stall_the_motor_is_warned_of() -> None:
    small = replace(made.job(), motor=Motor("small", torque_hold_nmm=300.0))
    bench = bench_of(made.readings(), small)
    cure = friction_brake(facts_of(small, bench, made.diagnosis()), bench)
    assert cure is not None
    assert [d.code for d in cure.correction.doubts] == ["E-15"]


def test_a_clamp_leaves_its_own_shift_to_feel() -> None:
    job = made.job(work="indexed", approach="one way", error_mm=0.012)
    shift = read(
        "clamp_shift", 0.02, station="turning", table_angle=0.0, conditions={"radius": 100.0}
    )
    got = correct(job, also(made.readings(), shift), made.diagnosis(), draws=DRAWS, plan="clamp")
    assert plan_of(got, "leave").p_meets_duty > 0.5
    # 0.020 mm at 100 mm is 0.2 mrad of shift and allows it; 0.24 mrad are allowed.
    assert plan_of(got, "clamp").p_meets_duty == 1.0
    tight = made.job(work="indexed", approach="one way", error_mm=0.009)
    got = correct(tight, also(made.readings(), shift), made.diagnosis(), draws=DRAWS, plan="clamp")
    assert plan_of(got, "clamp").p_meets_duty == 0.0


def test_an_unread_clamp_shift_is_asked_for_and_endless_turning_has_no_clamp() -> None:
    job = made.job(work="indexed")
    bench = bench_of(made.readings(), job)
    cure = clamp(facts_of(job, bench, made.diagnosis()), bench)
    assert cure is not None
    assert [d.action for d in cure.correction.doubts] == ["ask"]
    assert clamp(facts_of(made.job(), bench, made.diagnosis()), bench) is None


def test_a_plate_that_runs_out_is_offered_beside_the_plan_and_changes_no_play() -> None:
    face = Runout(
        "face", "table face", 0.08, made.estimate(0.04, 0.002, "length"), made.estimate(1.0, 0.05)
    )
    found = replace(made.diagnosis(), runouts=(face,))
    got = correct(made.job(), made.readings(), found, draws=DRAWS)
    assert got.chosen is not None
    assert "adapter" not in got.chosen.key
    (line,) = [x for x in got.advice if "adapter" in x]
    key = line.split("--plan ")[1].split(")")[0]
    with_plate = correct(made.job(), made.readings(), found, draws=DRAWS, plan=key)
    assert with_plate.chosen is not None
    assert with_plate.chosen.key == key
    assert with_plate.chosen.loose == got.chosen.loose
