"""A writer killed at any moment loses nothing it has acknowledged; writers never share a number."""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
import threading
import time
from pathlib import Path

from store_samples import make, opened

TESTS = Path(__file__).resolve().parent.parent
ROUNDS = 15
WRITER = """
import sys
from store_samples import opened
from pathlib import Path
folder = opened(Path(sys.argv[1]), patience_s=60)
for n in range(int(sys.argv[2])):
    if sys.argv[4:] and n % 3 == 2:
        folder.save_job({"seed": n, "machine.name": "x" * (n % 50)})
    if n % 7 == 6:
        seq = folder.append_sign_off("strip_wash", initials="M", verdict="done", note=f"{n}").seq
    else:
        note = f'{sys.argv[3]} "{n}", ' + "µ" * (n % 40)
        seq = folder.append_reading("end_play", "0.1 mm", note=note).seq
    print(seq, flush=True)
"""


def _writer(place: Path, rows: int, mark: str, *saves: str) -> subprocess.Popen[str]:
    return subprocess.Popen(
        [sys.executable, "-c", WRITER, str(place), str(rows), mark, *saves],
        stdout=subprocess.PIPE,
        env={**os.environ, "PYTHONPATH": str(TESTS)},
        text=True,
    )


def _collect(writer: subprocess.Popen[str], into: list[int]) -> None:
    assert writer.stdout is not None
    for line in writer.stdout:
        if line.endswith("\n"):
            into.append(int(line))


def _seqs(place: Path) -> list[int]:
    folder = opened(place)
    assert [fault for fault in folder.problems if fault.action != "warn"] == []
    return sorted([r.seq for r in folder.readings] + [s.seq for s in folder.sign_offs])


def test_no_acknowledged_row_is_lost_when_the_writer_is_killed(tmp_path: Path) -> None:
    place = make(tmp_path)
    chance = random.Random(20)
    acknowledged: list[int] = []
    for round_number in range(ROUNDS):
        fresh: list[int] = []
        with _writer(place, 100_000, f"round {round_number}", "saves") as writer:
            reader = threading.Thread(target=_collect, args=(writer, fresh))
            reader.start()
            give_up = time.monotonic() + 60
            while not fresh and time.monotonic() < give_up:
                time.sleep(0.002)
            time.sleep(chance.uniform(0.0, 0.15))
            writer.send_signal(signal.SIGKILL)
            writer.wait()
            reader.join()
        assert fresh, "the writer wrote nothing before it was killed"
        acknowledged += fresh
        assert acknowledged == sorted(set(acknowledged)), "a number was given twice"
        kept = _seqs(place)
        assert set(acknowledged) <= set(kept), "an acknowledged row is lost"
        assert len(kept) == len(set(kept))
        assert len(kept) - len(acknowledged) <= round_number + 1  # at most the one under the knife
    folder = opened(place)
    assert folder.job.seed % 3 == 2  # every save was whole: the last one or the one before
    assert len(folder.job.machine.name) == folder.job.seed % 50
    assert folder.append_reading("end_play", "0.1 mm").seq > acknowledged[-1]


def test_two_writers_at_once_lose_nothing_and_share_no_number(tmp_path: Path) -> None:
    place = make(tmp_path)
    rows = 40
    got: tuple[list[int], list[int]] = ([], [])
    writers = [_writer(place, rows, mark) for mark in ("one", "two")]
    readers = [
        threading.Thread(target=_collect, args=(writer, into))
        for writer, into in zip(writers, got, strict=True)
    ]
    for reader in readers:
        reader.start()
    for reader, writer in zip(readers, writers, strict=True):
        reader.join()
        assert writer.wait() == 0
        assert writer.stdout is not None
        writer.stdout.close()
    assert all(seqs == sorted(seqs) and len(seqs) == rows for seqs in got)
    assert sorted(got[0] + got[1]) == list(range(1, 2 * rows + 1))
    assert _seqs(place) == list(range(1, 2 * rows + 1))
    notes = [reading.note for reading in opened(place).readings]
    assert sum(note.startswith("one") for note in notes) == sum(
        note.startswith("two") for note in notes
    )
