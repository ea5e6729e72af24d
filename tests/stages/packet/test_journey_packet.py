"""Putting everything on paper, as a user does it."""

from __future__ import annotations

import json
import runpy
from pathlib import Path

import pytest

from command_line import run

ROOT = Path(__file__).resolve().parents[3]


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory) -> Path:
    place = tmp_path_factory.mktemp("packet") / "club"
    run("new", str(place), "--from", "club-table")
    ran = run("packet", str(place))
    assert ran.code == 0, ran.err
    assert str(place / "packet") in ran.out.replace("\n   ", "")
    return place / "packet"


ON_MACHINE = ("base-plate", "set-up-on-the-machine")
"""Drawings for mounting, beside those of the plan."""


def test_the_report_says_how_it_stands_on_the_machine(written: Path) -> None:
    report = (written / "report.txt").read_text(encoding="utf-8")
    assert "The axis on the machine" in report
    assert "The axis against the travel" in report
    assert "Room on the machine" in report


def test_traveler_and_report_come_as_paper_page_and_text(written: Path) -> None:
    for name in ("traveler", "report"):
        assert (written / f"{name}.pdf").read_bytes().startswith(b"%PDF-")
        assert "<html" in (written / f"{name}.html").read_text(encoding="utf-8")
        assert "MADE UP" in (written / f"{name}.txt").read_text(encoding="utf-8")


def test_every_part_of_the_plan_has_its_drawing_in_three_forms(written: Path) -> None:
    results = json.loads((written / "results.json").read_text(encoding="utf-8"))
    chosen = next(
        plan for plan in results["remedy"]["plans"] if plan["key"] == results["remedy"]["chosen"]
    )
    parts = [part for correction in chosen["corrections"] for part in correction["parts"]]
    assert parts
    for suffix in ("dxf", "svg", "pdf"):
        drawn = {path.stem for path in (written / "drawings").glob(f"*.{suffix}")}
        on_machine = {name for name in drawn if name.endswith(ON_MACHINE)}
        assert len(on_machine) == len(ON_MACHINE)
        assert len(drawn) == len(parts) + len(ON_MACHINE)


def test_whatever_the_router_plan_asks_to_make_has_its_drawing(tmp_path: Path) -> None:
    run("new", str(tmp_path / "router"), "--from", "garage-router")
    job = tmp_path / "router" / "job.toml"
    every = 'format = 1\nplan = "table_shim+worm_shim+relief+bushings"'
    job.write_text(job.read_text(encoding="utf-8").replace("format = 1", every), encoding="utf-8")
    ran = run("packet", str(tmp_path / "router"))
    assert ran.code == 0, ran.err
    packet = tmp_path / "router" / "packet"
    remedy = json.loads((packet / "results.json").read_text(encoding="utf-8"))["remedy"]
    chosen = next(plan for plan in remedy["plans"] if plan["key"] == remedy["chosen"])
    assert all(correction["parts"] for correction in chosen["corrections"])
    for ring in ("table-shim", "worm-shim", "wheel-shim", "bushing-a", "bushing-b", "worm-outside"):
        for suffix in ("dxf", "svg", "pdf"):
            assert list((packet / "drawings").glob(f"*{ring}*.{suffix}")), (ring, suffix)
    assert "drawing of it" not in (packet / "report.txt").read_text(encoding="utf-8")


def test_a_plan_that_trues_the_wheel_brings_the_drawing_of_its_seat(tmp_path: Path) -> None:
    run("new", str(tmp_path / "router"), "--from", "garage-router")
    job = tmp_path / "router" / "job.toml"
    trued = 'format = 1\nplan = "wheel_truing"'
    job.write_text(job.read_text(encoding="utf-8").replace("format = 1", trued), encoding="utf-8")
    ran = run("packet", str(tmp_path / "router"))
    assert ran.code == 0, ran.err
    packet = tmp_path / "router" / "packet"
    for suffix in ("dxf", "svg", "pdf"):
        assert list((packet / "drawings").glob(f"*trued-on-its-seat*.{suffix}")), suffix
    assert "sleeve of the worm wheel" in (packet / "traveler.txt").read_text(encoding="utf-8")


def test_the_results_carry_diagnosis_remedy_and_order_of_work(written: Path) -> None:
    results = json.loads((written / "results.json").read_text(encoding="utf-8"))
    assert results["job"]["made_up"] is True
    assert results["diagnosis"]["contributors"]
    assert results["operations"]


def test_paper_and_leading_units_can_be_chosen(written: Path) -> None:
    place = written.parent
    before = (written / "report.txt").read_text(encoding="utf-8")
    ran = run("packet", str(place), "--sheet", "A4", "--units", "mm")
    assert ran.code == 0, ran.err
    assert (written / "report.txt").read_text(encoding="utf-8") != before
    assert run("packet", str(place), "--sheet", "A0").code == 2
    assert run("packet", str(place)).code == 0
    assert (written / "report.txt").read_text(encoding="utf-8") == before, "made afresh each time"


def test_too_few_readings_for_a_diagnosis_leave_the_old_packet(tmp_path: Path) -> None:
    run("new", str(tmp_path / "mine"))
    ran = run("packet", str(tmp_path / "mine"))
    assert ran.code == 1
    assert not (tmp_path / "mine" / "packet").exists()


def test_the_demo_runs_through_and_spares_what_it_did_not_make(
    tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    demo = runpy.run_path(str(ROOT / "scripts" / "demo.py"))
    assert demo["main"](tmp_path / "demo") == 0
    out = capfd.readouterr().out
    for wanted in ("$ wormwright diagnose", "$ wormwright correct", "the packet lies in"):
        assert wanted in out
    assert (tmp_path / "demo" / "packet" / "traveler.pdf").exists()
    (tmp_path / "mine").mkdir()
    (tmp_path / "mine" / "note.txt").write_text("mine", encoding="utf-8")
    with pytest.raises(SystemExit, match="no made-up job"):
        demo["main"](tmp_path / "mine")
    assert (tmp_path / "mine" / "note.txt").exists()
