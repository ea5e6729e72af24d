"""A person chooses a drive before anything is bought, and takes a card to the seller."""

from __future__ import annotations

from pathlib import Path

import pytest
from pypdf import PdfReader

from command_line import run
from wormwright.charts import chart_svg
from wormwright.job.blocks import DriveChart
from wormwright.stages.choose import choose, report
from wormwright.store import JobFolder


@pytest.fixture
def job(tmp_path: Path) -> Path:
    place = tmp_path / "which"
    assert run("new", str(place), "--from", "drive-choice").code == 0
    return place


def test_the_verdict_comes_without_a_single_reading(job: Path) -> None:
    ran = run("choose", str(job))
    assert ran.code == 0, ran.err
    assert "Take strain wave 80:1." in ran.out
    assert "NOT MET: 20 rpm" in ran.out
    assert "take worm 40:1" in ran.out
    assert "set 800 pulses a motor turn" in ran.out
    assert JobFolder.open(job).readings == ()


def test_changing_a_need_in_the_file_changes_the_verdict(job: Path) -> None:
    file = job / "job.toml"
    text = file.read_text(encoding="utf-8")
    file.write_text(text.replace('"25 rpm"', '"20 rpm"'), encoding="utf-8")
    assert "Take worm 40:1." in run("choose", str(job)).out


def test_the_card_is_one_page_in_the_units_of_the_job(job: Path) -> None:
    ran = run("choose", str(job), "--card")
    assert ran.code == 0, ran.err
    pages = PdfReader(job / "purchase-card.pdf").pages
    assert len(pages) == 1
    words = pages[0].extract_text()
    assert "0.26 mm" in words  # 15 arcmin at 60 mm
    assert "280 to 360" in words
    file = job / "job.toml"
    file.write_text(
        file.read_text(encoding="utf-8").replace('units = "mm"', 'units = "in"'), encoding="utf-8"
    )
    assert "10.3 thou" in run("choose", str(job), "--card").out


def test_a_job_without_drives_is_refused_with_what_to_add(tmp_path: Path) -> None:
    place = tmp_path / "plain"
    run("new", str(place), "--from", "garage-router")
    ran = run("choose", str(place))
    assert ran.code == 1
    assert "[[drive]]" in ran.err + ran.out
    card = run("choose", str(place), "--card")
    assert card.code == 0


@pytest.mark.parametrize(
    ("line", "wrong", "says"),
    [
        ('ratio = "6:1"', 'ratio = "6"', ""),
        ('ratio = "6:1"', 'ratio = "six"', "motor turns to table turns"),
        ('efficiency = "0.95"', 'efficiency = "1.2"', "ratio"),
        ('lost_motion = "0.3 arcmin"', 'lost_motion = "0.3"', "angle"),
        ('force = "6 N"', "", "give the force, or the cutter"),
        ("cost = [150, 220]", "cost = [220, 150]", "a cost or hours"),
        ('"300 rpm: 1.7 N·m", "600', '"700 rpm: 1.7 N·m", "600', "speeds rising"),
    ],
)
def test_slips_in_the_file_are_told_with_their_line(
    job: Path, line: str, wrong: str, says: str
) -> None:
    file = job / "job.toml"
    text = file.read_text(encoding="utf-8")
    assert line in text
    file.write_text(text.replace(line, wrong, 1), encoding="utf-8")
    ran = run("choose", str(job))
    assert ran.code == (1 if says else 0), ran.err
    assert says in ran.err + ran.out
    if says:
        assert "job.toml:" in ran.err + ran.out


def test_a_range_and_a_rough_figure_may_be_typed(job: Path) -> None:
    file = job / "job.toml"
    text = file.read_text(encoding="utf-8")
    ranged = text.replace('"2.6 N·m/arcmin"', '"2.2-3.0 N·m/arcmin"').replace(
        'force = "6 N"', 'force = "~6 N"'
    )
    file.write_text(ranged, encoding="utf-8")
    of = JobFolder.open(job).job
    strain = next(d for d in of.drives if d.name.startswith("strain"))
    assert strain.stiffness.low / strain.stiffness.high == pytest.approx(2.2 / 3.0)
    force = of.work[2].force
    assert force is not None
    assert (force.low, force.high) == pytest.approx((4.8, 7.2))


def test_both_pictures_are_drawn_with_their_words(job: Path) -> None:
    of = JobFolder.open(job).job
    charts = [b for b in report(choose(of), of) if isinstance(b, DriveChart)]
    torque, error = (chart_svg(block, of.units) for block in charts)
    assert "Table speed, rpm" in torque
    assert "wanted: rounding stock" in torque
    assert "half of the lost motion" in error
    assert "over" in error
    assert chart_svg(charts[0], "in") != torque
