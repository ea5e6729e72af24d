"""The year after, as a user does it: hours and rocks again, what moved, when to look again."""

from __future__ import annotations

from pathlib import Path

import pytest

from command_line import run

AT = "0, 60, 120, 180, 240, 300 deg"
WITH = (
    "pin_radius=3.5 in",
    "pin_radius_u=0.012 in",
    "torque=3.39 N·m",
    "worm_held=at the worm",
    "lock=off",
)
GROWN = ("7.6", "7.85", "7.3", "7.15", "7.0", "7.5")


@pytest.fixture
def club(tmp_path: Path) -> Path:
    place = tmp_path / "club"
    assert run("new", str(place), "--from", "club-table").code == 0
    return place


def check_again(place: Path, *, hours: str = "310", conditions: tuple[str, ...] = WITH) -> None:
    assert run("measure", str(place), "--read", "hours_run", hours).code == 0
    with_ = [text for one in conditions for text in ("--with", one)]
    ran = run(
        *("measure", str(place), "--series", "rock", "--at", AT, "--unit", "thou", *with_),
        stdin="".join(f"{x}\n" for x in GROWN),
    )
    assert ran.code == 0, ran.err


def test_one_check_is_a_reference(club: Path) -> None:
    ran = run("keep", str(club))
    assert ran.code == 0, ran.err
    assert "There is one check so far" in ran.out


def test_a_year_later_the_growth_is_seen_and_the_closing_named(club: Path) -> None:
    check_again(club)
    ran = run("keep", str(club))
    assert ran.code == 0, ran.err
    assert "What has changed since the first check" in ran.out
    assert "closing of the mesh" in ran.out
    assert "The worm end play was not read again" in ran.out
    assert "310" in ran.out
    assert "A worm drive is no brake" in ran.out


def test_another_radius_is_no_wear(club: Path) -> None:
    check_again(club, conditions=("pin_radius=3.0 in", *WITH[1:]))
    ran = run("keep", str(club))
    assert ran.code == 0, ran.err
    assert "the pin radius is not that of the first check" in ran.out
    assert "closing of the mesh" not in ran.out


def test_without_a_rock_it_is_refused_with_what_to_read(tmp_path: Path) -> None:
    place = tmp_path / "empty"
    assert run("new", str(place)).code == 0
    ran = run("keep", str(place))
    assert ran.code == 1
    assert "hours_run" in ran.err


def test_hours_are_a_whole_number(club: Path) -> None:
    assert run("measure", str(club), "--read", "hours_run", "3 mm").code == 1
