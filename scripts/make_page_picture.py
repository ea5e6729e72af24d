"""Make the README's picture of the bench page: `python scripts/make_page_picture.py`.

Serves the router example from a temporary folder and photographs its correct page in Chromium.
"""

from __future__ import annotations

import shutil
import socket
import subprocess
import sys
import tempfile
import time
import urllib.request
from pathlib import Path

from playwright.sync_api import sync_playwright

HERE = Path(__file__).resolve().parent.parent
PICTURES = HERE / "docs" / "pictures"
EXAMPLE = "garage-router"
SIZE = {"width": 820, "height": 1000}
SHOTS = {"page-correct.png": "correct"}


def main() -> None:
    with tempfile.TemporaryDirectory() as place, socket.socket() as free:
        shutil.copytree(HERE / "examples" / EXAMPLE, Path(place) / EXAMPLE)
        free.bind(("127.0.0.1", 0))
        port = str(free.getsockname()[1])
        free.close()
        serve = [sys.executable, "-m", "wormwright", "serve", place, "--port", port]
        with subprocess.Popen(serve, stdout=subprocess.DEVNULL) as server:
            try:
                photograph(f"http://127.0.0.1:{port}")
            finally:
                server.kill()


def photograph(base: str) -> None:
    """Wait for the server, then take the picture."""
    for _ in range(300):
        try:
            urllib.request.urlopen(base, timeout=5).close()
            break
        except OSError:
            time.sleep(0.1)
    chromium = shutil.which("chromium") or sys.exit("chromium is missing: apt-get install chromium")
    with sync_playwright() as play:
        browser = play.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
        page = browser.new_page(viewport=SIZE)  # type: ignore[arg-type]
        for name, path in SHOTS.items():
            page.goto(f"{base}/jobs/{EXAMPLE}/{path}".rstrip("/"), timeout=60_000)
            page.wait_for_timeout(1500)
            page.screenshot(path=PICTURES / name)
            print(f"wrote {PICTURES / name}")
        browser.close()


if __name__ == "__main__":
    main()
