"""The bench page under load: `python -m benchmarks.page_load [SECONDS]`.

Four clients act once a second: each enters a reading, tries a setting, looks at the mark of the job
and at a picture. Prints how long answers took, what became of the readings, and the memory of the
server. These are human limits on whatever else the machine does: printed, not judged.
"""

from __future__ import annotations

import csv
import json
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
EXAMPLES = Path(__file__).resolve().parent.parent / "examples"
ROCK = {
    "pin_radius": "80 mm",
    "pin_radius_u": "0.3 mm",
    "torque": "3 N·m",
    "worm_held": "at the worm",
}


class Client(threading.Thread):
    """One device: acts once a second until the time is over."""

    def __init__(self, base: str, name: int, until: float) -> None:
        super().__init__()
        self.base, self.name_, self.until = base, name, until
        self.took: dict[str, list[float]] = {"reading": [], "trial": [], "mark": [], "picture": []}
        self.sent: list[str] = []

    def run(self) -> None:
        job = f"{self.base}/api/jobs/{EXAMPLE}"
        turn = 0
        while time.perf_counter() < self.until:
            began = time.perf_counter()
            when = f"{self.name_}-{turn}"
            entry = {
                "kind": "rock",
                "raw": f"0.{300 + turn % 9} mm",
                "table_angle": "0 deg",
                "conditions": ROCK,
                "when": when,
            }
            self.timed("reading", f"{job}/readings", entry)
            self.sent.append(when)
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


def loaded(base: str, pid: int, seconds: float, job: Path) -> None:
    """Warm the server, let the clients act, and print what came of it."""
    urllib.request.urlopen(f"{base}/jobs/{EXAMPLE}/correct", timeout=60).read()
    before = memory_mb(pid)
    until = time.perf_counter() + seconds
    clients = [Client(base, n, until) for n in range(CLIENTS)]
    for client in clients:
        client.start()
    for client in clients:
        client.join()
    for what in ("reading", "trial", "mark", "picture"):
        took = sorted(t for c in clients for t in c.took[what])
        middle, high = took[len(took) // 2], took[int(0.95 * len(took))]
        times = f"median {1e3 * middle:6.0f} ms, 95 % {1e3 * high:6.0f} ms"
        print(f"{what:8} {len(took):5} answers, {times}")
    with (job / "readings.csv").open(encoding="utf-8-sig", newline="") as file:
        kept = [row["when"] for row in csv.DictReader(file)]
    sent = [when for c in clients for when in c.sent]
    print(
        f"{len(sent)} readings sent, {sum(when in kept for when in sent)} on file, each once: "
        f"{all(kept.count(when) == 1 for when in sent)}"
    )
    print(f"memory {before:.0f} MB before, {memory_mb(pid):.0f} MB after")


if __name__ == "__main__":
    main(float(sys.argv[1]) if len(sys.argv) > 1 else SECONDS)
