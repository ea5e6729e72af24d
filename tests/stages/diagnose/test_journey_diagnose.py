"""Diagnosing, as a user does it."""

from __future__ import annotations

from pathlib import Path

import pytest

from command_line import run
from wormwright.app.new import example_folders

READ = sorted(n for n, place in example_folders().items() if (place / "readings.csv").exists())


@pytest.mark.parametrize("example", READ)
def test_an_example_is_diagnosed_from_its_folder(example: str, tmp_path: Path) -> None:
    place = tmp_path / example
    run("new", str(place), "--from", example)
    ran = run("diagnose", str(place))
    assert ran.code == 0, ran.err
    for wanted in ("Contributors to the lost motion", "worm end play", "arcmin", "MADE UP"):
        assert wanted in ran.out


def test_diagnosing_changes_nothing_in_the_folder(tmp_path: Path) -> None:
    place = tmp_path / "router"
    run("new", str(place), "--from", "garage-router")
    before = {p.name: p.read_bytes() for p in place.iterdir() if p.name != ".lock"}
    first = run("diagnose", str(place)).out
    assert first == run("diagnose", str(place)).out, "the same readings give the same words"
    assert before == {p.name: p.read_bytes() for p in place.iterdir() if p.name != ".lock"}


def test_too_few_readings_are_refused_with_what_to_read(tmp_path: Path) -> None:
    place = tmp_path / "mine"
    run("new", str(place))
    ran = run("diagnose", str(place))
    assert ran.code == 1
    assert "teeth" in ran.err


def test_a_row_under_question_is_left_out_of_the_answer(tmp_path: Path) -> None:
    place = tmp_path / "router"
    run("new", str(place), "--from", "garage-router")
    asked = run("diagnose", str(place)).out
    assert "Left out until they are settled" in asked
    assert "E-3" in asked
    row = asked.partition("settled: row ")[2].partition(".")[0]
    assert run("measure", str(place), "--replace", row, "0.309 mm").code == 0
    settled = run("diagnose", str(place)).out
    assert "Left out" not in settled


def edited(place: Path, **lines: str) -> None:
    """job.toml with those keys set to what was typed."""
    job = place / "job.toml"
    out = []
    for line in job.read_text(encoding="utf-8").splitlines():
        key = line.split("=")[0].strip()
        out.append(f'{key} = "{lines.pop(key)}"' if key in lines else line)
    assert not lines, f"no such keys: {lines}"
    job.write_text("\n".join(out) + "\n", encoding="utf-8")


def test_the_clock_maker_is_told_to_leave_the_club_table_as_it_is(tmp_path: Path) -> None:
    place = tmp_path / "clocks"
    run("new", str(place), "--from", "club-table")
    assert "Verdict: fix it at home" in run("diagnose", str(place)).out
    edited(place, radius="1 in", error="2 thou", approach="one way")
    told = run("diagnose", str(place)).out
    assert "Verdict: leave it as it is" in told
    assert "approached from one side only" in told
    assert "What cannot be cured at home" in told


def test_the_same_clock_maker_cutting_both_ways_is_not(tmp_path: Path) -> None:
    place = tmp_path / "clocks"
    run("new", str(place), "--from", "club-table")
    edited(place, radius="1 in", error="1 thou", approach="both ways")
    assert "Verdict: leave it" not in run("diagnose", str(place)).out


def test_four_readings_name_what_they_leave_open_and_what_to_read_with_minutes(
    tmp_path: Path,
) -> None:
    place = tmp_path / "four"
    run("new", str(place), "--from", "four-readings")
    told = run("diagnose", str(place)).out
    assert "No reading fixes these" in told
    assert "wheel-to-table joint" in told
    assert "Next most useful reading: Table rock at six even places" in told
    assert "(25" in told


def test_a_face_read_place_by_place_is_told_with_its_lean_and_where(tmp_path: Path) -> None:
    """(2/8) sum r sin = 18.2 µm at a radius of 70 mm: 0.89 arcmin, high at 90 degrees."""
    place, series = tmp_path / "four", tmp_path / "face.csv"
    run("new", str(place), "--from", "four-readings")
    marks = (0, 13, 18, 13, 0, -13, -18, -13)
    rows = [f"{45 * i},{v:+d} um" for i, v in enumerate(marks)]
    series.write_text("\n".join(["table_angle [deg],reading", *rows]) + "\n", encoding="utf-8")
    stored = run(
        "measure", str(place), "--csv", str(series), "--kind", "face_runout",
        "--with", "radius=70 mm", "--with", "surface=table face",
    )  # fmt: skip
    assert stored.code == 0, stored.err
    told = run("diagnose", str(place)).out
    line = next(row for row in told.splitlines() if row.startswith("table face at radius 70 mm"))
    assert "0.89 ± 0.06 arcmin" in line
    assert "90 ± 4°" in line
