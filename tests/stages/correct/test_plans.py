"""Plans from "leave it" to "all of it": their figures, their order and what is never offered."""

from __future__ import annotations

import math

import numpy as np
import pytest

import correct_fixture as made
from wormwright.bench import Bench
from wormwright.core.monte_carlo import monte_carlo
from wormwright.job.blocks import Table
from wormwright.job.parts import ShimRing, WormRelief
from wormwright.stages.correct import correct, report
from wormwright.stages.correct.choice import Choice
from wormwright.stages.correct.facts import facts_of
from wormwright.stages.correct.judge import yardstick_of
from wormwright.stages.correct.left import parts_left
from wormwright.stages.correct.plans import changes_use
from wormwright.stages.correct.predict import (
    NORMALS,
    OUTPUTS,
    Change,
    Left,
    PlanModel,
    Yardstick,
    outcome_of_plan,
)
from wormwright.stages.correct.unit import UnitRows, closing_that_gives, unit_rows
from wormwright.stages.correct.warm import WarmMesh

NO_WARM = WarmMesh(0.0, 0.0, 0.0, "")


def test_a_unit_that_already_meets_its_duty_is_left_alone() -> None:
    got = correct(made.job(error_mm=0.4), made.readings(), made.diagnosis())
    assert got.chosen is not None
    assert got.chosen.key == "leave"
    assert got.chosen.minutes == 0
    assert got.chosen.p_meets_duty > 0.9


def test_the_cheapest_plan_that_meets_the_duty_is_taken() -> None:
    job = made.job()
    got = correct(job, made.readings(), made.diagnosis())
    assert got.chosen is not None
    good = [
        p
        for p in got.plans
        if p.offered and p.p_meets_duty >= job.duty.probability and not changes_use(p)
    ]
    assert got.chosen.minutes == min(p.minutes for p in good)
    assert [p.minutes for p in got.plans] == sorted(p.minutes for p in got.plans)


def test_a_wanted_plan_is_taken_and_an_unknown_one_questioned() -> None:
    args = (made.job(), made.readings(), made.diagnosis())
    wanted = correct(*args, plan="worm_shim")
    assert wanted.chosen is not None
    assert wanted.chosen.key == "worm_shim"
    asked = correct(*args, plan="gold plating")
    assert any(d.code == "plan" and "gold plating" in d.seen for d in asked.doubts)


def test_leaving_it_predicts_what_the_diagnosis_found() -> None:
    got = correct(made.job(), made.readings(), made.diagnosis())
    leave = next(p for p in got.plans if p.key == "leave")
    of = made.posterior().of
    parts = of("mesh") + of("end_play") + of("worm_float") * of("worm_share")
    parts = parts + of("table_radial") * of("table_share") + of("wheel_joint") + of("drive")
    swing = (
        2
        * made.pair().t
        * (np.hypot(of("wheel_x"), of("wheel_y")) + np.hypot(of("worm_x"), of("worm_y")))
    )
    assert leave.mean.value == pytest.approx(float(parts.mean()) / 50.0, rel=2e-3)
    assert leave.loose.value == pytest.approx(float((parts + swing).mean()) / 50.0, rel=2e-3)
    assert leave.tight.value == pytest.approx(float((parts - swing).mean()) / 50.0, rel=2e-3)


def test_more_work_never_leaves_more_lost_motion() -> None:
    got = correct(made.job(), made.readings(), made.diagnosis())
    by_key = {p.key: p for p in got.plans}
    assert by_key["worm_shim"].mean.value < by_key["leave"].mean.value
    assert by_key["worm_shim+bushings"].mean.value < by_key["worm_shim"].mean.value


def test_a_one_way_approach_does_not_count_the_mesh_and_says_what_is_left() -> None:
    both = correct(made.job(), made.readings(), made.diagnosis())
    one = correct(made.job(approach="one way"), made.readings(), made.diagnosis())
    assert both.chosen is not None
    assert both.chosen.key != "leave"
    assert one.chosen is not None
    assert one.chosen.key == "leave"
    assert any("is left" in line for line in one.advice)


