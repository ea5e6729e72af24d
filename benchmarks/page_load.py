"""The bench page under load: `python -m benchmarks.page_load [SECONDS]`.

Four clients act once a second: each enters a reading, fetches the entry page anew as its script
does, tries a setting, and looks at the mark of the job and at a picture. First all of them start in
the same moment, so that every second four stand in line, which is the worst case; then they are
spread over the second, as people are. Prints how long answers took, the processor time of the
server for one turn of one client, what became of the readings, and the memory of the server and of
its second process. These are human limits on whatever else the machine does: printed, not judged.
"""

from __future__ import annotations

import csv
import json
import os
import shutil
import socket
import subprocess
import sys
import tempfile
import threading
import time
import urllib.request
from pathlib import Path

CLIENTS = 4
SECONDS = 60
EXAMPLE = "garage-router"
ASKED = ("reading", "trial", "picture", "page", "mark")
EXAMPLES = Path(__file__).resolve().parent.parent / "examples"
ROCK = {
    "pin_radius": "80 mm",
    "pin_radius_u": "0.3 mm",
    "torque": "3 N·m",
    "worm_held": "at the worm",
}
SERIES: tuple[dict[str, object], ...] = (
    {"kind": "rock", "raw": "0.3{} mm", "conditions": ROCK, "table_angle": "{} deg"},
    {"kind": "worm_end_play", "raw": "0.03{} mm", "conditions": {"how": "push-pull"}},
    {"kind": "table_radial_play", "raw": "0.01{} mm"},
    {"kind": "drag_in_mesh", "raw": "0.4{} N·m", "table_angle": "{} deg"},
)
"""What the clients read, one series each."""


class Client(threading.Thread):
    """One device: acts once a second until the time is over."""

    def __init__(self, base: str, round_: str, number: int, begin: float, until: float) -> None:
        super().__init__()
        self.base, self.round, self.number = base, round_, number
        self.begin, self.until = begin, until
        self.took: dict[str, list[float]] = {what: [] for what in ASKED}
        self.sent: list[str] = []

    def run(self) -> None:
        job = f"{self.base}/api/jobs/{EXAMPLE}"
        turn = 0
        time.sleep(max(0.0, self.begin - time.perf_counter()))
        while time.perf_counter() < self.until:
            began = time.perf_counter()
            when = f"{self.round} {self.number} {turn}"
            texts = {"raw": turn % 9 + 1, "table_angle": 15 * turn % 360}
            entry = {
                name: str(said).format(texts[name]) if name in texts else said
                for name, said in SERIES[self.number].items()
            }
            entry["when"] = when
            self.timed("reading", f"{job}/readings", entry)
            self.sent.append(when)
            self.timed("page", f"{self.base}/jobs/{EXAMPLE}/measure/{entry['kind']}")
            self.timed("trial", f"{job}/trials", {"throw": "0.2 mm", "angle": f"{turn % 90} deg"})
            self.timed("mark", f"{job}/mark")
            self.timed("picture", f"{self.base}/jobs/{EXAMPLE}/correct/section-turning.svg")
            turn += 1
            time.sleep(max(0.0, 1.0 - (time.perf_counter() - began)))

    def timed(self, what: str, url: str, body: object = None) -> None:
        """One request, timed."""
        data = None if body is None else json.dumps(body).encode()
        request = urllib.request.Request(url, data, {"content-type": "application/json"})
        began = time.perf_counter()
        with urllib.request.urlopen(request, timeout=60) as answer:
            answer.read()
        self.took[what].append(time.perf_counter() - began)


def memory_mb(pid: int) -> float:
    """Resident memory of a process (Linux)."""
    lines = Path(f"/proc/{pid}/status").read_text(encoding="utf-8").splitlines()
    return next(int(line.split()[1]) / 1024 for line in lines if line.startswith("VmRSS"))


def processor_s(pid: int) -> float:
    """Processor time that a process has used, s (Linux)."""
    fields = Path(f"/proc/{pid}/stat").read_text(encoding="utf-8").rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def second_process(pid: int) -> int:
    """The process in which the server has long reckonings done (Linux)."""
    children = Path(f"/proc/{pid}/task").glob("*/children")
    return int(next(words for c in children if (words := c.read_text(encoding="utf-8"))).split()[0])


def main(seconds: float) -> None:
    with tempfile.TemporaryDirectory() as place, socket.socket() as free:
        shutil.copytree(EXAMPLES / EXAMPLE, Path(place) / EXAMPLE)
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
        free.close()
        base = f"http://127.0.0.1:{port}"
        began = time.perf_counter()
        serve = [sys.executable, "-m", "wormwright", "serve", place, "--port", str(port)]
        with subprocess.Popen(serve, stdout=subprocess.DEVNULL) as server:
            try:
                print(f"first page after {first_page(base, began):.2f} s")
                loaded(base, server.pid, seconds, Path(place) / EXAMPLE)
            finally:
                server.kill()


def first_page(base: str, began: float) -> float:
    """Seconds until the list of jobs is there."""
    while True:
        try:
            urllib.request.urlopen(base, timeout=5).read()
        except OSError:
            time.sleep(0.01)
        else:
            return time.perf_counter() - began


def settled(url: str) -> None:
    """Fetch a page until nothing on it is being reckoned any more."""
    while b"data-waiting" in urllib.request.urlopen(url, timeout=60).read():
        time.sleep(0.2)


def loaded(base: str, pid: int, seconds: float, job: Path) -> None:
    """Warm the server, let the clients act, and print what came of it."""
    for page in ("correct", "measure/rock"):
        settled(f"{base}/jobs/{EXAMPLE}/{page}")
    other = second_process(pid)
    before = f"{memory_mb(pid):.0f} + {memory_mb(other):.0f} MB"
    for words, gap in (("all in the same moment", 0.0), ("spread over the second", 1 / CLIENTS)):
        used, used_other = processor_s(pid), processor_s(other)
        now = time.perf_counter() + 0.1
        clients = [Client(base, words, n, now + n * gap, now + seconds) for n in range(CLIENTS)]
        for client in clients:
            client.start()
        for client in clients:
            client.join()
        turns = sum(len(c.sent) for c in clients)
        print(f"{CLIENTS} clients once a second, {words}:")
        told(clients)
        here, there = processor_s(pid) - used, processor_s(other) - used_other
        times = f"{1e3 * here / turns:.0f} ms in the server, {1e3 * there / turns:.0f} ms beside it"
        print(f"  processor time a turn: {times}")
        print(f"  {kept(job, [when for c in clients for when in c.sent])}")
    print(f"memory {before} before, {memory_mb(pid):.0f} + {memory_mb(other):.0f} MB after")


def told(clients: list[Client]) -> None:
    """Print how long each kind of answer took."""
    for what in ASKED:
        took = sorted(t for c in clients for t in c.took[what])
        middle, high = took[len(took) // 2], took[int(0.95 * len(took))]
        times = f"median {1e3 * middle:4.0f} ms, 95 % {1e3 * high:4.0f} ms"
        print(f"  {what:8} {len(took):5} answers, {times}")


def kept(job: Path, sent: list[str]) -> str:
    """What became of the readings."""
    with (job / "readings.csv").open(encoding="utf-8-sig", newline="") as file:
        on_file = [row["when"] for row in csv.DictReader(file)]
    once = sum(on_file.count(when) == 1 for when in sent)
    return f"{len(sent)} readings sent, {once} of them on file once"


if __name__ == "__main__":
    main(float(sys.argv[1]) if len(sys.argv) > 1 else SECONDS)
