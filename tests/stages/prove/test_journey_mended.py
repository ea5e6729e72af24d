"""A mended unit proved at the terminal: read again, compared with before, judged, certified."""

from __future__ import annotations

from pathlib import Path

import pytest

from command_line import run

AT = "0, 90, 180, 270 deg"
LIKE_BEFORE = ("pin_radius=80 mm", "pin_radius_u=0.3 mm", "torque=3 N·m", "worm_held=at the worm")


def rock(place: Path, *values: str, torque: str = "3 N·m") -> None:
    """Four rocks at the places of the baseline."""
    said = [*LIKE_BEFORE[:2], f"torque={torque}", LIKE_BEFORE[3], "lock=off"]
    ran = run(
        *("measure", str(place), "--series", "rock", "--at", AT),
        *[x for text in said for x in ("--with", text)],
        *("--with", "surface=pin in T-slot"),
        stdin="".join(f"{v}\n" for v in values),
    )
    assert ran.code == 0, ran.err


@pytest.fixture(scope="module")
def mended(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A made-up axis opened and closed again, its rock read anew at the old places."""
    place = tmp_path_factory.mktemp("mended") / "axis"
    assert run("new", str(place), "--from", "garage-router").code == 0
    for key in ("baseline", "strip_wash"):
        ran = run("sign", str(place), key, "--initials", "AB", "--note", "two shims")
        assert ran.code == 0, ran.err
    rock(place, "0.06 mm", "0.07 mm", "0.08 mm", "0.07 mm")
    return place


def test_the_rock_is_compared_with_the_same_places_before_the_work(mended: Path) -> None:
    ran = run("prove", str(mended))
    assert ran.code == 0, ran.err
    said = " ".join(ran.out.split())
    assert "Before and after the work" in said
    assert "Less is proven for" in said
    assert "mean of 4 places" in said


def test_without_a_positioning_test_the_diagnosis_stands_in_and_it_says_so(mended: Path) -> None:
    said = " ".join(run("prove", str(mended)).out.split())
    assert "Positions under power: every figure is from the unit turned by hand" in said
    assert "lost motion at the loosest place, motor holding" in said
    assert "cannot be told" in said or "not met" in said
    assert "position_error" in said


def test_rocks_under_another_torque_are_not_compared_and_the_page_says_so(
    tmp_path: Path,
) -> None:
    place = tmp_path / "axis"
    run("new", str(place), "--from", "garage-router")
    for key in ("baseline", "strip_wash"):
        run("sign", str(place), key, "--initials", "AB", "--note", "two shims")
    rock(place, "0.06 mm", "0.07 mm", "0.08 mm", "0.07 mm", torque="9 N·m")
    said = " ".join(run("prove", str(place)).out.split())
    assert "Not compared, because the readings are not alike" in said
    assert "the torque is not the same" in said


def test_the_certificate_of_a_mended_unit_names_what_is_missing(mended: Path) -> None:
    ran = run("prove", str(mended), "--certificate")
    assert ran.code == 0, ran.err
    assert "Not tested" in ran.out
    assert "No accredited laboratory" in " ".join(ran.out.split())


def test_two_wishes_at_once_are_refused(mended: Path) -> None:
    ran = run("prove", str(mended), "--certificate", "--means")
    assert ran.code == 2
    assert "one at a time" in ran.err
