"""A real browser for the tests of the page: the system's Chromium, without a network."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager

from playwright.sync_api import Browser, Page, sync_playwright

SIZES = {"phone": (320, 640), "tablet": (820, 1180), "desktop": (1280, 900)}
_QUIET = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--no-first-run",
    "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1",
)


@contextmanager
def browser() -> Iterator[Browser]:
    """Chromium as installed on the machine; a missing one is an error, not a skipped test."""
    path = shutil.which("chromium") or shutil.which("chromium-browser")
    if path is None:
        raise FileNotFoundError("chromium is not installed: apt-get install chromium")
    with sync_playwright() as play:
        started = play.chromium.launch(executable_path=path, args=list(_QUIET))
        try:
            yield started
        finally:
            started.close()


def page_of(of: Browser, size: str) -> Page:
    """A fresh window of that size, with nothing remembered, that fails on any script error."""
    width, height = SIZES[size]
    window = of.new_context(viewport={"width": width, "height": height}).new_page()
    window.set_default_timeout(60_000)
    faults: list[str] = []
    window.on("pageerror", lambda error: faults.append(str(error)))
    window.on(
        "console",
        lambda said: faults.append(said.text) if "Content Security" in said.text else None,
    )
    window.faults = faults  # type: ignore[attr-defined]
    return window
