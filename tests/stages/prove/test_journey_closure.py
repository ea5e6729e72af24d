"""Closing the circle as a user does it: the plan, four turns typed as series, the answer."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from command_line import run

AT = "0, 90, 180, 270, 360 deg"
TURNS = {
    1: (9.5, -7.5, 4.5, -0.5, 9.7),
    2: (-3, -20, 14, -7, -3),
    3: (-4, 1, 19, -8, -4.2),
    4: (19, 8, 20, -7, 19),
}
"""Needle in 0.1 µm over a face of 20.6265 mm: one unit is one second of arc."""


@pytest.fixture
def club(tmp_path: Path) -> Path:
    """The club table with a square closed in four set-ups."""
    place = tmp_path / "club"
    assert run("new", str(place), "--from", "club-table").code == 0
    for setup, needle in TURNS.items():
        ran = run(
            *("measure", str(place), "--series", "closure_sweep", "--at", AT, "--unit", "mm"),
            *("--with", "faces=4", "--with", f"setup={setup}", "--with", f"first_face={setup}"),
            *("--with", "swept=20.6265 mm", "--with", "approach=forward", "--u", "0.0001 mm"),
            stdin="".join(f"{x / 10000:.5f}\n" for x in needle),
        )
        assert ran.code == 0, ran.err
    return place


def test_a_square_closed_in_four_set_ups_gives_table_and_square(club: Path) -> None:
    ran = run("prove", str(club))
    assert ran.code == 0, ran.err
    assert "An artefact of 4 faces in 4 set-ups, face 1, 2, 3, 4 in line at 0" in ran.out
    assert "From 270° to 180° the table errs by 20" in ran.out
    assert "12.0 ± 0.8 arcsec" in ran.out
    assert "errors that repeat within 90°" in ran.out


def test_the_packet_carries_the_closure_and_its_pictures(club: Path) -> None:
    assert run("packet", str(club)).code == 0
    results = json.loads((club / "packet" / "results.json").read_text(encoding="utf-8"))
    closed = results["proof"]["closure"]
    assert closed["first_faces"] == [1, 2, 3, 4]
    assert len(closed["table"]) == len(closed["artefact"]) == 4
    page = (club / "packet" / "report.html").read_text(encoding="utf-8")
    assert "Errors of table and artefact, closed round the turn" in page


def test_plans_say_what_to_read_and_with_what(club: Path) -> None:
    closing = run("prove", str(club), "--closure", "12")
    assert closing.code == 0, closing.err
    assert "0.67 u" in closing.out
    means = run("prove", str(club), "--means")
    assert "1-2-3 block as bought" in " ".join(means.out.split())
    assert "99%, good" in means.out
    assert run("prove", str(club), "--closure", "6", "--means").code == 2


def test_a_square_never_re_seated_is_refused_with_what_to_do(tmp_path: Path) -> None:
    place = tmp_path / "club"
    run("new", str(place), "--from", "club-table")
    run(
        *("measure", str(place), "--series", "closure_sweep", "--at", AT, "--unit", "mm"),
        *("--with", "faces=4", "--with", "setup=1", "--with", "first_face=1"),
        *("--with", "swept=75 mm"),
        stdin="0\n0.010\n0.004\n-0.002\n0\n",
    )
    ran = run("prove", str(place))
    assert "[REFUSED] C-8" in ran.out
    assert "Re-seat it one face on" in ran.out
    assert "Circle closure" not in ran.out
