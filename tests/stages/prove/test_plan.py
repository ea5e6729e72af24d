"""The plan of a positioning test, and its programme carried out word by word."""

from __future__ import annotations

import csv
import math
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest

from command_line import run
from results_samples import job
from word_interpreter import ProgrammeError, carried_out
from wormwright.core.worm_phase import phase_blindness
from wormwright.job.proof_plan import PlannedTest, PlanSettings
from wormwright.job.reading import Reading
from wormwright.job.result import StageRefusal
from wormwright.stages.prove import plan_report, plan_test


def unit(teeth: int) -> tuple[Reading, ...]:
    five = 5 * math.pi * 1.5
    return (
        Reading(1, "teeth", str(teeth), float(teeth)),
        Reading(2, "thread_length", f"{five:.3f} mm", five, conditions={"threads": 5.0}),
        Reading(3, "worm_od", "31 mm", 31.0),
    )


def planned(teeth: int = 72, **settings: object) -> PlannedTest:
    return plan_test(job(), unit(teeth), PlanSettings(**settings))  # type: ignore[arg-type]


@pytest.mark.parametrize("teeth", [36, 40, 60, 72, 80, 90, 120, 180])
@pytest.mark.parametrize("pause", ["stop", "optional", "none"])
def test_the_programme_reaches_every_target_from_both_sides_in_the_planned_order(
    teeth: int, pause: str
) -> None:
    plan = planned(teeth, pause=pause, axis="C", runs=3)
    wanted = [
        (round(math.degrees(m.angle), 3), m.approach) for m in plan.moves if m.purpose != "go"
    ]
    stood = carried_out(plan.programme, axis="C")
    assert [(round(s.angle, 3), s.came) for s in stood] == wanted
    assert {s.stopped for s in stood} == {pause != "none"}
    assert all(s.seconds == 3.0 for s in stood)
    for target in np.degrees(plan.targets):
        sides = [s.came for s in stood if s.said.startswith("RUN") and abs(s.angle - target) < 1e-6]
        assert sides.count("forward") == sides.count("backward") == 3


@pytest.mark.parametrize("teeth", [36, 40, 60, 72, 80, 90, 120, 180])
def test_targets_see_the_worm_all_round_and_hold_the_principal_angles(teeth: int) -> None:
    plan = planned(teeth)
    assert {0.0, 90.0, 180.0, 270.0} <= set(np.round(np.degrees(plan.targets), 6))
    assert len(plan.targets) >= 8
    for order in (1, 2):
        assert phase_blindness(plan.targets, ratio=plan.ratio, order=order) < 0.5
    assert plan.blindness[0] == phase_blindness(plan.targets, ratio=plan.ratio)


def test_every_run_up_and_every_run_down_is_longer_than_any_play() -> None:
    plan = planned()
    least = math.radians(360 / plan.ratio / 4)
    assert plan.overrun > least
    for before, after in pairwise(plan.moves):
        if after.purpose in ("read", "again"):
            step = after.angle - before.angle
            assert math.copysign(1, step) == {"forward": 1, "backward": -1}[after.approach]
            assert abs(step) > math.radians(0.1)


def test_the_first_target_is_read_before_the_test_and_after_every_run() -> None:
    stood = carried_out(planned(runs=4).programme)
    drift = [i for i, s in enumerate(stood) if "DRIFT" in s.said]
    assert len(drift) == 5
    assert drift[0] == 0
    assert all(stood[i].came == "forward" and stood[i].angle == 0.0 for i in drift)


def test_the_sweep_has_twelve_places_in_each_worm_turn_at_twice_as_many_phases() -> None:
    plan = planned(72)
    phases = np.sort(np.degrees(plan.sweep) * 72 % 360)
    assert len(plan.sweep) == 24
    assert np.degrees(plan.sweep).max() < 2 * 360 / 72
    assert len(planned(sweep=False).sweep) == 0
    assert np.diff(np.unique(np.round(phases, 1))).max() <= 30.1


def test_another_job_number_moves_the_targets_and_the_same_one_does_not() -> None:
    other = plan_test(replace(job(), seed=7), unit(72), PlanSettings())
    assert not np.array_equal(other.targets, planned().targets)
    assert np.array_equal(planned().targets, planned().targets)


def test_time_grows_with_feed_dwell_and_stops() -> None:
    usual = planned().minutes
    assert planned(feed=360.0).minutes > usual
    assert planned(dwell=6.0).minutes > usual
    assert planned(pause="none").minutes < usual
    turns = 5 * 2 * 330 / 720
    assert planned(pause="none", dwell=0.0, sweep=False).minutes == pytest.approx(turns, rel=0.1)


def test_a_unit_without_a_known_ratio_cannot_be_planned() -> None:
    with pytest.raises(StageRefusal, match="teeth"):
        plan_test(job(), (), PlanSettings())


@pytest.mark.parametrize("wrong", [{"axis": "G"}, {"runs": 1}, {"feed": 0.0}, {"dwell": math.nan}])
def test_settings_that_make_no_test_are_refused(wrong: dict[str, object]) -> None:
    with pytest.raises(ValueError, match="expected"):
        PlanSettings(**wrong)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    "programme", ["G0 A1.0\nM2", "G90 G94\nG1 A1.0\nM2", "G90 G94\nG2 A1.0\nM2", "G90 G94\n", "HI"]
)
def test_the_interpreter_refuses_what_a_control_would(programme: str) -> None:
    with pytest.raises(ProgrammeError):
        carried_out(programme)


def test_the_report_says_why_even_targets_will_not_do() -> None:
    words = repr(plan_report(planned(72)))
    assert "8 even targets would meet the worm at nearly one place" in words
    assert "sensor table" in words


def test_a_planned_test_goes_the_whole_way_from_form_to_figures(tmp_path: Path) -> None:
    place = tmp_path / "club"
    run("new", str(place), "--from", "club-table")
    ran = run("prove", str(place), "--plan", "--axis", "b", "--feed", "360", "--runs", "2")
    assert ran.code == 0, ran.err
    programme = (place / "packet" / "positioning-test.nc").read_text(encoding="utf-8")
    stood = carried_out(programme, axis="B")
    form = place / "packet" / "positioning-test.csv"
    with form.open(encoding="utf-8") as file:
        head, *rows = csv.reader(file)
    assert [(row[1], row[3]) for row in rows] == [
        (f"{s.angle:.3f}".rstrip("0") + ("0" if s.angle == round(s.angle) else ""), s.came)
        for s in stood
    ]
    filled = tmp_path / "filled.csv"
    with filled.open("w", newline="", encoding="utf-8") as file:
        values = ["12" if row[3] == "forward" else "30" for row in rows]
        csv.writer(file).writerows(
            [head, *([*r[:4], v, "polygon", "1"] for r, v in zip(rows, values, strict=True))]
        )
    ran = run("prove", str(place), "--import", str(filled))
    assert ran.code == 0, ran.err
    proved = run("prove", str(place)).out
    assert "11 targets, 2 runs from each side" in proved
    assert run("packet", str(place)).code == 0
    assert (place / "packet" / "positioning-test.nc").read_text(encoding="utf-8") == programme


def test_options_that_make_no_plan_are_told_before_anything_is_written(tmp_path: Path) -> None:
    place = tmp_path / "club"
    run("new", str(place), "--from", "club-table")
    assert run("prove", str(place), "--plan", "--axis", "Q").code == 2
    ran = run("prove", str(place), "--plan", "--targets", "300")
    assert ran.code == 1
    assert "fewer targets" in ran.err
    assert not (place / "packet").exists()
