"""The user's way: both examples mounted at the terminal, readings taken, bad input refused."""

from __future__ import annotations

from pathlib import Path

import pytest

from command_line import run

BAR = ("--with", "bar_diameter=25 mm", "--with", "bar_out=185 mm")


@pytest.fixture
def router(tmp_path: Path) -> str:
    place = str(tmp_path / "axis")
    assert run("new", place, "--from", "garage-router").code == 0
    return place


def test_the_router_axis_is_told_what_to_pack_and_where(router: str) -> None:
    shown = run("mount", router)
    assert shown.code == 0
    assert "pack" in shown.out
    assert "under rear right" in shown.out
    assert "move the front at the key" in shown.out
    assert "Set the tail over by" in shown.out
    assert "MADE-UP EXAMPLE" in shown.out


def test_the_club_table_is_told_in_inches_and_its_four_jaws_dialled(tmp_path: Path) -> None:
    place = str(tmp_path / "axis")
    assert run("new", place, "--from", "club-table").code == 0
    shown = run("mount", place)
    assert shown.code == 0
    assert "thou" in shown.out
    assert "ease jaw 3, follow with jaw 1" in shown.out
    assert "height over a bar in the head" in shown.out


def test_a_fresh_folder_says_what_to_read(tmp_path: Path) -> None:
    place = str(tmp_path / "axis")
    assert run("new", place).code == 0
    refused = run("mount", place)
    assert refused.code == 1
    assert "MT-0" in refused.err
    assert "bar_line" in refused.err


def test_a_bar_read_one_way_only_is_refused_and_the_half_turn_mends_it(tmp_path: Path) -> None:
    place = str(tmp_path / "axis")
    assert run("new", place).code == 0
    for z, text in (("20 mm", "0.01 mm"), ("170 mm", "0.06 mm")):
        read = ("--read", "bar_line", text, "--station", "top", "--with", f"z={z}", *BAR)
        assert run("measure", place, *read, "--at", "0 deg").code == 0
    refused = run("mount", place)
    assert refused.code == 1
    assert "without the reading half a turn on" in refused.err
    for z, text in (("20 mm", "0.03 mm"), ("170 mm", "0.02 mm")):
        read = ("--read", "bar_line", text, "--station", "top", "--with", f"z={z}", *BAR)
        assert run("measure", place, *read, "--at", "180 deg").code == 0
    shown = run("mount", place)
    assert shown.code == 0
    assert "Elevation" in shown.out
    assert "MT-1" not in shown.out


@pytest.mark.parametrize(
    ("line", "why"),
    [
        ('centre_height = "-5 mm"', "centre_height"),
        ('centre_height = "5 kg"', "length"),
        ("centre_height = 100", "in quotes"),
        ('hold = "magnet"', "three-jaw"),
        ('cut_diameter = "80 mm"\nwork_diameter = "60 mm"', "larger than the work"),
        ('spindle = "50 mm"', "unknown key"),
    ],
)
def test_a_wrong_figure_in_mount_is_refused_with_its_line(
    tmp_path: Path, line: str, why: str
) -> None:
    place = tmp_path / "axis"
    assert run("new", str(place)).code == 0
    file = place / "job.toml"
    text = file.read_text(encoding="utf-8") + f"\n[mount]\n{line}\n"
    file.write_text(text, encoding="utf-8")
    refused = run("mount", str(place))
    assert refused.code == 1
    assert "job.toml" in refused.err
    assert why in refused.err


def test_a_reading_without_its_angle_or_place_is_not_taken(router: str) -> None:
    read = ("--read", "bar_line", "0.01 mm", "--station", "top")
    assert run("measure", router, *read, "--with", "z=20 mm").code == 1
    assert run("measure", router, *read, "--at", "0 deg").code == 1