@pytest.mark.parametrize(("which", "kind"), [("worm", "worm_shim"), ("table", "table_shim")])
def test_a_shim_without_its_arrangement_is_refused(which: str, kind: str) -> None:
    got = correct(made.job(), made.readings(without=(f"{kind}_arrangement",)), made.diagnosis())
    assert kind not in {c.key for p in got.plans for c in p.corrections}
    assert any(d.action == "refuse" and f"the {which} shim acts" in d.seen for d in got.doubts)


def _thickness(arrangement: str) -> float:
    words = {("worm_shim_arrangement", ""): arrangement}
    got = correct(made.job(), made.readings(words=words), made.diagnosis(), plan="worm_shim")
    assert got.chosen is not None
    sizes = dict(got.chosen.corrections[0].sizes)
    return sizes["shim, new thickness"].value


def test_worm_shim_takes_up_the_gap_and_the_preload() -> None:
    # 0.40 in place, 0.030 end play, and some squeeze of two small ball bearings on top.
    assert 0.40 - 0.030 - 0.060 < _thickness("cover on outer ring") < 0.40 - 0.030 - 0.005


WORM_OUTLINE = {
    ("worm_shim_inside", ""): 29.0,
    ("worm_shim_outside", ""): 44.8,
    ("worm_shim_screws", ""): 0.0,
}
SPACER_OUTLINE = {("worm_shim_inside", ""): 15.2, ("worm_shim_outside", ""): 20.5}


def test_with_no_shim_to_take_out_a_ring_behind_the_outer_ring_is_given() -> None:
    got = correct(
        made.job(),
        made.readings(numbers={("worm_shim", ""): 0.0, **WORM_OUTLINE}),
        made.diagnosis(),
        plan="worm_shim",
    )
    assert got.chosen is not None
    (ring,) = got.chosen.corrections[0].parts
    assert isinstance(ring, ShimRing)
    assert ring.name == "worm ring"
    assert "thicker tightens" in ring.purpose
    assert 0.035 < ring.thickness.size < 0.09
    assert ring.outside.size == 34.8, "drops into the 35 mm housing, whatever the cover's shim was"
    assert 29.0 < ring.inside.size < 33.0, "clears the shield of a 6202"


@pytest.mark.parametrize(
    ("arrangement", "way", "side"),
    [
        ("cover on outer ring", "thinner tightens", -1),
        ("nut with inner spacer", "thinner tightens", -1),
        ("retainer on shim", "thinner tightens", -1),
        ("ring behind outer ring", "thicker tightens", +1),
    ],
)
def test_each_arrangement_gets_a_ring_of_the_read_outline_that_says_which_way_tightens(
    arrangement: str, way: str, side: int
) -> None:
    words = {("worm_shim_arrangement", ""): arrangement}
    outline = SPACER_OUTLINE if arrangement == "nut with inner spacer" else WORM_OUTLINE
    readings = made.readings(words=words, numbers=outline)
    got = correct(made.job(), readings, made.diagnosis(), plan="worm_shim", draws=8192)
    assert got.chosen is not None
    (ring,) = got.chosen.corrections[0].parts
    assert isinstance(ring, ShimRing)
    assert way in ring.purpose
    assert (ring.thickness.size - 0.40) * side > 0.030
    assert ring.thickness.size == pytest.approx(round(ring.thickness.size, 3), abs=1e-9)
    read = (outline["worm_shim_inside", ""], outline["worm_shim_outside", ""])
    assert (ring.inside.size, ring.outside.size) == read


def test_a_ring_whose_outline_was_not_read_is_asked_for_and_never_guessed() -> None:
    got = correct(made.job(), made.readings(), made.diagnosis(), plan="worm_shim", draws=8192)
    assert got.chosen is not None
    (shim,) = got.chosen.corrections
    assert shim.parts == ()
    assert any("`worm_shim_inside`" in d.do for d in shim.doubts)


def test_flat_ways_get_a_float_and_a_ball_pair_a_preload() -> None:
    def take_up(kind: str) -> float:
        got = correct(
            made.job(),
            made.readings(words={("table_bearing_kind", ""): kind}),
            made.diagnosis(),
            plan="table_shim",
        )
        assert got.chosen is not None
        return dict(got.chosen.corrections[0].sizes)["take-up"].value

    assert take_up("flat ways") == pytest.approx(0.012 - 0.0025)
    assert take_up("ball pair") > 0.012


