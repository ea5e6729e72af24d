"""Reversal, loop and runouts as a user enters them: answers, packet and pictures."""

from __future__ import annotations

import json
import math
from pathlib import Path

import pytest

from command_line import run

AT = ", ".join(f"{a}" for a in range(0, 361, 30)) + " deg"


def needle(run_sign: float) -> str:
    """An oval axis of 3 µm and a ball of three lobes of 1 µm, off centre, in µm."""
    lines = []
    for degrees in range(0, 361, 30):
        phi = math.radians(degrees)
        axis, ball = 3 * math.cos(2 * phi), math.cos(3 * phi)
        lines.append(f"{ball + run_sign * axis + 12 * math.cos(phi - 1):.2f}")
    return "\n".join(lines) + "\n"


@pytest.fixture
def club(tmp_path: Path) -> Path:
    """The club table with a ball reversed on it; its loop and runouts were on the sheet before."""
    place = tmp_path / "club"
    assert run("new", str(place), "--from", "club-table").code == 0
    for which, sign in (("first", 1.0), ("turned", -1.0)):
        ran = run(
            *("measure", str(place), "--series", "axis_reversal", "--at", AT, "--unit", "µm"),
            *("--with", f"run={which}", "--with", "turn=1", "--u", "0.2 µm"),
            stdin=needle(sign),
        )
        assert ran.code == 0, ran.err
    return place


def test_axis_loop_and_runouts_are_told_together(club: Path) -> None:
    ran = run("prove", str(club))
    assert ran.code == 0, ran.err
    words = " ".join(ran.out.split())
    assert "The axis wanders by 0.236" in words
    assert "It comes 2 times a turn" in words
    assert "Loop at table angle 0°" in words
    assert "lean of the bar" in words


def test_the_packet_has_the_pictures_and_the_numbers(club: Path) -> None:
    assert run("packet", str(club)).code == 0
    proof = json.loads((club / "packet" / "results.json").read_text(encoding="utf-8"))["proof"]
    assert proof["axis"]["reversal"]["lobes"] == [2]
    assert proof["axis"]["reversal"]["synchronous"]["value"] == pytest.approx(0.006, abs=1e-4)
    assert proof["loop"][0]["figures"][0]["key"] == "clearance"
    assert proof["positioning"] is None
    page = (club / "packet" / "report.html").read_text(encoding="utf-8")
    for caption in ("Axis and ball told apart", "Rock loop at 0°", "Round the turn: bar"):
        assert caption in page
