"""The page served for a test: in this process, or on a real port in a process of its own."""

from __future__ import annotations

import os
import shutil
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Callable
from pathlib import Path
from typing import Any

from starlette.testclient import TestClient

from wormwright.web import Address, application
from wormwright.web.pairing import Pairing
from wormwright.web.reckoner import here

EXAMPLES = Path(__file__).resolve().parents[1] / "examples"
PORT = 8417
BASE = f"http://127.0.0.1:{PORT}"
PATIENCE_S = 60.0


def shelf(place: Path, *names: str) -> Path:
    """A folder of jobs: copies of examples, without the truth they were made from."""
    for name in names or ("garage-router",):
        shutil.copytree(EXAMPLES / name, place / name, ignore=shutil.ignore_patterns("truth.toml"))
    return place


def client(
    root: Path,
    pairing: Pairing | None = None,
    *,
    peer: str = "127.0.0.1",
    call: Callable[..., Any] = here,
) -> TestClient:
    """A browser's stand-in: talks to the page as `peer`, bearing the right host and origin."""
    network = ("192.168.1.20",) if pairing else ()
    app = application(root, Address(PORT, network), pairing, call=call)
    return TestClient(app, base_url=BASE, headers={"origin": BASE}, client=(peer, 50000))


def settled(page: TestClient, path: str) -> str:
    """A page as it is when nothing on it is being reckoned any more."""
    until = time.monotonic() + PATIENCE_S
    while time.monotonic() < until:
        text = page.get(path).text
        if "data-waiting" not in text:
            return text
        time.sleep(0.05)
    raise TimeoutError(f"{path} is still being reckoned")


class Server:
    """`wormwright serve` in a process of its own, that can be killed and started again."""

    def __init__(self, root: Path) -> None:
        self.root = root
        with socket.socket() as one:
            one.bind(("127.0.0.1", 0))
            self.port: int = one.getsockname()[1]
        self.base = f"http://127.0.0.1:{self.port}"
        self.process: subprocess.Popen[bytes] | None = None

    def start(self) -> float:
        """Start it and wait for its first page; how long that took, in seconds."""
        began = time.perf_counter()
        self.process = subprocess.Popen(
            [sys.executable, "-m", "wormwright", "serve", str(self.root), "--port", str(self.port)],
            stdout=subprocess.DEVNULL,
            env=os.environ,
        )
        while time.perf_counter() - began < PATIENCE_S:
            try:
                with urllib.request.urlopen(f"{self.base}/", timeout=PATIENCE_S) as answer:
                    answer.read()
            except OSError:
                time.sleep(0.05)
            else:
                return time.perf_counter() - began
        raise TimeoutError("the page did not come up")

    def kill(self) -> None:
        """End it as a power cut would."""
        if self.process is not None:
            self.process.kill()
            self.process.wait()
            self.process = None