def test_relief_only_when_the_crest_clearance_is_short() -> None:
    def reliefs(clearance: float) -> list[WormRelief]:
        got = correct(
            made.job(),
            made.readings(numbers={("tip_clearance", ""): clearance}),
            made.diagnosis(),
        )
        assert got.chosen is not None
        parts = [p for c in got.chosen.corrections for p in c.parts]
        return [p for p in parts if isinstance(p, WormRelief)]

    assert reliefs(0.45) == []
    (short,) = reliefs(0.20)
    assert short.outside.size < short.outside_before
    got = correct(
        made.job(), made.readings(numbers={("tip_clearance", ""): 0.20}), made.diagnosis()
    )
    assert got.chosen is not None
    assert got.chosen.tip_clearance is not None
    assert got.chosen.tip_clearance.low > 0.03
    keys = [c.key for c in got.chosen.corrections]
    assert keys.index("relief") < keys.index("bushings")


def test_an_oversize_worm_is_named_before_good_metal_is_turned_off() -> None:
    def words(clearance: float, mesh: float) -> str:
        got = correct(
            made.job(),
            made.readings(numbers={("tip_clearance", ""): clearance}),
            made.diagnosis(plays={"mesh": (mesh, 0.006)}),
            draws=8192,
        )
        assert got.chosen is not None
        return next(c.steps[0] for c in got.chosen.corrections if c.key == "relief")

    assert "left oversize" in words(0.20, mesh=0.145)
    assert "real addendum" in words(0.45, mesh=0.300)


def test_a_mesh_that_may_not_come_nearer_is_left() -> None:
    got = correct(made.job(), made.readings(), made.diagnosis(plays={"mesh": (0.030, 0.003)}))
    assert got.strategy == "leave the depth"
    assert "bushings" not in {c.key for p in got.plans for c in p.corrections}


def test_plays_that_hide_in_the_rock_widen_the_setting() -> None:
    sure = correct(made.job(), made.readings(), made.diagnosis())
    vague = correct(
        made.job(), made.readings(), made.diagnosis(plays={"wheel_joint": (0.012, 0.008)})
    )
    tight = {
        name: next(p for p in r.plans if p.key == "worm_shim+bushings")
        for name, r in (("sure", sure), ("vague", vague))
    }
    assert tight["vague"].tight.value > tight["sure"].tight.value
    assert not tight["vague"].offered or tight["vague"].p_jam <= 0.005


def test_both_unit_systems_give_the_same_figures() -> None:
    metric = correct(made.job(units="mm"), made.readings(), made.diagnosis())
    inch = correct(made.job(units="in"), made.readings(), made.diagnosis())
    assert metric.chosen is not None
    assert inch.chosen is not None
    assert metric.chosen.loose == inch.chosen.loose
    assert metric.closing == inch.closing
    assert metric.setting_chart == inch.setting_chart
    assert metric.strategy_reason != inch.strategy_reason


def test_left_and_right_hand_worms_get_the_same_depth() -> None:
    right = made.pair((("hob-equal", 1.0),))
    one = correct(made.job(), made.readings(), made.diagnosis(of_pair=right))
    other = correct(made.job(), made.readings(), made.diagnosis(of_pair=made.other_hand(right)))
    assert one.closing is not None
    assert other.closing is not None
    assert one.closing.value == pytest.approx(other.closing.value, abs=1e-6)


def _model() -> tuple[UnitRows, Change, Yardstick]:
    job, found = made.job(), made.diagnosis(kinds=(("hob-equal", 0.5), ("oversize-hob", 0.5)))
    facts = facts_of(job, Bench(job, made.readings()), found)
    unit = unit_rows(found.pair, found.posterior, centre_distance=facts.centre_distance)
    change = Change({"end_play": Left(0.0, 0.002), "worm_float": Left(0.003, 0.001)})
    by = yardstick_of(facts, unit, NO_WARM, Choice())
    return unit, change, by


