"""Proving an axis, as a user does it: a run typed as a series, the figures, the packet."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from command_line import run

AT = "0, 46.3, 90 deg"
RUNS = {
    ("forward", 1): (22, 34.5, 36.5),
    ("backward", 1): (-26, -14.5, -6),
    ("forward", 2): (24, 36.5, 36.5),
    ("backward", 2): (-30, -10.5, -3.5),
}


@pytest.fixture
def club(tmp_path: Path) -> Path:
    """The club table with a short positioning test typed in."""
    place = tmp_path / "club"
    assert run("new", str(place), "--from", "club-table").code == 0
    for (way, number), deviations in RUNS.items():
        ran = run(
            *("measure", str(place), "--series", "position_error", "--at", AT),
            *("--unit", "arcsec", "--with", f"approach={way}", "--with", f"run={number}"),
            stdin="".join(f"{x}\n" for x in deviations),
        )
        assert ran.code == 0, ran.err
    return place


def test_a_run_is_typed_as_a_series_and_the_figures_come_out(club: Path) -> None:
    ran = run("prove", str(club))
    assert ran.code == 0, ran.err
    assert "3 targets, 2 runs from each side" in ran.out
    assert "A, accuracy, both ways" in ran.out
    assert "MADE UP" in ran.out
    assert "position_error" in run("measure", str(club)).out


def test_a_unit_that_is_not_finished_is_told_what_to_read(tmp_path: Path) -> None:
    place = tmp_path / "club"
    run("new", str(place), "--from", "club-table")
    ran = run("prove", str(place))
    assert ran.code == 1
    assert "position_error" in ran.err
    assert "position_error" not in run("measure", str(place)).out


def test_the_packet_carries_the_proof(club: Path) -> None:
    assert run("packet", str(club)).code == 0
    assert "Figures of ISO 230-2" in (club / "packet" / "report.txt").read_text(encoding="utf-8")
    results = json.loads((club / "packet" / "results.json").read_text(encoding="utf-8"))
    keys = [figure["key"] for figure in results["proof"]["positioning"]["figures"]]
    assert "accuracy" in keys
