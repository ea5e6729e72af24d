"""The clock maker: small wheels, one direction, tiny forces. A unit good enough stays as it is."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from command_line import run
from wormwright.app.correct import planned
from wormwright.store import JobFolder
from wormwright.traveler import plan_operations


@pytest.fixture
def clocks(tmp_path: Path) -> Path:
    """The club's table as found, for wheels of 96 at 1.36 in, fly cut from one side."""
    place = tmp_path / "clocks"
    run("new", str(place), "--from", "club-table")
    text = (place / "job.toml").read_text(encoding="utf-8")
    for before, after in (
        ('radius = "3.5 in"', 'radius = "1.36 in"'),
        ('error = "4 thou"', 'error = "0.4 thou"'),
        ('approach = "both ways"', 'approach = "one way"'),
        ('torque_to_resist = "30 in·lb"', 'torque_to_resist = "2 in·lb"'),
    ):
        assert before in text
        text = text.replace(before, after)
    (place / "job.toml").write_text(text, encoding="utf-8")
    return place


def test_he_is_told_to_leave_it_and_why(clocks: Path) -> None:
    ran = run("correct", str(clocks))
    assert ran.code == 0, ran.err
    shown = " ".join(ran.out.split())
    assert "Taken: leave it as it is" in shown
    assert "One-way approach" in shown
    # 41 µm of runout at 71.4 mm: half of it is 59 seconds of arc, 0.39 thou at 1.36 in.
    spacing = re.search(r"runout puts ± ([\d.]+) thou", shown)
    assert spacing is not None
    assert float(spacing[1]) == pytest.approx(0.39, abs=0.06)
    assert "between neighbours of 96" in shown


def test_nothing_is_cut_and_no_shim_is_made(clocks: Path) -> None:
    remedy = planned(JobFolder.open(clocks)).remedy
    assert remedy.chosen is not None
    assert remedy.chosen.key == "leave"
    assert remedy.chosen.minutes == 0
    assert remedy.chosen.p_meets_duty > 0.9
    assert remedy.buys == ()


def test_diagnosis_says_the_same(clocks: Path) -> None:
    ran = run("diagnose", str(clocks))
    assert ran.code == 0, ran.err
    assert "leave it as it is" in ran.out.casefold()


def test_his_order_of_work_is_the_baseline_the_mounting_and_the_checks(clocks: Path) -> None:
    folder = JobFolder.open(clocks)
    operations = plan_operations(folder.job, planned(folder).remedy)
    assert {op.key for op in operations} == {
        "baseline",
        "warm_recheck",
        "proof_rock",
        "mount_base",
        "chuck_dial",
        "proof_axis",
        "recheck",
    }


def test_the_same_unit_milled_both_ways_is_not_left(tmp_path: Path) -> None:
    place = tmp_path / "club"
    run("new", str(place), "--from", "club-table")
    remedy = planned(JobFolder.open(place)).remedy
    assert remedy.chosen is not None
    assert remedy.chosen.key != "leave"


def test_costs_typed_into_the_job_turn_up_beside_the_hours(clocks: Path) -> None:
    text = (clocks / "job.toml").read_text(encoding="utf-8")
    text += "\n[cost]\nhour = 25\nbushings = 60\n"
    (clocks / "job.toml").write_text(text, encoding="utf-8")
    ran = run("correct", str(clocks))
    assert ran.code == 0, ran.err
    assert "cost" in ran.out
    assert JobFolder.open(clocks).job.hour_cost == 25


@pytest.mark.parametrize(
    ("lines", "said"),
    [
        ("bushings = 60", "hour"),
        ('hour = "25 pounds"', "plain number"),
        ("hour = -1", "zero or more"),
        ("hour = 25\ngold_plating = 3", "gold_plating"),
    ],
)
def test_costs_that_cannot_be_read_are_refused_with_what_to_do(
    clocks: Path, lines: str, said: str
) -> None:
    text = (clocks / "job.toml").read_text(encoding="utf-8")
    (clocks / "job.toml").write_text(f"{text}\n[cost]\n{lines}\n", encoding="utf-8")
    ran = run("correct", str(clocks))
    assert ran.code == 1
    assert said in ran.err
