"""Following the traveler and signing it off, as a user does it."""

from __future__ import annotations

from pathlib import Path

import pytest

from command_line import run
from wormwright.store import JobFolder


@pytest.fixture
def club(tmp_path: Path) -> Path:
    place = tmp_path / "club"
    run("new", str(place), "--from", "club-table")
    return place


def signed(place: Path) -> list[tuple[str, str]]:
    return [(s.operation, s.verdict) for s in JobFolder.open(place).sign_offs]


def test_the_traveler_names_the_next_operation_and_how_to_sign_it(club: Path) -> None:
    ran = run("sign", str(club))
    assert ran.code == 0, ran.err
    assert "Next: 0 " in ran.out
    assert "wormwright sign DIR baseline" in ran.out


def test_signing_moves_on_and_makes_readings_stale(club: Path) -> None:
    assert run("sign", str(club), "baseline", "--initials", "AB").code == 0
    ran = run("sign", str(club), "strip_wash", "--initials", "AB", "--note", "two shims found")
    assert ran.code == 0, ran.err
    assert "Next:" in ran.out
    assert signed(club) == [("baseline", "done"), ("strip_wash", "done")]
    sheet = run("measure", str(club)).out
    assert "stale" in sheet
    assert "strip_wash" in run("sign", str(club)).out, "stale readings name what killed them"
    assert run("diagnose", str(club)).code == 1, "no stale rock is used"


def test_an_operation_out_of_order_is_refused_with_the_reason(club: Path) -> None:
    ran = run("sign", str(club), "final_depth", "--initials", "AB")
    assert ran.code == 1
    assert "cannot be signed yet" in ran.err
    assert signed(club) == []


def test_a_failed_gate_is_written_down_and_says_what_next(club: Path) -> None:
    for operation in ("baseline", "strip_wash"):
        assert run("sign", str(club), operation, "--initials", "AB").code == 0
    ran = run("sign", str(club), "wheel_joint", "--initials", "AB")
    assert ran.code == 1
    assert "gate values missing" in ran.err
    gate = ran.err.partition("missing: ")[2].partition(".")[0].split(",")[0]
    ran = run("sign", str(club), "wheel_joint", "--initials", "AB", "--gate", f"{gate}=0.5 mm")
    assert ran.code == 0, ran.err
    assert "recorded as failed" in ran.out
    assert signed(club)[-1] == ("wheel_joint", "failed")
    assert "Stopped at" in run("sign", str(club)).out


@pytest.mark.parametrize(
    ("arguments", "code", "said"),
    [
        (["baselin", "--initials", "AB"], 1, "did you mean baseline"),
        (["baseline"], 1, "--initials"),
        (["baseline", "--initials", "AB", "--gate", "depth"], 2, "NAME=TEXT"),
        (["--initials", "AB"], 2, "name the operation"),
    ],
)
def test_a_wrong_sign_off_is_refused_and_not_written(
    arguments: list[str], code: int, said: str, club: Path
) -> None:
    ran = run("sign", str(club), *arguments)
    assert ran.code == code
    assert said in ran.err or "write it like" in ran.err
    assert signed(club) == []


def test_without_a_plan_only_the_baseline_is_ordered(tmp_path: Path) -> None:
    run("new", str(tmp_path / "mine"))
    ran = run("sign", str(tmp_path / "mine"))
    assert ran.code == 0, ran.err
    assert "Nothing can be planned yet" in ran.out
    assert "baseline" in ran.out
