"""The folder lock: one writer at a time, a clear word when it is busy, free again after a crash."""

from __future__ import annotations

import errno
import os
import subprocess
import sys
import threading
import time
from pathlib import Path

import pytest

from store_samples import make, opened
from wormwright.store import FolderBusyError, JobFolderError, safe_write
from wormwright.store.lock import folder_lock

HOLD = """
import sys, time
from pathlib import Path
from wormwright.store.lock import folder_lock
with folder_lock(Path(sys.argv[1])):
    print("held", flush=True)
    time.sleep(60)
"""


def test_a_busy_folder_is_refused_naming_the_holder_and_free_once_it_is_killed(
    tmp_path: Path,
) -> None:
    folder = opened(make(tmp_path), patience_s=0.1)
    with subprocess.Popen(
        [sys.executable, "-c", HOLD, str(tmp_path)], stdout=subprocess.PIPE
    ) as holder:
        assert holder.stdout is not None
        assert holder.stdout.readline().strip() == b"held"
        with pytest.raises(FolderBusyError, match=f"held by process {holder.pid} on ") as told:
            folder.append_reading("end_play", "0.1 mm")
        assert "nothing was written" in str(told.value)
        assert opened(tmp_path).readings == ()  # reading needs no lock
        holder.kill()
    assert folder.append_reading("end_play", "0.1 mm").seq == 1


def test_two_threads_exclude_each_other_and_the_second_waits_its_turn(tmp_path: Path) -> None:
    order: list[str] = []

    def second() -> None:
        with folder_lock(tmp_path):
            order.append("second")

    with folder_lock(tmp_path):
        waiting = threading.Thread(target=second)
        waiting.start()
        time.sleep(0.1)
        order.append("first")
    waiting.join()
    assert order == ["first", "second"]


def test_a_folder_that_is_gone_is_refused_with_a_reason(tmp_path: Path) -> None:
    with (
        pytest.raises(JobFolderError, match="a folder that can be written"),
        folder_lock(tmp_path / "gone"),
    ):
        raise AssertionError("the lock of a folder that is not there was given")


def test_a_full_disk_leaves_the_file_as_long_as_before(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = opened(make(tmp_path))
    folder.append_reading("end_play", "0.1 mm")
    before = (tmp_path / "readings.csv").read_bytes()
    written: list[int] = []

    def part_only(handle: int, data: memoryview) -> int:
        if written:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        written.append(write(handle, data[:20]))
        return written[0]

    write = os.write
    monkeypatch.setattr(os, "write", part_only)
    with pytest.raises(OSError, match="No space left"):
        safe_write.append_to_file(tmp_path / "readings.csv", b"2," + b"x" * 60 + b"\n")
    assert written == [20]
    assert (tmp_path / "readings.csv").read_bytes() == before


def test_a_failed_replacement_leaves_the_old_file_and_nothing_else(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "job.toml"
    path.write_bytes(b"old")

    def refuse(handle: int) -> None:
        raise OSError(errno.EIO, os.strerror(errno.EIO))

    monkeypatch.setattr(os, "fsync", refuse)
    with pytest.raises(OSError, match="Input/output error"):
        safe_write.replace_file(path, b"new")
    assert path.read_bytes() == b"old"
    assert [entry.name for entry in tmp_path.iterdir()] == ["job.toml"]


def test_a_replaced_file_keeps_its_rights(tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    path.write_bytes(b"old")
    path.chmod(0o640)
    safe_write.replace_file(path, b"new")
    assert (path.read_bytes(), path.stat().st_mode & 0o777) == (b"new", 0o640)