@pytest.mark.parametrize(("threads", "chunk"), [(1, 8192), (2, 16384), (2, 100_000)])
def test_draws_do_not_depend_on_chunks_or_threads(threads: int, chunk: int) -> None:
    model = PlanModel(*_model())

    def run(threads: int, chunk: int) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
        return monte_carlo(
            model,
            draws=50_000,
            normals=NORMALS,
            outputs=OUTPUTS,
            seed=3,
            threads=threads,
            chunk=chunk,
        )

    assert np.array_equal(run(1, 131_072), run(threads, chunk))


def test_the_prediction_equals_the_plain_sum_of_what_is_left() -> None:
    unit, change, by = _model()
    got = outcome_of_plan(unit, change, by, draws=200_000, seed=5)
    end = 0.002 * math.sqrt(2 / math.pi)
    kept = sum(float(unit.parts[p].mean()) for p in unit.parts if p not in change.plays)
    expected = kept + end + 0.003 * float(unit.worm_share.mean()) + float(unit.mesh.mean())
    assert got.mean.value * unit.pair.r2 == pytest.approx(expected, rel=2e-3)
    assert got.mean.low < got.mean.value < got.mean.high


def test_what_is_left_by_cause_adds_up_to_the_mean_of_the_plan() -> None:
    unit, change, by = _model()
    left = parts_left(unit, change, by, seed=5)
    whole = outcome_of_plan(unit, change, by, draws=200_000, seed=5)
    assert sum(e.value for e in left.values()) == pytest.approx(whole.mean.value, rel=2e-3)
    end = 0.002 * math.sqrt(2 / math.pi) / unit.pair.r2
    assert left["end_play"].value == pytest.approx(end, rel=0.02), "a folded normal is left"
    kept = float(unit.parts["drive"].mean()) / unit.pair.r2
    assert left["drive"].value == pytest.approx(kept, rel=1e-3), "nothing was done about it"


def test_every_plan_tells_what_it_leaves_and_doing_nothing_leaves_all() -> None:
    got = correct(made.job(), made.readings(), made.diagnosis())
    found = {c.key: c.at_table.value for c in made.diagnosis().contributors}
    leave = next(p for p in got.plans if p.key == "leave")
    for plan in got.plans:
        assert {c.key for c in plan.parts_left} == set(found)
        assert {c.key: c.found.value for c in plan.parts_left} == found
    for cause in leave.parts_left:
        assert cause.left.value == pytest.approx(found[cause.key], rel=0.05, abs=2e-6), cause.key
    shimmed = next(p for p in got.plans if "worm_shim" in p.key)
    end_play = next(c for c in shimmed.parts_left if c.key == "end_play")
    assert end_play.left.value < end_play.found.value / 5


def test_the_closing_found_brings_the_tight_spot_to_the_target() -> None:
    unit, _, _ = _model()
    closing = closing_that_gives(unit, 0.02)
    before = np.asarray(unit.model.backlash_change(da=unit.opened))
    after = np.asarray(unit.model.backlash_change(da=unit.opened - closing))
    assert np.allclose(unit.mesh - unit.swing + after - before, 0.02, atol=1e-9)
    assert bool(np.all(unit.opened >= -1e-9))


def test_the_report_shows_plans_chart_picture_and_every_part() -> None:
    job = made.job()
    got = correct(job, made.readings(), made.diagnosis())
    names = [type(b).__name__ for b in report(got, job)]
    assert got.chosen is not None
    parts = [p for c in got.chosen.corrections for p in c.parts]
    assert names.count("PartDrawing") == len(parts)
    for wanted in ("Heading", "Paragraph", "Table", "Steps", "ClosingPlane", "SectionPicture"):
        assert wanted in names
    tables = [b for b in report(got, job) if isinstance(b, Table)]
    assert all(len(row) == len(t.columns) for t in tables for row in t.rows)


def test_few_readings_give_no_sizes_but_say_what_to_read() -> None:
    few = made.readings(without=tuple({k for k, _ in (*made.WORDS, *made.NUMBERS)}))
    got = correct(made.job(), few, made.diagnosis())
    assert [p.key for p in got.plans if not changes_use(p)] == ["leave"]
    assert "worm end play" in got.not_measured
    assert {d.action for d in got.doubts} >= {"refuse"}
    assert any("read what is listed" in line for line in got.advice)
