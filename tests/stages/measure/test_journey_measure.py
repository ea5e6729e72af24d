"""Measuring, as a user does it: see the sheet, enter readings, mend them."""

from __future__ import annotations

from pathlib import Path

import pytest

from command_line import run
from wormwright.job.sheet import KINDS
from wormwright.store import JobFolder

ROCK = (
    "--with", "pin_radius=80 mm",
    "--with", "pin_radius_u=0.3 mm",
    "--with", "torque=3 N·m",
    "--with", "worm_held=at the worm",
)  # fmt: skip


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    place = tmp_path / "job"
    assert run("new", str(place)).code == 0
    return place


def test_a_reading_is_stored_as_typed_and_read_back(folder: Path) -> None:
    ran = run(
        "measure", str(folder), "--read", "worm_end_play", "1.2 thou", "--with", "how=push-pull"
    )
    assert ran.code == 0, ran.err
    assert "1.2 thou" in ran.out
    assert "30.48 µm" in ran.out
    (reading,) = JobFolder.open(folder).readings
    assert (reading.raw, reading.value) == ("1.2 thou", 0.03048)
    sheet = run("measure", str(folder)).out
    assert "Worm end play" in sheet
    assert "missing" in sheet


def test_a_rock_without_its_conditions_is_refused_with_every_missing_one(folder: Path) -> None:
    ran = run("measure", str(folder), "--read", "rock", "0.28 mm", "--at", "30 deg")
    assert ran.code == 1
    for wanted in (c.key for c in KINDS["rock"].conditions if c.compulsory):
        assert f"conditions.{wanted}" in ran.err
    assert JobFolder.open(folder).readings == ()


@pytest.mark.parametrize(
    ("text", "offered"),
    [("0.28", "no unit"), ("0,28 mm", "0.28 mm or 28 mm"), ("28 deg", "unit of an angle")],
)
def test_an_unclear_text_is_refused_with_what_to_write(
    text: str, offered: str, folder: Path
) -> None:
    ran = run("measure", str(folder), "--read", "worm_end_play", text)
    assert ran.code == 1
    assert offered in ran.err
    assert JobFolder.open(folder).readings == ()


def test_a_mistyped_kind_is_answered_with_the_near_one(folder: Path) -> None:
    ran = run("measure", str(folder), "--read", "worm_endplay", "1 thou")
    assert ran.code == 1
    assert "did you mean worm_end_play" in ran.err


def test_a_series_from_a_pipe_is_stored_in_order(folder: Path) -> None:
    ran = run(
        "measure", str(folder), "--series", "rock", "--at", "0, 31.5, 63 deg", "--unit", "mm",
        *ROCK, stdin="0.275\n0.276\nu\n0.267\n0.273\n",
    )  # fmt: skip
    assert ran.code == 0, ran.err
    readings = JobFolder.open(folder).readings
    assert [(r.raw, r.supersedes) for r in readings] == [
        ("0.275", None),
        ("0.276", None),
        ("0.267", 2),
        ("0.273", None),
    ]
    assert readings[2].table_angle == readings[1].table_angle


def test_a_refused_line_in_a_pipe_is_told_and_the_rest_is_stored(folder: Path) -> None:
    ran = run(
        "measure", str(folder), "--series", "worm_end_play", "--unit", "mm",
        "--with", "how=push-pull", stdin="0.030\n1,031\n0.032\n",
    )  # fmt: skip
    assert ran.code == 1
    assert "1.031 or 1031" in ran.err
    assert [r.raw for r in JobFolder.open(folder).readings] == ["0.030", "0.032"]


def test_a_csv_file_is_stored_whole(folder: Path, tmp_path: Path) -> None:
    table = tmp_path / "rock.csv"
    table.write_text("table_angle [deg],reading\n0,.275\n31.5,.267\n", encoding="utf-8")
    ran = run("measure", str(folder), "--csv", str(table), "--kind", "rock", "--unit", "mm", *ROCK)
    assert ran.code == 0, ran.err
    assert [r.value for r in JobFolder.open(folder).readings] == [0.275, 0.267]


def test_one_wrong_line_in_a_csv_file_stores_nothing(folder: Path, tmp_path: Path) -> None:
    table = tmp_path / "rock.csv"
    text = 'table_angle [deg],reading\n0,.275\n31.5,"1,267"\n63,.273 in-lb\n'
    table.write_text(text, encoding="utf-8")
    ran = run("measure", str(folder), "--csv", str(table), "--kind", "rock", "--unit", "mm", *ROCK)
    assert ran.code == 1
    assert "rock.csv, line 3" in ran.err
    assert "rock.csv, line 4" in ran.err
    assert JobFolder.open(folder).readings == ()


