"""Diagnosing, as a user does it."""

from __future__ import annotations

from pathlib import Path

import pytest

from command_line import run
from wormwright.app.new import example_folders


@pytest.mark.parametrize("example", sorted(example_folders()))
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
