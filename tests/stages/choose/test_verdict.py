"""When a verdict is stated and when it is not; loads from cutters; what is asked first."""

from __future__ import annotations

from dataclasses import replace

import pytest

from drive_jobs import example, plain, with_drive, with_task
from wormwright.job.blocks import Cautions, Paragraph
from wormwright.job.given import Given
from wormwright.job.result import StageRefusal
from wormwright.job.work import Cutter, Task
from wormwright.stages.choose import choose, purchase_card, report

STRAIN, WORM = "strain wave 80:1", "worm 40:1"


def test_ranges_that_hold_the_limit_give_no_verdict() -> None:
    job = example()
    wide = Given(job.drives[2].stiffness.value, 1e5, 2 * job.drives[2].stiffness.value)
    unsure = choose(with_drive(job, STRAIN, lambda d: replace(d, stiffness=wide)))
    assert (unsure.word, unsure.chosen) == ("no verdict yet", (STRAIN,))
    said = [b.text for b in report(unsure, job) if isinstance(b, Paragraph) and b.strong]
    assert said[0].startswith("No verdict yet")


def test_costs_that_overlap_name_no_winner() -> None:
    job = with_task(example(), "rounding stock", speed=20.0)
    same = with_drive(job, WORM, lambda d: replace(d, cost=Given(650, 500, 800), hours=None))
    both = choose(same)
    assert both.word == "any of these"
    assert set(both.chosen) == {STRAIN, WORM}


def test_a_cost_that_was_not_entered_names_no_winner_either() -> None:
    job = with_task(example(), "rounding stock", speed=20.0)
    silent = choose(with_drive(job, WORM, lambda d: replace(d, cost=None)))
    assert silent.word == "any of these"


def test_nothing_meets_needs_that_nothing_can() -> None:
    none = choose(with_task(example(), "milling flats", error=0.001))
    assert none.word == "none of these"
    assert none.chosen == ()


def test_self_locking_never_counts_as_a_brake() -> None:
    job = with_task(example(), "rounding stock", speed=20.0)
    hung = with_task(job, "milling flats", hold="power off")
    locked = with_drive(
        hung,
        WORM,
        lambda d: replace(d, lead_angle=0.03, friction=Given(0.1, 0.08, 0.12)),
    )
    side = next(s for s in choose(locked).sides if s.drive.name == WORM)
    assert "stays at rest" in side.back_driving
    assert "never a brake" in side.back_driving
    need = next(n for n in side.needs if n.key == "power off")
    assert need.status == "not met"
    braked = with_drive(locked, WORM, lambda d: replace(d, brake=True))
    held = next(s for s in choose(braked).sides if s.drive.name == WORM)
    assert next(n for n in held.needs if n.key == "power off").status == "met"


def test_a_motor_without_a_curve_cannot_be_told_to_turn() -> None:
    job = with_drive(example(), STRAIN, lambda d: replace(d, motor=replace(d.motor, points=())))
    choice = choose(job)
    side = next(s for s in choice.sides if s.drive.name == STRAIN)
    need = next(n for n in side.needs if (n.key, n.work) == ("torque", "rounding stock"))
    assert need.status == "cannot tell"
    assert any("holding torque says nothing" in d.why for d in choice.doubts)


def test_the_winding_tells_the_curve_where_the_sheet_gives_no_points() -> None:
    def electric(voltage: float) -> float:
        job = with_drive(
            example(),
            WORM,
            lambda d: replace(
                d,
                motor=replace(
                    d.motor,
                    points=(),
                    torque_hold_nmm=1890.0,
                    current=2.8,
                    resistance=1.13,
                    inductance=5.4e-3,
                    voltage=voltage,
                ),
            ),
        )
        side = next(s for s in choose(job).sides if s.drive.name == WORM)
        need = next(n for n in side.needs if (n.key, n.work) == ("torque", "rounding stock"))
        return need.limit.value

    assert electric(24.0) < electric(48.0) < 0.5 * 1890


def test_milling_a_slot_swings_and_is_judged_to_and_fro() -> None:
    job = example()
    slot = Task(
        name="slot",
        kind="continuous",
        radius=20.0,
        approach="one way",
        error=0.1,
        cutter=Cutter("milling", "6061", 6.0, 2, 1.0, 6.0, 0.03, 12_000.0),
    )
    flank = replace(
        slot, name="flank", cutter=Cutter("milling", "6061", 6.0, 2, 1.0, 1.0, 0.03, 12_000.0)
    )
    choice = choose(replace(job, work=(slot, flank)))
    assert [load.swings for load in choice.loads] == [True, False]
    force = choice.loads[0].force
    assert force.low == pytest.approx(0.8 * force.value)
    assert choice.loads[0].mean_force.value < force.value
    error = [n for n in choice.sides[0].needs if n.key == "error"]
    assert "to and fro" in error[0].label
    assert "one way" in error[1].label


def test_drilling_tells_its_thrust_and_that_it_may_double() -> None:
    hole = Task(
        name="cross hole",
        kind="indexed",
        radius=25.0,
        cutter=Cutter("drilling", "6061", diameter=6.0, feed=0.1),
    )
    load = choose(replace(example(), work=(hole,))).loads[0]
    thrust = next(f.estimate for f in load.figures if f.key == "thrust")
    assert thrust.value == pytest.approx(197.8, abs=0.6)
    assert thrust.high == pytest.approx(2 * thrust.value)


def test_unbalance_counts_on_a_level_axis_only() -> None:
    heavy = with_task(example(), "rounding stock", mass=3.0, off_centre=20.0)
    upright = replace(heavy, rotary=replace(heavy.rotary, table_axis="vertical"))
    level_load, upright_load = (choose(job).loads[2].torque.value for job in (heavy, upright))
    assert level_load - upright_load == pytest.approx(3 * 9.80665 * 20)


def test_a_job_without_work_or_drives_is_told_what_to_add() -> None:
    with pytest.raises(StageRefusal) as refusal:
        choose(replace(example(), work=(), drives=()))
    assert [d.seen for d in refusal.value.doubts] == [
        "job.toml has no [[work]].",
        "job.toml has no [[drive]].",
    ]


def test_figures_no_such_drive_has_are_asked_about() -> None:
    odd = with_drive(example(), STRAIN, lambda d: replace(d, efficiency=plain(0.97)))
    assert any("efficiency" in d.seen for d in choose(odd).doubts)
    assert choose(example()).doubts == ()


def test_cautions_stand_on_the_choice_and_on_the_card() -> None:
    job = example()
    for blocks in (report(choose(job), job), purchase_card(job)):
        cautions = [line for b in blocks if isinstance(b, Cautions) for line in b.lines]
        assert any("never a brake" in line for line in cautions)
        assert any("weigh" in line.casefold() for line in cautions)