def test_a_wrong_reading_is_superseded_and_keeps_its_conditions(folder: Path) -> None:
    run("measure", str(folder), "--read", "rock", "0.275 mm", "--at", "30 deg", *ROCK)
    ran = run("measure", str(folder), "--replace", "1", "0.257 mm")
    assert ran.code == 0, ran.err
    assert "supersedes row 1" in ran.out
    first, second = JobFolder.open(folder).readings
    assert first.raw == "0.275 mm"
    assert second.conditions == first.conditions
    assert second.table_angle == first.table_angle
    again = run("measure", str(folder), "--replace", "1", "0.257 mm")
    assert again.code == 1, "a row is superseded once"


def test_a_question_is_settled_by_confirming_the_row(tmp_path: Path) -> None:
    place = tmp_path / "router"
    run("new", str(place), "--from", "garage-router")
    (asked,) = (r.seq for r in JobFolder.open(place).readings if r.value and 3 < r.value < 3.2)
    assert f"row {asked}" in run("diagnose", str(place)).out
    ran = run("measure", str(place), "--confirm", str(asked))
    assert ran.code == 0, ran.err
    assert "Left out" not in run("diagnose", str(place)).out
    repeated = run("measure", str(place), "--confirm", str(asked))
    assert repeated.code == 1


def test_a_row_changed_in_the_file_must_be_confirmed(folder: Path) -> None:
    run("measure", str(folder), "--read", "worm_end_play", "0.03 mm", "--with", "how=push-pull")
    sheet = folder / "readings.csv"
    sheet.write_text(sheet.read_text("utf-8").replace("0.03 mm", "0.05 mm"), encoding="utf-8")
    assert "hand-edited" in run("measure", str(folder)).out
    assert run("measure", str(folder), "--confirm", "1").code == 0
    assert "hand-edited row that now reads" not in run("measure", str(folder)).out


def test_a_row_about_which_nothing_is_asked_cannot_be_confirmed(folder: Path) -> None:
    run("measure", str(folder), "--read", "worm_end_play", "0.03 mm", "--with", "how=push-pull")
    ran = run("measure", str(folder), "--confirm", "1")
    assert ran.code == 1
    assert "nothing is asked" in ran.err


def test_every_kind_is_listed_and_explained(folder: Path) -> None:
    listed = run("measure", str(folder), "--kinds").out
    for key, kind in KINDS.items():
        assert key in listed
        card = " ".join(run("measure", str(folder), "--kinds", key).out.split())
        assert kind.label in card
        assert " ".join(kind.tells.split())[:30] in card
        for condition in kind.conditions:
            assert condition.key in card


def test_two_ways_of_entering_at_once_are_a_usage_error(folder: Path) -> None:
    ran = run("measure", str(folder), "--series", "rock", "--confirm", "1")
    assert ran.code == 2
    assert "one at a time" in ran.err


def test_a_folder_that_is_no_job_is_refused(tmp_path: Path) -> None:
    ran = run("measure", str(tmp_path))
    assert ran.code == 1
    assert "wormwright new" in ran.err


def blue(place: Path, flank: str, word: str, crest: str) -> None:
    ran = run(
        "measure", str(place), "--read", "blue_mark", word, "--station", f"flank {flank}",
        "--at", "0 deg", "--with", f"crest={crest}",
    )  # fmt: skip
    assert ran.code == 0, ran.err


def test_a_bottomed_worm_stops_the_diagnosis_until_the_blue_is_looked_at_again(
    tmp_path: Path,
) -> None:
    place = tmp_path / "club"
    run("new", str(place), "--from", "club-table")
    for flank in ("plus", "minus"):
        blue(place, flank, "root line", "bright")
    stopped = run("diagnose", str(place))
    assert stopped.code == 1
    assert "E-20" in stopped.err
    for flank in ("plus", "minus"):
        blue(place, flank, "centred patch", "dull")
    assert run("diagnose", str(place)).code == 0


def test_a_runout_is_entered_as_a_series_and_its_few_places_are_told(folder: Path) -> None:
    angles = "0, 90, 180, 270, 0 deg"
    ran = run(
        "measure", str(folder), "--series", "register_runout", "--at", angles, "--unit", "mm",
        stdin="0\n0.012\n-0.003\n-0.011\n0.001\n",
    )  # fmt: skip
    assert ran.code == 0, ran.err
    assert "E-32" in ran.out
    values = [r.value for r in JobFolder.open(folder).readings]
    assert values == [0.0, 0.012, -0.003, -0.011, 0.001]
