"""Every way a command can end: an exit code and plain words."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from command_line import run
from wormwright.app import diagnose
from wormwright.app.refused import Refused
from wormwright.job.result import Doubt, StageRefusal
from wormwright.quantities import QuantityError
from wormwright.store import JobFolder

DOUBT = Doubt("refuse", "D-9", "Something was seen.", "It matters.", "Do this.", (3, 4))


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    JobFolder.create(tmp_path / "job")
    return tmp_path / "job"


def ending(monkeypatch: pytest.MonkeyPatch, error: BaseException) -> None:
    def end(_: object) -> None:
        raise error

    monkeypatch.setattr(diagnose, "diagnosis_document", end)


def test_a_fault_of_the_program_is_one_line_with_where_to_report(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    ending(monkeypatch, ZeroDivisionError("by zero\nsecond line"))
    ran = run("diagnose", str(folder))
    assert ran.code == 70
    assert ran.err.count("\n") == 1
    assert "ZeroDivisionError: by zero second line" in ran.err
    assert "CONTRIBUTING.md" in ran.err


def test_a_developer_can_ask_for_the_traceback(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    ending(monkeypatch, ZeroDivisionError("by zero"))
    monkeypatch.setenv("WORMWRIGHT_TRACEBACK", "1")
    with pytest.raises(ZeroDivisionError):
        run("diagnose", str(folder))


@pytest.mark.parametrize(
    "error",
    [
        Refused("no", (DOUBT,)),
        StageRefusal("diagnose", (DOUBT,)),
        QuantityError("rock", got="x", expected="a length", do="write 3 mm"),
        PermissionError(13, "Permission denied", "readings.csv"),
        KeyboardInterrupt(),
    ],
)
def test_a_refusal_ends_with_one_and_says_what_to_do(
    error: BaseException, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    ending(monkeypatch, error)
    ran = run("diagnose", str(folder))
    assert ran.code == 1
    assert ran.out == ""
    if getattr(error, "doubts", ()):
        for part in (DOUBT.code, DOUBT.seen, DOUBT.why, DOUBT.do, "rows 3, 4"):
            assert part in ran.err


def test_a_reader_that_stops_early_is_no_fault(folder: Path) -> None:
    command = f"{sys.executable} -m wormwright measure {folder} | head -1"
    done = subprocess.run(
        ["bash", "-c", f"set -o pipefail; {command}"], capture_output=True, text=True, check=False
    )
    assert "Traceback" not in done.stderr
    assert "BrokenPipe" not in done.stderr


def test_a_terminal_without_the_signs_still_gets_the_words(folder: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "wormwright", "measure", str(folder), "--kinds", "rock"],
        capture_output=True,
        check=False,
        env={"PYTHONIOENCODING": "ascii", "PATH": ""},
    )
    assert done.returncode == 0, done.stderr
    assert b"rock" in done.stdout
