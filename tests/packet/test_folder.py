"""The packet folder: complete, put in place at once, and untouched when something fails."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from packet_samples import (
    contributor_bars,
    document,
    figures_table,
    operation,
    setting_rows,
    shim,
)
from wormwright.job.blocks import Cell, PartDrawing, Table
from wormwright.packet import Packet, Style, setting_chart_csv, write_packet


def packet() -> Packet:
    return Packet(
        traveler=document(
            operation(), PartDrawing("Shim", "worm shim", shim()), title="Traveler", bench=True
        ),
        report=document(figures_table(), contributor_bars()),
        results='{"format": 1}\n',
        setting_chart=setting_rows(),
    )


def test_packet_has_every_paper(tmp_path: Path) -> None:
    written = write_packet(tmp_path / "packet", packet(), Style())
    names = {path.relative_to(tmp_path / "packet").as_posix() for path in written}
    papers = {
        f"{name}.{kind}" for name in ("traveler", "report") for kind in ("txt", "html", "pdf")
    }
    assert papers | {"results.json", "setting-chart.csv"} < names
    drawings = {Path(name).suffix for name in names if name.startswith("drawings/")}
    assert drawings == {".dxf", ".svg", ".pdf"}
    assert all(path.stat().st_size > 0 for path in written)
    assert set(tmp_path.iterdir()) == {tmp_path / "packet"}


def test_old_packet_is_replaced_whole(tmp_path: Path) -> None:
    stale = tmp_path / "packet" / "drawings" / "old.dxf"
    stale.parent.mkdir(parents=True)
    stale.write_text("old")
    write_packet(tmp_path / "packet", packet(), Style())
    assert not stale.exists()
    assert set(tmp_path.iterdir()) == {tmp_path / "packet"}


def test_a_failure_leaves_the_old_packet(tmp_path: Path) -> None:
    old = tmp_path / "packet" / "report.txt"
    old.parent.mkdir()
    old.write_text("old")
    broken = Packet(document(operation()), document(Table("t", ("a", "b"), ((Cell("x"),),))), "{}")
    with pytest.raises(ValueError, match="expected 2 cells"):
        write_packet(tmp_path / "packet", broken, Style())
    assert old.read_text() == "old"
    assert set(tmp_path.iterdir()) == {tmp_path / "packet"}


def test_a_failed_swap_puts_the_old_packet_back(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    old = tmp_path / "packet" / "report.txt"
    old.parent.mkdir()
    old.write_text("old")
    rename = Path.rename

    def refuse(self: Path, target: Path) -> Path:
        if self.name.endswith("-new"):
            raise PermissionError("in use")
        return rename(self, target)

    monkeypatch.setattr(Path, "rename", refuse)
    with pytest.raises(PermissionError):
        write_packet(tmp_path / "packet", packet(), Style())
    assert old.read_text() == "old"
    assert set(tmp_path.iterdir()) == {tmp_path / "packet"}


def test_a_file_in_the_way_is_refused(tmp_path: Path) -> None:
    (tmp_path / "packet").write_text("mine")
    with pytest.raises(NotADirectoryError, match="got a file"):
        write_packet(tmp_path / "packet", packet(), Style())
    assert (tmp_path / "packet").read_text() == "mine"


def test_a_part_in_both_documents_is_drawn_once(tmp_path: Path) -> None:
    block = PartDrawing("Shim", "worm shim", shim())
    both = Packet(document(block), document(block), "{}", parts=(shim(),))
    written = write_packet(tmp_path / "packet", both, Style())
    assert sum(path.suffix == ".dxf" for path in written) == 1


def test_setting_chart_names_its_unit_and_leaves_unknowns_blank() -> None:
    metric = list(csv.DictReader(setting_chart_csv(setting_rows(), "mm").splitlines()))
    inch = list(csv.DictReader(setting_chart_csv(setting_rows(), "in").splitlines()))
    assert [row["angle deg"] for row in metric] == [
        "-75.0",
        "-62.0",
        "-40.0",
        "40.0",
        "62.0",
        "75.0",
    ]
    assert metric[1]["closing mm"] == "0.164"
    assert float(inch[1]["closing in"]) * 25.4 == pytest.approx(0.164, abs=5e-4)
    assert metric[5]["tip_clearance mm"] == ""
    assert [row["false tight"] for row in metric] == ["no"] * 5 + ["yes"]
