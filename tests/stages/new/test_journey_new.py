"""Starting a job folder, as a user does it."""

from __future__ import annotations

from pathlib import Path

from command_line import run
from wormwright.app.new import example_folders
from wormwright.store import JobFolder


def test_an_example_is_copied_without_its_truth(tmp_path: Path) -> None:
    for name, source in example_folders().items():
        folder = tmp_path / name
        ran = run("new", str(folder), "--from", name)
        assert ran.code == 0, ran.err
        read = (source / "readings.csv").exists()
        assert (source / "truth.toml").exists() == read, "what is read comes from a stated truth"
        assert not (folder / "truth.toml").exists()
        assert JobFolder.open(folder).readings == JobFolder.open(source).readings


def test_the_examples_are_listed_by_the_name_that_starts_them() -> None:
    listed = run("new", "--list").out
    assert example_folders()
    for name in example_folders():
        assert name in listed


def test_an_empty_job_opens_and_keeps_its_comments(tmp_path: Path) -> None:
    assert run("new", str(tmp_path / "mine")).code == 0
    folder = JobFolder.open(tmp_path / "mine")
    assert folder.readings == ()
    assert "#" in (tmp_path / "mine" / "job.toml").read_text(encoding="utf-8")


def test_a_folder_with_something_in_it_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / "note.txt").write_text("mine", encoding="utf-8")
    ran = run("new", str(tmp_path))
    assert ran.code == 1
    assert "nothing was written" in ran.err
    assert [p.name for p in tmp_path.iterdir()] == ["note.txt"]


def test_a_mistyped_example_is_answered_with_the_near_one(tmp_path: Path) -> None:
    ran = run("new", str(tmp_path / "x"), "--from", "garage-ruter")
    assert ran.code == 1
    assert "did you mean garage-router?" in ran.err
    assert not (tmp_path / "x").exists()


def test_no_folder_named_is_a_usage_error() -> None:
    ran = run("new")
    assert ran.code == 2
    assert "--list" in ran.err
