"""A club with several units: all at once, which one for which part, broken off and resumed."""

from __future__ import annotations

import json
import os
import re
import shutil
import signal
import subprocess
import sys
import time
from datetime import date
from pathlib import Path

import pytest
import segno
from pypdf import PdfReader

from command_line import run
from wormwright.app.fleet import fleet_rows
from wormwright.app.new import example_folders
from wormwright.charts import chart_svg
from wormwright.job.fleet import FleetRow
from wormwright.stages.keep.fleet import PartNeed, fleet_blocks, is_due, label_of
from wormwright.store.ledger import LEDGER

ROW = FleetRow("a", "x", "job", "A-1", False, "still good", loosest=1e-3, loosest_u=2e-5)


@pytest.fixture
def club(tmp_path: Path) -> Path:
    """Three units, one of which cannot be read."""
    for name in ("club-table", "four-readings"):
        assert run("new", str(tmp_path / "units" / name), "--from", name).code == 0
    (tmp_path / "units" / "spoiled").mkdir()
    (tmp_path / "units" / "spoiled" / "job.toml").write_text("no = = toml", encoding="utf-8")
    return tmp_path / "units"


def test_every_unit_has_its_line_and_a_spoiled_one_stops_nothing(club: Path) -> None:
    ran = run("keep", str(club), "--fleet", "--processes", "1")
    assert ran.code == 0, ran.err
    for word in ("CLUB-B", "FOUR-1", "spoiled", "unusable", "Due for a check"):
        assert word in ran.out


def test_which_unit_for_which_part(club: Path) -> None:
    part = ("--radius", "60 mm", "--error", "0.16 mm", "--processes", "1")
    easy = run("keep", str(club), "--fleet", *part)
    assert easy.code == 0, easy.err
    answers = dict(re.findall(r"^(\S+) +(yes|no|cannot tell|not read) ", easy.out, re.MULTILINE))
    assert answers == {"CLUB-B": "yes", "FOUR-1": "no", "spoiled": "not read"}


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("--radius", "60 mm"), "--radius and --error together"),
        (("--radius", "60", "--error", "0.1 mm"), "unit"),
        (("--radius", "-60 mm", "--error", "0.1 mm"), "above zero"),
    ],
)
def test_a_need_half_told_is_asked_for(club: Path, arguments: tuple[str, ...], said: str) -> None:
    ran = run("keep", str(club), "--fleet", *arguments)
    assert ran.code == 1
    assert said in ran.err


def test_a_folder_without_jobs_is_refused(tmp_path: Path) -> None:
    ran = run("keep", str(tmp_path), "--fleet")
    assert ran.code == 1
    assert "holds job folders" in ran.err


def test_only_what_has_changed_is_reckoned_again(club: Path) -> None:
    assert run("keep", str(club), "--fleet", "--processes", "1").code == 0
    before = (club / LEDGER).read_text(encoding="utf-8").count("\n")
    assert run("keep", str(club), "--fleet", "--processes", "1").code == 0
    assert (club / LEDGER).read_text(encoding="utf-8").count("\n") == before
    assert run("measure", str(club / "club-table"), "--read", "hours_run", "20").code == 0
    assert run("keep", str(club), "--fleet", "--processes", "1").code == 0
    assert (club / LEDGER).read_text(encoding="utf-8").count("\n") == before + 1


def test_one_process_or_two_say_the_same(club: Path) -> None:
    one = fleet_rows(club, processes=1, say=lambda *_: None)
    (club / LEDGER).unlink()
    assert fleet_rows(club, processes=2, say=lambda *_: None) == one


def test_a_torn_or_edited_ledger_loses_nothing(club: Path) -> None:
    whole = fleet_rows(club, processes=1, say=lambda *_: None)
    ledger = club / LEDGER
    lines = ledger.read_bytes().splitlines(keepends=True)
    ledger.write_bytes(lines[0] + b'{"folder": "club-table", "odd": 1}\nno json\n' + lines[1][:20])
    assert fleet_rows(club, processes=1, say=lambda *_: None) == whole


def test_killed_in_the_middle_and_resumed_nothing_is_lost_or_doubled(tmp_path: Path) -> None:
    units = tmp_path / "units"
    source = example_folders()["four-readings"]
    for number in range(10):
        shutil.copytree(source, units / f"u{number}")
    command = [sys.executable, "-m", "wormwright", "keep", str(units), "--fleet"]
    begun = subprocess.Popen(
        [*command, "--processes", "2"],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        start_new_session=True,
    )
    ledger = units / LEDGER
    until = time.monotonic() + 60
    while time.monotonic() < until and not (ledger.exists() and ledger.stat().st_size > 500):
        time.sleep(0.02)
    os.killpg(begun.pid, signal.SIGKILL)
    begun.wait()
    done = ledger.read_bytes().count(b"\n")
    assert done >= 1
    rows = fleet_rows(units, processes=1, say=lambda *_: None)
    assert [row.folder for row in rows] == [f"u{n}" for n in range(10)]
    folders = [json.loads(line)["folder"] for line in ledger.read_text("utf-8").splitlines()]
    assert sorted(folders) == sorted(set(folders))


@pytest.mark.parametrize(
    ("state", "next_check", "due"),
    [
        ("still good", "2026-05-01", True),
        ("still good", "2026-07-01", False),
        ("still good", "500 h", False),
        ("adjust", "", True),
    ],
)
def test_who_is_due(state: str, next_check: str, due: bool) -> None:
    row = FleetRow.from_plain({**ROW.plain(), "state": state, "next_check": next_check})
    assert is_due(row, date(2026, 6, 1)) is due


def test_a_unit_too_near_the_limit_is_not_promised() -> None:
    blocks = fleet_blocks([ROW], today=date(2026, 6, 1), need=PartNeed(60.0, 0.061))
    table = next(b for b in blocks if getattr(b, "key", "") == "for part")
    assert table.rows[0][1].text == "cannot tell"  # type: ignore[union-attr]


def test_the_sheet_for_the_wall_carries_a_label_for_each_unit(club: Path, tmp_path: Path) -> None:
    file = tmp_path / "wall.pdf"
    ran = run("keep", str(club), "--fleet", "--processes", "1", "--wall", str(file))
    assert ran.code == 0, ran.err
    text = "".join(page.extract_text() for page in PdfReader(file).pages)
    for word in ("Labels to cut out", "Label of CLUB-B", "The code says: FOUR-1"):
        assert word in text


def test_the_code_on_a_label_names_the_unit() -> None:
    """The modules drawn are those of the symbol for the mark, dark for dark."""
    svg = chart_svg(label_of(ROW), "mm")
    wanted = sum(map(sum, segno.make_qr("A-1", error="m").matrix_iter(border=4)))
    group = svg[svg.index('id="PatchCollection_1"') :]
    assert len(re.findall(r"<path |<use ", group[: group.index("</g>\n  </g>")])) >= wanted
