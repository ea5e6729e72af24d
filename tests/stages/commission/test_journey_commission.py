"""Commissioning, as a user does it."""

from __future__ import annotations

from pathlib import Path

import pytest

from command_line import run


@pytest.fixture
def job(tmp_path: Path) -> Path:
    place = tmp_path / "router"
    assert run("new", str(place), "--from", "garage-router").code == 0
    return place


def test_the_sheet_stands_on_the_first_screen_and_nothing_is_written(job: Path) -> None:
    before = {p.name for p in job.iterdir()}
    ran = run("commission", str(job))
    assert ran.code == 0, ran.err
    for wanted in ("4000/9", "+130 arcsec", "REFUSED", "CAUTION", "20 x 1259, 107 x 1260"):
        assert wanted in ran.out
    assert {p.name for p in job.iterdir()} - before <= {".lock"}


def test_sheet_and_programmes_are_written_when_asked_for(job: Path) -> None:
    ran = run("commission", str(job), "--write")
    assert ran.code == 0, ran.err
    written = {p.name for p in (job / "commission").iterdir()}
    assert written == {
        "parameter-sheet.txt",
        "direction.nc",
        "return-10.nc",
        "return-100.nc",
        "divide-127.nc",
    }
    sheet = (job / "commission" / "parameter-sheet.txt").read_text(encoding="utf-8")
    assert "pulses for a degree, to type" in sheet
    again = run("commission", str(job), "--write")
    assert again.out == ran.out, "written anew the same way"


def test_an_empty_job_is_told_what_to_count(tmp_path: Path) -> None:
    place = tmp_path / "mine"
    run("new", str(place))
    ran = run("commission", str(place))
    assert ran.code == 1
    assert "teeth and starts" in ran.err + ran.out


def test_work_on_the_mesh_takes_the_safe_speed_back_until_drag_is_read_again(job: Path) -> None:
    """Live readings only: what a signed operation made stale says nothing of the drag now."""
    for operation in ("baseline", "strip_wash"):
        signed = run("sign", str(job), operation, "--initials", "MK")
        assert signed.code == 0, signed.err
    assert "read drag_in_mesh round the turn" in " ".join(run("commission", str(job)).out.split())
