"""Planning the work, as a user does it."""

from __future__ import annotations

from pathlib import Path

import pytest

from command_line import run
from wormwright.app.correct import planned
from wormwright.store import JobFolder
from wormwright.traveler import plan_operations


@pytest.fixture
def club(tmp_path: Path) -> Path:
    place = tmp_path / "club"
    run("new", str(place), "--from", "club-table")
    return place


def test_the_plans_and_the_parts_of_the_taken_one_are_shown(club: Path) -> None:
    ran = run("correct", str(club))
    assert ran.code == 0, ran.err
    remedy = planned(JobFolder.open(club)).remedy
    assert remedy.chosen is not None
    shown = " ".join(ran.out.split())
    for correction in remedy.chosen.corrections:
        assert " ".join(correction.label.split()) in shown
    assert "chance" in shown


def test_a_chosen_plan_is_written_down_and_taken_back(club: Path) -> None:
    folder = JobFolder.open(club)
    least = planned(folder).remedy
    assert least.chosen is not None
    other = next(p.key for p in least.plans if p.offered and p.key != least.chosen.key)
    before = (club / "job.toml").read_text(encoding="utf-8")
    assert run("correct", str(club), "--plan", other).code == 0
    folder = JobFolder.open(club)
    assert folder.job.plan == other
    taken = planned(folder).remedy.chosen
    assert taken is not None
    assert taken.key == other
    comments = [line for line in before.splitlines() if line.startswith("#")]
    after = (club / "job.toml").read_text(encoding="utf-8")
    assert all(comment in after for comment in comments), "comments survive a save"
    assert run("correct", str(club), "--plan", "least").code == 0
    assert JobFolder.open(club).job.plan is None


def test_a_plan_that_does_not_exist_changes_nothing(club: Path) -> None:
    before = (club / "job.toml").read_bytes()
    ran = run("correct", str(club), "--plan", "bushing")
    assert ran.code == 1
    assert "did you mean" in ran.err
    assert (club / "job.toml").read_bytes() == before


def test_a_plan_that_is_not_offered_cannot_be_chosen(tmp_path: Path) -> None:
    for example in ("garage-router", "four-readings"):
        place = tmp_path / example
        run("new", str(place), "--from", example)
        for plan in planned(JobFolder.open(place)).remedy.plans:
            ran = run("correct", str(place), "--plan", plan.key)
            assert ran.code == (0 if plan.offered else 1)


def test_the_plan_stands_on_the_readings_as_found_while_the_work_goes_on(club: Path) -> None:
    before = planned(JobFolder.open(club)).remedy
    for operation in ("baseline", "strip_wash"):
        ran = run("sign", str(club), operation, "--initials", "AB")
        assert ran.code == 0, ran.err
    folder = JobFolder.open(club)
    after = planned(folder).remedy
    assert [p.mean for p in after.plans] == [p.mean for p in before.plans]


def test_nothing_is_planned_without_a_pair(tmp_path: Path) -> None:
    run("new", str(tmp_path / "mine"))
    ran = run("correct", str(tmp_path / "mine"))
    assert ran.code == 1
    assert "teeth" in ran.err


def test_a_correction_that_needs_another_is_named_with_it(club: Path) -> None:
    ran = run("correct", str(club), "--plan", "bushings")
    assert ran.code == 1
    assert "worm_shim+bushings" in ran.err


def test_a_set_that_is_not_listed_can_be_joined_by_names(club: Path) -> None:
    ran = run("correct", str(club), "--plan", "table_shim+coupling")
    assert ran.code == 0, ran.err
    shown = " ".join(ran.out.split())
    assert "table shim + coupling (your choice), which does not surely meet it" in shown
    assert JobFolder.open(club).job.plan == "table_shim+coupling"


def test_a_way_of_use_orders_no_opening_of_the_unit(club: Path) -> None:
    assert run("correct", str(club), "--plan", "approach").code == 0
    ran = run("sign", str(club))
    assert ran.code == 0, ran.err
    assert "Strip, wash" not in ran.out
    folder = JobFolder.open(club)
    operations = plan_operations(folder.job, planned(folder).remedy)
    (proof,) = [op for op in operations if op.key == "proof_rock"]
    assert any(line.startswith("Overshoot by") for line in proof.do)
