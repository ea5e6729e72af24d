"""What the packet holds about drive and control."""

from __future__ import annotations

from pathlib import Path

from command_line import run


def test_a_job_with_a_control_gets_its_sheet_and_programmes(tmp_path: Path) -> None:
    place = tmp_path / "router"
    run("new", str(place), "--from", "garage-router")
    ran = run("packet", str(place), "--units", "in")
    assert ran.code == 0, ran.err
    packet = place / "packet"
    assert (packet / "commission.pdf").read_bytes().startswith(b"%PDF")
    assert "4000/9" in (packet / "commission.txt").read_text(encoding="utf-8")
    assert "in/min" in (packet / "commission.txt").read_text(encoding="utf-8")
    sheet = (packet / "commission" / "parameter-sheet.txt").read_text(encoding="utf-8")
    assert "444.444 pulses/degree" in sheet
    assert (packet / "commission" / "divide-127.nc").read_text(encoding="utf-8").endswith("M2\n")
    assert not (packet / "choice.pdf").exists()


def test_a_job_without_a_control_has_none_of_it(tmp_path: Path) -> None:
    place = tmp_path / "club"
    run("new", str(place), "--from", "club-table")
    assert run("packet", str(place)).code == 0
    assert not (place / "packet" / "commission.pdf").exists()
