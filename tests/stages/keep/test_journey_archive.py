"""A job put away and fetched again: closed, one file, read back, an older form."""

from __future__ import annotations

import zipfile
from pathlib import Path

import pytest

from command_line import run
from wormwright.store import JobFolder
from wormwright.store.archive import archive_job, unpack_job
from wormwright.store.fault import JobFolderError


@pytest.fixture
def club(tmp_path: Path) -> Path:
    place = tmp_path / "club"
    assert run("new", str(place), "--from", "club-table").code == 0
    (place / "photos").mkdir()
    (place / "photos" / "rock-0123456789abcdef.jpg").write_bytes(b"\xff\xd8\xff\x00picture")
    return place


def bytes_of(folder: Path) -> dict[str, bytes]:
    return {
        p.relative_to(folder).as_posix(): p.read_bytes()
        for p in folder.rglob("*")
        if p.is_file() and not p.name.startswith(".")
    }


def test_a_job_comes_back_byte_for_byte(club: Path, tmp_path: Path) -> None:
    file, back = tmp_path / "club.zip", tmp_path / "back"
    ran = run("keep", str(club), "--archive", str(file))
    assert ran.code == 0, ran.err
    ran = run("keep", str(back), "--unpack", str(file))
    assert ran.code == 0, ran.err
    assert bytes_of(back) == bytes_of(club)
    assert JobFolder.open(back).readings == JobFolder.open(club).readings


def test_the_same_job_gives_the_same_archive_and_no_packet(club: Path, tmp_path: Path) -> None:
    archive_job(club, tmp_path / "a.zip")
    (club / "packet").mkdir()
    (club / "packet" / "report.txt").write_text("made afresh", encoding="utf-8")
    archive_job(club, tmp_path / "b.zip")
    assert (tmp_path / "a.zip").read_bytes() == (tmp_path / "b.zip").read_bytes()


def rewritten(file: Path, change: dict[str, bytes]) -> None:
    with zipfile.ZipFile(file) as old:
        files = {i.filename: old.read(i.filename) for i in old.infolist()}
    with zipfile.ZipFile(file, "w") as new:
        for name, data in {**files, **change}.items():
            new.writestr(name, data)


@pytest.mark.parametrize(
    "change", [{"readings.csv": b"seq\n"}, {"more.txt": b"x"}, {"../out.txt": b"x"}]
)
def test_a_changed_archive_is_refused_and_nothing_is_written(
    club: Path, tmp_path: Path, change: dict[str, bytes]
) -> None:
    file, back = tmp_path / "club.zip", tmp_path / "back"
    archive_job(club, file)
    rewritten(file, change)
    with pytest.raises(JobFolderError, match="as they were packed"):
        unpack_job(file, back)
    assert not back.exists()
    assert not (tmp_path / "out.txt").exists()


@pytest.mark.parametrize("data", [b"", b"PK\x03\x04 broken", b"no archive at all"])
def test_what_is_no_archive_is_refused(tmp_path: Path, data: bytes) -> None:
    file = tmp_path / "x.zip"
    file.write_bytes(data)
    ran = run("keep", str(tmp_path / "back"), "--unpack", str(file))
    assert ran.code == 1
    assert "an archive of a job" in ran.err


def test_nothing_in_the_way_is_overwritten(club: Path, tmp_path: Path) -> None:
    file = tmp_path / "club.zip"
    archive_job(club, file)
    assert run("keep", str(club), "--archive", str(file)).code == 1
    assert run("keep", str(club), "--unpack", str(file)).code == 1


def test_a_closed_job_takes_no_reading_until_it_is_opened_again(club: Path) -> None:
    open_elsewhere = JobFolder.open(club)
    assert run("keep", str(club), "--close").code == 0
    ran = run("measure", str(club), "--read", "worm_end_play", "1 thou")
    assert ran.code == 1
    assert "--reopen" in ran.err
    with pytest.raises(JobFolderError, match="a closed one"):  # another program had it open
        open_elsewhere.append_reading("worm_end_play", "1 thou")
    assert run("diagnose", str(club)).code == 0
    assert run("keep", str(club), "--reopen").code == 0
    assert run("measure", str(club), "--read", "worm_end_play", "1 thou").code == 0


def test_an_older_form_is_brought_to_today_and_the_old_file_is_kept(club: Path) -> None:
    file = club / "job.toml"
    today = file.read_bytes()
    old = today.replace(b"format = 1\n", b"")
    assert old != today
    file.write_bytes(old)
    ran = run("diagnose", str(club))
    assert ran.code == 1
    assert "--migrate" in ran.err
    ran = run("keep", str(club), "--migrate")
    assert ran.code == 0, ran.err
    assert (club / "job.toml.form-0").read_bytes() == old
    assert run("diagnose", str(club)).code == 0
    assert "already" in run("keep", str(club), "--migrate").out


def test_a_form_of_the_future_is_left_alone(club: Path) -> None:
    file = club / "job.toml"
    file.write_bytes(file.read_bytes().replace(b"format = 1\n", b"format = 99\n"))
    ran = run("keep", str(club), "--migrate")
    assert ran.code == 1
    assert "a newer one" in ran.err
    assert not list(club.glob("job.toml.form*"))


def test_what_cannot_be_migrated_is_not_touched(club: Path) -> None:
    file = club / "job.toml"
    broken = file.read_bytes().replace(b"format = 1\n", b"").replace(b"[duty]", b"[dut]")
    file.write_bytes(broken)
    ran = run("keep", str(club), "--migrate")
    assert ran.code == 1
    assert "duty" in ran.err
    assert file.read_bytes() == broken
